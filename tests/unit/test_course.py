"""How a measure went over the days, and which change is a real one."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.kept import NOW, SOFAR, session, store_with
from tests.unit.test_answer import RAISE
from weightshare.cli import main
from weightshare.cli.chosen import choose_visit
from weightshare.cli.patient_table import patient_table
from weightshare.exercise import Exercise, Surface
from weightshare.metrology.course import LEAST_DAYS, Course, course_of, extent_of
from weightshare.metrology.repeat import Repeat, day_to_day
from weightshare.model import Side
from weightshare.records.store.progress import Progress, progress_of
from weightshare.records.store.visit import list_figures, list_visits, take_in
from weightshare.task import Settings
from weightshare.window.patientcourse import rows_of, say_course, say_trend

FIRST = date(2026, 3, 2)


def repeats(values: Sequence[float], every: int = 3) -> list[Repeat]:
    return [Repeat(FIRST + timedelta(days=every * number), value) for number, value in enumerate(values)]


def test_the_band_rests_on_the_persons_own_days() -> None:
    values = [50.0, 51.0, 49.5, 50.5, 50.0]
    found, days = course_of(repeats(values)), day_to_day(repeats(values), detrend=True)
    assert found is not None and days is not None and found.band is not None and found.mdc is not None
    assert found.sd == days.sd
    # Student's t with three degrees of freedom: 3.182 (from any table)
    assert found.mdc == pytest.approx(3.182 * math.sqrt(2.0) * days.sd, rel=1e-3)
    assert found.band == pytest.approx((50.0 - found.mdc, 50.0 + found.mdc))
    assert [one.is_change for one in found.days] == [None, False, False, False, False]


def test_a_steady_rise_leaves_the_band_and_does_not_widen_it() -> None:
    found = course_of(repeats([60.0, 62.1, 63.9, 66.0, 68.1, 70.0]))
    assert found is not None and found.mdc is not None and found.trend is not None
    assert found.mdc < 1.0
    assert [one.is_change for one in found.days] == [None, True, True, True, True, True]
    assert found.change == pytest.approx(10.0) and found.trend.is_steady


@pytest.mark.parametrize("count", range(1, LEAST_DAYS))
def test_few_days_have_no_band_and_say_why(count: int) -> None:
    found = course_of(repeats([50.0, 60.0, 55.0][:count]))
    assert found is not None and found.band is None and found.mdc is None
    assert found.reason == f"measured on {count} day{'s' if count > 1 else ''} only: it takes 4 or more"
    assert {one.is_change for one in found.days} == {None}


@pytest.mark.parametrize("u", [0.4, 2.5])
def test_the_band_is_never_narrower_than_what_the_instrument_leaves_in_doubt(u: float) -> None:
    """Of days as alike as these any difference would have been a real change."""
    alike = course_of([replace(one, u=u) for one in repeats([50.0, 50.0, 50.0, 50.0, 50.0])])
    assert alike is not None and alike.sd == pytest.approx(0.0, abs=1e-9) and alike.by_instrument
    assert alike.mdc == pytest.approx(2.0 * math.sqrt(2.0) * u)
    assert say_trend_of(alike).endswith("That is what the instrument leaves in doubt: the days scatter by less.")
    values = [50.0, 56.0, 44.0, 53.0, 50.0]
    wide, noisy = (course_of([replace(one, u=each) for one in repeats(values)]) for each in (0.0, u))
    assert wide is not None and noisy is not None and noisy.mdc == wide.mdc, "it is no part of how days scatter"
    assert not (wide.by_instrument or noisy.by_instrument) and "instrument" not in say_trend_of(noisy)


def say_trend_of(course: Course) -> str:
    return say_course(Progress(Exercise.RAISE, 50.0, Side.LEFT, "mean heel height", "mm", Side.LEFT, course))


def test_a_band_ends_where_there_are_no_values() -> None:
    extents = (extent_of("%"), extent_of("s"))
    low, high = (course_of(repeats([2.0, 9.0, 1.0, 8.0, 3.0]), extent) for extent in extents)
    assert low is not None and high is not None and low.band is not None and high.band is not None
    assert low.band[0] == high.band[0] == 0.0 and low.mdc == high.mdc
    full = course_of(repeats([98.0, 91.0, 99.0, 92.0, 97.0]), extent_of("%"))
    assert full is not None and full.band is not None and full.band[1] == 100.0
    # what goes in whole steps: one more is none
    count = course_of(repeats([10.0, 10.0, 10.0, 10.0, 11.0]), extent_of(""))
    assert count is not None and count.days[-1].is_change is False


def test_several_sessions_of_a_day_count_as_their_mean() -> None:
    twice = [*repeats([50.0, 51.0, 49.5, 50.5]), Repeat(FIRST, 52.0), Repeat(FIRST, math.nan)]
    found = course_of(twice)
    assert found is not None
    assert (found.days[0].value, found.days[0].sessions) == (51.0, 2)
    assert course_of([Repeat(FIRST, math.nan)]) is None and course_of([]) is None


@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=12), st.randoms())
def test_the_order_of_sessions_does_not_matter(values: list[float], random: object) -> None:
    rows = repeats(values)
    one = course_of(rows)
    random.shuffle(rows)  # type: ignore[attr-defined]
    assert course_of(rows) == one


def test_of_people_who_do_not_change_one_in_twenty_leaves_the_band() -> None:
    """4,000 people, eight days each, no change but the days' own (seed 3): how many last days leave the band."""
    rng = np.random.default_rng(3)
    left = 0
    for _ in range(4000):
        found = course_of(repeats(rng.normal(50.0, 2.0, 8).tolist()))
        assert found is not None
        left += found.days[-1].is_change is True
    assert 0.03 <= left / 4000 <= 0.07


