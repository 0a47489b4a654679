"""When a load came: at once, bit by bit, and not at all."""

from __future__ import annotations

import math

import pytest

from weightshare.workbench.arrival import Arrival

BLOCK_S = 0.2
STILL_S = 4.0


def arrive(course: list[tuple[float, float]], since_s: float = 0.0) -> float:
    """Return when the load came by readings of (instant of change, N) steps, watched until STILL_S in blocks."""
    arrival = Arrival()
    for number in range(round((STILL_S - since_s) / BLOCK_S)):
        begin_s = since_s + number * BLOCK_S
        # a block's mean has the part of each step that falls into it
        parts = [min(max((begin_s + BLOCK_S - at_s) / BLOCK_S, 0.0), 1.0) * size for at_s, size in course]
        arrival.push(begin_s + 0.5 * BLOCK_S, sum(parts))
    return arrival.came_s(STILL_S)


@pytest.mark.parametrize("at_s", [1.0, 1.07, 1.1, 2.55])
@pytest.mark.parametrize("load_N", [500.0, -500.0])
def test_a_step_came_when_it_came(at_s: float, load_N: float) -> None:
    assert arrive([(at_s, load_N)]) == pytest.approx(at_s, abs=1e-9)


def test_bits_count_by_their_size() -> None:
    assert arrive([(1.0, 100.0), (3.0, 300.0)]) == pytest.approx(2.5)


def test_what_went_and_came_again_is_there_since_it_is_still() -> None:
    assert arrive([(1.0, -200.0), (2.0, 200.0)]) == STILL_S


def test_nothing_came() -> None:
    assert Arrival().came_s(STILL_S) == STILL_S
    assert arrive([]) == STILL_S


def test_a_missing_reading_is_passed_over() -> None:
    arrival = Arrival()
    for time_s, value in ((0.1, 0.0), (0.3, math.nan), (0.5, 100.0), (0.7, 100.0)):
        arrival.push(time_s, value)
    assert arrival.came_s(STILL_S) == pytest.approx(0.3)


def test_another_step_begins_anew() -> None:
    arrival = Arrival()
    arrival.push(0.1, 0.0)
    arrival.push(0.3, 100.0)
    arrival.reset()
    assert arrival.came_s(STILL_S) == STILL_S
