"""The pyramid's envelope is the plain one, whatever is asked for; gaps are never bridged."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from weightshare.model import Floats
from weightshare.practice.past.pyramid import Envelope, Pyramid

INTERVAL_S = 0.01


def plain(time_s: Floats, values: Floats, rows: int) -> list[tuple[float, float, float]]:
    """Time, least and greatest value of each block of `rows` rows, one by one."""
    found = []
    for begin in range(0, values.size, rows):
        block = [value for value in values[begin : begin + rows] if not np.isnan(value)]
        low, high = (min(block), max(block)) if block else (np.nan, np.nan)
        found.append((float(time_s[begin]), float(low), float(high)))
    return found


def rows_of(found: Envelope) -> list[tuple[float, float, float]]:
    return list(zip(found.time_s.tolist(), found.low.tolist(), found.high.tolist(), strict=True))


@given(
    st.lists(st.floats(-1e3, 1e3) | st.just(np.nan), min_size=1, max_size=300),
    st.floats(0.0, 3.0),
    st.floats(0.0, 3.0),
    st.integers(1, 80),
)
def test_the_envelope_is_the_plain_one(values: list[float], one_s: float, other_s: float, columns: int) -> None:
    array = np.array(values)
    time_s: Floats = np.arange(array.size, dtype=np.float64) * INTERVAL_S
    from_s, to_s = min(one_s, other_s), max(one_s, other_s)
    found = Pyramid(time_s, array, INTERVAL_S).envelope(from_s, to_s, columns)
    expected = [block for block in plain(time_s, array, found.rows) if block[0] in found.time_s]
    np.testing.assert_array_equal(rows_of(found), expected)
    shown = array[(time_s >= from_s) & (time_s <= to_s)]
    if np.isfinite(shown).any():
        assert np.nanmin(found.low) <= np.nanmin(shown)
        assert np.nanmax(found.high) >= np.nanmax(shown), "what is shown has every peak"


@pytest.mark.parametrize("count", [1, 2, 999, 1000, 1024, 100_003])
@pytest.mark.parametrize("columns", [1, 7, 900])
def test_there_are_as_many_blocks_as_columns_and_hardly_twice_as_many(count: int, columns: int) -> None:
    time_s: Floats = np.arange(count, dtype=np.float64) * INTERVAL_S
    found = Pyramid(time_s, np.sin(time_s), INTERVAL_S).envelope(0.0, count * INTERVAL_S, columns)
    assert min(count, columns) <= found.low.size <= 2 * columns + 2


@pytest.mark.parametrize("columns", [5, 50, 5000])
def test_a_line_breaks_at_a_gap_in_time(columns: int) -> None:
    time_s = np.concatenate((np.arange(0.0, 10.0, INTERVAL_S), np.arange(60.0, 70.0, INTERVAL_S)))
    found = Pyramid(time_s, np.ones(time_s.size), INTERVAL_S).envelope(0.0, 70.0, columns)
    broken = np.flatnonzero(np.isnan(found.low))
    assert broken.size == 1
    assert found.time_s[broken[0] - 1] < 10.0
    assert found.time_s[broken[0] + 1] >= 60.0


def test_blocks_stand_still_while_the_stretch_is_moved() -> None:
    time_s: Floats = np.arange(50_000, dtype=np.float64) * INTERVAL_S
    pyramid = Pyramid(time_s, np.sin(time_s), INTERVAL_S)
    before, after = (rows_of(pyramid.envelope(from_s, from_s + 100.0, 300)) for from_s in (100.0, 101.3))
    assert len(set(before) & set(after)) > 300


def test_the_extremes_are_those_of_all() -> None:
    values = np.array([np.nan, 3.0, -7.0, np.nan, 2.0])
    assert Pyramid(np.arange(5.0), values, 1.0).extremes().tolist() == [-7.0, 3.0]
