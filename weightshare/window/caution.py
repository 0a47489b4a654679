"""The cautions: a page over the window on the first start, and in About. And what is chosen for the whole window."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from weightshare.practice import words
from weightshare.tongue import mark, say

TITLE = mark("Before you begin")
PURPOSE = mark(
    "weightshare shows how much of the load on two plates is on the injured side, against a target, and times holds."
)


class CautionPage(QFrame):
    """Covers its parent until somebody goes on. It takes the keyboard, so that one key is enough."""

    closed = Signal()
    language_chosen = Signal(str)
    """The code of the language that texts are to be in; `system`: that of this computer."""
    voice_chosen = Signal(str)
    """When cues are to be spoken."""

    def __init__(self, parent: QWidget, bar: QWidget, board: QWidget) -> None:
        super().__init__(parent)
        self._covered, self._bar, self._board = parent, bar, board
        self.setObjectName("caution")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.title, self.purpose = QLabel(say(TITLE)), QLabel(say(PURPOSE))
        self.items = [QLabel(say(text)) for text in words.CAUTIONS]
        self.dashes = [QLabel("\u2013") for _text in words.CAUTIONS]
        self.button = QPushButton(say("Read. Go on  (Space)"))
        self.button.setObjectName("key")
        self.button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.button.clicked.connect(self.close_page)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for label in (self.title, self.purpose, *self.items):
            label.setWordWrap(True)
        for label in (self.title, self.purpose):
            column.addWidget(label)
        column.addLayout(self._lay_out_items())
        column.addSpacing(12)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addLayout(self._lay_out_choices())
        column.addStretch(1)
        self._column = column
        self.hide()

    def _lay_out_items(self) -> QGridLayout:
        """Lay out each point beside its dash: what goes on in a second line stands under the words."""
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        for row, (dash, item) in enumerate(zip(self.dashes, self.items, strict=True)):
            grid.addWidget(dash, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(item, row, 1)
        self._grid = grid
        return grid

    def _lay_out_choices(self) -> QHBoxLayout:
        """Lay out what is chosen for the whole window, hidden until something is offered."""
        self.language, self.voice = QComboBox(), QComboBox()
        self.labels = {self.language: QLabel(say("&Language")), self.voice: QLabel(say("Spo&ken cues"))}
        self.language.activated.connect(lambda _row: self.language_chosen.emit(self.language.currentData()))
        self.voice.activated.connect(lambda _row: self.voice_chosen.emit(self.voice.currentData()))
        row = QHBoxLayout()
        for box, label in self.labels.items():
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            label.setBuddy(box)
            for widget in (label, box):
                row.addWidget(widget)
                widget.hide()
            row.addSpacing(24)
        row.addStretch(1)
        return row

    def offer_languages(self, offered: Mapping[str, str], chosen: str) -> None:
        """Offer languages, each called by its own name, under the code that is told when it is chosen."""
        self._offer(self.language, {"system": say("as on this computer"), **offered}, chosen)

    def offer_voice(self, offered: Mapping[str, str], chosen: str) -> None:
        """Offer when cues are spoken, each in words, under the name that is told when it is chosen."""
        self._offer(self.voice, {name: say(text) for name, text in offered.items()}, chosen)

    def _offer(self, box: QComboBox, offered: Mapping[str, str], chosen: str) -> None:
        box.clear()
        for name, text in offered.items():
            box.addItem(text, name)
        box.setCurrentIndex(max(0, box.findData(chosen)))
        box.show()
        self.labels[box].show()

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
        self._grid.setVerticalSpacing(text // 2)
        self._grid.setHorizontalSpacing(text // 2)
        for label in (self.purpose, *self.dashes, *self.items, *self.labels, *self.labels.values()):
            label.setStyleSheet(f"font-size: {text}px;")
        self.button.setMinimumSize(text * 14, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space, Enter or Escape go on; other keys do nothing here."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.close_page()
        event.accept()
