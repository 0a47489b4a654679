"""Pixels of the path: within the corridor exactly where in the band."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from weightshare.practice.screen import Path
from weightshare.window.plane import BEHIND_S, TRAIL_POINTS, Plane, thin


def path(target: float, tolerance: float, share: float) -> Path:
    low, high = max(0.0, target - tolerance), min(100.0, target + tolerance)
    return Path(low=low, high=high, place=share, inside=abs(share - target) <= tolerance)


@given(
    width=st.integers(320, 4000),
    reach=st.floats(30.0, 50.0),
    target=st.floats(20.0, 80.0),
    tolerance=st.floats(0.1, 20.0),
    share=st.floats(0.0, 100.0),
)
@example(width=786, reach=45.0, target=75.0, tolerance=5.0, share=70.0)
@example(width=786, reach=45.0, target=75.0, tolerance=5.0, share=80.0)
@example(width=786, reach=45.0, target=75.0, tolerance=5.0, share=np.nextafter(70.0, 0.0))
@example(width=786, reach=45.0, target=75.0, tolerance=5.0, share=np.nextafter(80.0, 100.0))
def test_the_puck_is_within_the_corridors_columns_exactly_where_the_share_is_in_the_band(
    width: int, reach: float, target: float, tolerance: float, share: float
) -> None:
    plane, drawn = Plane(width, 500, reach), path(target, tolerance, share)
    assert drawn.low is not None and drawn.high is not None
    first, last = plane.corridor(drawn.low, drawn.high)
    column = plane.puck_column(drawn)
    assert column is not None
    seen = first >= 0 and last < width
    if seen and 0 < share < 100:
        assert (first <= column <= last) == drawn.inside


@given(share=st.floats(0.0, 100.0), reach=st.floats(45.0, 50.0))
def test_a_column_lies_at_most_one_off_its_exact_place(share: float, reach: float) -> None:
    plane = Plane(786, 500, reach)
    column = plane.puck_column(path(75.0, 5.0, share))
    exact = min(max(plane.x(share), 0.0), 785.0)
    assert column is not None and abs(column - exact) <= 1.0 + 1e-9


def test_left_is_left_and_even_is_the_middle() -> None:
    plane = Plane(801, 500, 50.0)
    assert plane.x(50.0) == 400.5 and plane.x(0.0) == 0.0 and plane.x(100.0) == 801.0
    assert plane.x(40.0) < plane.x(60.0)


def test_time_flows_downwards() -> None:
    plane = Plane(800, 500, 50.0)
    assert plane.y(38.0, 40.0) > plane.now_row > plane.y(42.0, 40.0)
    assert plane.y(40.0 - BEHIND_S, 40.0) == pytest.approx(500, abs=BEHIND_S)


def test_the_trail_is_thinned_by_fixed_pieces_of_time() -> None:
    """The same samples are drawn whatever the newest one is: the picture does not shimmer."""
    time_s = np.arange(0.0, 60.0, 0.001)
    kept = []
    for end in (30_000, 30_011):
        piece = slice(end - 12_000, end)
        trail = Path(trail_time_s=time_s[piece], trail_place=time_s[piece], trail_inside=time_s[piece] > 0)
        drawn, _place, _inside = thin(trail)
        assert len(drawn) <= TRAIL_POINTS + 3 and drawn[-1] == time_s[end - 1]
        kept.append(set(drawn[1:-1].tolist()))
    assert len(kept[0] & kept[1]) >= TRAIL_POINTS - 3
