"""Which plate a foot presses: told from made-up loads, with a shoe that lies there, a knock, and counts."""

from __future__ import annotations

import pytest

from weightshare.practice.startmeter import PlateSeen
from weightshare.practice.startpress import NEEDED_N, PRESS_S, STILL_S, Feel, PressWatch

EVERY_S = 0.05


class Sitter:
    """Pushes what two plates read, twenty times a second."""

    def __init__(self, *, newtons: bool = True, sd: float = 0.3) -> None:
        self.watch, self.time_s = PressWatch(), 100.0
        self.newtons, self.sd = newtons, sd

    def read(self, left: float | None, right: float | None, seconds: float, sd: float | None = None) -> Feel:
        for _ in range(round(seconds / EVERY_S) + 2):
            self.time_s += EVERY_S
            spread = self.sd if sd is None else sd
            plates = [PlateSeen(None, level, spread, self.newtons) for level in (left, right)]
            self.watch.push(self.time_s, plates)
        return self.watch.feel


@pytest.mark.parametrize("place", [0, 1])
def test_the_plate_that_is_pressed_is_found(place: int) -> None:
    sitter = Sitter()
    assert sitter.read(0.0, 0.0, STILL_S) is Feel.WAITING
    left, right = (NEEDED_N + 5.0, 0.5) if place == 0 else (0.5, NEEDED_N + 5.0)
    assert sitter.read(left, right, PRESS_S) is Feel.FOUND
    assert sitter.watch.found == place


def test_what_lies_there_all_the_time_is_no_press() -> None:
    sitter = Sitter()
    assert sitter.read(80.0, -12.0, STILL_S) is Feel.WAITING
    assert sitter.read(80.0, -12.0, 10.0) is Feel.WAITING
    assert sitter.read(80.0, 20.0, PRESS_S) is Feel.FOUND
    assert sitter.watch.found == 1, "the shoe on the left one was there before"


def test_a_knock_is_no_press_and_a_light_touch_is_none() -> None:
    sitter = Sitter()
    sitter.read(0.0, 0.0, STILL_S)
    assert sitter.read(60.0, 0.0, PRESS_S / 3) is Feel.WAITING
    assert sitter.read(0.0, 0.0, 1.0) is Feel.WAITING
    assert sitter.read(NEEDED_N - 2.0, 0.0, 3.0) is Feel.WAITING


def test_both_feet_are_told_apart_from_one() -> None:
    sitter = Sitter()
    sitter.read(0.0, 0.0, STILL_S)
    assert sitter.read(50.0, 45.0, PRESS_S) is Feel.BOTH
    assert sitter.read(50.0, 0.0, 0.3) is Feel.BOTH, "lifting one of two feet is no press of the other"
    assert sitter.read(0.0, 0.0, PRESS_S) is Feel.RESTLESS
    assert sitter.read(0.0, 0.0, STILL_S) is Feel.WAITING


def test_a_load_that_was_taken_away_begins_the_rest_anew() -> None:
    """Somebody stood there when the rest was taken: stepping off the right plate is no press of the left one."""
    sitter = Sitter()
    sitter.read(0.0, 300.0, STILL_S)
    assert sitter.read(0.0, 0.0, PRESS_S) is not Feel.FOUND
    assert sitter.read(0.0, 0.0, STILL_S) is Feel.WAITING
    assert sitter.read(40.0, 0.0, PRESS_S) is Feel.FOUND
    assert sitter.watch.found == 0


def test_no_rest_while_it_shakes_or_no_reading_comes() -> None:
    sitter = Sitter()
    assert sitter.read(0.0, 0.0, 3.0, sd=8.0) is Feel.RESTLESS
    assert sitter.read(0.0, 0.0, STILL_S) is Feel.WAITING
    assert sitter.read(0.0, None, EVERY_S) is Feel.RESTLESS, "a scale that is gone has no rest to compare with"


def test_counts_do_where_newtons_are_not_known() -> None:
    sitter = Sitter(newtons=False, sd=40.0)
    assert sitter.read(812_000.0, -44_000.0, STILL_S) is Feel.WAITING
    assert sitter.read(812_000.0, -43_000.0, 2.0) is Feel.WAITING
    assert sitter.read(812_100.0, -20_000.0, PRESS_S) is Feel.FOUND
    assert sitter.watch.found == 1
