"""The page on which a clinician changes a programme: its stages on the left, what they ask for on the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QPushButton, QScrollArea, QVBoxLayout, QWidget

from weightshare.errors import WeightshareError
from weightshare.practice.stages import LOCKED, Stages
from weightshare.programme.draft import Draft, Spot
from weightshare.tongue import mark, plural, say
from weightshare.window import complaint
from weightshare.window.cover import FormCover
from weightshare.window.editform import EditForm

TITLE = mark("Change {name} \u2013 it is saved as a new file; this one stays as it is")
HINT = mark("Tab goes from field to field. Ctrl+S saves, Esc leaves.")
FREED = mark("freed")
UNSAVED = mark("Nothing of this is saved yet. Esc again leaves without it, Ctrl+S saves.")
WRONG_MARK = "\u2717  "
LIST_PART, FORM_PART = 3, 7
"""Of the width, for the list of stages and what one of them asks for."""
MISTAKES = mark("{mistakes} to be put right first: see the lines marked on the left.")


class EditPage(FormCover):
    """Covers its parent from `open_page` until it was saved or left."""

    saved = Signal(str)
    """The place of the new file."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others)
        self.draft: Draft | None = None
        self._stages: Stages | None = None
        self._asking, self._may_free = False, False
        self.title, self.wrong, self.hint = QLabel(), QLabel(), QLabel(say(HINT))
        self.wrong.setObjectName("alert")
        self.wrong.setWordWrap(True)
        self.hint.setObjectName("hint")
        self.list = QListWidget()
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # the end of a long name says whether the stage is locked
        self.list.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.of_programme, self.of_stage = EditForm(of_stage=False), EditForm(of_stage=True)
        self.scrolls = {form: _scroll(form) for form in (self.of_programme, self.of_stage)}
        self.save = QPushButton(say("Save as a new file  (Ctrl+S)"))
        self.add, self.copy = QPushButton(say("&Add a stage")), QPushButton(say("&Copy this stage"))
        self.remove = QPushButton(say("&Remove this stage"))
        self.up, self.down = QPushButton(say("Move &up")), QPushButton(say("Move &down"))
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self.save.setObjectName("key")
        middle, row = QHBoxLayout(), QHBoxLayout()
        middle.addWidget(self.list, LIST_PART)
        for scroll in self.scrolls.values():
            middle.addWidget(scroll, FORM_PART)
        for button in (self.save, self.add, self.copy, self.remove, self.up, self.down):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.addWidget(self.title)
        column.addLayout(middle, 1)
        column.addWidget(self.wrong)
        column.addLayout(row)
        column.addWidget(self.hint)
        self._column = column

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(lambda _row: self._show_row())
        for form in self.scrolls:
            form.said.connect(self._take)
            form.mended.connect(self._mend)
        acts: dict[QPushButton, Callable[[], None]] = {
            self.save: self.keep,
            self.add: lambda: self._arrange(Draft.add_stage, 1),
            self.copy: lambda: self._arrange(Draft.copy_stage, 1),
            self.up: lambda: self._arrange(lambda draft, stage: draft.move_stage(stage, -1), -1),
            self.down: lambda: self._arrange(lambda draft, stage: draft.move_stage(stage, 1), 1),
            self.remove: lambda: self._arrange(Draft.remove_stage, 0),
        }
        for button, act in acts.items():
            button.clicked.connect(lambda _checked, act=act: act())

    @property
    def stage(self) -> int | None:
        """The number of the stage that is shown, from 0 on; None: the programme itself."""
        row = self.list.currentRow()
        return row - 1 if row > 0 else None

    def open_page(self, stages: Stages, *, may_free: bool = False) -> None:
        """Cover the parent with the programme of `stages`, its version one higher. `may_free`: the clinician is here,
        as their passphrase has shown, and may free a stage and lock it again."""
        self._stages, self._asking, self._may_free, self.draft = stages, False, may_free, Draft(stages.text)
        self.draft.say(Spot(None, "version"), self.draft.next_version(stages.versions()))
        self.title.setText(say(TITLE, name=Path(stages.place).name))
        self._cover()
        self._list(stages.row + 1)
        self.list.setFocus()

    def _list(self, row: int) -> None:
        """Name the stages anew, those with a mistake marked, and show what stands in `row`."""
        draft = self.draft
        assert draft is not None
        rows = _rows(draft, draft.mistakes())
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems(rows)
        self.list.setCurrentRow(min(row, len(rows) - 1))
        self.list.blockSignals(False)
        self._show_row()

    def _show_row(self) -> None:
        draft, stage = self.draft, self.stage
        if draft is None:
            return
        shown = self.of_programme if stage is None else self.of_stage
        for form, scroll in self.scrolls.items():
            scroll.setVisible(form is shown)
        shown.show_draft(draft, stage, may_free=self._may_free)
        self.scrolls[shown].verticalScrollBar().setValue(0)
        of_one = {self.add: True, self.copy: True, self.remove: draft.stages > 1}
        of_one |= {self.up: (stage or 0) > 0, self.down: stage is not None and stage + 1 < draft.stages}
        for button, can_be in of_one.items():
            button.setEnabled(stage is not None and can_be)

    def _take(self, key: str, words: str) -> None:
        draft, stage = self.draft, self.stage
        if draft is None:
            return
        if draft.said(Spot(stage, key)) != words.strip():
            self._asking = False
        draft.say(Spot(stage, key), words)
        if key == "exercise":
            # another one is not freed: that leaves its fields
            self.of_stage.show_draft(draft, stage, may_free=self._may_free)
        self._mark()

    def _mend(self) -> None:
        """Put right what no field is for."""
        if self.draft is not None:
            self.draft.mend(self.stage)
            self._asking = False
            self._mark()

    def _mark(self) -> None:
        """Say anew what holds and what is wrong, while somebody types."""
        draft = self.draft
        assert draft is not None
        (self.of_programme if self.stage is None else self.of_stage).show_state(draft, self.stage)
        for row, text in enumerate(_rows(draft, draft.mistakes())):
            self.list.item(row).setText(text)
        self.wrong.setText("")

    def _arrange(self, change: Callable[[Draft, int], None], step: int) -> None:
        if self.draft is not None and self.stage is not None:
            change(self.draft, self.stage)
            self._list(self.list.currentRow() + step)

    def keep(self) -> None:
        """Write the new file, unless something is wrong."""
        draft, stages = self.draft, self._stages
        if draft is None or stages is None:
            return
        mistakes = draft.mistakes()
        if mistakes:
            self._go_to_first(mistakes)
            self.wrong.setText(say(MISTAKES, mistakes=plural("{n} mistake", "{n} mistakes", len(mistakes))))
            return
        try:
            place = stages.keep(draft.text)
        except WeightshareError as error:
            self.wrong.setText(complaint.plain(str(error)))
            return
        self._uncover()
        self.saved.emit(place)

    def _go_to_first(self, mistakes: dict[Spot, str]) -> None:
        """Show the field that is to be put right first: of the stage that is shown, if there is one in it."""
        wrong = {-1 if spot.stage is None else spot.stage for spot in mistakes}
        here = -1 if self.stage is None else self.stage
        self.list.setCurrentRow((here if here in wrong else min(wrong)) + 1)
        form = self.of_programme if self.stage is None else self.of_stage
        form.show_state(self.draft, self.stage) if self.draft is not None else None
        box = form.find_wrong()
        if box is not None:
            self.scrolls[form].ensureWidgetVisible(box)
            box.setFocus()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(13, size.height() // 48)
        self._column.setContentsMargins(*(max(16, size.width() // 40), text) * 2)
        self.setStyleSheet(
            f"QLabel, QLineEdit, QComboBox, QListWidget, QPlainTextEdit {{ font-size: {text}px; }}"
            f"#file-key {{ font-size: {max(11, text * 3 // 4)}px; }} #group {{ font-size: {round(text * 1.15)}px; }}"
            f"QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}"
        )
        self.title.setStyleSheet(f"font-size: {round(text * 1.5)}px; font-weight: 600;")
        self.save.setMinimumHeight(text * 3)
        for form in self.scrolls:
            form.fit(text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ctrl+S saves; Escape leaves, and asks once where something would be lost."""
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if event.key() == Qt.Key.Key_S and control:
            self.keep()
        elif event.key() == Qt.Key.Key_Escape:
            if self.draft is not None and self._is_touched() and not self._asking:
                self._asking = True
                self.wrong.setText(say(UNSAVED))
            else:
                self._uncover()
                self.closed.emit()
        event.accept()

    def _is_touched(self) -> bool:
        """Whether more than the version was changed."""
        draft, stages = self.draft, self._stages
        if draft is None or stages is None:
            return False
        before = Draft(stages.text)
        before.say(Spot(None, "version"), draft.said(Spot(None, "version")))
        return before.text != draft.text


def _rows(draft: Draft, mistakes: dict[Spot, str]) -> list[str]:
    """Return the programme and its stages, one line each, those with a mistake marked."""
    wrong = {spot.stage for spot in mistakes}
    names = [_row(draft, number) for number in range(draft.stages)]
    rows = [(None, say("The programme")), *enumerate(names)]
    return [(WRONG_MARK if stage in wrong else "") + text for stage, text in rows]


def _row(draft: Draft, stage: int) -> str:
    name = f"{stage + 1}  {say(draft.said(Spot(stage, 'name')))}"
    if draft.is_shut(stage):
        return f"{name}  ({say(LOCKED)})"
    return f"{name}  ({say(FREED)})" if draft.locks(stage) else name


def _scroll(form: EditForm) -> QScrollArea:
    area = QScrollArea()
    area.setWidget(form)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area
