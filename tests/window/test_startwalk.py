"""Getting started by keys alone, with scales on real ports: from nothing to practice, and back to it the next day."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.seated import Seated
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, Key, press
from tests.window.walking import (
    KNOWN_WITHIN_S,
    NEW_WITHIN_S,
    STEP_WITHIN_S,
    choose,
    feel_press,
    open_window,
    page_of,
    until_practice,
    until_view,
    walk_on,
)
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.startpress import Feel
from weightshare.practice.startview import StartStep
from weightshare.records.pair import Footwear, read_pair
from weightshare.records.setting import read_head
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID

LEFT, RIGHT = Side
needs_terminals = pytest.mark.skipif(sys.platform == "win32", reason="this system has no pseudo-terminals")

pytestmark = pytest.mark.usefixtures("own_scales")


@pytest.mark.parametrize(
    "way", [pytest.param("tcp", marks=pytest.mark.soak), pytest.param("pty", marks=needs_terminals)]
)
def test_a_new_pair_and_the_next_day(
    bench: Bench, seated: Callable[..., Seated], way: str, tmp_path: Path, record_property: Callable[[str, float], None]
) -> None:
    scales = seated()
    sources = scales.open_tcp() if way == "tcp" else scales.open_pty()
    began_s = time.monotonic()
    window = open_window(bench, cautions_read=False)
    bench.until(lambda: window.cautions.isVisible() and window.cautions.hasFocus())
    press(bench, Key.Key_Space)
    page = page_of(bench, window)
    assert not bench.feeds and window.runner.feed is None, "nobody practises meanwhile, on virtual scales either"
    choose(bench, page, sources)
    press(bench, Key.Key_B)
    bench.until(lambda: scales.lit == ["right"], STEP_WITHIN_S)
    press(bench, Key.Key_Return)
    feel_press(bench, page, scales, LEFT)
    walk_on(bench, window, page, "running shoes")
    new_s = time.monotonic() - began_s
    record_property("new_pair_s", new_s)
    assert new_s < NEW_WITHIN_S
    assert window.flow.sources == tuple(sources) and window.flow.sides == (LEFT, RIGHT)
    kept = read_pair()
    assert kept is not None and [scale.device_id for scale in kept.scales] == [LEFT_ID, RIGHT_ID]
    assert kept.footwear == Footwear("running shoes", 24.5)
    window.close()
    (folder,) = (path.parent for path in tmp_path.rglob("settings.json"))
    head = read_head(folder)
    assert head.sides == (LEFT, RIGHT) and head.footwear == kept.footwear
    began_s = time.monotonic()
    window = open_window(bench)
    until_practice(bench, window, page_of(bench, window))
    known_s = time.monotonic() - began_s
    record_property("known_pair_s", known_s)
    assert known_s < KNOWN_WITHIN_S
    assert window.flow.sources == tuple(sources) and window.flow.sides == (LEFT, RIGHT)
    print(f"{way}: a new pair {new_s:.1f} s, the known one {known_s:.1f} s")


def test_scales_that_tell_the_wrong_side_are_named_by_the_press(bench: Bench, seated: Callable[..., Seated]) -> None:
    scales = seated("swapped-sides")
    sources = scales.open_tcp()
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, sources)
    press(bench, Key.Key_Return)
    feel_press(bench, page, scales, LEFT)
    said = " ".join(page.paint.shown.words)
    until_view(
        bench, page, lambda page: words.RENAMED.format(said=RIGHT, side=LEFT) in " ".join(page.paint.shown.words)
    )
    walk_on(bench, window, page)
    assert window.flow.sides == (LEFT, RIGHT), said
    bench.until(lambda: [link.side for link in window.runner.view().links] == [LEFT, RIGHT])


def test_a_board_that_lies_the_wrong_way_round_is_turned(bench: Bench, seated: Callable[..., Seated]) -> None:
    scales = seated("swapped-sides", separate=False)
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, scales.open_tcp())
    press(bench, Key.Key_Return)
    feel_press(bench, page, scales, LEFT)
    until_view(bench, page, lambda page: page.paint.shown.headline == words.SWAPPED)
    press(bench, Key.Key_Return)
    assert page.start is not None and page.start.step is StartStep.SIDES
    assert page.paint.shown.trouble == words.WHY_NOT[StartStep.SIDES]
    # turned round, the plate that calls itself the left one is where the left foot is
    feel_press(bench, page, scales, RIGHT)
    bench.until(lambda: page.start is not None and page.start.checked, STEP_WITHIN_S)
    walk_on(bench, window, page)
    assert window.flow.sides is None and read_pair() is not None


def test_left_and_right_can_be_told_by_hand_and_taken_back(bench: Bench, seated: Callable[..., Seated]) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, seated("untold-sides").open_tcp())
    press(bench, Key.Key_Return)
    press(bench, Key.Key_R)
    assert page.start is not None and page.start.by_hand
    assert page.paint.shown.rows[0].title.startswith("Right:")
    press(bench, Key.Key_Return)
    press(bench, Key.Key_Backspace)
    assert page.start.step is StartStep.SIDES and not page.start.by_hand
    press(bench, Key.Key_Down)
    press(bench, Key.Key_R)
    walk_on(bench, window, page)
    assert window.flow.sides == (LEFT, RIGHT)


def test_virtual_scales_are_one_key_away_and_not_remembered(bench: Bench) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    press(bench, Key.Key_T)
    bench.until(lambda: not page.is_open and window.runner.feed is not None)
    assert window.flow.sources == ("rig:steered",) and read_pair() is None


def test_the_whole_way_is_walked_on_virtual_scales_too(bench: Bench) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    press(bench, Key.Key_Space)
    until_view(bench, page, lambda page: page.paint.shown.key == words.GO_ON)
    press(bench, Key.Key_Return)
    start = page.start
    assert start is not None
    bench.until(lambda: start.watch.feel is Feel.WAITING, STEP_WITHIN_S)
    press(bench, Key.Key_Left)
    bench.until(lambda: start.checked, STEP_WITHIN_S)
    until_view(bench, page, lambda page: page.paint.shown.key == words.GO_ON)
    press(bench, Key.Key_Return)
    bench.until(lambda: page.paint.shown.headline == words.ALL_WELL, STEP_WITHIN_S)
    for _ in range(3):
        press(bench, Key.Key_Return)
    bench.until(lambda: not page.is_open and window.runner.feed is not None)
    assert read_pair() is None


def test_the_page_opens_from_the_bar_and_leaving_it_changes_nothing(bench: Bench) -> None:
    window = bench.open()
    first = bench.feed
    press(bench, Key.Key_G, ALT)
    page = page_of(bench, window)
    bench.until(lambda: "stop" in first.asked)
    assert not window.bar.isEnabled()
    press(bench, Key.Key_Escape)
    bench.until(lambda: not page.is_open and len(bench.feeds) == 2)
    assert bench.feed.asked[0][0] == first.asked[0][0] and window.board.hasFocus() and window.bar.isEnabled()


def test_a_scale_is_calibrated_from_the_check_and_the_page_comes_back(
    bench: Bench, seated: Callable[..., Seated]
) -> None:
    scales = seated()
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, scales.open_tcp())
    press(bench, Key.Key_Return)
    press(bench, Key.Key_L)
    press(bench, Key.Key_Return)
    press(bench, Key.Key_C)
    bench.until(lambda: window.calibration.is_open, STEP_WITHIN_S)
    assert not page.is_open
    press(bench, Key.Key_Escape)
    bench.until(lambda: page.is_open, STEP_WITHIN_S)
    assert page.start is not None and page.start.step is StartStep.CHECK
    walk = page.start
    bench.until(lambda: walk.may_go, STEP_WITHIN_S)
    assert walk.sides and walk.by_hand, "left and right stay told"


def test_an_address_that_is_none_is_told_and_can_be_put_right_or_given_up(bench: Bench) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    press(bench, Key.Key_A)
    QTest.keyClicks(page.address.box, "nowhere")
    press(bench, Key.Key_Return)
    assert page.address.isVisible() and words.NO_ADDRESS in page.paint.shown.words
    press(bench, Key.Key_Escape)
    assert page.address.isHidden() and page.hasFocus() and page.is_open
    assert words.NO_ADDRESS not in (*page.paint.shown.words, page.paint.shown.trouble)


def test_a_sole_that_is_no_number_is_told_beside_its_field(bench: Bench, seated: Callable[..., Seated]) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, seated().open_tcp())
    press(bench, Key.Key_Return)
    press(bench, Key.Key_L)
    press(bench, Key.Key_Return)
    assert page.start is not None
    start = page.start
    bench.until(lambda: start.may_go)
    press(bench, Key.Key_Return)
    page.worn.soles[RIGHT].setText("thick")
    press(bench, Key.Key_Return)
    assert page.paint.shown.step is StartStep.PLACE and "right sole" in page.paint.shown.trouble
    assert QApplication.focusWidget() is page.worn.soles[RIGHT]
    page.worn.soles[RIGHT].setText("30 mm")
    press(bench, Key.Key_Return)
    assert page.paint.shown.headline == words.READY_HEADLINE and start.footwear.right_sole_mm == 30.0


def test_enter_says_what_is_missing(bench: Bench) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    press(bench, Key.Key_Return)
    assert page.paint.shown.trouble == words.WHY_NOT[StartStep.FIND]
    press(bench, Key.Key_B)
    assert page.paint.shown.trouble == words.CHOOSE_TO_BLINK


def test_a_window_that_is_closed_in_the_middle_lets_go(bench: Bench, seated: Callable[..., Seated]) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, seated().open_tcp())
    window.close()
    assert page.start is not None and not any(trial.is_sampling for trial in page.start.trials.values())
