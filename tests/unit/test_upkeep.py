"""What a session does for its scale: the drift log, and what is said before practice."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.shown import snapshot
from tests.unit.checking import Stand, in_pieces
from weightshare.metrology.balance import Balance, Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Side
from weightshare.practice.upkeep import NEVER, Upkeep, balance_words, find_due, may_ask, since_words
from weightshare.records.drift import Entry, append_entry, drift_of, drift_path, make_drift
from weightshare.scales.rig.cell import PAIR_ID, rig_calibration
from weightshare.scales.rig.shift import Shift
from weightshare.state import State
from weightshare.task import Settings

NOW = datetime(2026, 11, 20, 10, 0, tzinfo=UTC)
MADE = rig_calibration().made_on
LEFT = Settings(Side.LEFT, target_percent=75.0)


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    yield


class Session:
    """One session's upkeep with what it told."""

    def __init__(self, source: str = "tcp://127.0.0.1:7000", keep: bool = True, unattended: bool = False) -> None:
        self.told: list[str] = []
        self.upkeep = Upkeep(self.told.append, NOW, source, keep=keep, unattended=unattended)
        self.upkeep.accept(rig_calibration())

    def go(self, stand: Stand, until_s: float) -> None:
        for piece in in_pieces(stand.until(until_s), 10):
            self.upkeep.push(piece)


def entry(days_ago: float, **more: object) -> Entry:
    return replace(Entry(NOW - timedelta(days=days_ago), "session", MADE, 0.0, 0.0), **more)  # type: ignore[arg-type]


def test_a_session_logs_its_zero_and_a_comparison_what_came_of_it() -> None:
    session, stand = Session(), Stand(fault="mismatch")
    session.go(stand, 8.0)
    shot = snapshot(State.STANDING, 50.0, body_weight_N=stand.profile.body_weight_N)
    view = session.upkeep.view(LEFT, shot)
    assert view is not None and view.due == NEVER and view.asked_percent == (35.0, 65.0)
    asked = session.upkeep.begin(LEFT, shot)
    assert asked == (35.0, 65.0)
    stand.shift(Shift(*asked))
    session.go(stand, 62.0)
    zero, check = drift_of(PAIR_ID).entries
    assert (zero.kind, check.kind) == ("session", "check") and zero.mismatch_percent is None
    assert zero.left_zero_N is not None and abs(zero.left_zero_N) < 2.0 and zero.temperature_degC == 21.5
    assert check.left_zero_N is None and check.mismatch_percent is not None
    assert abs(check.mismatch_percent - 2.0) < 0.5 and check.u_mismatch_percent is not None
    assert session.told == [balance_words(view.balance) for view in [session.upkeep.checkup.view] if view.balance]  # type: ignore[union-attr]


def test_nothing_is_logged_where_nothing_is_kept() -> None:
    Session(keep=False).go(Stand(), 8.0)
    assert not drift_path(PAIR_ID).exists()


def test_headless_says_the_command_and_asks_nobody() -> None:
    session = Session(unattended=True)
    session.go(Stand(), 8.0)
    assert session.told == [f"{NEVER}: weightshare calibrate check --source tcp://127.0.0.1:7000"]


def test_findings_of_the_log_are_said_before_practice() -> None:
    for one in (
        entry(40.0, left_zero_N=0.0),
        entry(3.0, left_zero_N=15.0, remarks=("the plates touch",)),
        entry(3.0, left_zero_N=None, right_zero_N=None, mismatch_percent=1.6, u_mismatch_percent=0.1),
    ):
        append_entry(PAIR_ID, one)
    session = Session()
    session.go(Stand(), 8.0)
    view = session.upkeep.view(LEFT, snapshot())
    assert session.upkeep.is_uneven and view is not None and view.uneven
    assert session.told == [
        "the left plate reads 1.6 % more than the other: have the scale calibrated",
        "the left plate's zero moved by -15 N since last time",
        "last time: the plates touch",
    ]


def test_a_new_calibration_wants_a_new_comparison() -> None:
    append_entry(PAIR_ID, entry(1.0, mismatch_percent=2.5, calibrated_on=MADE - timedelta(days=300)))
    session = Session()
    session.go(Stand(), 8.0)
    view = session.upkeep.view(LEFT, snapshot())
    assert session.told == [] and view is not None and view.due == NEVER and not view.uneven


def test_a_log_that_cannot_be_read_is_said_and_the_session_goes_on() -> None:
    drift_path(PAIR_ID).mkdir(parents=True)
    session = Session()
    session.go(Stand(), 8.0)
    assert len(session.told) == 1 and "cannot be read" in session.told[0]


