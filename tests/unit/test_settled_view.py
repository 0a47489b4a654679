"""What is shown and said of settled readings."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.unit.settling import LISTENING, book_of, clock, heard, of_kg, show
from weightshare.exercise import Ceiling, Exercise
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.screen import Shape
from weightshare.practice.settledview import LIMIT, say_age
from weightshare.scales.air.settled import SettledPhase, SettledStatus
from weightshare.scales.air.weighing import MassUnit, Weighing
from weightshare.task import Settings

LEFT, RIGHT = Side
ON_LEFT = Settings(LEFT)


def test_it_always_says_what_such_scales_cannot() -> None:
    view = show(book_of(sides=(LEFT,)), 1, ON_LEFT)
    assert view.limit == LIMIT
    assert "cannot time a hold" in LIMIT and "repetition" in LIMIT and "follow you while you move" in LIMIT


def test_nobody_is_asked_to_stand_on_one_leg() -> None:
    assert "the other beside it" in show(book_of(sides=(LEFT,)), 1, ON_LEFT).headline
    assert show(book_of(), 1, ON_LEFT).headline.startswith("One foot on each scale.")


def test_one_scale_shows_kilograms_and_with_a_body_weight_percent() -> None:
    book = book_of((LEFT, of_kg(31.5, 5)), sides=(LEFT,))
    without, known = show(book, 7, ON_LEFT), show(book, 7, ON_LEFT, body_kg=70.0)
    assert without.sides[0].load == "31.5 kg" and without.share is None and "press W" in without.share_missing
    assert known.share is not None and known.share.share == "45 %"
    assert known.share.label == "of body weight on the left foot"
    assert known.sides[0].state == "2 s ago" and known.sides[0].mark is Shape.DISC


def test_pounds_are_shown_as_kilograms_with_the_pounds_beside() -> None:
    side = show(book_of((LEFT, heard(Weighing(6940, MassUnit.LB), 5)), sides=(LEFT,)), 6, ON_LEFT).sides[0]
    assert (side.load, side.original) == ("31.5 kg", "69.4 lb on the scale")


def test_an_old_reading_is_marked_by_word_and_shape_and_then_goes() -> None:
    book = book_of((LEFT, of_kg(31.5, 5)), sides=(LEFT,))
    old, gone = show(book, 70, ON_LEFT, body_kg=70), show(book, 190, ON_LEFT, body_kg=70)
    assert old.mark is Shape.DIAMOND and old.headline.startswith("Old")
    assert old.sides[0].faded and old.sides[0].state == "OLD: 1 min 0 s ago"
    assert old.share is not None and old.share.faded
    assert gone.sides[0].load == "" and gone.share is None and "over 3 min" in gone.sides[0].state


def test_an_old_reading_is_no_body_weight() -> None:
    book = book_of((LEFT, of_kg(70, 5)), sides=(LEFT,))
    assert show(book, 6, ON_LEFT).may_take_weight and not show(book, 70, ON_LEFT).may_take_weight


def test_two_scales_show_the_share_with_both_ages() -> None:
    view = show(book_of((LEFT, of_kg(31.5, 5)), (RIGHT, of_kg(38.5, 8))), 12, ON_LEFT)
    assert view.share is not None and view.share.share == "45 %" and view.share.label == "on the left foot"
    assert view.share.age == "7 s ago, 3 s apart"
    assert view.share.symmetry == "left is 82 % of right"
    assert [side.state for side in view.sides] == ["7 s ago", "4 s ago"]


@pytest.mark.parametrize(
    ("left_kg", "said"), [(27.0, "too little"), (28.0, "reached"), (35.0, "reached"), (36.0, "too much")]
)
def test_what_was_asked_for_stands_beside_the_share(left_kg: float, said: str) -> None:
    settings = Settings(LEFT, target_percent=45.0, exercise=Exercise.HOLD)
    view = show(book_of((LEFT, of_kg(left_kg, 5)), (RIGHT, of_kg(70 - left_kg, 5))), 6, settings)
    assert view.share is not None and view.share.asked == f"asked: 40 to 50 %: {said}"


def test_nothing_of_repetitions_is_said_to_be_reached() -> None:
    settings = Settings(LEFT, target_percent=45.0, exercise=Exercise.LOWERING)
    view = show(book_of((LEFT, of_kg(31, 5)), (RIGHT, of_kg(39, 5))), 6, settings)
    assert view.share is not None and view.share.asked == ""


def test_readings_far_apart_say_why_there_is_no_share() -> None:
    view = show(book_of((LEFT, of_kg(31.5, 5)), (RIGHT, of_kg(38.5, 38))), 40, ON_LEFT)
    assert view.share is None and view.mark is Shape.DIAMOND
    assert view.share_missing == "no share: the two readings came 33 s apart; 10 s is the most"


def test_one_of_two_has_to_wait_for_the_other() -> None:
    view = show(book_of((LEFT, of_kg(31.5, 5))), 6, ON_LEFT)
    assert view.headline == "Stand still: the right scale has not settled yet."
    assert view.share_missing == "no share without a reading of each foot"


def test_a_scale_that_could_not_weigh_is_told() -> None:
    view = show(book_of((LEFT, of_kg(31.5, 5)), (RIGHT, heard(Weighing(None), 8))), 9, ON_LEFT)
    assert view.mark is Shape.CROSS and view.headline.startswith("The right scale could not weigh.")
    assert view.sides[1].load == "" and view.share is None


def test_a_reading_that_cannot_be_read_is_told() -> None:
    view = show(book_of((LEFT, heard(None, 8, "flag 4")), sides=(LEFT,)), 9, ON_LEFT)
    assert view.mark is Shape.CROSS and "cannot be read" in view.headline and view.sides[0].load == ""


def test_a_scale_that_cannot_be_used_is_told_with_its_remedy() -> None:
    links = {LEFT: LISTENING, RIGHT: SettledStatus(SettledPhase.REFUSED, "the adapter is off")}
    view = show(book_of(), 1, ON_LEFT, links=links)
    assert view.headline == "The scale under the right foot cannot be used."
    assert view.sides[1].troubled and view.notes == ("The adapter is off.",)


@pytest.mark.parametrize("ceiling", [Ceiling(kg=30), Ceiling(percent=40)], ids=str)
def test_too_much_load_comes_before_all_else(ceiling: Ceiling) -> None:
    settings = Settings(LEFT, ceiling=ceiling)
    over = show(book_of((LEFT, of_kg(31.5, 5)), (RIGHT, heard(Weighing(None), 5))), 6, settings, body_kg=70)
    under = show(book_of((LEFT, of_kg(27.9, 5)), sides=(LEFT,)), 6, settings, body_kg=70)
    assert over.mark is Shape.CROSS and over.headline.startswith("Over the limit of ")
    assert under.mark is Shape.DISC


def test_what_was_too_much_a_minute_ago_is_no_alarm_now() -> None:
    view = show(book_of((LEFT, of_kg(31.5, 5)), sides=(LEFT,)), 70, Settings(LEFT, ceiling=Ceiling(kg=30)))
    assert view.mark is Shape.DIAMOND


def test_weight_that_is_elsewhere_is_told() -> None:
    book = book_of((LEFT, of_kg(30, 5)), (RIGHT, of_kg(36, 5)))
    assert "elsewhere" in show(book, 6, ON_LEFT, body_kg=70).notes[0]
    assert show(book, 6, ON_LEFT, body_kg=68).notes == ()


def test_a_reading_that_was_kept_is_told_and_not_shown() -> None:
    reading = of_kg(31.5, 5, clock(5) - timedelta(days=1))
    view = show(book_of((LEFT, reading), sides=(LEFT,)), 6, ON_LEFT)
    assert view.sides[0].load == "" and "2026-11-23 at 14:30, which is not shown" in view.notes[0]


def test_percent_goes_with_standard_gravity() -> None:
    settings = Settings(LEFT, ceiling=Ceiling(kg=20), body_weight_N=70 * STANDARD_GRAVITY)
    assert show(book_of((LEFT, of_kg(20, 5)), sides=(LEFT,)), 6, settings).mark is Shape.DISC


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(0.4, "0 s ago"), (9.9, "9 s ago"), (14.0, "10 s ago"), (59.9, "55 s ago"), (65.0, "1 min 0 s ago")],
)
def test_ages_in_words(seconds: float, said: str) -> None:
    assert say_age(seconds) == said
