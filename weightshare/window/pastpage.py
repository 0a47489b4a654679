"""The page over a practice window that looks back at saved sessions: a list of them, and one of them as a picture."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.practice.message import retell
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.past.view import PastView
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.cover import Cover
from weightshare.window.lettering import Line
from weightshare.window.pastfact import PastFacts
from weightshare.window.pastlist import PastList
from weightshare.window.pastmend import Mender
from weightshare.window.pastpile import PastPile
from weightshare.window.pastplane import PastPlane
from weightshare.window.pastrunner import PastRunner, nothing
from weightshare.window.pasttable import PastTable
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

TICK_MS = 15
ZOOM, MOVE, CURSOR = 1.5, 0.2, 0.01
LIST_KEYS = mark("Up, Down: choose   Enter: open   Esc: leave")
PICTURE_KEYS = mark(
    "+ \u2212: zoom   Left, Right: move   Up, Down: next repetition, hold or limit   0: all   , .: cursor   Esc: list"
)
OPENING, LOOKING = mark("Opening \u2026"), mark("Looking for sessions \u2026")


class PastHead(Painted):
    """Paints what session it is, and the readings at the cursor or what the keys do."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.text_px, self.title, self.reading = 14, "", ""

    def show_words(self, title: str, reading: str) -> None:
        """Show these."""
        if (title, reading) != (self.title, self.reading):
            self.title, self.reading = title, reading
            self.refresh()

    def lay_out(self) -> list[Line]:
        """Return both lines."""
        size, width = self.text_px, float(self.width())
        over = QRectF(0, 0, width, size * 1.9 if self.title else 0.0)
        below = QRectF(0, over.bottom(), width, size * 1.4)
        return [
            lettering.lay("title", self.title, over, round(size * 1.3), self.theme.ink, bold=True),
            lettering.lay("reading", self.reading, below, size, self.theme.quiet),
        ]


