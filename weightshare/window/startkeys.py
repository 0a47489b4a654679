"""What the keyboard does on the page of getting started."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from weightshare.model import Side
from weightshare.practice.start import Start
from weightshare.practice.startview import StartStep

if TYPE_CHECKING:
    from weightshare.window.startpage import StartPage

GO_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
TOUCHES = {Qt.Key.Key_Left: Side.LEFT, Qt.Key.Key_Right: Side.RIGHT}
NAMES = {Qt.Key.Key_L: Side.LEFT, Qt.Key.Key_R: Side.RIGHT}
MOVES = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


def press(page: StartPage, event: QKeyEvent) -> None:
    """Do what a key means that no field took; held down, only the arrows mean something again."""
    key, start = Qt.Key(event.key()), page.start
    if start is None or (event.isAutoRepeat() and key not in MOVES):
        return
    if page.is_leaving:
        if key in (*GO_KEYS, Qt.Key.Key_Space):
            page.go()
        return
    if key is Qt.Key.Key_F6:
        page.ask_patients()
    elif key in (Qt.Key.Key_Escape, *GO_KEYS):
        _press_big(page, key)
    elif page.hasFocus():
        _press(page, start, key)
    page.tick()


def _press_big(page: StartPage, key: Qt.Key) -> None:
    """Enter and Escape mean something in fields too."""
    if not page.address.isHidden():
        page.close_address(given_up=key is Qt.Key.Key_Escape)
    elif key is not Qt.Key.Key_Escape:
        page.go()
    elif page.hasFocus():
        page.let_go(page.closed.emit)
    else:
        page.setFocus()


def _press(page: StartPage, start: Start, key: Qt.Key) -> None:
    if key in MOVES:
        start.move(MOVES[key])
    elif key in TOUCHES:
        start.touch(TOUCHES[key], time.monotonic())
    elif key in NAMES:
        start.name(NAMES[key])
    elif key is Qt.Key.Key_Backspace:
        start.back()
    elif key is Qt.Key.Key_B:
        start.blink()
    else:
        _act(page, start, key)


def _act(page: StartPage, start: Start, key: Qt.Key) -> None:
    """Do what has a button too, each in its steps."""
    find, ready = start.step is StartStep.FIND, start.step is StartStep.READY
    if key is Qt.Key.Key_Space:
        (start.choose if find else page.go)()
    elif key is Qt.Key.Key_C and (ready or start.step is StartStep.CHECK):
        page.calibrate(start)
    elif key is Qt.Key.Key_T and find:
        page.try_virtual()
    elif key is Qt.Key.Key_A and find and not start.is_looking:
        page.ask_address()
    elif key is Qt.Key.Key_O and (start.is_looking or ready):
        page.choose_others()
