"""The cautions: a page over the window on the first start, and again in About."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from weightshare.practice import words
from weightshare.tongue import mark, say

TITLE = mark("Before you begin")
PURPOSE = mark(
    "weightshare shows how much of the load on two plates is on the injured side, against a target, and times holds."
)


class CautionPage(QFrame):
    """Covers its parent until somebody goes on. It takes the keyboard, so that one key is enough."""

    closed = Signal()

    def __init__(self, parent: QWidget, bar: QWidget, board: QWidget) -> None:
        super().__init__(parent)
        self._covered, self._bar, self._board = parent, bar, board
        self.setObjectName("caution")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.title, self.purpose = QLabel(say(TITLE)), QLabel(say(PURPOSE))
        self.items = [QLabel(f"\u2013  {say(text)}") for text in words.CAUTIONS]
        self.button = QPushButton(say("Read. Go on  (Space)"))
        self.button.setObjectName("key")
        self.button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.button.clicked.connect(self.close_page)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for label in (self.title, self.purpose, *self.items):
            label.setWordWrap(True)
            column.addWidget(label)
        column.addSpacing(12)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self._column = column
        self.hide()

    def open_page(self) -> None:
        """Cover the parent: its bar answers no key, and its board hands the keyboard on."""
        self._bar.setEnabled(False)
        self._board.setFocusProxy(self)
        self.fit()
        self.show()
        self.raise_()
        self.setFocus()

    def close_page(self) -> None:
        """Give the window back; what was to be read was read."""
        self.uncover()
        self.closed.emit()

    def uncover(self) -> None:
        """Give the window back."""
        self._board.setFocusProxy(None)  # type: ignore[arg-type]  # Qt takes none
        self._bar.setEnabled(True)
        self.hide()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(15, size.height() // 32)
        side = max(24, size.width() // 7)
        self._column.setContentsMargins(side, 16, side, 16)
        self._column.setSpacing(text // 2)
        self.title.setStyleSheet(f"font-size: {text * 2}px; font-weight: 600;")
        for label in (self.purpose, *self.items):
            label.setStyleSheet(f"font-size: {text}px;")
        self.button.setMinimumSize(text * 14, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space, Enter or Escape go on; other keys do nothing here."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.close_page()
        event.accept()
