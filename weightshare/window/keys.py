"""What the keyboard does in the practice window: the keys that no field took."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from weightshare.model import Side
from weightshare.practice import words

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow

WARD_KEYS = (Qt.Key.Key_F2, Qt.Key.Key_F3, Qt.Key.Key_F4, Qt.Key.Key_F6, Qt.Key.Key_F7)
GO_KEYS = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)
STEER_POINTS = 2.0
"""How far one press of an arrow key shifts a virtual person's load, points of share."""
STEERS = {Qt.Key.Key_Left: Side.LEFT, Qt.Key.Key_Right: Side.RIGHT}


def press(window: PracticeWindow, event: QKeyEvent) -> bool:
    """On from a field to the board, else the steps of the session; return whether the key meant something."""
    key = Qt.Key(event.key())
    if key in (*GO_KEYS, Qt.Key.Key_Escape) and window.focusWidget() is not window.board:
        if window.desk.may_leave(given_up=key is Qt.Key.Key_Escape):
            window.board.setFocus()
        return True
    if key in STEERS:
        _steer(window, STEERS[key])
        return True
    return _press_once(window, key, again=event.isAutoRepeat())


def _steer(window: PracticeWindow, to: Side) -> None:
    """Shift a virtual person's load; nothing for others."""
    feed = window.runner.feed
    if feed is not None and words.is_steered(window.flow.source):
        feed.steer(STEER_POINTS if to is window.flow.settings.injured else -STEER_POINTS)


def _press_once(window: PracticeWindow, key: Qt.Key, *, again: bool) -> bool:
    """Do what `key` means; held down (`again`) most keys mean nothing more."""
    flow = window.flow
    if key is Qt.Key.Key_F5 and not flow.locked:
        window.restart()
    elif key is Qt.Key.Key_S:
        flow.skip()
    elif key is Qt.Key.Key_F1:
        window.cautions.open_page()
    elif key in WARD_KEYS:
        window.ward.press(key)
    elif key is Qt.Key.Key_F11:
        window.setWindowState(window.windowState() ^ Qt.WindowState.WindowFullScreen)
    elif again:
        return False
    elif key in GO_KEYS:
        window.go()
    elif key is Qt.Key.Key_Escape:
        window.act(flow.escape())
    elif key in (Qt.Key.Key_N, Qt.Key.Key_M):
        window.act(flow.next() if key is Qt.Key.Key_N else flow.mark())
    elif key is Qt.Key.Key_X:
        window.door.swap()
    elif key is Qt.Key.Key_V and not window.ward.is_shut:
        window.bar.clinical.toggle()
    else:
        return False
    return True