def test_only_what_was_done_alike_is_compared(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        for number, percent in enumerate([50.0, 51.0, 49.5, 50.5, 60.0]):
            take_in(store, patient, session(tmp_path, 3 * number, percent))
        step = Settings(Side.LEFT, 50.0, exercise=RAISE.exercise, surface=Surface.STEP)
        take_in(store, patient, session(tmp_path, 40, 20.0, settings=step))
        take_in(store, patient, session(tmp_path, 365, 0.0))
        found = {(one.figure, one.side): one for one in progress_of(store, patient)}
    lowering = found["mean share in the lowering", Side.LEFT]
    assert [one.value for one in lowering.course.days] == [50.0, 51.0, 49.5, 50.5, 60.0]
    assert lowering.task == "raise, 50 % on the left side" and lowering.note == ""
    assert lowering.course.mdc is not None
    plain = lowering.to_json()
    assert plain["no_real_change"]["upper"] == pytest.approx(50.0 + lowering.course.mdc)
    assert "NaN" not in json.dumps(plain)


def test_a_session_that_was_broken_off_is_no_day_of_a_trend(tmp_path: Path) -> None:
    """Somebody stood on, waited and went: the share of standing was drawn beside that of the lowering."""
    nothing = replace(SOFAR, analysis=replace(SOFAR.analysis, repetitions=(), sets=()), answers=())
    with store_with(tmp_path / "s") as (store, patient):
        for number in range(4):
            take_in(store, patient, session(tmp_path, number, 50.0 + number))
        last = take_in(store, patient, session(tmp_path, 9, appraisal=nothing)).visit
        trends = progress_of(store, patient)
        assert last.broken_off and choose_visit(store, patient, None).started_at < last.started_at
        visits, figures = list_visits(store, patient), list_figures(store, patient)
        lines = patient_table(patient, visits, (), NOW, None, figures=figures).splitlines()
    assert {len(one.course.days) for one in trends} == {4}
    # a sum of three repetitions against one of thirty is no course
    assert "load x heel travel" not in {one.figure for one in trends}
    (line,) = (line for line in lines if "broken off" in line)
    assert line.split()[3:5] == ["50", "%"] and line.split()[5] == "-", "no share was lowered with"


def test_the_most_telling_figures_come_first_task_by_task(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        for number, percent in enumerate([50.0, 51.0, 49.5, 50.5]):
            take_in(store, patient, session(tmp_path, number, percent))
        step = Settings(Side.LEFT, 50.0, exercise=RAISE.exercise, surface=Surface.STEP)
        for number in (6, 7):
            take_in(store, patient, session(tmp_path, number, 49.0, settings=step))
        other = Settings(Side.LEFT, 60.0, exercise=RAISE.exercise)
        for number in (10, 11):
            take_in(store, patient, session(tmp_path, number, 58.0, settings=other))
        trends = progress_of(store, patient)
    few, every = rows_of(trends, every=False), rows_of(trends, every=True)
    tasks = [one for one in few if isinstance(one, str)]
    assert tasks == [
        "raise, 60 % on the left side  \u00b7  2026-03-12\u00a0\u2013\u00a02026-03-13",
        "raise, 50 % on the left side, on the step  \u00b7  2026-03-08\u00a0\u2013\u00a02026-03-09",
        "raise, 50 % on the left side, on the floor  \u00b7  2026-03-02\u00a0\u2013\u00a02026-03-05",
    ], "on a step it is another task"
    assert tasks == [one for one in every if isinstance(one, str)] and len(every) == len(tasks) + len(trends)
    first = next(one for one in few if not isinstance(one, str))
    assert first.figure == "mean share in the lowering" and say_trend(first).startswith(
        "mean share in the lowering: 58.0 \u2192 58.0 %, too few days"
    )
    assert all(isinstance(one, str) or one.side in (None, Side.LEFT) for one in few)
    assert any(not isinstance(one, str) and one.side is Side.RIGHT for one in every)
    assert rows_of([], every=True) == ()


def test_trends_are_shown_by_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        for number, percent in enumerate([60.0, 62.1, 63.9, 66.0, 68.1, 70.0]):
            take_in(store, patient, session(tmp_path, 3 * number, percent))
    known = ["--store", str(tmp_path / "s")]
    assert main(["patient", "show", "A-1", "--trend", *known]) == 0
    out = capsys.readouterr().out
    assert "raise, 50 % on the left side: mean share in the lowering, left" in out
    assert "60.00 -> 70.00 %" in out and "a real change" in out
    assert main(["patient", "show", "A-1", "--trend", "--json", *known]) == 0
    trends = json.loads(capsys.readouterr().out)["trends"]
    assert {one["figure"] for one in trends} >= {"mean share in the lowering", "mean heel height"}
