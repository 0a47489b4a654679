"""The middle of the band follows the phase where the exercise turns, and stands still elsewhere."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.exercise import Exercise, Tempo
from weightshare.model import Side
from weightshare.pipeline.aim import BACK_S, Aim, aim_in, bend_s, smooth
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, UNKNOWN
from weightshare.task import Settings

LOWERING_75 = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 0.5, 2.0))
TIME_S = np.arange(0.0, 6.0, 0.01)
PHASES = np.select(
    [TIME_S < 1.0, TIME_S < 2.0, TIME_S < 2.5, TIME_S < 4.5], [BOTTOM, RISE, TOP, LOWERING], BOTTOM
).astype(np.int8)


def at(aims: np.ndarray[tuple[int], np.dtype[np.float64]], time_s: float) -> float:
    return float(aims[round(time_s * 100)])


def test_even_up_the_target_down_and_even_again() -> None:
    aims = Aim(LOWERING_75).push(TIME_S, PHASES)
    assert at(aims, 0.5) == at(aims, 1.9) == 50.0
    assert at(aims, 2.0) == 50.0
    assert at(aims, 2.25) == pytest.approx(62.5)
    assert at(aims, 2.5) == at(aims, 4.49) == 75.0
    assert at(aims, 4.5 + BACK_S / 2) == pytest.approx(62.5)
    assert at(aims, 4.5 + BACK_S) == pytest.approx(50.0)


def test_who_lowers_before_the_bend_is_done_is_asked_for_the_target_at_once() -> None:
    phases = np.where(TIME_S < 2.2, PHASES, LOWERING).astype(np.int8)
    aims = Aim(LOWERING_75).push(TIME_S, phases)
    assert 50.0 < at(aims, 2.19) < 62.5
    assert at(aims, 2.2) == 75.0


def test_who_never_rose_is_not_asked_back() -> None:
    phases = np.where(TIME_S < 2.0, PHASES, BOTTOM).astype(np.int8)
    assert set(Aim(LOWERING_75).push(TIME_S, phases).tolist()) == {50.0}


def test_a_phase_that_cannot_be_told_leaves_the_aim() -> None:
    phases = PHASES.copy()
    phases[210:240] = UNKNOWN
    assert np.array_equal(Aim(LOWERING_75).push(TIME_S, phases), Aim(LOWERING_75).push(TIME_S, PHASES))


@pytest.mark.parametrize("exercise", [None, Exercise.HOLD, Exercise.HEEL_HOLD, Exercise.RAISE, Exercise.SQUAT])
def test_other_exercises_ask_for_the_same_all_the_time(exercise: Exercise | None) -> None:
    aims = Aim(Settings(Side.LEFT, 60.0, exercise=exercise)).push(TIME_S, PHASES)
    assert set(aims.tolist()) == {60.0}


def test_without_a_target_there_is_no_aim() -> None:
    aim = Aim(Settings(Side.LEFT, exercise=Exercise.LOWERING))
    assert np.isnan(aim.push(TIME_S, PHASES)).all()
    assert np.isnan(aim.percent)


@pytest.mark.parametrize("cut", [1, 199, 200, 201, 225, 251, 470])
def test_a_cut_makes_no_difference(cut: int) -> None:
    whole, parts = Aim(LOWERING_75), Aim(LOWERING_75)
    aims = whole.push(TIME_S, PHASES)
    pieces = [parts.push(TIME_S[piece], PHASES[piece]) for piece in (slice(None, cut), slice(cut, None))]
    assert np.array_equal(np.concatenate(pieces), aims)


@pytest.mark.parametrize(("top_s", "bend"), [(0.0, 0.3), (0.4, 0.4), (3.0, 1.0), (None, 1.0)])
def test_the_bend_takes_the_time_at_the_top(top_s: float | None, bend: float) -> None:
    assert bend_s(None if top_s is None else Tempo(1.0, top_s, 2.0)) == bend


def test_the_step_is_smooth_and_stays_within() -> None:
    assert smooth(np.array([-1.0, 0.0, 0.5, 1.0, 2.0])).tolist() == [0.0, 0.0, 0.5, 1.0, 1.0]


def test_the_aim_within_a_phase_is_a_plain_function() -> None:
    """What a preview draws ahead is what will be measured when the phase has come so far."""
    ahead = aim_in(LOWERING_75, TOP, np.array([0.0, 0.25, 0.5]), 50.0)
    assert ahead.tolist() == pytest.approx([50.0, 62.5, 75.0])
