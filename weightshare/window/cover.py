"""A page that covers the window for a while: what all such pages share."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QWidget

IDLE_MS = 1000
"""Of a timer that is not started."""


class Cover(QFrame):
    """Covers its parent from `_cover` until `_uncover`; no key reaches what lies below it.

    `others` answer no key meanwhile; `board` hands the keyboard on. `tick` comes every `tick_ms` while the timer runs.
    """

    closed = Signal()
    """It was left, and nothing came of it that is told otherwise."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget], tick_ms: int) -> None:
        super().__init__(parent)
        self.setObjectName("caution")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._covered, self._board, self._others = parent, board, tuple(others)
        self._timer = QTimer(self)
        self._timer.setInterval(tick_ms)
        self._timer.timeout.connect(self.tick)
        self.hide()

    @property
    def is_open(self) -> bool:
        """Whether the window is covered."""
        return not self.isHidden()

    def tick(self) -> None:
        """Show how it stands now."""
        raise NotImplementedError

    def fit(self) -> None:
        """Take the parent's size."""
        raise NotImplementedError

    def _cover(self) -> None:
        for other in self._others:
            other.setEnabled(False)
        self._board.setFocusProxy(self)
        self.fit()
        self.show()
        self.raise_()

    def _uncover(self) -> None:
        self._timer.stop()
        self._board.setFocusProxy(None)  # type: ignore[arg-type]  # Qt takes none
        for other in self._others:
            other.setEnabled(True)
        self.hide()


class FormCover(Cover):
    """A cover of fields that wait for who fills them in: nothing goes by itself."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others, IDLE_MS)

    def tick(self) -> None:
        """Nothing goes by itself here."""

    def leave(self) -> None:
        """Give the window back."""
        if self.is_open:
            self._uncover()
