"""The fields that settings are made in: numbers, choices, words; each with a label that names its key."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QValidator
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox, QDoubleSpinBox, QLabel, QSpinBox, QVBoxLayout, QWidget

from weightshare.tongue import say as translate


def _number_in(box: QAbstractSpinBox, text: str, suffix: str) -> float | None:
    try:
        return float(text.removesuffix(suffix).replace(box.locale().decimalPoint(), ".").strip())
    except ValueError:
        return None


class Number(QDoubleSpinBox):
    """A field for a number. One beyond its limits can be typed, but is refused: 100 must not be taken for 10."""

    refused = Signal(float)
    """What was typed beyond the limits; the field shows again what it had."""

    def validate(self, text: str, place: int) -> Any:
        """Let a number beyond the limits be typed to its end."""
        answer: Any = super().validate(text, place)
        known = _number_in(self, text, self.suffix()) is not None
        return (QValidator.State.Intermediate, text, place) if known and _is_invalid(answer) else answer

    def fixup(self, text: str) -> str:
        """Tell what was typed; what was there comes back."""
        value = _number_in(self, text, self.suffix())
        if value is not None:
            self.refused.emit(value)
        return text

    @property
    def limits(self) -> tuple[float, float]:
        """The least and the greatest number; what is shown as words is none."""
        spoken = self.singleStep() if self.specialValueText() else 0.0
        return self.minimum() + spoken, self.maximum()


class Count(QSpinBox):
    """The same for a whole number."""

    refused = Signal(float)

    def validate(self, text: str, place: int) -> Any:
        """Let a number beyond the limits be typed to its end."""
        answer: Any = super().validate(text, place)
        return (QValidator.State.Intermediate, text, place) if text.isdecimal() and _is_invalid(answer) else answer

    def fixup(self, text: str) -> str:
        """Tell what was typed; what was there comes back."""
        if text.isdecimal():
            self.refused.emit(float(text))
        return text

    @property
    def limits(self) -> tuple[float, float]:
        """The least and the greatest number."""
        return float(self.minimum()), float(self.maximum())


def _is_invalid(answer: Any) -> bool:
    return bool((answer[0] if isinstance(answer, tuple) else answer) == QValidator.State.Invalid)


def number(low: float, high: float, step: float, suffix: str) -> Number:
    """Return a field for a number with one decimal."""
    box = Number()
    box.setRange(low, high)
    box.setSingleStep(step)
    box.setDecimals(1)
    box.setSuffix(suffix)
    box.setKeyboardTracking(False)
    return box


def count(low: int, high: int) -> Count:
    """Return a field for a whole number."""
    box = Count()
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
        self.addItems([translate(words) for words in offered.values()])

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
        self.name = text.replace("&", "")
        """What the field is called, in English: by that it is found."""
        label = QLabel(translate(text))
        label.setBuddy(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(label)
        column.addWidget(widget)
