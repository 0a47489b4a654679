"""From the link to READY with the comparison of the plates between: engine, flow and rig."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.leash import LeashedEngine
from weightshare.exercise import Exercise
from weightshare.metrology.share import UNEVEN
from weightshare.model import Side
from weightshare.practice.balance import NOT_ALIKE
from weightshare.practice.flow import Action, Flow
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Screen, Step
from weightshare.records.drift import drift_of
from weightshare.records.session import appraise_session
from weightshare.scales.rig.cell import PAIR_ID
from weightshare.task import Goal, Settings

WAITED_S = 120.0
SETTINGS = Settings(Side.LEFT, target_percent=75.0, exercise=Exercise.LOWERING)


class Session:
    """One session as the window runs it, without the window."""

    def __init__(self, spec: str, place: Path) -> None:
        options = PractiseOptions(SETTINGS, Goal(), sources=(f"rig:{spec}",), save=place)
        self.engine = LeashedEngine(options, spec)
        self.flow = Flow(SETTINGS, Goal(), (options.sources[0],))
        self.steps: list[Step] = []

    def until(self, step: Step, *, told: str = "") -> Screen:
        """Go on until `step`, or until the headline says `told`; return the screen."""
        screen: Screen | None = None

        def reached() -> bool:
            nonlocal screen
            screen, action = self.flow.update(self.engine.view())
            if action is Action.COMPARE:
                self.engine.compare()
            if screen.step not in self.steps:
                self.steps.append(screen.step)
            return told in screen.headline if told else screen.step is step

        self.engine.until(reached, WAITED_S)
        assert screen is not None
        return screen


@contextmanager
def running(spec: str, place: Path) -> Iterator[Session]:
    """Run a session from its start to its stop; stopping again gives the same."""
    session = Session(spec, place)
    session.engine.start()
    try:
        yield session
    finally:
        session.engine.stop()


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def test_alike_plates_lead_on_to_practice_and_are_not_compared_again(tmp_path: Path) -> None:
    with running("raiser,balance=ask", tmp_path) as first:
        first.until(Step.READY)
    # a step that takes no time may never be seen; their order is what counts
    assert first.steps == [step for step in Step if step in first.steps]
    assert first.steps[-2:] == [Step.BALANCE, Step.READY]
    assert [entry.kind for entry in drift_of(PAIR_ID).entries] == ["session", "check"]
    with running("raiser,balance=ask", tmp_path) as second:
        second.until(Step.READY)
    assert Step.BALANCE not in second.steps


def test_a_plate_that_reads_high_is_told_and_practice_is_free_to_begin(tmp_path: Path) -> None:
    with running("raiser,balance=ask,faults=mismatch", tmp_path) as session:
        session.until(Step.BALANCE, told="The left plate reads")
        session.flow.press()
        screen = session.until(Step.READY)
    finished = session.engine.stop()
    assert NOT_ALIKE in screen.warnings
    assert abs(drift_of(PAIR_ID).mismatch_percent[-1] - 2.0) < 0.5
    # what comes of the session does not claim what the screen does not, live or later
    assert finished.folder is not None and finished.appraisal is not None
    for appraisal in (finished.appraisal, appraise_session(finished.folder)):
        assert (appraisal.doubt, appraisal.missing) == (None, UNEVEN)


def test_without_the_wish_a_virtual_person_is_not_asked_but_the_zero_is_logged(tmp_path: Path) -> None:
    with running("raiser", tmp_path) as session:
        session.until(Step.READY)
    assert Step.BALANCE not in session.steps
    (entry,) = drift_of(PAIR_ID).entries
    assert entry.kind == "session" and entry.left_zero_N is not None