def test_touching_is_said_logged_and_said_again_next_time() -> None:
    session = Session()
    session.go(Stand("leaver", "touching"), 30.0)
    assert "the plates touch" in session.told[-1]
    later = Session()
    later.go(Stand(), 8.0)
    assert any(words.startswith("last time: the plates touch") for words in later.told)


@pytest.mark.parametrize("source", ["tcp://127.0.0.1:7000", "rig:steady"])
def test_nothing_is_left_to_be_loaded_while_samples_come(source: str) -> None:
    """Loaded at the first verdict, it held the pipeline up for a third of a second, and a ceiling's alarm went off.

    A person of the rig is not asked to shift, but a zero that wanders is told there too.
    """
    if source.startswith("rig:"):
        for days_ago in (20.0, 15.0, 10.0, 5.0):
            append_entry(PAIR_ID, entry(days_ago, left_zero_N=days_ago))
    code = """
import sys
from datetime import datetime
from weightshare.practice.upkeep import Upkeep
from weightshare.scales.rig.cell import rig_calibration
at = datetime.fromisoformat("2026-11-20T10:00:00+00:00")
upkeep = Upkeep(print, at, sys.argv[1], keep=False)
assert "scipy.special" not in sys.modules
upkeep.accept(rig_calibration())
loaded = set(sys.modules)
from tests.unit.checking import Stand
from weightshare.scales.rig.shift import Shift
stand = Stand()
upkeep.push(stand.until(8.0))
assert not sys.argv[1].startswith("rig:") or any("wanders" in words for words in upkeep._found)
upkeep.checkup.begin((35.0, 65.0), 712.0)
stand.shift(Shift())
for second in range(9, 60):
    upkeep.push(stand.until(second))
late = [name for name in set(sys.modules) - loaded if name.startswith(("scipy", "numpy"))]
assert upkeep.checkup.view.balance is not None and not late, late
"""
    place = str(Path(__file__).resolve().parents[2])
    done = subprocess.run(
        [sys.executable, "-c", code, source],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": place},
    )
    assert done.returncode == 0, done.stderr


def test_what_fails_in_the_check_does_not_end_the_session(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_now_s: float) -> None:
        raise ValueError("no such look")

    session, stand = Session(), Stand()
    session.go(stand, 4.0)
    monkeypatch.setattr(session.upkeep.checkup, "_look", fail)
    session.go(stand, 8.0)
    assert "the session goes on without it" in session.told[-1] and session.upkeep.view(LEFT, snapshot()) is None


@pytest.mark.parametrize(
    ("entries", "due"),
    [
        ((), NEVER),
        ((entry(1.0),), NEVER),
        ((entry(1.0), entry(1.0, mismatch_percent=0.1)), ""),
        ((entry(8.0), entry(8.0, mismatch_percent=0.1)), "the two plates were last compared on 2026-11-12"),
        (
            (entry(2.0, left_zero_N=-14.0), entry(2.0, left_zero_N=None, mismatch_percent=0.1)),
            "the left plate's zero moved by +14 N since the two plates were compared",
        ),
    ],
)
def test_when_the_plates_are_to_be_compared_again(entries: tuple[Entry, ...], due: str) -> None:
    assert find_due(make_drift(PAIR_ID, entries), (0.0, 0.0), NOW) == due


def test_a_zero_that_moved_is_told_against_the_newest() -> None:
    drift = make_drift(PAIR_ID, (entry(9.0, right_zero_N=40.0), entry(2.0, right_zero_N=1.0)))
    assert since_words(drift, (3.0, 13.5)) == ("the right plate's zero moved by +12 N since last time",)
    assert since_words(make_drift(PAIR_ID, ()), (90.0, 90.0)) == ()


def test_who_may_be_asked() -> None:
    assert may_ask("serial:/dev/ttyACM0") and may_ask("tcp://127.0.0.1:7000")
    assert may_ask("rig:steady,balance=ask") and may_ask("rig:balance=ask")
    assert not may_ask("rig:") and not may_ask("rig:steered") and not may_ask("file:balance=ask")


def test_each_verdict_has_its_words() -> None:
    said = [balance_words(Balance(verdict, Estimate(-1.5, 0.2))) for verdict in list(Verdict)[:3]]
    assert said[0] == "the two plates read alike: the right one reads 1.5 \u00b1 0.4 % more than the other"
    assert said[1].startswith("the right plate reads 1.5 \u00b1 0.4 % more") and "calibrated" in said[1]
    assert said[2].startswith("the right plate may read") and "again" in said[2]
    untold = balance_words(Balance(Verdict.UNTOLD, reason="too fast"))
    assert untold == "the two plates could not be compared: too fast"
