"""All keys of a stage, or of the programme itself, as fields with what is allowed, or what is wrong, beside each."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from weightshare.practice.message import retell
from weightshare.programme.draft import CRITERIA, SOURCES, Draft, Spot, keys_of, mistake_at
from weightshare.tongue import chosen, mark, say
from weightshare.window.editcriteria import EditCriteria
from weightshare.window.editrow import StillBox
from weightshare.window.editword import (
    GROUPS,
    NOTHING,
    PROGRAMME_GROUPS,
    said_of,
    say_option,
    unit_words,
)

Box = QLineEdit | QComboBox | QPlainTextEdit | EditCriteria
PAIR_LINES = 5
LABEL_PART = 9
"""How wide the column of what fields are called is at least, in heights of the letters."""
CLINICIAN_FREES = mark("Only the clinician frees it: F3, then Alt+F where stages are chosen.")
_CLINICIANS = ("freed", "freed_by", "freed_on")
"""What the clinician alone says, once there is a passphrase that tells who that is."""


class EditForm(QWidget):
    """Shows what a draft says of one stage; tells when something was said otherwise. It keeps nothing."""

    said = Signal(str, str)
    """A key, and what is to stand under it."""
    mended = Signal()
    """What no field is for is to be put right."""

    def __init__(self, *, of_stage: bool) -> None:
        super().__init__()
        self.boxes: dict[str, Box] = {}
        self.hints: dict[str, QLabel] = {}
        self._stage: int | None = 0 if of_stage else None
        self._kinds = {key.name: key.kind for key in keys_of(self._stage)}
        self._why: dict[str, str] = {}
        self._rows: dict[str, tuple[QWidget, ...]] = {}
        self._heads: list[tuple[QLabel, tuple[str, ...]]] = []
        self._grid = QGridLayout(self)
        self._grid.setColumnStretch(1, 4)
        self._grid.setColumnStretch(2, 5)
        self.unplaced, self.mend = QLabel(), QPushButton(say("Put right: misspelt keys are mended, others go"))
        self.unplaced.setObjectName("alert")
        self.unplaced.setWordWrap(True)
        self.mend.clicked.connect(lambda _checked: self.mended.emit())
        self._grid.addWidget(self.unplaced, 0, 0, 1, 3)
        self._grid.addWidget(self.mend, 1, 0, 1, 3, Qt.AlignmentFlag.AlignLeft)
        for title, names in GROUPS if of_stage else PROGRAMME_GROUPS:
            self._add_head(say(title), names)
            for name in names:
                self._add(name)
        self._grid.setRowStretch(self._grid.rowCount(), 1)

    def _add_head(self, title: str, names: tuple[str, ...]) -> None:
        head = QLabel(title)
        head.setObjectName("group")
        head.setIndent(0)
        self._heads.append((head, names))
        self._grid.addWidget(head, self._grid.rowCount(), 0, 1, 3)

    def _add(self, name: str) -> None:
        called, why = said_of(Spot(self._stage, name))
        box, hint = self._box(name, called), QLabel(why)
        hint.setObjectName("hint")
        hint.setWordWrap(True)
        hint.setTextFormat(Qt.TextFormat.PlainText)
        label = _label(called, name, box)
        row = self._grid.rowCount()
        is_wide = isinstance(box, EditCriteria)
        self._grid.addWidget(label, row, 0)
        self._grid.addWidget(hint, row, 1 if is_wide else 2, 1, 2 if is_wide else 1)
        self._grid.addWidget(box, row + 1 if is_wide else row, 0 if is_wide else 1, 1, 3 if is_wide else 1)
        self.boxes[name], self.hints[name], self._why[name] = box, hint, why
        self._rows[name] = (label, box, hint)

    def _box(self, name: str, called: str) -> Box:
        """Return the field for the key `name`, which tells when something else is said in it."""
        tell, box = partial(self._tell, name), self._empty_box(name)
        box.setAccessibleName(called)
        if isinstance(box, QLineEdit):
            box.textEdited.connect(lambda _words: tell())
        elif isinstance(box, QComboBox):
            box.activated.connect(lambda _index: tell())
        elif isinstance(box, EditCriteria):
            box.said.connect(tell)
        else:
            box.textChanged.connect(tell)
        return box

    def _empty_box(self, name: str) -> Box:
        if name == CRITERIA:
            return EditCriteria()
        if name == SOURCES:
            return _text_box()
        options = self._kinds[name].options
        if not options:
            return QLineEdit()
        box = StillBox()
        if name in NOTHING:
            box.addItem(say(NOTHING[name]), "")
        for option in options:
            box.addItem(say_option(name, option), option)
        return box

    def _tell(self, name: str) -> None:
        self.said.emit(name, self.typed(name))

    def typed(self, name: str) -> str:
        """Return what is typed under the key `name`, as its file has it."""
        box = self.boxes[name]
        if isinstance(box, QComboBox):
            return str(box.currentData() or "")
        return box.text() if isinstance(box, QLineEdit | EditCriteria) else box.toPlainText()

    def show_draft(self, draft: Draft, stage: int | None, *, may_free: bool = True) -> None:
        """Show what `draft` says of `stage`, without telling of a change. `may_free`: the clinician is here."""
        for name, box in self.boxes.items():
            words = draft.said(Spot(stage, name))
            box.blockSignals(True)
            if isinstance(box, QLineEdit):
                box.setText(self._local(name, words))
                box.home(False)
            elif isinstance(box, QPlainTextEdit):
                box.setPlainText(words)
            elif isinstance(box, EditCriteria) and stage is not None:
                box.show_draft(draft, stage)
            box.blockSignals(False)
            box.setEnabled(may_free or not (name in _CLINICIANS or (name == "locked" and words == "true")))
        self.show_state(draft, stage)

    def show_state(self, draft: Draft, stage: int | None) -> None:
        """Show what holds where nothing is said, leave out what has no place, and say beside each field what is wrong
        with it, or else what is allowed."""
        mistakes, hidden = draft.mistakes(), frozenset[str]() if stage is None else draft.misplaced(stage)
        for name, box in self.boxes.items():
            spot = Spot(stage, name)
            if isinstance(box, EditCriteria):
                box.show_state(draft, stage or 0, mistakes)
            else:
                self._show_force(box, name, draft.said(spot), draft.in_force(spot))
            for widget in self._rows[name]:
                widget.setVisible(name not in hidden)
            if not isinstance(box, EditCriteria):
                self._show_hint(name, mistake_at(mistakes, spot))
        for head, names in self._heads:
            head.setVisible(not hidden.issuperset(names))
        unplaced = [f"{spot.key}: {retell(mistakes[spot])}" for spot in draft.unplaced(stage)]
        self.unplaced.setText("\n".join(unplaced))
        for widget in (self.unplaced, self.mend):
            widget.setVisible(bool(unplaced))
        self._take_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the new width, and the height that goes with it."""
        super().resizeEvent(event)
        self._take_height()

    def _take_height(self) -> None:
        """Be as high as broken lines need: what scrolls asks for no height by a width, and would cut them."""
        self.setMinimumHeight(self._grid.totalHeightForWidth(self.width()))

    def fit(self, text_px: int) -> None:
        """Take letters of `text_px`."""
        self._grid.setColumnMinimumWidth(0, text_px * LABEL_PART)
        for box in self.boxes.values():
            if isinstance(box, EditCriteria):
                box.fit(text_px)

    def find_wrong(self) -> QWidget | None:
        """Return the first field that something is wrong with."""
        if not self.mend.isHidden():
            return self.mend
        return next((self.boxes[name] for name, hint in self.hints.items() if hint.property("wrong") == "true"), None)

    def _show_hint(self, name: str, wrong: str) -> None:
        hint, why = self.hints[name], self._why[name]
        if not self.boxes[name].isEnabled():
            why = say(CLINICIAN_FREES)
        hint.setText(retell(wrong) or why)
        _set(hint, "wrong", is_on=bool(wrong))

    def _show_force(self, box: QWidget, name: str, words: str, force: str) -> None:
        """Show what holds, paler where it is not said in the file."""
        if isinstance(box, QLineEdit):
            box.setPlaceholderText(self._force_words(name, force))
        elif isinstance(box, QComboBox):
            _show_option(box, words or force)
        _set(box, "unsaid", is_on=not words)

    def _force_words(self, name: str, force: str) -> str:
        if not force:
            return say(NOTHING[name]) if name in NOTHING else ""
        span = self._kinds[name].span
        return f"{self._local(name, force)} {unit_words(span[2])}".strip() if span is not None else say(force)

    def _local(self, name: str, words: str) -> str:
        """Return a number with the decimal mark of the language; everything else as it is."""
        kind = self._kinds.get(name)
        return words.replace(".", chosen().decimal) if kind is not None and kind.span is not None else words


def _set(widget: QWidget, name: str, *, is_on: bool) -> None:
    """Set a property that the style looks at."""
    state = "true" if is_on else "false"
    if widget.property(name) != state:
        widget.setProperty(name, state)
        widget.style().polish(widget)


def _label(called: str, name: str, box: QWidget) -> QWidget:
    """Return what a field is called, with its key in the file small beneath."""
    both, label, key = QWidget(), QLabel(called), QLabel(name)
    label.setBuddy(box)
    label.setWordWrap(True)
    key.setObjectName("file-key")
    column = QVBoxLayout(both)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    column.addStretch(1)
    column.addWidget(label)
    column.addWidget(key)
    column.addStretch(1)
    return both


def _text_box() -> QPlainTextEdit:
    box = QPlainTextEdit()
    box.setTabChangesFocus(True)
    box.setFixedHeight(box.fontMetrics().lineSpacing() * (PAIR_LINES + 1))
    return box


def _show_option(box: QComboBox, words: str) -> None:
    """Choose `words`, also where they are none of what may be chosen: a mistake of the file stays to be seen."""
    place = box.findData(words)
    if place < 0:
        box.addItem(words, words)
        place = box.count() - 1
    box.setCurrentIndex(place)
