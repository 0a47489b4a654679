"""What stands before the list of patients: the store's passphrase, or the making of a store where there is none."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.tongue import mark, say

OPEN_TITLE, MAKE_TITLE = mark("The store of patients is sealed"), mark("There is no store of patients yet")
OPEN_WORDS = mark("Its passphrase opens it until this screen is locked or the window is closed.")
MAKE_WORDS = mark(
    "A store keeps patients and their sessions on this computer alone. With a passphrase all of it is sealed: who"
    " loses the passphrase loses everything in the store, and nobody can bring it back. Without one it lies open to"
    " whoever may read your files. That is chosen once, now."
)
DIFFER = mark("The two are not the same.")


class PatientGate(QWidget):
    """Asks for a passphrase, and says what is wrong with one. It keeps nothing."""

    opens = Signal(str)
    makes = Signal(str)
    """The passphrase of a new store; empty: it is not sealed."""

    def __init__(self) -> None:
        super().__init__()
        self._is_new = False
        self.title, self.words, self.place, self.wrong = QLabel(), QLabel(), QLabel(), QLabel()
        self.wrong.setObjectName("alert")
        self.place.setObjectName("hint")
        self.first, self.second = QLineEdit(), QLineEdit()
        label, self.again = QLabel(say("&Passphrase")), QLabel(say("The same &again"))
        label.setBuddy(self.first)
        self.again.setBuddy(self.second)
        for box in (self.first, self.second):
            box.setEchoMode(QLineEdit.EchoMode.Password)
            box.setMaxLength(200)
            box.returnPressed.connect(self.go)
        self.key = QPushButton()
        self.key.setObjectName("key")
        self.key.clicked.connect(lambda _checked: self.go())
        column = QVBoxLayout(self)
        column.addStretch(1)
        for widget in (self.title, self.words, label, self.first, self.again, self.second, self.wrong):
            column.addWidget(widget)
        column.addWidget(self.key, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.place)
        column.addStretch(1)
        for text in (self.words, self.wrong, self.place):
            text.setWordWrap(True)
            text.setTextFormat(Qt.TextFormat.PlainText)

    def ask(self, place: Path, *, is_new: bool) -> None:
        """Ask for the passphrase of the store in `place`, or of one that is to be made there."""
        self._is_new = is_new
        self.title.setText(say(MAKE_TITLE) if is_new else say(OPEN_TITLE))
        self.words.setText(say(MAKE_WORDS) if is_new else say(OPEN_WORDS))
        self.key.setText(say("Make it  (Enter)") if is_new else say("Open it  (Enter)"))
        self.place.setText(str(place))
        for widget in (self.again, self.second):
            widget.setVisible(is_new)
        self.free("")

    def free(self, wrong: str) -> None:
        """Let somebody type, after saying what was wrong."""
        for box in (self.first, self.second):
            box.setEnabled(True)
            box.clear()
        self.wrong.setText(wrong)
        self.first.setFocus()

    def go(self) -> None:
        """Hand over what was typed, and wait."""
        typed = self.first.text()
        if not self.first.isEnabled() or (not self._is_new and not typed):
            return
        if self._is_new and typed != self.second.text():
            self.wrong.setText(say(DIFFER))
            self.second.setFocus()
            return
        self.wrong.setText(say("One moment \u2026"))
        for box in (self.first, self.second):
            box.setEnabled(False)
        (self.makes if self._is_new else self.opens).emit(typed)

    def fit(self, text: int) -> None:
        """Take letters of so many pixels."""
        self.title.setStyleSheet(f"font-size: {round(text * 1.8)}px; font-weight: 600;")
        self.key.setMinimumSize(text * 14, text * 3)
