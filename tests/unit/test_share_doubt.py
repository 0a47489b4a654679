"""A share's uncertainty at its edges: no load, one foot, a side of which nothing is known, two clocks."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from weightshare.metrology.build import standard_worth
from weightshare.metrology.share import (
    CLOCK,
    COVERAGE_FACTOR,
    GAIN,
    mean_bandwidth_Hz,
    share_doubt,
    share_u,
    side_doubt,
)
from weightshare.model import Side, Worth

WORTH = standard_worth()


@pytest.mark.parametrize(("left_N", "right_N"), [(0.0, 0.0), (-3.0, 2.0), (math.nan, 400.0)])
def test_without_load_there_is_no_share_and_no_doubt_of_it(left_N: float, right_N: float) -> None:
    assert share_doubt(WORTH, left_N, right_N, 6.0) is None
    assert math.isnan(share_u(left_N, right_N, 1.0, 1.0))


def test_on_one_foot_only_what_the_other_plate_shows_by_itself_matters() -> None:
    doubt = share_doubt(WORTH, 700.0, 0.0, 6.0)
    assert doubt is not None
    assert doubt.parts[GAIN] == 0.0, "a gain error of the only load on the plates leaves the share at 100 %"
    assert doubt.u_points == pytest.approx(100.0 * doubt.right.u_N / 700.0, rel=1e-3)


def test_an_empty_plate_that_reads_a_little_below_nothing_is_no_trouble() -> None:
    below, above = share_doubt(WORTH, 700.0, -0.5, 6.0), share_doubt(WORTH, 700.0, 0.5, 6.0)
    assert below is not None and above is not None
    assert below.u_points == pytest.approx(above.u_points, rel=0.01)
    assert below.correlation == pytest.approx(-above.correlation)


def test_the_clocks_part_comes_on_top() -> None:
    """20 ms of misalignment at 25 points a second are half a point."""
    one = share_doubt(WORTH, 300.0, 400.0, 6.0)
    two = share_doubt(WORTH, 300.0, 400.0, 6.0, clock_points=0.020 * 25.0)
    assert one is not None and two is not None
    assert one.parts[CLOCK] == 0.0 and two.parts[CLOCK] == 0.5
    assert two.u_points == pytest.approx(math.hypot(one.u_points, 0.5))
    assert two.expanded_points == COVERAGE_FACTOR * two.u_points


def test_a_side_of_which_nothing_is_known_is_an_error_and_no_zero() -> None:
    half = Worth(WORTH.sides[:1])
    with pytest.raises(KeyError):
        side_doubt(half, Side.RIGHT, 400.0, 6.0)
    with pytest.raises(KeyError):
        share_doubt(half, 300.0, 400.0, 6.0)


def test_each_sides_doubt_is_its_own() -> None:
    worse = replace(WORTH, sides=(replace(WORTH.sides[0], hysteresis_N=5.0), WORTH.sides[1]))
    doubt = share_doubt(worse, 300.0, 400.0, 6.0)
    assert doubt is not None
    assert doubt.load(Side.LEFT).expanded_N > 10.0 > doubt.load(Side.RIGHT).expanded_N
    assert doubt.load(Side.RIGHT) == side_doubt(WORTH, Side.RIGHT, 400.0, 6.0)


def test_a_mean_of_no_time_has_all_noise() -> None:
    assert mean_bandwidth_Hz(0.0) == math.inf
