"""Correcting on the page that looks back: strike a repetition, move its phases, take a correction back. By keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QLineEdit, QPushButton, QWidget

from weightshare.errors import WeightshareError
from weightshare.practice.past.edit import Edit
from weightshare.practice.past.moment import Kind
from weightshare.practice.past.view import PastView
from weightshare.records.correction import LONGEST_REASON, Corrections
from weightshare.records.current import Wish
from weightshare.tongue import mark, say

if TYPE_CHECKING:
    from weightshare.window.pastpage import PastPage

FINE_S, COARSE_S = 0.01, 0.1
CHOSEN_KEYS = mark("X: strike   E: move its phases   U: take its newest correction back   Up, Down: next   Esc: list")
EDIT_KEYS = mark(
    "Up, Down: which edge   Left, Right: move it by 0.01 s, with Shift by 0.1 s   Enter: done   Esc: as it was"
)
STRIKE, MOVE = mark("Strike repetition {number}: it counts no more."), mark("Move phases of repetition {number}.")
UNDO = mark("Take correction {number} back: {words}")
NEEDED = mark("Say why, and who: name or initials.")
MOMENT = mark("One moment \u2026")
NOTHING = mark("Nothing of it was corrected.")


class ReasonForm(QFrame):
    """Asks why, and who; over the lower edge of the page."""

    kept, left = Signal(), Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self.title, self.wrong = QLabel(), QLabel()
        self.wrong.setObjectName("alert")
        self.reason, self.by = QLineEdit(), QLineEdit()
        self.reason.setMaxLength(LONGEST_REASON)
        self.by.setMaxLength(80)
        self.key, self.leaves = QPushButton(say("Keep it  (Enter)")), QPushButton(say("Leave it  (Esc)"))
        for button, signal in ((self.key, self.kept), (self.leaves, self.left)):
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _checked, signal=signal: signal.emit())
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.addWidget(self.title, 0, 0, 1, 4)
        for row, (words, box) in enumerate(((say("&Reason"), self.reason), (say("&Signed"), self.by)), 1):
            label = QLabel(words)
            label.setBuddy(box)
            grid.addWidget(label, row, 0)
            grid.addWidget(box, row, 1, 1, 3)
        grid.addWidget(self.wrong, 3, 0, 1, 2)
        grid.addWidget(self.leaves, 3, 2)
        grid.addWidget(self.key, 3, 3)
        grid.setColumnStretch(1, 1)
        for text in (self.title, self.wrong):
            text.setWordWrap(True)
            text.setTextFormat(Qt.TextFormat.PlainText)

    def ask(self, title: str) -> None:
        """Show it, the reason empty; who signed last stands there still."""
        self.title.setText(title)
        self.wrong.clear()
        self.reason.clear()
        self.free()
        self.show()
        self.raise_()
        self.reason.setFocus()

    def free(self, wrong: str = "") -> None:
        """Take what is typed again; `wrong` says why nothing came of it."""
        self.wrong.setText(wrong)
        for box in (self.reason, self.by):
            box.setEnabled(True)

    def hold(self) -> None:
        """Take nothing: what was asked for is being done."""
        self.wrong.setText(say(MOMENT))
        for box in (self.reason, self.by):
            box.setEnabled(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Escape leaves; no other key reaches the page."""
        event.accept()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.kept.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()


