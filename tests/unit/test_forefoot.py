"""When the load stands on the front of the foot."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.pipeline.forefoot import BACK_PART, FORWARD, LOOK_BACK_S, Stay, StayFinder

RATE_HZ = 100.0


def course(*points: tuple[float, float], noise: float = 0.0) -> tuple[Floats, Floats]:
    """Return times and a front share that goes in straight lines from point (s, share) to point."""
    times, levels = zip(*points, strict=True)
    time_s = np.arange(round(times[-1] * RATE_HZ)) / RATE_HZ
    return time_s, np.interp(time_s, times, levels) + noise * np.random.default_rng(1).normal(size=time_s.size)


def find(time_s: Floats, front: Floats) -> list[Stay]:
    finder = StayFinder()
    return [turn.stay for turn in finder.push(time_s, front) if turn.begins]


RAISE = ((0.0, 0.42), (4.0, 0.42), (4.3, 0.86), (7.0, 0.86), (7.4, 0.42), (9.0, 0.42))


def test_a_stay_goes_from_leaving_the_level_to_half_way_back() -> None:
    (stay,) = find(*course(*RAISE))
    assert stay.level == pytest.approx(0.42)
    assert stay.peak == pytest.approx(0.86)
    assert stay.first_s == pytest.approx(4.0 + 0.3 * FORWARD / 0.44, abs=0.011)
    assert stay.last_s == pytest.approx(7.0 + 0.4 * BACK_PART, abs=0.011)


def test_sway_is_no_stay() -> None:
    assert find(*course((0.0, 0.42), (60.0, 0.42), noise=0.012)) == []


def test_whoever_comes_to_stand_further_forward_slowly_does_not_go_forward() -> None:
    assert find(*course((0.0, 0.42), (5.0, 0.42), (25.0, 0.60), (30.0, 0.60))) == []


def test_a_stay_under_way_has_no_end() -> None:
    (stay,) = find(*course(*RAISE[:4]))
    assert stay.last_s is None


def test_what_is_not_read_neither_begins_nor_ends_a_stay() -> None:
    time_s, front = course(*RAISE)
    front[(time_s > 5.0) & (time_s < 6.0)] = np.nan
    front[time_s > 7.1] = np.nan
    (stay,) = find(time_s, front)
    assert stay.last_s is None
    assert find(time_s, np.full(time_s.size, np.nan)) == []


def test_the_level_is_that_of_the_last_seconds() -> None:
    """A short dip long ago does not make standing a stay."""
    (stay,) = find(
        *course((0.0, 0.2), (0.5, 0.2), (0.6, 0.42), (4.0 + LOOK_BACK_S, 0.42), *((t + 4, x) for t, x in RAISE[1:]))
    )
    assert stay.first_s < 1.0
    late = find(*course((0.0, 0.42), (8.0, 0.42), (8.3, 0.86), (9.0, 0.86)))
    assert late[0].level == pytest.approx(0.42)


def test_stays_are_parted_where_the_load_comes_half_way_back() -> None:
    stays = find(*course(*RAISE[:4], (7.3, 0.6), (7.6, 0.86), (9.0, 0.86), (9.4, 0.42), (10.0, 0.42)))
    assert len(stays) == 2
    assert stays[1].level == pytest.approx(0.6, abs=0.01)


def test_nothing_before_the_finder_s_begin_counts() -> None:
    time_s, front = course(*RAISE)
    finder = StayFinder(5.0)
    assert finder.push(time_s, front) == []


@pytest.mark.parametrize("step", [1, 7, 50])
def test_pieces_find_the_same(step: int) -> None:
    time_s, front = course(*RAISE, (11.0, 0.42), (11.3, 0.8), (12.0, 0.8), (12.3, 0.4), (13.0, 0.4), noise=0.01)
    finder, found = StayFinder(), []
    for start in range(0, time_s.size, step):
        turns = finder.push(time_s[start : start + step], front[start : start + step])
        found += [(start + turn.place, turn.begins, turn.stay.first_s) for turn in turns]
    whole = [(turn.place, turn.begins, turn.stay.first_s) for turn in StayFinder().push(time_s, front)]
    assert found == whole
    assert len(whole) == 4
