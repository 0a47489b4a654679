"""How far a patient's own symmetry strays, beside the index and in words that tell tasks apart."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.unit.test_answer import BOTH, RAISE, RAISED, asked
from weightshare.cli import main
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.metrology.index import Kind
from weightshare.model import Side
from weightshare.programme.stage import Knee
from weightshare.records.figure import MEAN_HEIGHT, MEAN_SHARE, REPETITIONS, Figure
from weightshare.records.repeat import task_of
from weightshare.records.stray import Days, strays_of
from weightshare.records.symmetry import indices_of
from weightshare.records.task import name_tasks
from weightshare.task import Settings

FIRST = date(2026, 3, 2)
Capture = pytest.CaptureFixture[str]


def heights(pairs: Sequence[tuple[float, float]]) -> Days:
    """A session a day: how high the left, injured heel and the other one went."""
    return [
        (
            FIRST + timedelta(days=day),
            [Figure(MEAN_HEIGHT, "mm", mm, side) for mm, side in zip(both, Side, strict=True)],
        )
        for day, both in enumerate(pairs)
    ]


def test_it_comes_from_the_days_as_every_trend_does() -> None:
    """Indices of 80, 90, 80, 90 and 80: about a line they scatter by sqrt(120 / 4 x 4 / 3) = 5.48."""
    found = strays_of(heights([(80.0, 100.0), (90.0, 100.0)] * 2 + [(80.0, 100.0)]), Side.LEFT)
    assert set(found) == {Kind.HEIGHT}
    told = found[Kind.HEIGHT]
    # Student's t with three degrees of freedom: 3.182 (from any table)
    sd = math.sqrt(120.0 / 3.0)
    assert told.mdc_percent == pytest.approx(3.182 * math.sqrt(2.0) * sd, rel=1e-3)
    assert told.words.startswith(f"this patient's own 5 days of this task scatter by {sd:.1f} points")


def test_on_few_days_it_says_so_beside_what_is_published() -> None:
    few = strays_of(heights([(80.0, 100.0)]), Side.LEFT)
    assert few[Kind.HEIGHT].mdc_percent is None
    assert few[Kind.HEIGHT].words == "not known of this patient yet: this task was done on 1 day, and it takes 4"
    counts = [(FIRST, [Figure(REPETITIONS, "", 20.0, side) for side in Side])] * 2
    (index,) = [one for one in indices_of(asked(RAISED, RAISE, BOTH), own=few) if one.kind is Kind.HEIGHT]
    assert index.reliability == few[Kind.HEIGHT]
    assert strays_of(counts, Side.LEFT)[Kind.REPETITIONS].mdc_percent is None


@pytest.mark.parametrize("value", [0.0, 100.0])
def test_one_sided_days_are_none(value: float) -> None:
    sides = [(FIRST, [Figure(MEAN_HEIGHT, "mm", 80.0, Side.LEFT), Figure(MEAN_SHARE, "%", value, Side.LEFT)])]
    found = strays_of(sides, Side.LEFT)
    assert found == {}


@pytest.mark.parametrize("u", [0.5, 0.0])
def test_of_a_share_both_sides_errors_go_together(u: float) -> None:
    """What one side has too much the other lacks: 1e4 / (100 - P)^2 of the share's u (JCGM 100:2008, 5.1.3)."""
    days = [(FIRST + timedelta(days=day), [Figure(MEAN_SHARE, "%", 45.0, Side.LEFT, u)]) for day in range(5)]
    told = strays_of(days, Side.LEFT)[Kind.MEAN_FORCE]
    assert told.mdc_percent == pytest.approx(2.0 * math.sqrt(2.0) * 1e4 / 55.0**2 * u)
    assert told.words.endswith("limited by what the instrument leaves in doubt") == (u > 0.0)


def test_it_stands_beside_the_index_of_a_patients_session(weeks: Path, capsys: Capture) -> None:
    assert main(["symmetry", "A-017", "--store", str(weeks), "--json"]) == 0
    told = {one["measure"]: one for one in json.loads(capsys.readouterr().out)["indices"]}
    assert (
        "not known of this patient yet: this task was done on 3 days"
        in told["mean heel height"]["reliability"]["words"]
    )
    assert main(["symmetry", "A-017", "--store", str(weeks)]) == 0
    assert "varies from day to day: not known of this patient yet" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("A-017", "--repeats", "."), "--repeats goes with a session's folder"),
        ((".", "--began", "2026-03-02"), "--began goes with a patient's code"),
        (("A-017", "--store", "nowhere"), "there is no store of patients"),
    ],
)
def test_bad_use_is_one_line(words: tuple[str, ...], said: str, capsys: Capture) -> None:
    assert main(["symmetry", *words]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and said in err


# -- tasks in words ------------------------------------------------------------------------------------------------


def task(settings: Settings, knee: Knee | None = None, goal_s: float | None = None) -> tuple[object, ...]:
    return *task_of(settings, False, "height"), knee, goal_s


def test_what_differs_is_told_and_nothing_else() -> None:
    raises = [task(RAISE, knee) for knee in Knee]
    assert name_tasks(raises) == [
        ("raise, 50 % on the left side", "knee straight"),
        ("raise, 50 % on the left side", "knee bent"),
    ]
    assert name_tasks(raises[:1]) == [("raise, 50 % on the left side",)]
    changes: list[dict[str, object]] = [
        {"surface": Surface.STEP},
        {"tempo": Tempo(1.0, 1.0, 3.0, 1.0)},
        {"added_weight_N": 49.03325},
    ]
    said = [name_tasks([task(RAISE), task(replace(RAISE, **one))])[1][1:] for one in changes]  # type: ignore[arg-type]
    assert said == [("on the step",), ("tempo 1-1-3-1",), ("5.0 kg added",)]


def test_holds_of_ten_and_of_thirty_seconds_are_told_apart() -> None:
    hold = Settings(Side.LEFT, 50.0)
    assert [one[1:] for one in name_tasks([task(hold, None, 10.0), task(hold, None, 30.0)])] == [
        ("held for 10 s",),
        ("held for 30 s",),
    ]
    wide = replace(hold, tolerance_percent=10.0)
    assert name_tasks([task(hold), task(wide)])[1][1:] == ("within 10 points",)


def test_what_was_taken_in_before_knees_were_told_is_another_task() -> None:
    old = tuple(map(str, task_of(RAISE, None, "force")))
    assert name_tasks([old, task(RAISE, Knee.BENT)]) == [
        ("raise, 50 % on the left side", "support not known", "by the forces", "knee not told"),
        ("raise, 50 % on the left side", "without support", "by the heel's height", "knee bent"),
    ]


def test_no_two_tasks_are_told_alike() -> None:
    """Every exercise, on either side, with one thing changed at a time."""
    tasks = [
        task(
            Settings(side, 60.0, exercise=None if exercise is Exercise.HOLD else exercise, surface=surface),
            knee,
            goal_s,
        )
        for exercise in Exercise
        for side in Side
        for surface in (Surface.FLOOR, Surface.STEP if exercise.lifts_heels else Surface.FLOOR)
        for knee in (*Knee, None)
        for goal_s in ((None,) if exercise.is_repeated else (10.0, 30.0))
    ]
    names = dict(zip(map(str, tasks), name_tasks(tasks), strict=True))
    assert len(set(names.values())) == len(names) > 50
