"""The page with all patients: looked for by any word, opened, added to. By keys alone."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from weightshare.practice.clinic.roll import Index, Row, newest_first, with_last
from weightshare.tongue import mark, plural, say
from weightshare.window.cover import Cover
from weightshare.window.patientgate import PatientGate
from weightshare.window.patienttable import ENTER, Rows, Table

TICK_MS = 30
TITLE = mark("Patients")
HINT = mark("Type to look for a code, a name, a side, a stage or a day. Up and Down choose, Enter opens, Esc leaves.")
HEADS = (mark("Code"), mark("Name"), mark("Side"), mark("Stage"), mark("Sessions"), mark("Last session"))
NONE = mark("There are no patients yet. Add one (Alt+A).")
NOT_FOUND = mark("Nobody is found by these words.")
NAMED, COUNTED = 1, 4
MOVES = Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown


class PatientList(Cover):
    """Covers its parent with the list, or with what stands before it. It asks, and shows what it is given."""

    chosen = Signal(object)
    """The Patient that is to be seen."""
    add_asked, nobody_asked = Signal(), Signal()
    ticked = Signal()

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget]) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self._index, self._found = Index(()), ()
        self._is_newest_first = False
        self.title, self.said, self.hint = QLabel(say(TITLE)), QLabel(), QLabel(say(HINT))
        self.said.setObjectName("alert")
        self.hint.setObjectName("hint")
        self.count = QLabel()
        self.count.setObjectName("hint")
        self.words = QLineEdit()
        self.table = Table(Rows([say(head) for head in HEADS], (COUNTED,)), (NAMED,))
        self.gate, self.stack = PatientGate(), QStackedWidget()
        self.key, self.add = QPushButton(say("Open  (Enter)")), QPushButton(say("&Add a patient \u2026"))
        self.order, self.nobody = QPushButton(), QPushButton()
        self._lay_out()
        self._connect()

    _found: tuple[Row, ...]

    def _lay_out(self) -> None:
        self.key.setObjectName("key")
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        look = QLabel(say("&Look for"))
        look.setBuddy(self.words)
        top, row = QHBoxLayout(), QHBoxLayout()
        for widget in (look, self.words, self.count, self.order):
            top.addWidget(widget, 1 if widget is self.words else 0)
        for button in (self.key, self.add, self.nobody):
            row.addWidget(button)
        row.addStretch(1)
        listing = QWidget()
        inner = QVBoxLayout(listing)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addLayout(top)
        inner.addWidget(self.table, 1)
        inner.addLayout(row)
        inner.addWidget(self.hint)
        self.stack.addWidget(listing)
        self.stack.addWidget(self.gate)
        column = QVBoxLayout(self)
        for above in (self.title, self.said):
            column.addWidget(above)
        column.addWidget(self.stack, 1)
        self._column, self._listing = column, listing

    def _connect(self) -> None:
        self.words.textChanged.connect(lambda _text: self._look())
        self.table.opened.connect(self._open)
        self.key.clicked.connect(lambda _checked: self._open(self.table.row))
        self.add.clicked.connect(lambda _checked: self.add_asked.emit())
        self.order.clicked.connect(lambda _checked: self._turn())
        self.nobody.clicked.connect(lambda _checked: self.nobody_asked.emit())

    def open_page(self, practising: str) -> None:
        """Cover the parent; `practising`: the code of whom is practised with now, empty for nobody."""
        self.nobody.setText(say("Practise witho&ut {code}", code=practising))
        self.nobody.setVisible(bool(practising))
        self.words.clear()
        self.show_rows(())
        self.say(say("One moment \u2026"))
        self.stack.setCurrentWidget(self._listing)
        self._cover()
        self._timer.start()
        self.words.setFocus()

    def tick(self) -> None:
        """Take what was done meanwhile."""
        self.ticked.emit()

    def say(self, text: str) -> None:
        """Say what goes on, or what went wrong; empty: nothing."""
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def show_gate(self, *, is_new: bool) -> None:
        """Ask for a passphrase in place of the list."""
        self.say("")
        self.stack.setCurrentWidget(self.gate)
        self.gate.setFocus()

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show these patients, by code."""
        self._index = Index(rows)
        self._is_newest_first = False
        self.stack.setCurrentWidget(self._listing)
        self.say("" if rows else say(NONE))
        self._look()

    def show_last(self, last: dict[str, str]) -> None:
        """Show when each was seen last; who is chosen stays chosen."""
        self._index = Index(with_last(self._index.rows, last))
        self._look()

    def _turn(self) -> None:
        self._is_newest_first = not self._is_newest_first
        self._look()
        self.words.setFocus()

    def _look(self) -> None:
        kept = self._chosen()
        found = self._index.find(self.words.text())
        self._found = newest_first(found) if self._is_newest_first else found
        codes = [row.patient.id for row in self._found]
        place = codes.index(kept.patient.id) if kept is not None and kept.patient.id in codes else 0
        self.table.show_rows([row.cells for row in self._found], place)
        self.count.setText(plural("{n} patient", "{n} patients", len(self._found)))
        self.order.setText(say("By c&ode") if self._is_newest_first else say("&Newest first"))
        self.key.setEnabled(bool(self._found))
        if self._index.rows:
            self.say("" if self._found else say(NOT_FOUND))

    def _chosen(self) -> Row | None:
        row = self.table.row
        return self._found[row] if 0 <= row < len(self._found) else None

    def _open(self, row: int) -> None:
        if 0 <= row < len(self._found):
            self.chosen.emit(self._found[row].patient)

    def leave(self) -> None:
        """Give the window back."""
        if self.is_open:
            self._uncover()
        # nobody's name stays on a page that is not looked at
        self._index, self._found = Index(()), ()
        self.table.show_rows(())
        self.words.clear()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text = max(14, size.height() // 46)
        self._column.setContentsMargins(*(max(20, size.width() // 24), text) * 2)
        self._column.setSpacing(text // 2)
        self.setStyleSheet(f"QLabel, QLineEdit, QTableView, QHeaderView, QPushButton {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {round(text * 1.6)}px; font-weight: 600;")
        self.key.setMinimumHeight(round(text * 2.6))
        self.gate.fit(text)
        self.table.fit_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down choose from the field too, Enter opens, Escape leaves, and letters are looked for."""
        key = Qt.Key(event.key())
        event.accept()
        if key is Qt.Key.Key_Escape:
            self.leave()
            self.closed.emit()
        elif self.stack.currentWidget() is self._listing and key in MOVES:
            self.table.keyPressEvent(event)
        elif self.stack.currentWidget() is self._listing and key in ENTER:
            focus = self.focusWidget()
            focus.click() if isinstance(focus, QPushButton) else self._open(self.table.row)
        elif self.stack.currentWidget() is self._listing and _is_letter(event):
            # whoever types is looking for somebody, wherever the keyboard is
            self.words.setFocus()
            self.words.insert(event.text())


def _is_letter(event: QKeyEvent) -> bool:
    """Return whether a key was pressed that somebody types words with."""
    is_plain = event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier == Qt.KeyboardModifier.NoModifier
    return is_plain and bool(event.text().strip()) and event.text().isprintable()
