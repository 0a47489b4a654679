"""The page on which a patient is added, or what is known of one is changed. By keys alone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.practice.stages import names_of
from weightshare.programme.reading import ProgrammeError
from weightshare.programme.shelf import READY, find_programme
from weightshare.records.place import programme_folder
from weightshare.records.store.patient import LONGEST_CODE, LONGEST_TEXT, Affected, Patient
from weightshare.tongue import mark, say
from weightshare.window.cover import Cover

TICK_MS = 30
ADD, CHANGE = mark("Add a patient"), mark("What is known of {code}")
HINT = mark("Enter keeps it, Esc leaves everything as it was. A name is optional; it stays on this computer.")
NOT_TOLD = mark("not told")
FIELDS = {
    "code": mark("&Code"),
    "name": mark("&Name"),
    "affected": mark("Injured &side"),
    "injured_on": mark("&Injured or operated on"),
    "programme": mark("&Programme"),
    "stage": mark("S&tage"),
}
MEANS = {
    "code": mark("chosen by you, as in A-017; it tells nobody who it is"),
    "name": mark("in no export unless that is asked for"),
    "affected": mark("a share needs a side to be a share of; with both injured there is none to hold it against"),
    "injured_on": mark("a date like 2026-11-24, or nothing"),
    "programme": mark("what is followed; your own ones are offered too"),
    "stage": mark("what is practised now"),
}
OPTIONS = {
    "CODE": "code",
    "--name": "name",
    "--injured-on": "injured_on",
    "--programme": "programme",
    "--stage": "stage",
}
"""Under which name an error tells of each field."""


class PatientForm(Cover):
    """Covers its parent until something was kept or it was left."""

    kept = Signal(object)
    """What was typed, by its names in Patient."""
    ticked = Signal()

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.patient: Patient | None = None
        """Who is changed; None: somebody is added."""
        self.title, self.wrong, self.hint = QLabel(), QLabel(), QLabel(say(HINT))
        self.wrong.setObjectName("alert")
        self.wrong.setWordWrap(True)
        self.hint.setObjectName("hint")
        self.code, self.name, self.day = QLineEdit(), QLineEdit(), QLineEdit()
        self.code.setMaxLength(LONGEST_CODE)
        self.name.setMaxLength(LONGEST_TEXT)
        self.day.setMaxLength(10)
        self.side, self.programme, self.stage = QComboBox(), QComboBox(), QComboBox()
        self.key = QPushButton(say("Keep it  (Enter)"))
        self.key.setObjectName("key")
        self._places: tuple[str, ...] = ()
        self._lay_out()
        self.programme.activated.connect(lambda _row: self._offer_stages(""))
        self.key.clicked.connect(lambda _checked: self.keep())

    @property
    def boxes(self) -> dict[str, QLineEdit | QComboBox]:
        """The fields, by their names in Patient."""
        every = (self.code, self.name, self.side, self.day, self.programme, self.stage)
        return dict(zip(FIELDS, every, strict=True))

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setColumnStretch(1, 2)
        grid.setColumnStretch(2, 3)
        for row, (name, box) in enumerate(self.boxes.items()):
            label, means = QLabel(say(FIELDS[name])), QLabel(say(MEANS[name]))
            label.setBuddy(box)
            means.setObjectName("hint")
            means.setWordWrap(True)
            for place, widget in enumerate((label, box, means)):
                grid.addWidget(widget, row, place)
        column = QVBoxLayout(self)
        column.addStretch(1)
        column.addWidget(self.title)
        column.addLayout(grid)
        column.addWidget(self.wrong)
        column.addWidget(self.key, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.hint)
        column.addStretch(2)
        self._column, self._grid = column, grid

    def open_page(self, patient: Patient | None) -> None:
        """Cover the parent with what is known of `patient`; None: of somebody who is added."""
        self.patient, one = patient, patient or Patient("", "")
        self.title.setText(say(ADD) if patient is None else say(CHANGE, code=one.code))
        for box, text in ((self.code, one.code), (self.name, one.name), (self.day, one.injured_on)):
            box.setText(text)
        self.side.clear()
        self.side.addItems([say(NOT_TOLD), *(say(side) for side in Affected)])
        self.side.setCurrentIndex(0 if one.affected is None else 1 + list(Affected).index(one.affected))
        self._offer_programmes(one.programme)
        self._offer_stages(one.stage)
        self.say("")
        self._cover()
        self._timer.start()
        self.code.setFocus()
        self.code.selectAll()

    def tick(self) -> None:
        """Take what was done meanwhile."""
        self.ticked.emit()

    def leave(self) -> None:
        """Give the window back."""
        if self.is_open:
            self._uncover()

    def _offer_programmes(self, place: str) -> None:
        own = [str(path) for path in sorted(programme_folder().glob("*.toml"))]
        more = [place] if place and place not in (*READY, *own) else []
        self._places = ("", *READY, *own, *more)
        self.programme.clear()
        self.programme.addItems([say("none"), *names_of(self._places[1:])])
        self.programme.setCurrentIndex(self._places.index(place))

    def _offer_stages(self, stage: str) -> None:
        """Offer the stages of the programme that is chosen; `stage` is the one that is practised."""
        self.stage.clear()
        self.stage.addItem(say("none"), "")
        place = self._places[self.programme.currentIndex()]
        try:
            stages = find_programme(place).programme.stages if place else ()
        except ProgrammeError as error:
            self.say(retell(str(error)))
            stages = ()
        for one in stages:
            self.stage.addItem(f"{say(one.name)}   ({one.key})", one.key)
        if stage and self.stage.findData(stage) < 0:
            self.stage.addItem(stage, stage)
        self.stage.setCurrentIndex(max(0, self.stage.findData(stage)))

    def keep(self) -> None:
        """Hand over what stands in the fields."""
        side = self.side.currentIndex()
        typed: dict[str, Any] = {
            "code": self.code.text(),
            "name": self.name.text(),
            "affected": None if side == 0 else list(Affected)[side - 1],
            "injured_on": self.day.text().strip(),
            "programme": self._places[self.programme.currentIndex()],
            "stage": self.stage.currentData() or "",
        }
        self.say("")
        self.kept.emit(typed)

    def complain(self, said: str) -> None:
        """Say what is wrong, and go to the field that it is about."""
        for option, name in OPTIONS.items():
            if said.startswith(option):
                self.boxes[name].setFocus()
                said = re.sub(f"^{option}", say(FIELDS[name]).replace("&", ""), said)
        self.say(said)

    def say(self, text: str) -> None:
        """Say something under the fields; empty: nothing."""
        self.wrong.setText(text)
        self.wrong.setVisible(bool(text))

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(14, size.height() // 42)
        self._column.setContentsMargins(*(max(24, size.width() // 12), text) * 2)
        self._column.setSpacing(text // 2)
        self._grid.setHorizontalSpacing(text)
        self._grid.setVerticalSpacing(text // 2)
        self.setStyleSheet(f"QLabel, QLineEdit, QComboBox {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {round(text * 1.6)}px; font-weight: 600;")
        self.key.setMinimumSize(text * 12, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
            self.closed.emit()
        event.accept()
