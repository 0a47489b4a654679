"""Means and extremes over the time in which someone stood; symmetry."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import analyse, drop, lose, make_trace
from weightshare.model import Trace
from weightshare.pipeline.summary import Extremes, Sums
from weightshare.pipeline.symmetry import limb_symmetry_index, symmetry_angle, symmetry_index


def test_mean_and_spread_are_those_of_the_time_in_which_someone_stood() -> None:
    share = analyse([(2.0, 0.0, 0.0), (3.0, 560.0, 140.0), (1.0, 420.0, 280.0), (2.0, 0.0, 0.0)]).share_percent
    assert share.mean == pytest.approx((3 * 80.0 + 60.0) / 4)
    assert share.sd == pytest.approx(20.0 * np.sqrt(3 / 16))


def test_a_share_that_stands_still_has_no_spread() -> None:
    """Squares of large numbers, summed, used to leave some millionths."""
    for left, right in ((611.3, 88.1), (525.0, 175.0), (697.0, 3.0)):
        share = analyse([(600.0, left, right)], filter_Hz=6.0).share_percent
        assert share.mean == pytest.approx(100.0 * left / (left + right))
        assert share.sd == pytest.approx(0.0, abs=1e-9)


def test_each_sample_stands_for_the_interval_that_ends_with_it() -> None:
    """The mean is that of time, not of samples: the second half is sampled less often."""
    time_s = np.concatenate((np.arange(300) / 100.0, 3.0 + np.arange(100) * 0.016))
    left = np.where(time_s < 3.0, 420.0, 560.0)
    trace = Trace(time_s, {"left_N": left, "right_N": 700.0 - left})
    weights = np.diff(time_s, prepend=-0.01)
    expected = np.sum(weights * left / 7.0) / weights.sum()
    assert analyse(trace).share_percent.mean == pytest.approx(expected)
    assert analyse(trace).gaps == ()


def test_least_and_greatest_leave_out_the_steps_on_and_off() -> None:
    """While stepping on, and off, all is on one foot for 0.4 s."""
    steps = [(1.0, 0.0, 0.0), (0.4, 300.0, 10.0), (3.0, 350.0, 350.0), (2.0, 420.0, 280.0), (0.4, 10.0, 300.0)]
    share = analyse([*steps, (1.0, 0.0, 0.0)], body_weight_N=700.0).share_percent
    assert (share.min, share.max) == pytest.approx((50.0, 60.0))


def test_the_streams_ends_are_no_steps() -> None:
    share = analyse([(0.3, 420.0, 280.0), (3.0, 350.0, 350.0), (0.3, 560.0, 140.0)]).share_percent
    assert (share.min, share.max) == pytest.approx((50.0, 80.0))


def test_who_stood_for_less_than_a_second_has_no_extremes() -> None:
    analysis = analyse([(1.0, 0.0, 0.0), (0.95, 420.0, 280.0), (1.0, 0.0, 0.0)])
    assert analysis.share_percent.mean == pytest.approx(60.0)
    assert (analysis.share_percent.min, analysis.share_percent.max) == (None, None)
    assert any("least and greatest" in warning for warning in analysis.warnings)


def test_stepping_on_counts_from_when_the_person_was_seen() -> None:
    """The step falls into a gap: half a second from the first reading after it, not from within."""
    steps = [(1.0, 0.0, 0.0), (2.0, 0.0, 0.0), (0.4, 70.0, 630.0), (3.0, 350.0, 350.0)]
    for trace in (lose(make_trace(steps), 1.0, 3.0), drop(make_trace(steps), 1.0, 3.0)):
        assert analyse(trace).share_percent.min == pytest.approx(50.0)


@pytest.mark.parametrize("start_s", [0.0, -50.0, 1e6, 1e9])
def test_a_sample_right_on_the_half_second_counts_wherever_time_starts(start_s: float) -> None:
    left = np.concatenate((np.zeros(100), np.full(50, 10.0), np.full(1, 420.0), np.full(200, 350.0)))
    right = np.concatenate((np.zeros(100), np.full(50, 500.0), np.full(1, 280.0), np.full(200, 350.0)))
    trace = Trace(start_s + np.arange(left.size) / 100.0, {"left_N": left, "right_N": right})
    assert analyse(trace).share_percent.max == pytest.approx(60.0)
    assert analyse(trace).share_percent.min == pytest.approx(50.0)


def test_extremes_do_not_depend_on_how_samples_are_grouped() -> None:
    rng = np.random.default_rng(2)
    times, values = np.arange(500) / 100.0, rng.normal(60.0, 5.0, 500)
    away = np.zeros(500, dtype=np.bool_)
    away[200:230] = True
    values[away] = np.nan
    whole, pieces = Extremes(), Extremes()
    whole.push(times, values, away)
    for cut in np.split(np.arange(500), [3, 180, 199, 200, 215, 260, 280, 499]):
        pieces.push(times[cut], values[cut], away[cut])
    whole.finish()
    pieces.finish()
    assert (pieces.low, pieces.high) == (whole.low, whole.high)
    kept = np.r_[0:151, 280:500]
    assert (whole.low, whole.high) == (values[kept].min(), values[kept].max())


def test_sums_do_not_depend_on_how_samples_are_grouped() -> None:
    rows = np.random.default_rng(3).normal(0.0, 1e6, (3, 5000))
    whole, pieces = Sums(3), Sums(3)
    whole.push(rows)
    for cut in np.split(np.arange(5000), [1, 1023, 1024, 1025, 3000, 4999]):
        pieces.push(rows[:, cut])
    np.testing.assert_array_equal(pieces.totals(), whole.totals())
    np.testing.assert_allclose(whole.totals(), rows.sum(axis=1), rtol=1e-9)


def test_symmetry_comes_from_mean_force() -> None:
    symmetry = analyse([(5.0, 250.0, 200.0)], target=None).symmetry
    assert symmetry.limb_symmetry_index_percent == pytest.approx(125.0)
    assert symmetry.symmetry_index_percent == pytest.approx(-22.2222, abs=1e-4)
    assert symmetry.symmetry_angle_percent == pytest.approx(-7.0447, abs=1e-4)


@pytest.mark.parametrize(("target", "steered"), [(None, False), (50.0, False), (75.0, True), (49.0, True)])
def test_a_share_steered_to_another_target_than_50_is_no_symmetry(target: float | None, steered: bool) -> None:
    assert analyse([(5.0, 350.0, 350.0)], target=target).symmetry.steered is steered


def test_equal_loads_are_100_and_0_and_0() -> None:
    assert (limb_symmetry_index(7.0, 7.0), symmetry_index(7.0, 7.0), symmetry_angle(7.0, 7.0)) == (100.0, 0.0, 0.0)


def test_symmetry_that_cannot_be_had_is_none() -> None:
    assert limb_symmetry_index(5.0, 0.0) is None
    assert (symmetry_index(0.0, 0.0), symmetry_angle(0.0, 0.0)) == (None, None)
    assert (symmetry_index(5.0, 0.0), symmetry_angle(5.0, 0.0)) == (-200.0, -50.0)
