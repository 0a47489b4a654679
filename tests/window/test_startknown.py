"""The next day: the remembered pair is found, named where it is missing, or others are chosen; by keys alone."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.seated import Seated
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, Key, press
from tests.window.walking import (
    KNOWN_WITHIN_S,
    choose,
    open_window,
    page_of,
    remember_two,
    until_practice,
    until_view,
    walk_on,
)
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.records.pair import read_pair

LEFT, RIGHT = Side

pytestmark = pytest.mark.usefixtures("own_scales")


def test_a_missing_scale_is_named_and_looked_for_until_it_comes(bench: Bench, seated: Callable[..., Seated]) -> None:
    sources = remember_two(bench, seated())
    window = open_window(bench)
    page = page_of(bench, window)
    until_view(bench, page, lambda page: "switch the scale on" in page.paint.shown.rows[1].lines[0])
    shown = page.paint.shown
    assert shown.headline == words.KNOWN_LOOKING and shown.rows[1].title == "Right: virtual right"
    press(bench, Key.Key_Space)
    assert page.is_open and page.start is not None and page.start.is_looking, "no key but O and T chooses anything"
    again = seated()
    again.open_tcp(int(sources[0].rpartition(":")[2]))
    began_s = time.monotonic()
    until_practice(bench, window, page)
    assert time.monotonic() - began_s < KNOWN_WITHIN_S


def test_other_scales_are_chosen_where_the_remembered_ones_do_not_come(
    bench: Bench, seated: Callable[..., Seated]
) -> None:
    remember_two(bench, seated())
    window = open_window(bench)
    page = page_of(bench, window)
    press(bench, Key.Key_O)
    assert page.start is not None and not page.start.is_looking
    choose(bench, page, seated(separate=False).open_tcp())
    press(bench, Key.Key_Return)
    press(bench, Key.Key_L)
    walk_on(bench, window, page)
    kept = read_pair()
    assert kept is not None and kept.sides is None


def test_from_the_bar_the_remembered_pair_is_shown_with_how_it_is(bench: Bench, seated: Callable[..., Seated]) -> None:
    sources = remember_two(bench, seated())
    seated().open_tcp(int(sources[0].rpartition(":")[2]))
    window = open_window(bench)
    page = page_of(bench, window)
    until_practice(bench, window, page)
    press(bench, Key.Key_G, ALT)
    until_view(bench, page, lambda page: page.paint.shown.headline == words.KNOWN_HEADLINE)
    assert page.is_open and page.paint.shown.rows[0].title == "Left: virtual left"
    press(bench, Key.Key_Return)
    until_practice(bench, window, page)
    assert window.flow.sides == (LEFT, RIGHT)


def test_a_pair_that_cannot_be_read_is_told_and_chosen_anew(bench: Bench, tmp_path: Path) -> None:
    file = tmp_path / "data" / "weightshare" / "pair.json"
    file.parent.mkdir(parents=True)
    file.write_text("{", encoding="utf-8")
    window = open_window(bench)
    page = page_of(bench, window)
    until_view(bench, page, lambda page: "pair.json" in page.paint.shown.trouble)
    assert "set them up again" in page.paint.shown.trouble


def test_a_pair_that_cannot_be_kept_is_told_and_practised_on(
    bench: Bench, seated: Callable[..., Seated], tmp_path: Path
) -> None:
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, seated().open_tcp())
    press(bench, Key.Key_Return)
    press(bench, Key.Key_L)
    press(bench, Key.Key_Return)
    assert page.start is not None
    start = page.start
    bench.until(lambda: start.may_go)
    for _ in range(3):
        press(bench, Key.Key_Return)
    until_view(bench, page, lambda page: "could not be remembered" in page.paint.shown.trouble)
    press(bench, Key.Key_Return)
    assert not page.is_open and window.flow.sides == (LEFT, RIGHT)
    # the disk that keeps no pair keeps no session either: that is told by the session itself
    bench.until(lambda: bool(window.runner.feed or window.runner.trouble))
