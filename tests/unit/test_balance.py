"""Whether both sides read alike, from the load going slowly from side to side."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.shifting import shift_forces
from weightshare.metrology.balance import (
    BLOCK_S,
    Balance,
    Verdict,
    cut_blocks,
    find_balance,
    fit_line,
    long_variance,
    probability_within,
    soften,
)
from weightshare.metrology.estimate import Estimate


@pytest.mark.parametrize("percent", [-8.0, -2.0, 0.0, 0.5, 2.0, 8.0])
def test_a_mismatch_is_found_as_it_is(percent: float) -> None:
    balance = find_balance(*shift_forces(percent / 100.0, noise=0.0), asked_percent=(35.0, 65.0))
    assert balance.mismatch is not None
    assert balance.mismatch.value == pytest.approx(percent, abs=1e-6), "the line is exact: no small-angle form"


@pytest.mark.parametrize(("percent", "verdict"), [(0.0, "even"), (2.0, "uneven"), (-2.0, "uneven"), (1.0, "undecided")])
def test_the_verdict_goes_by_the_limit_and_what_is_known(percent: float, verdict: str) -> None:
    assert find_balance(*shift_forces(percent / 100.0)).verdict == verdict


def test_what_was_reached_and_used_is_told() -> None:
    balance = find_balance(*shift_forces(low=0.37, high=0.66))
    assert balance.low_percent == pytest.approx(37.0, abs=0.5) and balance.high_percent == pytest.approx(66.0, abs=0.5)
    assert balance.seconds == pytest.approx(40.0, abs=2 * BLOCK_S)


def test_the_rate_of_sampling_hardly_matters() -> None:
    found = [find_balance(*shift_forces(0.02, rate_Hz=rate)).mismatch for rate in (40.0, 80.0, 1000.0)]
    assert all(one is not None and abs(one.value - 2.0) < 0.15 for one in found)


def reason_of(balance: Balance) -> str:
    assert balance.verdict is Verdict.UNTOLD and balance.mismatch is None
    return balance.reason


def test_too_short_a_way_tells_nothing() -> None:
    assert "shift further" in reason_of(find_balance(*shift_forces(0.02, low=0.48, high=0.53)))


def test_a_short_way_is_enough_where_no_more_was_asked() -> None:
    forces = shift_forces(0.02, low=0.38, high=0.50)
    assert "shift further" in reason_of(find_balance(*forces))
    assert find_balance(*forces, asked_percent=(37.0, 51.0)).verdict is Verdict.UNEVEN


def test_going_too_fast_tells_nothing() -> None:
    assert "too fast" in reason_of(find_balance(*shift_forces(0.02, period_s=2.5)))


def test_too_few_readings_tell_nothing() -> None:
    nothing = np.empty(0)
    assert "too few" in reason_of(find_balance(nothing, nothing, nothing))
    assert "too few" in reason_of(find_balance(*shift_forces(seconds=5.0)))
    time_s, left_N, right_N = shift_forces()
    assert "too few" in reason_of(find_balance(time_s, np.full_like(left_N, np.nan), right_N))
    assert "too few" in reason_of(find_balance(time_s, 0.02 * left_N, 0.02 * right_N)), "nobody stands there"


def test_a_part_of_the_weight_on_a_rail_is_seen_by_the_body_weight() -> None:
    time_s, left_N, right_N = shift_forces()
    assert "elsewhere" in reason_of(find_balance(time_s, 0.9 * left_N, 0.9 * right_N, body_weight_N=700.0))


def test_a_hand_that_comes_and_goes_tells_nothing() -> None:
    time_s, left_N, right_N = shift_forces()
    hand = 1.0 - 0.02 * (1.0 + np.sin(2 * np.pi * time_s / 9.0))
    assert "rail" in reason_of(find_balance(time_s, left_N * hand, right_N * hand, body_weight_N=700.0))


def test_leaning_on_something_at_both_ends_is_no_mismatch() -> None:
    time_s, left_N, right_N = shift_forces()
    far = np.clip(np.abs(left_N / 700.0 - 0.5) - 0.05, 0.0, None) / 0.10
    assert "leaned" in reason_of(find_balance(time_s, left_N * (1 - 0.01 * far), right_N * (1 - 0.01 * far)))


def test_leaning_on_one_side_is_taken_for_no_scale() -> None:
    assert "one side" in reason_of(find_balance(*shift_forces(0.2)))


def test_a_few_bounces_and_a_gap_do_no_harm() -> None:
    time_s, left_N, right_N = shift_forces(0.02)
    for at in (900, 2200, 3100):
        left_N[at : at + 40] *= 1.15
        right_N[at : at + 40] *= 1.15
    left_N[1500:1620] = np.nan
    balance = find_balance(time_s, left_N, right_N, body_weight_N=700.0)
    assert balance.mismatch is not None and abs(balance.mismatch.value - 2.0) < 0.2


def test_what_a_pendulums_swing_may_do_is_in_the_uncertainty() -> None:
    """Without stops the speeding up goes with the share, and nobody can part the two."""
    time_s, left_N, right_N = shift_forces(0.02, period_s=10.0)
    swing = -((2 * np.pi / 10.0) ** 2) * 0.15 * np.sin(2 * np.pi * time_s / 10.0)
    thrust = 1.0 + 0.008 * swing
    balance = find_balance(time_s[100:-100], (left_N * thrust)[100:-100], (right_N * thrust)[100:-100])
    assert balance.mismatch is not None and 0.15 < balance.mismatch.u < 0.3
    assert 0.1 < abs(balance.mismatch.value - 2.0) < balance.mismatch.expanded()


def test_the_standard_error_honours_what_hangs_together() -> None:
    """The same slope under white noise and under noise of the same size that wanders over seconds."""
    rng = np.random.default_rng(2)
    errors, found = [], []
    for seed in range(60):
        time_s, left_N, right_N = shift_forces(0.0, noise=0.0, seed=seed, seconds=50.0)
        slow = np.convolve(rng.standard_normal(time_s.size + 199), np.full(200, 1.0), mode="valid")
        wander = 1.0 + 0.0012 * slow / slow.std()
        balance = find_balance(time_s, left_N * wander, right_N * wander)
        if balance.mismatch is not None:
            errors.append(balance.mismatch.u)
            found.append(balance.mismatch.value)
    assert len(found) > 50
    assert 0.7 < np.mean(errors) / np.std(found) < 1.5


def test_probability_within_is_that_of_the_normal_distribution() -> None:
    """Phi(1.96) - Phi(-1.96) = 0.95 and Phi(1) = 0.8413447 (tables of the normal distribution)."""
    assert probability_within(Estimate(0.0, 1.0), 1.959964) == pytest.approx(0.95, abs=1e-6)
    assert probability_within(Estimate(9.0, 1.0), 10.0) == pytest.approx(0.8413447, abs=1e-6)
    assert probability_within(Estimate(0.5, 0.0), 1.0) == 1.0 and probability_within(Estimate(2.0, 0.0), 1.0) == 0.0
    assert probability_within(Estimate(0.0, 1.0, 4.0), 2.776445) == pytest.approx(0.95, abs=1e-6), "Student's t, 4 dof"


def test_the_straight_line_is_that_of_least_squares() -> None:
    """y = 1 + 2 x with residuals 0.1, -0.2, 0.1, which neither column sees: worked by hand."""
    columns = np.column_stack((np.ones(3), [-1.0, 0.0, 1.0], np.zeros(3), np.zeros(3)))
    line = fit_line(columns, np.array([-0.9, 0.8, 3.1]), np.ones(3))
    assert line.fit[:2] == pytest.approx([1.0, 2.0]) and line.left == pytest.approx([0.1, -0.2, 0.1])


def test_huber_leaves_the_usual_alone_and_softens_the_far() -> None:
    left = np.array([-1.0, 1.0, -1.0, 1.0, 0.5, -0.5, 20.0])
    weight = soften(left)
    assert (weight[:6] == 1.0).all() and weight[6] < 0.15


def test_the_variance_is_the_usual_one_where_nothing_hangs_together() -> None:
    left = 0.3 * np.random.default_rng(3).standard_normal(20_000)
    assert long_variance(left, 2) == pytest.approx(0.09, rel=0.1)
    assert long_variance(np.repeat(left[:2500], 8), 2) > 4 * 0.09


def test_blocks_are_means_and_forget_who_is_not_there() -> None:
    time_s = np.arange(400) / 100.0
    left_N = np.where(time_s < 2.0, 0.0, 300.0)
    blocks = cut_blocks(time_s, left_N, left_N / 3.0)
    assert blocks.time_s.size == 4 and blocks.total_N == pytest.approx(400.0) and blocks.share == pytest.approx(0.75)
