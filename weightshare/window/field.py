"""The fields that settings are made in: numbers, choices, words; each with a label that names its key."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Any

from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QLabel, QSpinBox, QVBoxLayout, QWidget


def number(low: float, high: float, step: float, suffix: str) -> QDoubleSpinBox:
    """Return a field for a number with one decimal."""
    box = QDoubleSpinBox()
    box.setRange(low, high)
    box.setSingleStep(step)
    box.setDecimals(1)
    box.setSuffix(suffix)
    box.setKeyboardTracking(False)
    return box


def count(low: int, high: int) -> QSpinBox:
    """Return a field for a whole number."""
    box = QSpinBox()
    box.setRange(low, high)
    box.setKeyboardTracking(False)
    return box


def words(offered: tuple[str, ...]) -> QComboBox:
    """Return a field for words, with some offered; none of them is put in place of what is typed."""
    box = QComboBox()
    box.setEditable(True)
    box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    box.addItems(list(offered))
    # its type hints know no way to have none
    nothing: Any = None
    box.setCompleter(nothing)
    return box


class Choice(QComboBox):
    """A field in which one of a few values is chosen, each shown by its words."""

    def __init__(self, offered: Mapping[Any, str]) -> None:
        super().__init__()
        # kept beside Qt, which would give an enumeration's members back as bare text
        self._values = tuple(offered)
        self.addItems(list(offered.values()))

    @property
    def chosen(self) -> Any:
        """The value that is chosen."""
        return self._values[max(0, self.currentIndex())]

    def choose(self, value: Hashable) -> None:
        """Show `value`."""
        self.setCurrentIndex(self._values.index(value))


def say(box: QComboBox, text: str) -> None:
    """Have a field made by `words` show `text`, from its start: long words are told apart by their beginning."""
    box.setCurrentText(text)
    line = box.lineEdit()
    if line is not None:
        line.home(False)


def when_said(box: QComboBox, act: Callable[[], None]) -> None:
    """Call `act` when something was chosen or typed in a field made by `words`."""
    box.textActivated.connect(lambda _text: act())
    line = box.lineEdit()
    if line is not None:
        line.editingFinished.connect(act)
        line.editingFinished.connect(lambda: line.home(False))


class Field(QWidget):
    """A widget under its label, hidden and shown as one."""

    def __init__(self, text: str, widget: QWidget) -> None:
        super().__init__()
        self.widget = widget
        label = QLabel(text)
        label.setBuddy(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(label)
        column.addWidget(widget)
