"""The page of programmes: a programme, its stages, what the chosen one asks for; free, copy, change. By keys alone."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from weightshare.errors import WeightshareError
from weightshare.model import Side
from weightshare.practice.stages import Stages, names_of
from weightshare.tongue import mark, say
from weightshare.window import complaint
from weightshare.window.cover import FormCover

TITLE = mark("Programmes and their stages")
HINT = mark("Up and Down choose a stage, Enter takes it, Esc leaves everything as it was.")
NOT_CLINICIAN = mark("To free a stage, set the clinician's passphrase first (F3, outside of this page).")


class StageList(QListWidget):
    """A list whose chosen row stays in sight, however low the list becomes."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the new size."""
        super().resizeEvent(event)
        if self.currentItem() is not None:
            self.scrollToItem(self.currentItem())


class StagePage(FormCover):
    """Covers its parent from `open_page` until a stage was taken or it was left."""

    taken = Signal(object)
    """An Assignment: practise by it from now on."""
    edit_asked = Signal(object)
    """The Stages whose programme is to be changed."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others)
        self.stages: Stages | None = None
        self._injured, self._may_free = Side.LEFT, False
        self.title, self.hint, self.details, self.wrong = QLabel(say(TITLE)), QLabel(say(HINT)), QLabel(), QLabel()
        self.wrong.setObjectName("alert")
        self.hint.setObjectName("hint")
        self.programme, self.list = QComboBox(), StageList()
        self.who, self.weight = QLineEdit(), QLineEdit()
        self.key = QPushButton(say("Practise this stage  (Enter)"))
        self.free, self.copy, self.edit = (
            QPushButton(say("&Free this stage")),
            QPushButton(say("&Copy it as my own")),
            QPushButton(say("Chan&ge the stages \u2026")),
        )
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self.key.setObjectName("key")
        for label in (self.details, self.wrong):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
        grid = QGridLayout()
        for place, (text, box) in enumerate(((say("&Programme"), self.programme), (say("&Stages"), self.list))):
            label = QLabel(text)
            label.setBuddy(box)
            grid.addWidget(label, 2 * place, 0)
            grid.addWidget(box, 2 * place + 1, 0)
        grid.addWidget(self.details, 1, 1, 3, 1)
        grid.setRowStretch(3, 1)
        for place in range(2):
            grid.setColumnStretch(place, 1)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._grid = grid
        self._labels: dict[QWidget, QLabel] = {}
        fields = QHBoxLayout()
        for text, line in ((say("Body &weight, kg"), self.weight), (say("Freed b&y (name or initials)"), self.who)):
            label = self._labels[line] = QLabel(text)
            label.setBuddy(line)
            line.setMaxLength(60)
            fields.addWidget(label)
            fields.addWidget(line)
        fields.addStretch(1)
        row = QHBoxLayout()
        for button in (self.key, self.free, self.copy, self.edit):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.addWidget(self.title)
        column.addLayout(grid, 1)
        column.addWidget(self.wrong)
        column.addLayout(fields)
        column.addLayout(row)
        column.addWidget(self.hint)
        self._column = column

    def _connect(self) -> None:
        self.programme.activated.connect(self._open)
        self.list.currentRowChanged.connect(self._choose)
        self.list.itemDoubleClicked.connect(lambda _item: self.take())
        acts: dict[QPushButton, Callable[[], None]] = {
            self.key: self.take,
            self.free: partial(self._do, self._free),
            self.copy: partial(self._do, self._copy),
            self.edit: self._edit,
        }
        for button, act in acts.items():
            button.clicked.connect(lambda _checked, act=act: act())

    def open_page(self, stages: Stages, injured: Side, *, may_free: bool) -> None:
        """Cover the parent with the programme of `stages`; `may_free`: the clinician is here."""
        self.stages, self._injured, self._may_free = stages, injured, may_free
        self._cover()
        self.show_all()
        self.list.setFocus()

    def show_all(self) -> None:
        """Show the programme and its stages anew."""
        stages = self.stages
        if stages is None:
            return
        for widget in (self.programme, self.list):
            widget.blockSignals(True)
        self.programme.clear()
        self.programme.addItems(names_of(stages.places))
        if stages.place in stages.places:
            self.programme.setCurrentIndex(stages.places.index(stages.place))
        self.list.clear()
        self.list.addItems(stages.rows())
        self.list.setCurrentRow(stages.row)
        for widget in (self.programme, self.list):
            widget.blockSignals(False)
        self._show_stage()

    def _show_stage(self) -> None:
        stages = self.stages
        assert stages is not None
        stage = stages.stage
        shut = stage is not None and bool(stage.shut)
        self.wrong.setText("")
        self.details.setText(stages.details(self._injured))
        self.key.setEnabled(stage is not None and not shut)
        self.edit.setEnabled(stages.can_change)
        self.free.setVisible(shut)
        for line, shown in (
            (self.who, shut and self._may_free and stages.is_own),
            (self.weight, stages.needs_weight()),
        ):
            line.setVisible(shown)
            self._labels[line].setVisible(shown)

    def _open(self, place: int) -> None:
        assert self.stages is not None
        self.stages.open(self.stages.places[place])
        self.show_all()

    def _choose(self, row: int) -> None:
        if self.stages is not None and row >= 0:
            self.stages.row = row
            self._show_stage()

    def take(self) -> None:
        """Practise the stage that is shown."""
        self._do(self._take)

    def _do(self, act: Callable[[], None]) -> None:
        """Do something that may be refused, in words."""
        try:
            act()
        except WeightshareError as error:
            self.wrong.setText(complaint.plain(str(error)))

    def _take(self) -> None:
        assert self.stages is not None
        if not self.weight.isHidden():
            self.weight.setFocus()
        assignment = self.stages.take(self._injured, self.weight.text())
        self._uncover()
        self.taken.emit(assignment)

    def _free(self) -> None:
        assert self.stages is not None
        if not self._may_free and self.stages.is_own:
            self.wrong.setText(say(NOT_CLINICIAN))
            return
        self.who.setFocus()
        self.stages.free(self.who.text(), date.today())
        self.show_all()
        self.list.setFocus()

    def _copy(self) -> None:
        assert self.stages is not None
        place = self.stages.copy()
        self.show_all()
        self.wrong.setText(say("Copied: {place}", place=place))
        self.list.setFocus()

    def _edit(self) -> None:
        if self.stages is not None and self.stages.can_change:
            self.edit_asked.emit(self.stages)

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(14, size.height() // 42)
        self._column.setContentsMargins(*(max(20, size.width() // 24), text) * 2)
        self._column.setSpacing(text // 2)
        self._grid.setHorizontalSpacing(2 * text)
        self.setStyleSheet(f"QLabel, QLineEdit, QComboBox, QListWidget {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {round(text * 1.6)}px; font-weight: 600;")
        self.key.setMinimumHeight(text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes the stage, Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            focus = self.focusWidget()
            focus.click() if isinstance(focus, QPushButton) else self.free.click() if focus is self.who else self.take()
        elif event.key() == Qt.Key.Key_Escape:
            self._uncover()
            self.closed.emit()
        event.accept()
