"""The uncertainty of a share against values from outside, a reference library, and draws at random."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from uncertainties import correlated_values_norm, correlation_matrix, ufloat
from uncertainties.core import AffineScalarFunc

from weightshare.metrology.build import standard_worth
from weightshare.metrology.share import CLOCK, COMMON, PARTS, ShareDoubt, live_bandwidth_Hz, share_doubt, share_u
from weightshare.model import Floats, Side, SideWorth, Worth

# L 300, R 400, u 2 each: computed by others from u = sqrt(R^2 uL^2 + L^2 uR^2 - 2 r L R uL uR) / (L + R)^2, and by
# draws at random
BY_CORRELATION = ((0.0, 0.002041), (0.8, 0.000983), (-0.5, 0.002483))
DRAWS = 400_000
SHARES = (0.5, 0.6, 0.75, 0.9, 0.97)


@pytest.mark.parametrize(("correlation", "expected"), BY_CORRELATION)
def test_the_worked_values_are_met(correlation: float, expected: float) -> None:
    assert share_u(300.0, 400.0, 2.0, 2.0, correlation) == pytest.approx(expected, abs=5e-7)


@pytest.mark.parametrize("correlation", [0.0, 0.8, -0.5, 0.999])
@pytest.mark.parametrize(("left_N", "right_N", "u_left_N", "u_right_N"), [(300, 400, 2, 2), (150, 640, 1.3, 0.4)])
def test_a_reference_library_says_the_same(
    left_N: float, right_N: float, u_left_N: float, u_right_N: float, correlation: float
) -> None:
    """uncertainties 3.2 propagates to the first order too, from the derivatives that it finds by itself."""
    values = [(left_N, u_left_N), (right_N, u_right_N)]
    left, right = correlated_values_norm(values, np.array([[1.0, correlation], [correlation, 1.0]]))
    ours = share_u(left_N, right_N, u_left_N, u_right_N, correlation)
    assert ours == pytest.approx((left / (left + right)).std_dev, rel=1e-9)


def _with_errors(side: SideWorth, common: AffineScalarFunc, force_N: float, bandwidth_Hz: float) -> AffineScalarFunc:
    """What a plate shows under `force_N`, every error a variable of its own but for the common one."""
    relative = [ufloat(0.0, u) for u in (side.gain_part, side.creep_part, side.corner_part)]
    white_N = side.noise_N * math.sqrt(2.0 / side.noise_rate_Hz)
    zero_N = white_N * math.sqrt(0.5), white_N * math.sqrt(bandwidth_Hz)
    offsets = [ufloat(0.0, u) for u in (side.repeatability_N, side.hysteresis_N, side.zero_drift_N, *zero_N)]
    return force_N * (1.0 + common + sum(relative)) + sum(offsets)


@pytest.mark.parametrize("part", [0.5, 0.75, 0.97])
@pytest.mark.parametrize("common_part", [1e-9, 3.5e-5, 0.02])
def test_a_reference_library_propagates_the_whole_budget_to_the_same(part: float, common_part: float) -> None:
    """It also finds the correlation of the two forces by itself, from the variable that they share."""
    worth = replace(standard_worth(), common_part=common_part)
    left_N, right_N = 700.0 * part, 700.0 * (1.0 - part)
    common = ufloat(0.0, common_part)
    left = _with_errors(worth.sides[0], common, left_N, 6.0)
    right = _with_errors(worth.sides[1], common, right_N, 6.0)
    doubt = share_doubt(worth, left_N, right_N, 6.0)
    assert doubt is not None
    assert doubt.u_points == pytest.approx(100.0 * (left / (left + right)).std_dev, rel=1e-9)
    assert doubt.left.u_N == pytest.approx(left.std_dev, rel=1e-9)
    assert doubt.correlation == pytest.approx(correlation_matrix([left, right])[0, 1], rel=1e-9, abs=1e-12)


def _limits(rng: np.random.Generator, u: float) -> Floats:
    """Draws from the rectangular distribution whose standard deviation is u."""
    return rng.uniform(-math.sqrt(3.0) * u, math.sqrt(3.0) * u, DRAWS)


def _draw_force(rng: np.random.Generator, side: SideWorth, common: Floats, force_N: float, noise_N: float) -> Floats:
    """Draws of what a plate shows under `force_N`: what is known by its limits alone is drawn from within those."""
    parts = [side.gain_part * rng.standard_normal(DRAWS), common]
    parts += [_limits(rng, part) for part in (side.creep_part, side.corner_part)]
    offsets = [side.repeatability_N * rng.standard_normal(DRAWS), noise_N * rng.standard_normal(DRAWS)]
    offsets += [_limits(rng, u_N) for u_N in (side.hysteresis_N, side.zero_drift_N)]
    zero_noise_N = side.noise_N / math.sqrt(side.noise_rate_Hz)
    shown: Floats = force_N * (1.0 + sum(parts)) + sum(offsets) + zero_noise_N * rng.standard_normal(DRAWS)
    return shown


def _draw_share(worth: Worth, left_N: float, right_N: float, seed: int) -> Floats:
    """Draws of the left share, percent, of the mean of 100 readings (1 s)."""
    rng = np.random.default_rng(seed)
    common = _limits(rng, worth.common_part)
    forces = [
        _draw_force(rng, side, common, force_N, side.noise_N / 10.0)
        for side, force_N in zip(worth.sides, (left_N, right_N), strict=True)
    ]
    share: Floats = 100.0 * forces[0] / (forces[0] + forces[1])
    return share


def _coarse() -> Worth:
    """A worth so poor that the second order could show, with much that both sides have together."""
    sides = tuple(SideWorth(side, 0.01, 4.0, 3.0, 100.0, 2.0, 0.006, 0.012, 3.0) for side in Side)
    return Worth(sides, 0.02)


@pytest.mark.parametrize("part", SHARES)
@pytest.mark.parametrize("worth", [standard_worth(), _coarse()], ids=["standard build", "poor scale"])
def test_draws_at_random_spread_as_much(worth: Worth, part: float) -> None:
    """JCGM 101:2008 beside JCGM 100:2008: the standard deviation of the draws within 1 %, and 95 % of them within U."""
    left_N, right_N = 700.0 * part, 700.0 * (1.0 - part)
    doubt = share_doubt(worth, left_N, right_N, live_bandwidth_Hz(None, 1.0))
    assert doubt is not None
    drawn = _draw_share(worth, left_N, right_N, seed=round(1000 * part))
    assert drawn.std() == pytest.approx(doubt.u_points, rel=0.01)
    covered = np.mean(np.abs(drawn - 100.0 * part) <= doubt.expanded_points)
    assert 0.945 <= covered <= 0.975


def test_parts_add_up_to_the_whole() -> None:
    doubt = share_doubt(standard_worth(), 500.0, 200.0, live_bandwidth_Hz(6.0, 100.0), clock_points=0.01)
    assert isinstance(doubt, ShareDoubt)
    assert tuple(doubt.parts) == PARTS
    assert math.hypot(*doubt.parts.values()) == pytest.approx(doubt.u_points, rel=1e-9)
    assert doubt.parts[COMMON] == pytest.approx(0.0, abs=1e-12)
    assert doubt.parts[CLOCK] == 0.01
