"""The criteria of a stage, a row each: they are added, changed and taken away here."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.programme.criterion import Measure
from weightshare.programme.draft import CRITERIA, Draft, Spot
from weightshare.tongue import say
from weightshare.window.editrow import AT_LEAST, TEXT_PX, CriterionRow


class EditCriteria(QWidget):
    """All criteria of a stage. It keeps nothing: what it shows is told as text, a line each."""

    said = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[CriterionRow] = []
        self._measures: tuple[Measure, ...] = ()
        self._text_px = TEXT_PX
        self.add = QPushButton(say("Add a cri&terion"))
        self.add.clicked.connect(lambda _checked: self._add_new())
        self.wrong = QLabel()
        self.wrong.setObjectName("hint")
        self.wrong.setProperty("wrong", "true")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.wrong)
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)

    def fit(self, text_px: int) -> None:
        """Take letters of `text_px`."""
        self._text_px = text_px
        for row in self.rows:
            row.fit(text_px)

    def text(self) -> str:
        """Return the criteria as a draft takes them: a line each, with an equals sign."""
        return "\n".join(f"{row.name} = {row.words}" for row in self.rows)

    def show_draft(self, draft: Draft, stage: int) -> None:
        """Show the criteria of `stage` anew."""
        for row in self.rows:
            row.hide()
            row.deleteLater()
        self.rows = []
        for name, words in _pairs(draft.said(Spot(stage, CRITERIA))):
            self._append(name, words)
        self._order()

    def _order(self) -> None:
        """Have Tab go through the rows one after another, and then to what adds one."""
        before: QWidget = self.add
        for row in self.rows:
            for box in (row.measure, row.way, row.first, row.second, row.remove):
                self.setTabOrder(before, box)
                before = box
        self.setTabOrder(before, self.add)

    def show_state(self, draft: Draft, stage: int, mistakes: dict[Spot, str]) -> None:
        """Offer what can be had in `stage` as it is now, and say beneath each row what is wrong with it."""
        self._measures = draft.measures(stage)
        taken = {row.name for row in self.rows}
        for row in self.rows:
            free = tuple(one for one in self._measures if one == row.name or one not in taken)
            row.show_state(free, mistakes.get(Spot(stage, f"{CRITERIA}.{row.name}"), ""))
        self.add.setEnabled(bool(set(self._measures) - taken))
        self.wrong.setText(retell(mistakes.get(Spot(stage, CRITERIA), "")))
        self.wrong.setVisible(bool(self.wrong.text()))

    def _append(self, name: str, words: str) -> CriterionRow:
        row = CriterionRow(name, words)
        row.fit(self._text_px)
        row.changed.connect(self.said)
        row.removed.connect(self._remove)
        self._column.insertWidget(len(self.rows), row)
        self.rows.append(row)
        return row

    def _add_new(self) -> None:
        """Add a row of the first measure that is free, its limit still to be typed."""
        taken = {row.name for row in self.rows}
        name = next((str(one) for one in self._measures if one not in taken), None)
        if name is not None:
            row = self._append(name, "" if name == Measure.CLINICIAN else f"{AT_LEAST} ")
            self._order()
            self.said.emit()
            row.measure.setFocus()

    def _remove(self, row: CriterionRow) -> None:
        self.rows.remove(row)
        row.hide()
        row.deleteLater()
        self.add.setFocus()
        self.said.emit()


def _pairs(words: str) -> Iterator[tuple[str, str]]:
    for line in words.splitlines():
        name, _, limit = line.partition(" = ")
        yield name, limit
