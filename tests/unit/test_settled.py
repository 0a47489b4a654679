"""How old a settled reading is, which are new, and which two belong together."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.unit.settling import book_of, clock, heard, of_kg
from weightshare.model import Side
from weightshare.practice.settled import Book, Freshness, freshness, is_kept
from weightshare.scales.air.weighing import Weighing

LEFT, RIGHT = Side
DAY = timedelta(days=1)


def at(seconds: float) -> int:
    return round(seconds * 1e9)


@pytest.mark.parametrize(
    ("age", "expected"),
    [
        (0.0, Freshness.FRESH),
        (59.9, Freshness.FRESH),
        (60.0, Freshness.OLD),
        (179.9, Freshness.OLD),
        (180.0, Freshness.GONE),
    ],
)
def test_a_reading_grows_old_and_goes(age: float, expected: Freshness) -> None:
    assert freshness(age) is expected


def test_a_reading_without_a_time_is_new() -> None:
    assert not is_kept(of_kg(40, 5), None)


@pytest.mark.parametrize("off_s", [-60, 0, 60])
def test_a_reading_of_just_now_is_new(off_s: float) -> None:
    assert not is_kept(of_kg(40, 5, clock(5 + off_s)), None)


@pytest.mark.parametrize("off_s", [-61, 61])
def test_a_reading_of_another_time_was_kept(off_s: float) -> None:
    assert is_kept(of_kg(40, 5, clock(5 + off_s)), None)


def test_kept_readings_that_come_in_one_go_are_all_of_them_kept() -> None:
    first, second = of_kg(40, 5.0, clock(0) - DAY), of_kg(41, 5.2, clock(3) - DAY)
    assert is_kept(first, None) and is_kept(second, first)


def test_a_clock_that_is_set_wrongly_is_found_out_with_the_second_reading() -> None:
    book = Book((LEFT,))
    assert not book.take(LEFT, of_kg(40, 5, clock(5) - DAY))
    assert book.newest(LEFT) is None and book.kept(LEFT) is not None
    assert book.take(LEFT, of_kg(41, 35, clock(34) - DAY))
    assert book.load_kg(LEFT, at(36)) == 41 and book.kept(LEFT) is None


def test_readings_kept_on_two_days_are_no_clock_that_is_set_wrongly() -> None:
    book = Book((LEFT,))
    book.take(LEFT, of_kg(40, 5, clock(5) - 2 * DAY))
    assert not book.take(LEFT, of_kg(41, 35, clock(35) - DAY))


def test_a_kept_reading_takes_no_new_ones_place() -> None:
    book = book_of((LEFT, of_kg(40, 5)), (LEFT, of_kg(99, 6, clock(0) - DAY)))
    assert book.load_kg(LEFT, at(7)) == 40


def test_a_reading_that_failed_takes_the_place_of_the_one_before() -> None:
    book = book_of((LEFT, of_kg(40, 5)), (LEFT, heard(Weighing(None), 9)))
    assert book.load_kg(LEFT, at(10)) is None


def test_a_reading_that_cannot_be_read_takes_the_place_of_the_one_before() -> None:
    book = book_of((LEFT, of_kg(40, 5)), (LEFT, heard(None, 9, "what is it")))
    assert book.load_kg(LEFT, at(10)) is None


def test_two_readings_make_a_share() -> None:
    pair = book_of((LEFT, of_kg(20, 5)), (RIGHT, of_kg(25, 8))).pair(RIGHT, at(10))
    # share and index of the pair 25 and 20: Robinson and others' example turned round, by hand
    assert pair is not None and pair.share_percent == pytest.approx(55.5556, abs=1e-4)
    assert pair.symmetry_percent == pytest.approx(125.0)
    assert (pair.total_kg, pair.apart_s, pair.age_s) == (45, 3, 5)


@pytest.mark.parametrize(("later_s", "belong"), [(10.0, True), (10.1, False)])
def test_readings_that_came_far_apart_make_none(later_s: float, belong: bool) -> None:
    book = book_of((LEFT, of_kg(20, 5)), (RIGHT, of_kg(25, 5 + later_s)))
    assert (book.pair(LEFT, at(16)) is not None) is belong


def test_one_new_reading_makes_no_share_with_an_older_one() -> None:
    book = book_of((LEFT, of_kg(20, 5)), (RIGHT, of_kg(25, 8)), (LEFT, of_kg(30, 40)))
    assert book.pair(LEFT, at(41)) is None


def test_readings_that_went_make_no_share() -> None:
    book = book_of((LEFT, of_kg(20, 5)), (RIGHT, of_kg(25, 8)))
    assert book.pair(LEFT, at(184)) is not None and book.pair(LEFT, at(185)) is None


def test_nobody_on_both_scales_makes_no_share() -> None:
    pair = book_of((LEFT, of_kg(0, 5)), (RIGHT, of_kg(0, 5))).pair(LEFT, at(6))
    assert pair is not None and pair.share_percent is None and pair.symmetry_percent is None
