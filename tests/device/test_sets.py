"""Whole sessions of sets on the virtual scales: what is live is what comes out later."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest

from tests.leash import LeashedEngine
from weightshare.exercise import Basis, Ceiling, Exercise, Phase, Tempo
from weightshare.model import Side
from weightshare.pipeline.endurance import FAULT
from weightshare.pipeline.sets import sum_up
from weightshare.practice.coach import own_repetitions
from weightshare.practice.flow import Action, Flow
from weightshare.practice.option import PractiseOptions
from weightshare.practice.prompt import FIRST
from weightshare.practice.screen import AlarmKind, Screen, Step
from weightshare.practice.steady import HEADLINE_S
from weightshare.practice.view import LiveView
from weightshare.records.session import analyse_session, load_session, recover
from weightshare.task import Goal, Settings

LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0, 1.0))
TWO_SETS = Goal(sets=2, repetitions=3, rest_s=6.0)

STEPS = [Step.PRACTISE, Step.REST, Step.PRACTISE, Step.DONE]
CORRECTIONS = ("More weight on your right foot.", "Ease a little weight off your right foot.")
HEADLINES = {
    Phase.BOTTOM: ("Rise on both feet when ready.", "Heels down. Rest a moment."),
    Phase.RISE: ("Up, evenly on both feet.", *(f"Up. {words}" for words in CORRECTIONS)),
    Phase.TOP: (
        "Hold. Shift to your right foot.",
        "Hold. Good, just so.",
        *(f"Hold. {words}" for words in CORRECTIONS),
    ),
    Phase.LOWERING: ("Slowly down. Good, just so.", *(f"Slowly down. {words}" for words in CORRECTIONS)),
}

Start = Callable[..., LeashedEngine]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """Start sessions of somebody who raises the heels when told to; they are stopped at the end."""
    engines: list[LeashedEngine] = []

    def start(
        settings: Settings = LOWERING,
        goal: Goal = TWO_SETS,
        person: str = "raiser",
        does: Settings | None = None,
        **more: Any,
    ) -> LeashedEngine:
        options = PractiseOptions(settings, goal, (f"rig:{person}",), save=tmp_path, unattended=True)
        engines.append(LeashedEngine(replace(options, **more), person, does))
        engines[-1].start()
        return engines[-1]

    yield start
    for engine in engines:
        engine.stop()


@pytest.mark.parametrize("basis", [Basis.HEIGHT, Basis.PACED])
def test_two_sets_of_three_are_the_same_live_and_later(basis: Basis, start: Start) -> None:
    settings = replace(LOWERING, basis=basis)
    engine = start(settings)
    engine.until(lambda: engine.is_over)
    live = engine.view()
    finished = engine.stop()
    assert finished.folder is not None and finished.analysis is not None
    assert [len(one.repetitions) for one in finished.analysis.sets] == [3, 3]
    assert finished.analysis.sets == sum_up(live.snapshot.repetitions, live.sets.spans, settings)
    assert finished.analysis.repetitions == live.snapshot.repetitions
    assert finished.analysis.rejected == live.snapshot.rejected
    session = load_session(finished.folder)
    assert session.head.sets == live.sets.spans and session.head.goal == TWO_SETS
    assert analyse_session(finished.folder) == finished.analysis
    if basis is Basis.HEIGHT:
        # whether the person is on the beat hangs, at this speed, on how busy the machine is
        assert [one.share_lowering_percent for one in finished.analysis.sets] == pytest.approx([75.0, 75.0], abs=3.0)


def test_sets_rests_and_the_end_come_by_themselves_on_the_screen(start: Start) -> None:
    engine, flow = start(), Flow(LOWERING, TWO_SETS, ("rig:raiser",))
    engine.until(lambda: bool(engine.view().sets.spans))
    flow.step = Step.READY
    flow.press()
    seen: list[tuple[LiveView, Screen, Action]] = []

    def look() -> bool:
        view = engine.view()
        seen.append((view, *flow.update(view)))
        return flow.step is Step.DONE

    engine.until(look)
    screens = [screen for _view, screen, _action in seen]
    assert [step for step, _same in groupby(screen.step for screen in screens)] == STEPS
    assert [action for _view, _screen, action in seen].count(Action.FINISH) == 1 and engine.is_over
    # on a busy machine not every moment is seen; what is seen is right
    fresh = [(view.snapshot, screen) for view, screen, _action in seen if not screen.blank]
    fresh = [(shot, screen) for shot, screen in fresh if screen.step is Step.PRACTISE and shot.state not in FIRST]
    assert {screen.figures.held for _shot, screen in fresh} <= {"0", "1", "2"}, "the third ends the set"
    for shot, screen in fresh:
        # what to do stays long enough to be read: it may be of a phase that has just passed
        recent = {
            one.phase for one, _ in fresh if one.time_s and shot.time_s and 0 <= shot.time_s - one.time_s < HEADLINE_S
        }
        assert any(screen.headline.endswith(HEADLINES[phase]) for phase in recent if phase is not None)
        assert screen.headline.startswith("Set ") <= (screen.figures.held == "0")
    summary, rest = screens[-1].summary, next(screen.rest for screen in screens if screen.rest is not None)
    assert summary is not None and [row.cells[:2] for row in summary.rows] == [("1", "3"), ("2", "3")]
    assert rest.title == "Set 1 of 2 is done" and int(rest.figures[0].value) > 80
    assert rest.figures[0].beside.startswith("mean 7") and rest.figures[0].beside.endswith("aim 75")


def test_keys_end_a_set_and_a_rest_and_mark_a_fault_where_they_are_pressed(start: Start) -> None:
    engine = start(goal=Goal(sets=2, repetitions=10, rest_s=600.0))
    engine.until(lambda: len(engine.view().snapshot.repetitions) == 1)
    engine.mark_fault()
    engine.until(lambda: bool(engine.view().sets.faults_s))
    engine.end_set()
    engine.until(lambda: engine.view().sets.under_way is None)
    engine.begin_set()
    engine.until(lambda: engine.view().sets.under_way is not None)
    engine.begin_set()
    engine.end_set()
    engine.until(lambda: engine.is_over)
    finished = engine.stop()
    assert finished.folder is not None and finished.analysis is not None
    head = load_session(finished.folder).head
    first, second = head.sets
    assert first.to_s is not None and second.to_s is not None and first.to_s < second.from_s < second.to_s
    assert first.from_s < head.faults_s[0] < first.to_s
    of_first, of_second = (one.repetitions for one in finished.analysis.sets)
    assert of_first and not of_second


@pytest.mark.parametrize("record", [True, False])
def test_a_fault_that_was_marked_ends_what_counts_live_and_later(start: Start, record: bool) -> None:
    single = Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE, tempo=Tempo(1.0, 0.5, 1.0, 0.5))
    goal = Goal(sets=2, rest_s=600.0, to_exhaustion=True)
    engine = start(single, goal, unattended=False, record=record)
    engine.until(lambda: engine.view().snapshot.body_weight_N is not None)
    engine.begin_practice()

    def there_are(number: int, what: str) -> Callable[[], bool]:
        return lambda: len(getattr(engine.view().sets, what)) == number

    for number in (1, 2):
        engine.until(there_are(number, "spans"))
        engine.until(lambda: bool(own_repetitions(engine.view().sets.spans[-1], engine.view().snapshot)))
        engine.mark_fault()
        engine.until(there_are(number, "faults_s"))
        engine.end_set()
        engine.begin_set()
    engine.until(lambda: engine.is_over)
    finished = engine.stop()
    assert finished.analysis is not None and finished.analysis.endurance is not None
    legs = finished.analysis.endurance.uninjured, finished.analysis.endurance.injured
    assert [leg.reason for leg in legs] == [FAULT, FAULT]
    assert tuple(leg.stopped_at_s for leg in legs) == engine.view().sets.faults_s


def test_a_session_that_was_cut_short_has_its_sets_from_the_remarks(start: Start) -> None:
    engine = start()
    engine.until(lambda: len(engine.view().sets.spans) == 2)
    finished = engine.stop()
    assert finished.folder is not None and finished.analysis is not None
    (finished.folder / "manifest.json").unlink()
    settings_file = finished.folder / "settings.json"
    told = json.loads(settings_file.read_text())
    told["sets"] = []
    settings_file.write_text(json.dumps(told))
    recovered = recover(finished.folder)
    assert recovered.sets == finished.analysis.sets and recovered.sets[1].to_s is None


def test_a_ceiling_is_alarmed_about_before_the_load_is_back_under_it(start: Start) -> None:
    settings = replace(LOWERING, target_percent=55.0, ceiling=Ceiling(percent=60.0))
    engine, flow = start(settings, does=LOWERING), Flow(settings, TWO_SETS, ("rig:raiser",))
    flow.step = Step.PRACTISE
    seen: list[tuple[LiveView, Screen]] = []

    def look() -> bool:
        view = engine.view()
        seen.append((view, flow.update(view)[0]))
        return len(view.snapshot.ceiling_events) >= 1 and not view.snapshot.over_ceiling

    engine.until(look)
    over = [screen.alarm for view, screen in seen if view.snapshot.over_ceiling and not view.stale]
    assert over and all(alarm is not None and alarm.kind is AlarmKind.OVER for alarm in over)
    assert over[-1] is not None and over[-1].headline == "Less weight on the right foot now."
    finished = engine.stop()
    assert finished.analysis is not None and finished.analysis.ceiling
    assert finished.analysis.ceiling[0].peak_N is not None
