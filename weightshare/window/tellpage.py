"""The page on which a person says how it is: pain and effort of 10, and a note. One digit a row is enough."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.practice.tale import WORDS, Told, say_limits, say_scale
from weightshare.records.diary import LONGEST_NOTE, About
from weightshare.tongue import mark, say
from weightshare.window.cover import FormCover
from weightshare.window.tenfield import TenField

TITLE = mark("How is it?")
HINT = mark("A digit says it (1 and then 0 is 10). Up and Down change the row, Enter keeps, Esc leaves.")
MOVES = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


class TellPage(FormCover):
    """Covers its parent from `open_page` until something was told or it was left."""

    told = Signal(object)
    """A Told: what was said; what was left out is not in it."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others)
        self._limit: int | None = None
        self.title, self.words, self.said, self.hint = QLabel(), QLabel(), QLabel(), QLabel(say(HINT))
        self.said.setObjectName("alert")
        self.said.setWordWrap(True)
        self.hint.setObjectName("hint")
        for label in (self.title, self.words, self.hint):
            label.setWordWrap(True)
        self.fields = {about: TenField() for about in About if about is not About.NOTE}
        self.note = QLineEdit()
        self.note.setMaxLength(LONGEST_NOTE)
        self.key = QPushButton(say("Keep it  (Enter)"))
        self.key.setObjectName("key")
        self.key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._labels: dict[About, QLabel] = {}
        self._lay_out()
        self.key.clicked.connect(lambda _checked: self.keep())
        for field in self.fields.values():
            field.changed.connect(self._suggest)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        for row, about in enumerate(About):
            label = self._labels[about] = QLabel(say(WORDS[about]))
            grid.addWidget(label, row, 0)
            grid.addWidget(self._field(about), row, 1)
        self._grid = grid
        column = QVBoxLayout(self)
        column.addStretch(1)
        for widget in (self.title, self.words):
            column.addWidget(widget)
        column.addLayout(grid)
        column.addWidget(self.said)
        column.addWidget(self.key, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.hint)
        column.addStretch(1)
        self._column = column

    def open_page(self, asked: Sequence[About], told: Told, limit: int | None, title: str = "") -> None:
        """Cover the parent, and ask for `asked`; `told` was said before; `limit`: the most pain that is tolerated."""
        self._limit = limit
        self.title.setText(title or say(TITLE))
        self.words.setText(say_scale(asked))
        for about, field in self.fields.items():
            value = told.get(about)
            field.choose(value if isinstance(value, int) else None)
        self.note.clear()
        for row, label in self._labels.items():
            for widget in (label, self._field(row)):
                widget.setVisible(row in asked)
        self._suggest()
        self._cover()
        self._field(asked[0]).setFocus()

    def _field(self, about: About) -> QWidget:
        return self.note if about is About.NOTE else self.fields[about]

    def _said(self) -> Told:
        told: Told = {
            about: field.value
            for about, field in self.fields.items()
            if not field.isHidden() and field.value is not None
        }
        if note := self.note.text().strip():
            told[About.NOTE] = note
        return told

    def _suggest(self) -> None:
        self.said.setText(say_limits(self._said(), self._limit))

    def keep(self) -> None:
        """Give the window back, and tell what was said."""
        told = self._said()
        self._uncover()
        self.told.emit(told)

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text, side = max(16, size.height() // 30), max(24, size.width() // 10)
        self._column.setContentsMargins(side, 16, side, 16)
        self._column.setSpacing(text // 2)
        self._grid.setVerticalSpacing(text // 2)
        self._grid.setHorizontalSpacing(text)
        self.setStyleSheet(f"QLabel, QLineEdit {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {round(text * 1.5)}px; font-weight: 600;")
        self.key.setMinimumSize(text * 12, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down go from row to row, Enter keeps, Escape leaves."""
        key = Qt.Key(event.key())
        if key in MOVES:
            rows = [self._field(about) for about in self._labels if not self._field(about).isHidden()]
            focus = self.focusWidget()
            place = rows.index(focus) if focus in rows else 0
            rows[(place + MOVES[key]) % len(rows)].setFocus()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep()
        elif key is Qt.Key.Key_Escape:
            self._uncover()
            self.closed.emit()
        event.accept()