class Mender:
    """Takes the keys that correct, while `may` says that the clinician is here, and what may be kept."""

    def __init__(self, page: PastPage, may: Callable[[], bool]) -> None:
        self._page, self._may = page, may
        self.form = ReasonForm(page)
        self.form.kept.connect(self._keep)
        self.form.left.connect(self.leave)
        self._make: Callable[[str], tuple[Wish, ...]] | None = None
        """From a reason to what is to be corrected; None while nothing is asked."""
        self._is_waiting = False
        self._before: tuple[int, tuple[float, float]] | None = None
        """The number of the repetition, and what was shown, while it is corrected."""

    @property
    def may(self) -> bool:
        """Whether something may be corrected here and now."""
        return self._may()

    def keys(self, view: PastView) -> str:
        """Return what the keys do, in words; empty where they correct nothing."""
        if view.edit is not None:
            return say(EDIT_KEYS)
        moment = view.moment
        chosen = moment is not None and moment.kind in (Kind.REPETITION, Kind.STRUCK)
        return say(CHOSEN_KEYS) if chosen and self.may else ""

    def press(self, view: PastView, event: QKeyEvent) -> bool:
        """Do what a key means for corrections; return whether it meant something."""
        key, moment = Qt.Key(event.key()), view.moment
        if view.edit is not None:
            return self._press_in_edit(view, view.edit, event)
        if not self.may or moment is None or moment.kind not in (Kind.REPETITION, Kind.STRUCK):
            return False
        if key is Qt.Key.Key_U:
            self._ask_undo(view.past.corrections, moment.number)
        elif key in (Qt.Key.Key_X, Qt.Key.Key_Delete) and moment.kind is Kind.REPETITION:
            self._ask(say(STRIKE, number=moment.number), lambda reason: (Wish(reason, moment.number),))
        elif key is Qt.Key.Key_E and moment.kind is Kind.REPETITION:
            view.begin_edit()
        else:
            return False
        return True

    def _press_in_edit(self, view: PastView, edit: Edit, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        wide = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            edit.step(1 if key is Qt.Key.Key_Down else -1)
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            by_s = COARSE_S if wide else FINE_S
            edit.nudge(by_s if key is Qt.Key.Key_Right else -by_s)
            view.show_edit()
        elif key is Qt.Key.Key_Escape or (key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not edit.wishes("?")):
            view.end_edit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._ask(say(MOVE, number=edit.moment.number), edit.wishes)
        return True

    def _ask_undo(self, corrections: Corrections, number: int) -> None:
        mine = [k for k, one in corrections.in_force.items() if one.repetition == number]
        if not mine:
            self._page.head.show_words(self._page.head.title, say(NOTHING))
            return
        words = corrections.in_force[mine[-1]].words
        self._ask(say(UNDO, number=mine[-1], words=words), lambda reason: (Wish(reason, undoes=mine[-1]),))

    def _ask(self, title: str, make: Callable[[str], tuple[Wish, ...]]) -> None:
        self._make = make
        self.form.ask(title)
        self.fit()

    def _keep(self) -> None:
        """Have it corrected, once there are a reason and a name, and the clinician is still here."""
        view, make = self._page.view, self._make
        if view is None or make is None or self._is_waiting:
            return
        reason, by = self.form.reason.text().strip(), self.form.by.text().strip()
        if not self.may:
            self.leave()
        elif not reason or not by:
            self.form.wrong.setText(say(NEEDED))
            (self.form.by if reason else self.form.reason).setFocus()
        else:
            moment = view.moment
            self._before = (0 if moment is None else moment.number), view.span_s
            self._is_waiting = True
            self.form.hold()
            self._page.runner.correct(view.past.folder, make(reason), by)

    def leave(self) -> None:
        """Ask nothing any more; what is being done is waited for."""
        if not self._is_waiting:
            self._make = None
            self.form.hide()
            self._page.setFocus()

    def take(self, view: PastView) -> None:
        """The session came back as it is now: show what was shown of it."""
        if not self._is_waiting or self._before is None:
            return
        (number, span_s), self._before, self._is_waiting = self._before, None, False
        kinds = (Kind.REPETITION, Kind.STRUCK)
        places = [k for k, one in enumerate(view.table.moments) if one.kind in kinds and one.number == number]
        view.chosen = places[0] if places else None
        view.show(*span_s)
        try:
            self._page.kept()
        except WeightshareError as error:
            # it lies in the folder that is shown, and not where it is kept
            self.form.free(str(error))
        else:
            self.leave()

    def refuse(self, said: str) -> bool:
        """Say why nothing came of it; return whether something was being corrected."""
        was, self._is_waiting = self._is_waiting, False
        if was:
            self.form.free(said)
            self.form.reason.setFocus()
        return was

    def fit(self) -> None:
        """Take the lower part of the page."""
        page, size = self._page, max(13, self._page.height() // 54)
        self.form.setStyleSheet(f"QLabel, QLineEdit, QPushButton {{ font-size: {round(size * 1.15)}px; }}")
        wide = min(page.width() - 4 * size, size * 62)
        high = self.form.sizeHint().height()
        self.form.setGeometry((page.width() - wide) // 2, page.height() - high - size * 4, wide, high)