class PastPage(Cover):
    """Covers its parent from `open_page` until `closed`."""

    def __init__(self, parent: QWidget, board: QWidget, others: Sequence[QWidget], theme: Theme) -> None:
        super().__init__(parent, board, others, TICK_MS)
        self.runner, self._place = PastRunner(), Path()
        self.view: PastView | None = None
        """The session that is looked at; None: the list is shown."""
        self._straight = False
        """A session was asked for by name: leaving it leaves the page."""
        self.kept: Callable[[], None] = nothing
        """What is to be done once the session was corrected."""
        self.is_clinicians: Callable[[], bool] = lambda: False
        """Whether the clinician is at the screen, who alone corrects."""
        self._may_keep = True
        self.mender = Mender(self, lambda: self._may_keep and self.is_clinicians())
        self.head, self.list = PastHead(theme, self), PastList(theme, self)
        self.plane, self.table = PastPlane(theme, self), PastTable(theme, self)
        self.pile, self.facts = PastPile(theme, self), PastFacts(theme, self)
        self.foot = PastHead(theme, self)
        self.leave_key = QPushButton(say("&Back  (Esc)"), self)
        self.leave_key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.leave_key.clicked.connect(lambda _checked: self.back())
        self.list.opened.connect(self._open)
        self.plane.changed.connect(self._show)
        self.table.chosen.connect(self._choose)

    def _painted(self) -> tuple[PastHead | PastList | PastPlane | PastTable | PastPile | PastFacts, ...]:
        return self.head, self.list, self.plane, self.table, self.pile, self.facts, self.foot

    def open_page(self, wanted: Wanted, theme: Theme, wait_until_free: Callable[[], None] = nothing) -> None:
        """Cover the parent with the sessions of a folder, or at once with one of them.

        `wait_until_free` is called on another thread; it returns when what is being recorded was brought to its end.
        """
        for part in self._painted():
            part.set_theme(theme)
        self.view, self._place, self._straight = None, wanted.place, wanted.session is not None
        self.kept, self._may_keep = wanted.kept or nothing, wanted.session is None or wanted.kept is not None
        self.mender.form.hide()
        self.list.say("")
        self._cover()
        self.setFocus()
        self._timer.start()
        self.list.show_entries((), wanted.place)
        if wanted.session is None:
            self.list.say(say(LOOKING))
            self.runner.search(wanted.place, wait_until_free)
        else:
            self.list.say(say(OPENING))
            self.runner.open(wanted.session)
        self._fit_parts()

    def tick(self) -> None:
        """Take what was found or opened."""
        runner = self.runner
        if runner.entries is not None:
            self.list.show_entries(runner.entries, self._place)
            runner.entries = None
            if self.list.said == say(LOOKING):
                self.list.say("")
        if runner.past is not None:
            self.view, runner.past = PastView(runner.past), None
            self.list.say("")
            self.mender.take(self.view)
            self._fit_parts()
            self._show()
        elif runner.trouble and self.mender.refuse(runner.trouble):
            runner.trouble = ""
        elif runner.trouble:
            self.list.say(runner.trouble)
            runner.trouble = ""
            if self._straight:
                self._straight = False
                runner.search(self._place)

    def _open(self, place: int) -> None:
        entry = self.list.entries[place]
        if entry.trouble:
            self.list.say(f"{entry.folder.name}: {retell(entry.trouble)}")
        elif self.list.said != say(OPENING):
            self.list.say(say(OPENING))
            self.runner.open(entry.folder)

    def _choose(self, place: int) -> None:
        if self.view is not None and self.view.edit is None:
            self.view.choose(place)
            self._show()

    def _show(self) -> None:
        """Bring all parts up to date."""
        view = self.view
        if view is None:
            return
        self.head.show_words(view.title, view.reading())
        self.plane.show_view(view)
        self.table.show_view(view)
        self.pile.show_view(view)
        self.facts.show_view(view)
        self.foot.show_words("", self.mender.keys(view) or say(PICTURE_KEYS))
        self._fit_facts()

    def back(self) -> None:
        """From a session to the list; from the list, or from a session that was asked for by name, away."""
        if self.view is not None and not self._straight:
            self.view = None
            self.runner.search(self._place)
            self._fit_parts()
        else:
            self.view = None
            self._uncover()

    def shut(self) -> None:
        """Go away from wherever it is: the clinician is not here any more."""
        self.mender.leave()
        self.view = None
        self._uncover()

    def _uncover(self) -> None:
        super()._uncover()
        self.closed.emit()

    def leave(self) -> bool:
        """Wait for what was begun; return whether it is done."""
        self._timer.stop()
        self.runner.wait()
        return not self.runner.is_busy

    def fit(self) -> None:
        """Take the parent's size."""
        self.resize(self._covered.size())
        self._fit_parts()

    def _fit_parts(self) -> None:
        """Lay the parts of the list, or of a session's picture."""
        size, picture = max(13, self.height() // 54), self.view is not None
        width, height, margin = self.width(), self.height(), size
        for part in self._painted():
            # the list has the page to itself
            part.text_px = round(size * 1.2) if part is self.list else size
            part.refresh()
        low = height - round(size * 2.4)
        side = min(round(width * 0.36), size * 40)
        left = width - side - margin
        top = margin // 2 + round(size * 3.4)
        self.head.setGeometry(margin, margin // 2, width - 2 * margin, round(size * 3.4))
        self.list.setGeometry(margin * 2, margin, width - 4 * margin, low - 2 * margin)
        self.plane.setGeometry(margin, top, left - 2 * margin, low - top)
        rows = low - top
        self.table.setGeometry(left, top, side, round(rows * 0.40))
        self.pile.setGeometry(left, top + round(rows * 0.42), side, round(rows * 0.34))
        self._fit_facts()
        self.mender.fit()
        self.leave_key.adjustSize()
        key = self.leave_key.sizeHint()
        self.leave_key.setGeometry(width - key.width() - margin, height - key.height() - 4, key.width(), key.height())
        self.foot.setGeometry(margin, low + 2, width - key.width() - 3 * margin, round(size * 1.9))
        self.foot.show_words("", say(PICTURE_KEYS) if picture else say(LIST_KEYS))
        for part in (self.head, self.plane, self.table, self.pile, self.facts):
            part.setVisible(picture)
        self.list.setVisible(not picture)

    def _fit_facts(self) -> None:
        """Lay the facts below the table, and below what lies over each other where something does."""
        above = self.pile if self.pile.overlays else self.table
        top = above.geometry().bottom() + self.facts.text_px
        room = QRect(above.x(), top, above.width(), self.plane.geometry().bottom() - top)
        if room != self.facts.geometry():
            self.facts.setGeometry(room)
            self.facts.refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """All that can be done; no key reaches the window below."""
        event.accept()
        key = Qt.Key(event.key())
        if self.view is not None and self.mender.press(self.view, event):
            self._show()
        elif key is Qt.Key.Key_Escape:
            if not event.isAutoRepeat():
                self.back()
        elif self.view is None:
            self._press_in_list(key)
        else:
            self._press_in_picture(self.view, key, event.text())
            self._show()

    def _press_in_list(self, key: Qt.Key) -> None:
        steps = {
            Qt.Key.Key_Up: -1,
            Qt.Key.Key_Down: 1,
            Qt.Key.Key_PageUp: -self.list.count,
            Qt.Key.Key_PageDown: self.list.count,
            Qt.Key.Key_Home: -len(self.list.entries),
            Qt.Key.Key_End: len(self.list.entries),
        }
        if key in steps:
            self.list.choose(self.list.chosen + steps[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self.list.entries:
            self._open(self.list.chosen)

    def _press_in_picture(self, view: PastView, key: Qt.Key, text: str) -> None:
        moves = {
            Qt.Key.Key_Left: -MOVE,
            Qt.Key.Key_Right: MOVE,
            Qt.Key.Key_PageUp: -1.0,
            Qt.Key.Key_PageDown: 1.0,
            Qt.Key.Key_Home: -1e9,
            Qt.Key.Key_End: 1e9,
        }
        if key in moves:
            view.move(moves[key])
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            view.step(1 if key is Qt.Key.Key_Down else -1)
        elif text in ("+", "=", "-", "\u2212"):
            # what is at the cursor stays where it is
            seen = view.cursor_s if view.cursor_s and view.span_s[0] <= view.cursor_s <= view.span_s[1] else None
            view.zoom(1.0 / ZOOM if text in ("+", "=") else ZOOM, seen)
        elif text in (",", "."):
            view.move_cursor(CURSOR if text == "." else -CURSOR)
        elif text == "0":
            view.show_whole()
