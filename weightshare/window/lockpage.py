"""The page of the clinician's passphrase: set it the first time, unlock with it later."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.practice.message import retell
from weightshare.practice.role import Keeper, Role
from weightshare.records.passphrase import forgotten_words, is_passphrase, set_passphrase
from weightshare.tongue import mark, say
from weightshare.window.cover import Cover
from weightshare.window.errand import Errands

TICK_MS = 50
SET_TITLE, UNLOCK_TITLE = mark("Leave this screen to a patient"), mark("For the clinician")
SET_WORDS = mark(
    "Set a passphrase. With it you unlock stage, target, limit of load and side; without it a patient practises "
    "what you have set, and nothing else. Then choose what is to be done, and press F3 to lock."
)
PATIENTS_TITLE = mark("Patients: for the clinician")
SET_FOR_PATIENTS = mark(
    "No passphrase is set on this computer yet. Set the clinician's here, and the patients open. From then on it is "
    "asked for before anybody sees them, and F3 locks the screen with it for a patient."
)
UNLOCK_PATIENTS = mark("The clinician's passphrase opens the patients.")
UNLOCK_WORDS = mark("Stage, target, limit of load and side are locked. The passphrase unlocks them.")
VOID_WORDS = mark("Nothing is set to be done here yet. The clinician unlocks, and sets it.")
SAME, WRONG, LOOKING = mark("The two are not the same."), mark("That is not the passphrase."), mark("One moment \u2026")


class LockPage(Cover):
    """Covers its parent until the passphrase was given, or until it is left; `keeper` is told of each try."""

    unlocked = Signal()

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget], keeper: Keeper) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self._keeper, self._errands = keeper, Errands("weightshare-passphrase", say("Try it again."))
        self._right: bool | None = None
        self._is_void = False
        self.title, self.words, self.wrong, self.forgotten = QLabel(), QLabel(), QLabel(), QLabel()
        self.wrong.setObjectName("alert")
        self.forgotten.setObjectName("hint")
        self.first, self.second = QLineEdit(), QLineEdit()
        self.again = QLabel(say("The same &again"))
        self.again.setBuddy(self.second)
        self.key, self.leaves = QPushButton(), QLabel(say("Esc goes back."))
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        label = QLabel(say("&Passphrase"))
        label.setBuddy(self.first)
        for box in (self.first, self.second):
            box.setEchoMode(QLineEdit.EchoMode.Password)
            box.setMaxLength(200)
        self.leaves.setObjectName("hint")
        self.key.setObjectName("key")
        self.key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.key.clicked.connect(lambda _checked: self.go())
        column.addStretch(1)
        for widget in (self.title, self.words, label, self.first, self.again, self.second, self.wrong):
            column.addWidget(widget)
        column.addWidget(self.key, 0, Qt.AlignmentFlag.AlignLeft)
        for hint in (self.leaves, self.forgotten):
            column.addWidget(hint)
        column.addStretch(1)
        for text in (self.title, self.words, self.wrong, self.forgotten):
            text.setWordWrap(True)
            text.setTextFormat(Qt.TextFormat.PlainText)
        self._column = column

    @property
    def is_first(self) -> bool:
        """Whether a passphrase is being set."""
        return self._keeper.role is Role.OPEN

    def open_page(self, *, is_void: bool = False, for_patients: bool = False) -> None:
        """Cover the parent. `is_void`: there is nothing to go back to; `for_patients`: they are behind this page."""
        self._right, self._is_void = None, is_void
        self._errands.trouble = ""
        for box in (self.first, self.second):
            box.clear()
            box.setEnabled(True)
        title, words = self._why(is_void=is_void, for_patients=for_patients)
        self.title.setText(title)
        self.words.setText(words)
        self.key.setText(say("Set it  (Enter)") if self.is_first else say("Unlock  (Enter)"))
        self.forgotten.setText(retell(forgotten_words()))
        self.again.setVisible(self.is_first)
        self.second.setVisible(self.is_first)
        self.leaves.setVisible(not is_void)
        self.wrong.setText("")
        self._cover()
        self._timer.start()
        self.first.setFocus()

    def _why(self, *, is_void: bool, for_patients: bool) -> tuple[str, str]:
        """Return title and words: why this page is here, and what the passphrase does."""
        if for_patients:
            return say(PATIENTS_TITLE), say(SET_FOR_PATIENTS) if self.is_first else say(UNLOCK_PATIENTS)
        if self.is_first:
            return say(SET_TITLE), say(SET_WORDS)
        return say(UNLOCK_TITLE), say(VOID_WORDS) if is_void else say(UNLOCK_WORDS)

    def go(self) -> None:
        """Set the passphrase, or try it, in the background: it takes a moment on purpose."""
        said, wait_s = self.first.text(), self._keeper.wait_s(time.monotonic())
        if self._errands.is_busy:
            return
        if wait_s > 0.0:
            self.wrong.setText(say("Too many wrong ones: the next try in {wait:.0f} s.", wait=wait_s))
        elif self.is_first and said != self.second.text():
            self.wrong.setText(say(SAME))
            self.second.setFocus()
        elif said:
            self.wrong.setText(say(LOOKING))
            self._errands.trouble = ""
            work: Callable[[], None] = partial(self._set, said) if self.is_first else partial(self._try, said)
            for box in (self.first, self.second):
                box.setEnabled(False)
            self._errands.hand_over(work)

    def _set(self, said: str) -> None:
        set_passphrase(said)
        self._right = True

    def _try(self, said: str) -> None:
        self._right = is_passphrase(said)

    def tick(self) -> None:
        """Take what came of a try."""
        if self.first.isEnabled() or self._errands.is_busy:
            return
        right, self._right = self._right, None
        for box in (self.first, self.second):
            box.setEnabled(True)
        if right is not None:
            self._keeper.take_try(time.monotonic(), right=right)
        if right:
            self.leave()
            self.unlocked.emit()
            return
        self.wrong.setText(self._errands.trouble or say(WRONG))
        self.first.setFocus()
        self.first.selectAll()

    def leave(self) -> None:
        """Give the window back, and forget what was typed."""
        self._errands.wait()
        for box in (self.first, self.second):
            box.clear()
        if self.is_open:
            self._uncover()

    def fit(self) -> None:
        """Take the parent's size, and letters to go with it."""
        size = self._covered.size()
        self.resize(size)
        text, side = max(15, size.height() // 34), max(24, size.width() // 6)
        self._column.setContentsMargins(side, 16, side, 16)
        self._column.setSpacing(text // 2)
        self.setStyleSheet(f"QLabel, QLineEdit {{ font-size: {text}px; }}")
        self.title.setStyleSheet(f"font-size: {text * 2}px; font-weight: 600;")
        self.key.setMinimumSize(text * 14, text * 3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter tries, Escape goes back where there is something to go back to."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.go()
        elif event.key() == Qt.Key.Key_Escape and not self._is_void and not self._errands.is_busy:
            self.leave()
            self.closed.emit()
        event.accept()
