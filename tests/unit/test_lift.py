"""Where a heel lifts, and where its lift is over."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.pipeline.lift import LIFT_MM, LiftFinder, Turn, window_min

RATE_HZ = 100.0


def find(height_mm: Floats, pieces: int = 1) -> list[Turn]:
    finder = LiftFinder(1.0 / RATE_HZ)
    time_s = np.arange(height_mm.size) / RATE_HZ
    turns = []
    for piece in np.array_split(np.arange(height_mm.size), pieces):
        turns += [
            Turn(int(piece[0]) + turn.place, turn.lift, turn.begins)
            for turn in finder.push(time_s[piece], height_mm[piece])
        ]
    return turns


def course(*corners: tuple[float, float]) -> Floats:
    """Return a height (mm) that goes by straight lines from corner to corner, (s, mm) each."""
    times, heights = zip(*corners, strict=True)
    return np.asarray(np.interp(np.arange(round(times[-1] * RATE_HZ)) / RATE_HZ, times, heights), np.float64)


def test_a_lift_begins_15_mm_up_and_is_over_15_mm_up() -> None:
    begin, end = find(course((0, 0), (3, 0), (4, 80), (5, 80), (6, 0), (8, 0)))
    assert begin.lift is end.lift
    assert (begin.place, begin.begins, end.begins) == (300 + 19, True, False)
    assert begin.lift.first_s == pytest.approx(3.19)
    assert begin.lift.last_s == pytest.approx(5.82)
    assert begin.lift.base_mm == 0.0


def test_the_level_is_the_lowest_of_two_seconds() -> None:
    """From 20 mm down to -10 mm and back up: what was lowest more than two seconds ago plays no part."""
    turns = find(course((0, 20), (1, 20), (1.5, -10), (2, 0), (4.2, 0), (4.4, 16), (6, 16)))
    assert [turn.lift.base_mm for turn in turns] == [pytest.approx(0.0)]
    assert turns[0].place == 439


def test_less_than_15_mm_is_no_lift() -> None:
    assert find(course((0, 0), (3, 0), (4, LIFT_MM - 0.01), (5, LIFT_MM - 0.01), (6, 0), (8, 0))) == []


def test_what_trembles_about_the_level_is_one_lift() -> None:
    """Where the heel comes down, noise about 15 mm must not begin another one."""
    height = course((0, 0), (3, 0), (4, 80), (5, 14), (5.5, 17), (6, 13), (6.5, 18), (7, 0), (8, 0))
    assert [turn.begins for turn in find(height)] == [True, False]


def test_whoever_stands_at_another_level_has_ended_the_lift() -> None:
    """On a step: up from below, and back to level standing, which never comes within 15 mm of where it began."""
    begin, end = find(course((0, -25), (3, -25), (4, 70), (5, 70), (6, 0), (9, 0), (10, 60), (11, 0), (12, 0)))[:2]
    assert begin.lift.base_mm == -25.0
    assert end.lift.last_s == pytest.approx(5.79, abs=0.02)
    assert end.place == pytest.approx(779, abs=2)


def test_the_next_lift_begins_from_the_level_stood_at() -> None:
    turns = find(course((0, -25), (3, -25), (4, 70), (5, 70), (6, 0), (9, 0), (10, 60), (11, 0), (12, 0)))
    assert [turn.begins for turn in turns] == [True, False, True, False]
    assert turns[2].lift.base_mm == 0.0


def test_a_heel_held_up_stays_lifted() -> None:
    assert [turn.begins for turn in find(course((0, 0), (3, 0), (4, 80), (60, 80), (61, 0), (63, 0)))] == [True, False]


def test_a_heel_that_nobody_saw_did_not_rest() -> None:
    """It stood still for 0.7 s and was then not read for 1.4 s: no two seconds of rest."""
    height = course(
        (0, 0), (3, 0), (3.2, 80), (5, 80), (5.2, 30), (5.7, 30), (7.1, 30), (7.2, 70), (8, 70), (8.2, 0), (9, 0)
    )
    height[570:710] = np.nan
    assert [turn.place for turn in find(height)] == pytest.approx([304, 817], abs=2)


def test_missing_heights_neither_begin_nor_end_a_lift() -> None:
    height = course((0, 0), (3, 0), (4, 80), (5, 80), (6, 0), (8, 0))
    height[330:360] = height[540:560] = np.nan
    begin, end = find(height)
    assert (begin.place, end.place) == (319, 582)


@pytest.mark.parametrize("pieces", [2, 7, 100, 800])
def test_pieces_make_no_difference(pieces: int) -> None:
    height = course((0, -25), (3, -25), (4, 70), (5, 70), (6, 0), (9, 0), (10, 60), (11, 0), (12, 0))
    height = height + np.random.default_rng(3).normal(0.0, 0.4, height.size)
    whole, cut = find(height), find(height, pieces)
    assert [(turn.place, turn.begins, turn.lift) for turn in cut] == [
        (turn.place, turn.begins, turn.lift) for turn in whole
    ]


def test_the_least_of_windows_is_that_of_each() -> None:
    rng = np.random.default_rng(1)
    x = rng.normal(size=300)
    x[rng.random(300) < 0.2] = np.nan
    first = np.maximum(np.arange(300) - rng.integers(0, 60, 300), 0)
    found = window_min(x, first, 0)
    for k in range(300):
        window = x[first[k] : k + 1]
        known = window[~np.isnan(window)]
        assert found[k] == (known.min() if known.size else np.inf)
