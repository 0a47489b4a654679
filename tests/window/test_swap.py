"""Two scales that lie the wrong way round: the check of left and right finds it, and one key exchanges them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.shown import snapshot
from tests.window.conftest import SOURCE, Bench, fresh
from tests.window.test_keyboard import Key, press
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.prepare import EXCHANGED
from weightshare.practice.screen import Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.records.pair import Pair, PairedScale, read_pair, write_pair
from weightshare.state import State
from weightshare.window.main import PracticeWindow

LEFT, RIGHT = Side
TWO = (SOURCE, "tcp://127.0.0.1:7001")
PAIR = Pair((PairedScale("a" * 16, TWO[0], LEFT), PairedScale("b" * 16, TWO[1], RIGHT)))


@pytest.fixture(autouse=True)
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def links(*sides: Side | None) -> tuple[LinkView, ...]:
    return tuple(LinkView(f"tcp {n}", LinkState.SAMPLING, "sampling", side=side) for n, side in enumerate(sides))


def stand(bench: Bench, window: PracticeWindow, begin_s: float, share: float, sides: tuple[Side | None, ...]) -> None:
    """Stand with `share` percent on the left plate for two and a half seconds."""
    for number in range(50):
        shot = snapshot(State.TOO_LITTLE, 100.0 - share, time_s=begin_s + number / 20)
        bench.feed.shown = fresh(shot, links=links(*sides))
        window.tick()


def lean_wrongly(bench: Bench, *sides: Side | None) -> PracticeWindow:
    """Lean to the sound left foot, and have the right plate feel it."""
    window = bench.open()
    stand(bench, window, 20.0, 50.0, sides)
    stand(bench, window, 23.0, 30.0, sides)
    assert window.flow.step is Step.CHECK
    return window


def test_one_key_exchanges_two_scales_and_the_feet_are_asked_again(bench: Bench) -> None:
    write_pair(PAIR)
    window = lean_wrongly(bench, LEFT, RIGHT)
    window.flow.sources = TWO
    shown = window.screen_shown
    assert (
        shown is not None and "swapped" in shown.headline and "press X" in shown.note and shown.key == words.CHECK_AGAIN
    )
    press(bench, Key.Key_X)
    assert "swap" in bench.feed.asked and window.flow.sides == (RIGHT, LEFT)
    bench.feed.shown = fresh(snapshot(State.TOO_LITTLE, 50.0), links=links(RIGHT, LEFT), age_s=1.2)
    window.tick()
    shown = window.screen_shown
    assert shown is not None and (shown.headline, shown.state) == EXCHANGED, "no link is lost: it is measured anew"
    assert shown.blank
    stand(bench, window, 27.0, 50.0, (RIGHT, LEFT))
    shown = window.screen_shown
    assert shown is not None and "lean a little to the left" in shown.headline
    kept = read_pair()
    assert kept is not None and kept.sides == (RIGHT, LEFT), "the next session begins with them exchanged"


def test_while_one_of_them_is_lost_nobody_is_told_to_exchange_them(bench: Bench) -> None:
    """The screen said that the link is lost, and below it to press X if so."""
    window = lean_wrongly(bench, LEFT, RIGHT)
    lost = LinkView("tcp 1", LinkState.LOST, "the right scale: the scale closed the link", side=RIGHT)
    bench.feed.shown = LiveView(links=(*links(LEFT), lost))
    window.tick()
    shown = window.screen_shown
    assert shown is not None and shown.headline == words.LOST_HEADLINE
    assert (shown.note, shown.key) == ("", "")


def test_a_link_that_is_lost_after_the_exchange_is_told_as_such(bench: Bench) -> None:
    window = lean_wrongly(bench, LEFT, RIGHT)
    press(bench, Key.Key_X)
    stand(bench, window, 27.0, 50.0, (RIGHT, LEFT))
    bench.feed.shown = fresh(snapshot(State.TOO_LITTLE, 50.0, time_s=30.0), links=links(RIGHT, LEFT), age_s=1.2)
    window.tick()
    assert window.screen_shown is not None and window.screen_shown.headline not in EXCHANGED


def test_where_it_cannot_be_exchanged_any_more_a_session_begins_anew(bench: Bench) -> None:
    window = lean_wrongly(bench, LEFT, RIGHT)
    bench.feed.may_swap = False
    press(bench, Key.Key_X)
    bench.until(lambda: len(bench.feeds) == 2)
    assert window.flow.sides == (RIGHT, LEFT)


def test_one_board_has_no_sides_to_exchange(bench: Bench) -> None:
    window = lean_wrongly(bench, None)
    shown = window.screen_shown
    assert shown is not None and "swapped" in shown.headline and "press X" not in shown.note
    press(bench, Key.Key_X)
    assert "swap" not in bench.feed.asked and window.flow.sides is None


def test_the_key_means_nothing_where_left_and_right_were_not_found_swapped(bench: Bench) -> None:
    window = bench.open()
    stand(bench, window, 20.0, 50.0, (LEFT, RIGHT))
    press(bench, Key.Key_X)
    assert "swap" not in bench.feed.asked and window.flow.sides is None
