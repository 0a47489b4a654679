"""Heel raises: the stages against an independent walk from sample to sample."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import fields

import numpy as np
import pytest
from hypothesis import assume, event, given, settings

from tests.property.heels import Leg, Raising, lay, raisings
from tests.property.walk import repetition
from weightshare.exercise import CUT_OFF, FOOT_LEFT, HALF_WAY, LOW, SHORT, UNREAD, Basis, Exercise, Repetition
from weightshare.model import Side, Trace
from weightshare.pipeline import Analysis
from weightshare.pipeline.analysis import analyse_trace
from weightshare.task import Settings


def scipy_low_pass(values: Sequence[float], cutoff_Hz: float, rate_Hz: float) -> Sequence[float]:
    """Filter one gap-free stretch with scipy alone."""
    from scipy.signal import butter, sosfilt, sosfilt_zi

    sections = butter(2, cutoff_Hz, fs=rate_Hz, output="sos")
    filtered, _ = sosfilt(sections, values, zi=sosfilt_zi(sections) * values[0])
    return [float(value) for value in filtered]


@settings(max_examples=15)
@given(raisings())
def test_the_stages_find_what_a_walk_from_sample_to_sample_finds(raising: Raising) -> None:
    check(raising)


RAISE = ((1.0, 80.0), (1.0, 80.0), (2.0, 0.0), (1.5, 0.0))
COURSES: dict[str, tuple[Sequence[Leg], int, tuple[str, ...]]] = {
    "on the floor": (RAISE * 3, 3, ()),
    "on a step": (((1.0, -25.0), (1.0, -25.0), *((1.0, 70.0), (0.5, 70.0), (2.0, -25.0), (1.0, -25.0)) * 2), 2, ()),
    "fast, without a stop": (((1.0, 70.0), (1.0, 0.0)) * 12, 12, ()),
    "an incomplete return": (((1.0, 80.0), (0.5, 80.0), (0.8, 25.0), (0.8, 75.0), (1.5, 0.0), (1.5, 0.0)), 1, ()),
    "half-way and back": (((0.7, 27.0), (1.0, 27.0), (0.7, 0.0), (1.0, 0.0), *RAISE), 1, (HALF_WAY,)),
    "a pause half-way": (((0.7, 40.0), (1.0, 40.0), (0.7, 80.0), (1.0, 80.0), (2.0, 0.0), (1.0, 0.0)), 1, ()),
    "low": ((*RAISE, (0.6, 35.0), (0.6, 0.0), (2.0, 0.0)), 1, (LOW,)),
    "short": ((*RAISE, (0.2, 60.0), (0.2, 0.0), (2.0, 0.0)), 1, (SHORT,)),
    "to another level": (
        ((1.0, 80.0), (0.5, 80.0), (1.0, 30.0), (4.0, 28.0), (1.0, 100.0), (1.0, 28.0), (2.0, 28.0)),
        2,
        (),
    ),
    "drifting": ([(span_s, height + 3.0 * k) for k, (span_s, height) in enumerate(RAISE * 4)], 4, ()),
    "until the end": ((*RAISE, (1.0, 80.0), (0.4, 80.0)), 1, (CUT_OFF,)),
    "down for a moment": ((*RAISE[:3], (1.0, 80.0), (0.0, 80.0), (1.0, 0.0), (0.3, 0.0)), 2, ()),
}


@pytest.mark.parametrize("course", COURSES)
@pytest.mark.parametrize("filter_Hz", [None, 6.0])
@pytest.mark.parametrize("rate_Hz", [60.0, 170.0])
def test_made_by_hand(course: str, filter_Hz: float | None, rate_Hz: float) -> None:
    legs, counted, reasons = COURSES[course]
    found = compare(stand(legs, rate_Hz, Settings(Side.LEFT, 75.0, filter_Hz=filter_Hz, body_weight_N=700.0)))
    assert len(found.repetitions) == counted
    assert tuple(lift.reason for lift in found.rejected) == reasons


def stand(legs: Sequence[Leg], rate_Hz: float, asked: Settings) -> Raising:
    """Somebody of 700 N with both heels measured, after 4 s of standing still; the share wanders from 40 to 80 %."""
    heel = lay([(4.0, 0.0), *legs], rate_Hz)
    time_s = np.arange(heel.size) / rate_Hz
    share = 0.6 + 0.2 * np.sin(1.3 * time_s)
    forces = {"left_N": 700.0 * share, "right_N": 700.0 * (1.0 - share)}
    heights = {"left_heel_height_mm": heel, "right_heel_height_mm": 1.05 * heel + 2.0}
    return Raising(Trace(time_s, forces | heights), asked)


LOSSES = {
    "a gap in the lift": ("left_heel_height_mm", 6.0, 6.3, 2, (UNREAD,)),
    "a gap over an instant": ("left_heel_height_mm", 4.0, 4.5, 2, (UNREAD,)),
    "a gap between lifts": ("left_heel_height_mm", 9.0, 9.2, 3, ()),
    "a reading": ("left_heel_height_mm", 5.985, 6.005, 3, ()),
    "the other heel": ("right_heel_height_mm", 5.5, 6.5, 3, ()),
    "one foot's force": ("right_N", 4.2, 4.5, 3, ()),
    "a little force": ("right_N", 5.99, 6.01, 3, ()),
}


@pytest.mark.parametrize("loss", LOSSES)
@pytest.mark.parametrize("filter_Hz", [None, 6.0])
def test_with_readings_lost(loss: str, filter_Hz: float | None) -> None:
    column, from_s, to_s, counted, reasons = LOSSES[loss]
    whole = stand(RAISE * 3, 100.0, Settings(Side.LEFT, 60.0, filter_Hz=filter_Hz, body_weight_N=700.0))
    time_s, columns = whole.trace.time_s, whole.trace.columns
    lost = (time_s > from_s) & (time_s < to_s)
    found = compare(Raising(Trace(time_s, columns | {column: np.where(lost, np.nan, columns[column])}), whole.settings))
    assert len(found.repetitions) == counted
    assert tuple(lift.reason for lift in found.rejected) == reasons


@pytest.mark.parametrize(
    ("exercise", "working", "off", "counted"),
    [
        (None, None, "right_N", 2),
        (Exercise.LOWERING, None, "right_N", 2),
        (Exercise.SINGLE_RAISE, None, "right_N", 3),
        (Exercise.SINGLE_RAISE, None, "left_N", 2),
        (Exercise.SINGLE_LOWERING, Side.RIGHT, "left_N", 3),
        (Exercise.SINGLE_LOWERING, Side.RIGHT, "right_N", 2),
    ],
)
def test_with_a_foot_off(exercise: Exercise | None, working: Side | None, off: str, counted: int) -> None:
    asked = Settings(Side.LEFT, 50.0, body_weight_N=700.0, exercise=exercise, working=working)
    whole = stand(RAISE * 3, 100.0, asked)
    time_s, columns = whole.trace.time_s, dict(whole.trace.columns)
    lifted = (time_s > 5.5) & (time_s < 6.5)
    on = "left_N" if off == "right_N" else "right_N"
    columns |= {off: np.where(lifted, 3.0, columns[off]), on: np.where(lifted, 697.0, columns[on])}
    found = compare(Raising(Trace(time_s, columns), asked))
    assert len(found.repetitions) == counted
    assert [lift.reason for lift in found.rejected] == [FOOT_LEFT] * (3 - counted)


@pytest.mark.soak
@settings(max_examples=3000)
@given(raisings(most_moves=12))
def test_they_do_so_in_long_and_many_streams(raising: Raising) -> None:
    check(raising)


def walk(raising: Raising) -> repetition.Walk:
    return repetition.find_repetitions(raising.table, raising.effort, scipy_low_pass)


def check(raising: Raising) -> None:
    """Compare, unless three seconds are just still enough to weigh somebody: rounding decides of that."""
    assume(raising.settings.body_weight_N is not None or walk(raising).weight_margin > 1e-7)
    found = compare(raising)
    for reason in ["counted"] * len(found.repetitions) + [lift.reason for lift in found.rejected]:
        event(reason)


def compare(raising: Raising) -> Analysis:
    """Hold the stages' repetitions and rejected lifts to be the walk's; return the analysis."""
    expected = walk(raising)
    found = analyse_trace(raising.trace, raising.settings)
    rejected = [(lift.start_s, lift.end_s, lift.reason) for lift in found.rejected]
    assert [reason for *_, reason in rejected] == [reason for *_, reason in expected.rejected]
    for mine, theirs in zip(rejected, expected.rejected, strict=True):
        assert mine[:2] == pytest.approx(theirs[:2], abs=1e-6)
    assert len(found.repetitions) == len(expected.repetitions)
    for one, other in zip(found.repetitions, expected.repetitions, strict=True):
        same(one, other)
    if any(value is None for one in found.repetitions for value in flat(one)):
        assert found.warnings
    return found


def flat(one: Repetition | repetition.Raised) -> list[object]:
    """Return the figures of a repetition, with its thirds as figures of their own."""
    values = [getattr(one, name.name) for name in fields(repetition.Raised)]
    return [inner for value in values for inner in (value if isinstance(value, tuple) else (value,))]


def same(one: Repetition, other: repetition.Raised) -> None:
    """Hold two repetitions to be equal but for rounding; None is only None."""
    assert one.basis is Basis.HEIGHT
    names = [name.name for name in fields(other)]
    for name in names:
        mine, theirs = getattr(one, name), getattr(other, name)
        if isinstance(theirs, bool) or theirs is None:
            assert mine is theirs, name
        elif isinstance(theirs, tuple):
            assert mine is not None, name
            assert len(mine) == len(theirs) == 3
            for a, b in zip(mine, theirs, strict=True):
                close(a, b, name)
        else:
            close(mine, theirs, name)


def close(mine: float | None, theirs: float | None, name: str) -> None:
    if mine is None or theirs is None:
        assert mine is theirs, name
    else:
        assert not math.isnan(mine)
        assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-6), name
