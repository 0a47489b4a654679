"""All keys of a stage, or of the programme itself, as fields with what is allowed, or what is wrong, beside each."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QPlainTextEdit, QWidget

from weightshare.practice.message import retell
from weightshare.programme.draft import CRITERIA, SOURCES, Draft, Spot, keys_of, options_of
from weightshare.tongue import mark, say

NOT_SAID = "\u2013"
"""Chosen where nothing is said under a key."""
PAIRS = {
    CRITERIA: mark('what has to hold before the next stage, a line each: "sets-done = at least 3"'),
    SOURCES: mark('where numbers come from, a line each: "tempo = common practice, no source"'),
}
PAIR_LINES = 5


class EditForm(QWidget):
    """Shows what a draft says of one stage; tells when something was said otherwise. It keeps nothing."""

    said = Signal(str, str)
    """A key, and what is to stand under it."""

    def __init__(self, *, of_stage: bool) -> None:
        super().__init__()
        self.boxes: dict[str, QLineEdit | QComboBox | QPlainTextEdit] = {}
        self.hints: dict[str, QLabel] = {}
        self._why: dict[str, str] = {}
        self._grid = QGridLayout(self)
        self._grid.setColumnStretch(1, 2)
        self._grid.setColumnStretch(2, 3)
        for key in keys_of(0 if of_stage else None):
            needed = "" if key.needed else say(", or nothing")
            self._add(key.name, self._box(options_of(key.kind)), f"{say(key.means)}: {say(key.kind.allowed)}{needed}")
        for name in (CRITERIA, SOURCES) if of_stage else (SOURCES,):
            self._add(name, _text_box(), say(PAIRS[name]))
        self._grid.setRowStretch(self._grid.rowCount(), 1)

    def _box(self, options: tuple[str, ...]) -> QLineEdit | QComboBox:
        if not options:
            return QLineEdit()
        box = QComboBox()
        box.addItems([NOT_SAID, *options])
        return box

    def _add(self, name: str, box: QLineEdit | QComboBox | QPlainTextEdit, why: str) -> None:
        label, hint = QLabel(say(name.replace("_", " "))), QLabel(why)
        label.setBuddy(box)
        hint.setObjectName("hint")
        hint.setWordWrap(True)
        hint.setTextFormat(Qt.TextFormat.PlainText)
        row = self._grid.rowCount()
        for column, widget in enumerate((label, box, hint)):
            self._grid.addWidget(widget, row, column)
        self.boxes[name], self.hints[name], self._why[name] = box, hint, why
        tell = partial(self._tell, name)
        if isinstance(box, QLineEdit):
            box.editingFinished.connect(tell)
        elif isinstance(box, QComboBox):
            box.activated.connect(lambda _index: tell())
        else:
            box.textChanged.connect(tell)

    def _tell(self, name: str) -> None:
        self.said.emit(name, self.typed(name))

    def typed(self, name: str) -> str:
        """Return what is typed under the key `name`."""
        box = self.boxes[name]
        if isinstance(box, QComboBox):
            return "" if box.currentText() == NOT_SAID else box.currentText()
        return box.text() if isinstance(box, QLineEdit) else box.toPlainText()

    def show_draft(self, draft: Draft, stage: int | None) -> None:
        """Show what `draft` says of `stage`, without telling of a change."""
        for name, box in self.boxes.items():
            words = draft.said(Spot(stage, name))
            box.blockSignals(True)
            if isinstance(box, QComboBox):
                _show_option(box, words)
            elif isinstance(box, QLineEdit):
                box.setText(words)
                box.home(False)
            else:
                box.setPlainText(words)
            box.blockSignals(False)

    def show_mistakes(self, mistakes: dict[Spot, str], stage: int | None) -> None:
        """Say beside each field what is wrong with it, or else what is allowed."""
        for name, hint in self.hints.items():
            wrong = mistakes.get(Spot(stage, name), "")
            hint.setText(retell(wrong) or self._why[name])
            state = "true" if wrong else "false"
            if hint.property("wrong") != state:
                hint.setProperty("wrong", state)
                hint.style().polish(hint)


def _text_box() -> QPlainTextEdit:
    box = QPlainTextEdit()
    box.setTabChangesFocus(True)
    box.setFixedHeight(box.fontMetrics().lineSpacing() * (PAIR_LINES + 1))
    return box


def _show_option(box: QComboBox, words: str) -> None:
    """Choose `words`, also where they are none of what may be chosen: a mistake of the file stays to be seen."""
    place = box.findText(words or NOT_SAID)
    if place < 0:
        box.addItem(words)
        place = box.count() - 1
    box.setCurrentIndex(place)
