"""Somebody who sets up scales in the window by keys alone; the scales are on real ports."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.seated import Seated
from tests.window.conftest import Bench
from tests.window.test_keyboard import Key, press
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.screen import Step
from weightshare.practice.startpress import Feel
from weightshare.practice.startview import StartStep
from weightshare.window.app import default_options, feed_of, open_bench
from weightshare.window.main import PracticeWindow
from weightshare.window.startpage import StartPage

LEFT, RIGHT = Side
NEW_WITHIN_S, KNOWN_WITHIN_S, STEP_WITHIN_S = 180.0, 20.0, 20.0


def open_window(bench: Bench, *, cautions_read: bool = True) -> PracticeWindow:
    """Open the window as the bare command does."""
    bench.store.cautions_read = cautions_read
    options = default_options()
    window = PracticeWindow(
        options.settings,
        options.goal,
        options.sources,
        feed_of(options),
        bench.store,
        open_bench=open_bench,
        greets=True,
    )
    bench.keep(window)
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    return window


def page_of(bench: Bench, window: PracticeWindow) -> StartPage:
    bench.until(lambda: window._annex._start is not None and window._annex._start.is_open)
    return window._annex.start


def until_view(bench: Bench, page: StartPage, holds: Callable[[StartPage], bool]) -> None:
    def check() -> bool:
        return holds(page)

    bench.until(check, STEP_WITHIN_S)


def type_address(bench: Bench, page: StartPage, source: str) -> None:
    press(bench, Key.Key_A)
    target = QApplication.focusWidget()
    assert target is page.address.box
    QTest.keyClicks(target, source)
    press(bench, Key.Key_Return)
    assert page.hasFocus()


def choose(bench: Bench, page: StartPage, sources: list[str]) -> None:
    """Have the page look at `sources`, and choose all of them; they come before the virtual one."""
    start = page.start
    assert start is not None
    for source in sources:
        type_address(bench, page, source)
    bench.until(lambda: {one.source for one in start.offered} >= set(sources), STEP_WITHIN_S)
    for source in sources:
        at = [one.source for one in start.offered].index(source)
        while start.cursor != at:
            press(bench, Key.Key_Down if start.cursor < at else Key.Key_Up)
        press(bench, Key.Key_Space)
    until_view(bench, page, lambda page: page.paint.shown.key == words.GO_ON)


def feel_press(bench: Bench, page: StartPage, seated: Seated, side: Side) -> None:
    start = page.start
    assert start is not None and start.step is StartStep.SIDES, page.paint.shown
    bench.until(lambda: start.watch.feel is Feel.WAITING, STEP_WITHIN_S)
    was_swapped = start.swapped
    seated.press(side)
    bench.until(lambda: start.checked or (start.swapped and not was_swapped), STEP_WITHIN_S)
    seated.lift(side)


def walk_on(bench: Bench, window: PracticeWindow, page: StartPage, shoes: str = "") -> None:
    """From left and right, which are known, to practice."""
    press(bench, Key.Key_Return)
    assert page.start is not None and page.start.step is StartStep.CHECK
    until_view(bench, page, lambda page: page.paint.shown.headline == words.ALL_WELL)
    press(bench, Key.Key_Return)
    assert page.worn.isVisible()
    press(bench, Key.Key_Tab)
    assert QApplication.focusWidget() is page.worn.words
    QTest.keyClicks(page.worn.words, shoes)
    press(bench, Key.Key_Tab)
    QTest.keyClicks(page.worn.soles[LEFT], "24,5")
    press(bench, Key.Key_Return)
    assert page.paint.shown.step is StartStep.READY
    press(bench, Key.Key_Return)
    until_practice(bench, window, page)


def until_practice(bench: Bench, window: PracticeWindow, page: StartPage) -> None:
    bench.until(lambda: not page.is_open, STEP_WITHIN_S)
    # the zero is taken: all links send, and somebody may step on
    bench.until(lambda: window.flow.step is Step.WEIGH, STEP_WITHIN_S)


def remember_two(bench: Bench, scales: Seated) -> list[str]:
    """Set up `scales` once, close the window and switch them off; return how they were reached."""
    sources = scales.open_tcp()
    window = open_window(bench)
    page = page_of(bench, window)
    choose(bench, page, sources)
    press(bench, Key.Key_Return)
    press(bench, Key.Key_L)
    walk_on(bench, window, page)
    window.close()
    scales.close()
    return sources
