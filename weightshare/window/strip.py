"""The strip over the board: the stage's name, what it asks for in plain words, and keys that lead further."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout

from weightshare.tongue import mark, say

STAGES, TELL = mark("Stages (F&2)"), mark("How it is (F&4)")
PATIENTS = mark("Patients (F&6)")
LOCK = {"open": mark("For a patient (F&3)"), "clinician": mark("Lock (F&3)"), "patient": mark("Clinician (F&3)")}


class StageStrip(QFrame):
    """A name in large letters, a line below it, and five keys. It keeps nothing."""

    stages_asked, lock_asked, tell_asked, patients_asked = Signal(), Signal(), Signal(), Signal()
    home_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("strip")
        self.name, self.asked = QLabel(), QLabel()
        self.name.setObjectName("stage")
        self.asked.setObjectName("asked")
        self.asked.setWordWrap(True)
        for label in (self.name, self.asked):
            label.setTextFormat(Qt.TextFormat.PlainText)
        # a name that is too long is cut, and does not widen the window
        self.name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        column, row = QVBoxLayout(self), QHBoxLayout()
        column.setContentsMargins(16, 6, 16, 2)
        column.setSpacing(0)
        row.setSpacing(6)
        column.addLayout(row)
        column.addWidget(self.asked)
        row.addWidget(self.name, 1)
        self.tell, self.stages, self.lock = QPushButton(say(TELL)), QPushButton(say(STAGES)), QPushButton()
        self.patients, self.home = QPushButton(say(PATIENTS)), QPushButton()
        for button, signal in (
            (self.tell, self.tell_asked),
            (self.patients, self.patients_asked),
            (self.home, self.home_asked),
            (self.stages, self.stages_asked),
            (self.lock, self.lock_asked),
        ):
            button.clicked.connect(lambda _checked, signal=signal: signal.emit())
            # its key is enough, and Space stays that of the big key
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            row.addWidget(button)

    def show_home(self, text: str, *, shown: bool) -> None:
        """Say how practice at home is set; only to whom may set it."""
        if self.home.text() != text:
            self.home.setText(text)
        if self.home.isHidden() is shown:
            self.home.setVisible(shown)

    def say(self, name: str, asked: str, role: str, *, may_set: bool) -> None:
        """Show these words, and the keys that `role` has."""
        for label, text in ((self.name, name), (self.asked, asked)):
            if label.text() != text:
                label.setText(text)
                label.setToolTip(text)
                label.setVisible(bool(text))
        if self.lock.text() != say(LOCK[role]):
            self.lock.setText(say(LOCK[role]))
        for button in (self.stages, self.patients):
            button.setVisible(may_set)
