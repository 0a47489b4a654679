"""Moves are smooth, arrive, and hand over to each other; sways have the spectrum that they are given."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.signal import welch

from weightshare.model import Floats
from weightshare.scales.rig.path import Path
from weightshare.scales.rig.sway import SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS, Sway

FINE_S = np.arange(0.0, 5.0, 0.001)


def test_rests_where_it_was_put() -> None:
    value, acceleration = Path(3.5).at(FINE_S)
    assert np.all(value == 3.5)
    assert np.all(acceleration == 0.0)


def test_least_jerk_between_rest_and_rest() -> None:
    # Flash and Hogan (1985): x = x0 + (xf - x0)(10 tau^3 - 15 tau^4 + 6 tau^5)
    path = Path(50.0)
    path.move(1.0, 2.0, 75.0)
    value, acceleration = path.at(FINE_S)
    tau = np.clip((FINE_S - 1.0) / 2.0, 0.0, 1.0)
    assert value == pytest.approx(50.0 + 25.0 * (10 * tau**3 - 15 * tau**4 + 6 * tau**5), abs=1e-9)
    assert acceleration == pytest.approx(25.0 * (60 * tau - 180 * tau**2 + 120 * tau**3) / 4.0, abs=1e-9)


def test_a_move_takes_over_from_the_one_under_way() -> None:
    path = Path(0.0)
    path.move(1.0, 2.0, 10.0)
    path.move(1.7, 1.0, -5.0)
    path.move(2.1, 0.5, 4.0)
    value, acceleration = path.at(FINE_S)
    step = np.diff(value)
    assert np.abs(np.diff(step)).max() < 3e-4  # no jump of speed: a second difference is acceleration x (1 ms)^2
    assert np.abs(np.diff(acceleration)).max() < 10.0
    assert value[-1] == pytest.approx(4.0, abs=1e-9)


def test_a_move_drops_those_planned_after_it() -> None:
    path = Path(0.0)
    path.move(2.0, 1.0, 10.0)
    path.move(4.0, 0.5, 20.0)
    path.move(1.0, 0.5, 5.0)
    assert path.at(np.array([1.5, 2.5, 4.9]))[0] == pytest.approx([5.0, 5.0, 5.0])


def test_a_move_may_end_in_motion_and_hand_it_over() -> None:
    path = Path(0.0)
    path.move(1.0, 0.7, 2.0, speed=5.0, acceleration=1.0)
    path.move(1.7, 0.4, 4.0, speed=5.0)
    path.move(2.1, 0.6, 6.0)
    value, speed, acceleration = path.course(FINE_S)
    at = np.searchsorted(FINE_S, (1.7, 2.1, 2.7))
    assert value[at] == pytest.approx([2.0, 4.0, 6.0], abs=0.01)
    assert speed[at] == pytest.approx([5.0, 5.0, 0.0], abs=0.01)
    assert np.abs(np.diff(value, 2)).max() < 2e-4
    assert np.diff(value) / 0.001 == pytest.approx((speed[1:] + speed[:-1]) / 2, abs=1e-3)
    assert np.diff(speed) / 0.001 == pytest.approx((acceleration[1:] + acceleration[:-1]) / 2, abs=0.5)
    assert path.state(1.7) == pytest.approx(2.0)


def test_where_nothing_takes_over_a_move_that_ends_in_motion_stops() -> None:
    path = Path(0.0)
    path.move(1.0, 1.0, 2.0, speed=3.0, acceleration=-4.0)
    whole = path.course(FINE_S)
    pieces = [path.course(FINE_S[k : k + 7]) for k in range(0, len(FINE_S), 7)]
    late = FINE_S > 2.0
    assert whole[0][late] == pytest.approx(np.full(late.sum(), 2.0))
    assert np.all(whole[1][late] == 0.0) and np.all(whole[2][late] == 0.0)
    for column in range(3):
        assert np.concatenate([piece[column] for piece in pieces]) == pytest.approx(whole[column], abs=1e-9)
    path.move(3.0, 1.0, 5.0)
    assert path.course(FINE_S)[0][-1] == pytest.approx(5.0)


def test_looking_back_and_in_pieces_gives_the_same() -> None:
    path = Path(0.0)
    for k in range(6):
        path.move(0.3 + 0.7 * k, 0.5, float(k * k))
    whole = path.at(FINE_S)[0]
    pieces = [path.at(FINE_S[k : k + 7])[0] for k in range(0, len(FINE_S), 7)]
    assert np.array_equal(np.concatenate(pieces), whole)


@pytest.mark.parametrize("duration_s", [0.0, -1.0, float("nan")])
def test_a_move_takes_time(duration_s: float) -> None:
    with pytest.raises(ValueError, match="takes time"):
        Path(0.0).move(1.0, duration_s, 2.0)


def test_sways_have_the_deviation_and_the_spectrum_they_are_given() -> None:
    sway = Sway(np.random.default_rng(5), [SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS])
    courses = sway.at(np.arange(0.0, 2000.0, 0.02))
    assert courses.std(axis=0) == pytest.approx([1.0, 1.0, 1.0], abs=0.05)
    below_1_Hz = [_part_below(course, 1.0) for course in courses.T]
    assert below_1_Hz[0] > 0.9
    assert below_1_Hz[1] < 0.1
    assert below_1_Hz[2] < 0.001


def _part_below(course: np.ndarray[tuple[int], np.dtype[np.float64]], limit_Hz: float) -> float:
    frequency_Hz, power = welch(course, 50.0, nperseg=8192)
    return float(power[frequency_Hz < limit_Hz].sum() / power.sum())


def test_sways_are_independent_and_seeded() -> None:
    time_s = np.arange(0.0, 1000.0, 0.1)
    courses = Sway(np.random.default_rng(1), [SHARE_BANDS, SHARE_BANDS]).at(time_s)
    assert abs(np.corrcoef(courses[:, 0], courses[:, 1]).item(1)) < 0.1
    again = Sway(np.random.default_rng(1), [SHARE_BANDS, SHARE_BANDS]).at(time_s)
    other = Sway(np.random.default_rng(2), [SHARE_BANDS, SHARE_BANDS]).at(time_s)
    assert np.array_equal(courses, again)
    assert not np.allclose(courses, other, atol=0.5)


@pytest.mark.parametrize("step_s", [0.01, 1 / 60, 0.005])
def test_many_even_times_are_summed_another_way_with_the_same_result(step_s: float) -> None:
    sway = Sway(np.random.default_rng(3), [SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS])
    time_s: Floats = np.arange(5000, dtype=np.float64) * step_s + 7.3
    at_once, piecewise = sway.course(time_s), [sway.course(time_s[k : k + 500]) for k in range(0, 5000, 500)]
    for order, one in enumerate(at_once):
        assert one == pytest.approx(np.concatenate([piece[order] for piece in piecewise]), abs=1e-6)
    assert sway.at(time_s) == pytest.approx(at_once[0], abs=1e-9)
    uneven: Floats = np.sort(np.concatenate((time_s, [time_s[77] + 0.3 * step_s])))
    assert np.delete(sway.at(uneven), 78, axis=0) == pytest.approx(at_once[0], abs=1e-8)


def test_the_derivatives_of_a_sway_are_those_of_its_course() -> None:
    sway = Sway(np.random.default_rng(4), [TREMOR_BANDS])
    time_s = np.arange(0.0, 1.0, 0.0005)
    value, speed, acceleration = (figure[:, 0] for figure in sway.course(time_s))
    assert np.gradient(value, 0.0005)[1:-1] == pytest.approx(speed[1:-1], abs=0.02)
    assert np.gradient(speed, 0.0005)[1:-1] == pytest.approx(acceleration[1:-1], abs=2.0)
