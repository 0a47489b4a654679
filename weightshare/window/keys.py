"""What the keyboard does in the practice window: the keys that no field took."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from weightshare.model import Side

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow

GO_KEYS = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)
STEERS = {Qt.Key.Key_Left: Side.LEFT, Qt.Key.Key_Right: Side.RIGHT}


def press(window: PracticeWindow, event: QKeyEvent) -> bool:
    """On from a field to the board, else the steps of the session; return whether the key meant something."""
    key = Qt.Key(event.key())
    if key in (*GO_KEYS, Qt.Key.Key_Escape) and window.focusWidget() is not window.board:
        if window.desk.may_leave(given_up=key is Qt.Key.Key_Escape):
            window.board.setFocus()
        return True
    if key in STEERS:
        window.steer(STEERS[key])
        return True
    return _press_once(window, key, again=event.isAutoRepeat())


def _press_once(window: PracticeWindow, key: Qt.Key, *, again: bool) -> bool:
    """Do what `key` means; held down (`again`) most keys mean nothing more."""
    flow = window.flow
    if key is Qt.Key.Key_F5 and not flow.locked:
        window.restart()
    elif key is Qt.Key.Key_S:
        flow.skip()
    elif key is Qt.Key.Key_F1:
        window.cautions.open_page()
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
    elif key is Qt.Key.Key_V:
        window.bar.clinical.toggle()
    else:
        return False
    return True
