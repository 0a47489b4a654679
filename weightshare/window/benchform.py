"""What a guided calibration asks for before it begins: masses, plates, how thorough, where, by whom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.errors import OptionError
from weightshare.model import Side
from weightshare.tongue import mark, say
from weightshare.window import field
from weightshare.window.benchfeed import BenchWish
from weightshare.window.benchmass import KNOWN, masses_of, place_of
from weightshare.window.field import Choice
from weightshare.workbench.plan import HANDS_S, Ask, Wanted, make_plan

TITLE = mark("Calibrate this scale with known masses")
MASSES = ("10, 10, 20, 20", "5, 10, 20, 20", "20, 20, 20", "5, 5, 10")
BOTH = (Side.LEFT, Side.RIGHT)
PLATES = {BOTH: mark("both plates"), (Side.LEFT,): mark("the left plate"), (Side.RIGHT,): mark("the right plate")}
SHORT, THOROUGH = "short", "thorough"
SCOPES = {THOROUGH: mark("thorough: twice, and creep of 5 min"), SHORT: mark("short: once up and down")}
SHORT_S = (20.0, 60.0)
"""How long, in a short one, the empty plate and the greatest load are watched, s."""
ANY_KNOWN = "1 %"
"""Stands for how well the masses are known where it makes no difference."""
LONGEST_NAME = 80


def _named(source: str) -> str:
    """Return what the scale at `source` is called: an address names one, and none stands for the virtual ones."""
    return say("The virtual scales") if source == "rig:" else source


class BenchForm(QFrame):
    """One row for each thing asked, with what it is for, or what is wrong with it, beside it."""

    begun = Signal(BenchWish)
    scale_asked = Signal()
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("caution")
        self.source = ""
        self.masses, self.known = field.words(MASSES), field.words(KNOWN)
        self.plates, self.scope = Choice(PLATES), Choice(SCOPES)
        self.latitude, self.height_m, self.made_by = QLineEdit(), QLineEdit(), QLineEdit()
        self.made_by.setMaxLength(LONGEST_NAME)
        self.title, self.about, self.leaves = QLabel(say(TITLE)), QLabel(), QLabel(say("Esc goes back to practice."))
        for label in (self.about, self.leaves):
            label.setObjectName("hint")
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.button = QPushButton(say("Begin  (Enter)"))
        self.button.setObjectName("key")
        self.button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scale = QPushButton(say("This &scale \u2026"))
        self.scale.setObjectName("scale")
        self._rows: list[tuple[QWidget, QLabel, QLabel]] = []
        self._why: dict[QWidget, str] = {}
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self._grid = QGridLayout()
        self._grid.setColumnMinimumWidth(1, 260)
        self._grid.setColumnStretch(2, 1)
        for text, widget, why in (
            (say("&Masses, kg"), self.masses, say("each one that you lay there, in the order of laying")),
            (
                say("&How well known"),
                self.known,
                say("their class, or standard uncertainty: 0.05\u00a0kg, 20\u00a0g, 1\u00a0%"),
            ),
            (say("&Plates"), self.plates, ""),
            (say("How &thorough"), self.scope, ""),
            (
                say("&Latitude, degrees"),
                self.latitude,
                say("optional: gravity changes by 0.5 % from the equator to the poles"),
            ),
            (say("Height a&bove sea, m"), self.height_m, say("optional, with the latitude")),
            (say("Made b&y"), self.made_by, say("optional; who answers for it, kept in the file")),
        ):
            label, hint = QLabel(text), QLabel(why)
            label.setBuddy(widget)
            hint.setObjectName("hint")
            hint.setWordWrap(True)
            self._why[widget] = why
            for place, part in enumerate((label, widget, hint)):
                self._grid.addWidget(part, len(self._rows), place)
            self._rows.append((widget, label, hint))
        self._column = QVBoxLayout(self)
        for part in (self.title, self.about):
            self._column.addWidget(part)
        self._column.addWidget(self.scale, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addLayout(self._grid)
        self._column.addStretch(1)
        self._column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.leaves)

    def _connect(self) -> None:
        self.button.clicked.connect(lambda _checked: self.begin())
        self.scale.clicked.connect(lambda _checked: self.scale_asked.emit())
        for box in (self.plates, self.scope):
            box.currentIndexChanged.connect(lambda _index: self._say_how_long())
        self.masses.editTextChanged.connect(lambda _text: self._say_how_long())
        self._say_how_long()

    def open_form(self, source: str, about: str) -> None:
        """Ask for the calibration of the scale at `source`; `about` says what is known of it."""
        self.source = source
        named = _named(source)
        self.about.setText(f"{named}: {about}" if about else named)
        self._content()
        self.masses.setFocus()

    def begin(self) -> None:
        """Begin, where nothing is wrong; else say beside its field what is, and lead the keyboard there."""
        self._content()
        at_fault = self.masses if self._steps() is None else self.known
        wanted = self._read(at_fault, lambda: self._wanted(self.known.currentText()))
        latitude = self._read(self.latitude, lambda: place_of(self.latitude.text(), -90.0, 90.0, "\u00b0"))
        height = self._read(self.height_m, self._height)
        wrong = [widget for widget, _label, hint in self._rows if hint.property("wrong") == "true"]
        if wrong:
            wrong[0].setFocus()
            return
        self.begun.emit(BenchWish(self.source, wanted, latitude, height, self.made_by.text().strip()))

    def _read(self, widget: QWidget, read: Callable[[], Any]) -> Any:
        try:
            return read()
        except OptionError as error:
            self._show_hint(widget, str(error))
            return None

    def _height(self) -> float | None:
        height = place_of(self.height_m.text(), -500.0, 6000.0, "m")
        if height is not None and not self.latitude.text().strip():
            raise OptionError(say("a height alone tells no gravity: the latitude as well, please"))
        return height

    def _wanted(self, known: str) -> Wanted:
        wanted = Wanted(masses_of(self.masses.currentText(), known), self.plates.chosen)
        if self.scope.chosen == THOROUGH:
            return wanted
        drift_s, creep_s = SHORT_S
        return replace(wanted, runs=1, drift_s=drift_s, creep_s=creep_s, corner_rounds=1)

    def _say_how_long(self) -> None:
        """Say beside the scope how many steps that makes, and about how long they take."""
        plan = self._steps()
        self._why[self.scope] = ""
        if plan is not None:
            minutes = sum(HANDS_S + ask.measure_s for ask in plan) / 60.0
            self._why[self.scope] = say(
                "{steps} steps, about {minutes:.0f} minutes", steps=len(plan), minutes=max(1.0, minutes)
            )
        self._show_hint(self.scope, "")

    def _steps(self) -> tuple[Ask, ...] | None:
        """Return the steps that are to come; None where the masses are not told so far."""
        try:
            return make_plan(self._wanted(ANY_KNOWN))
        except OptionError:
            return None

    def _content(self) -> None:
        for widget, _label, _hint in self._rows:
            self._show_hint(widget, "")

    def _show_hint(self, about: QWidget, wrong: str) -> None:
        hint = self.hint_of(about)
        hint.setText(wrong or self._why[about])
        state = "true" if wrong else "false"
        if hint.property("wrong") != state:
            hint.setProperty("wrong", state)
            hint.style().polish(hint)

    def hint_of(self, about: QWidget) -> QLabel:
        """Return what stands beside the field `about`."""
        return next(hint for widget, _label, hint in self._rows if widget is about)

    def fit(self, text: int, side: int) -> None:
        """Take letters of `text` px and margins of `side` px."""
        self._column.setContentsMargins(side, text, side, text)
        self._column.setSpacing(text // 2)
        self._grid.setVerticalSpacing(round(text * 0.7))
        self._grid.setHorizontalSpacing(text)
        self.title.setStyleSheet(f"font-size: {round(text * 1.5)}px; font-weight: 600;")
        self.setStyleSheet(f"QLabel, QComboBox, QLineEdit, QPushButton#scale {{ font-size: {text}px; }}")
        self.button.setMinimumSize(text * 14, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter begins, Escape goes back; other keys do nothing here."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.begin()
        event.accept()
