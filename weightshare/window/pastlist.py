"""The saved sessions to choose from, newest first."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from weightshare.practice.message import retell
from weightshare.practice.past.shelf import Entry
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

ROW = 1.9
NOTCH = 120
TITLE, NONE = mark("Look back at a session"), mark("No session is saved in this folder yet.")
WHEN = "0000-00-00 00:00  "
HEADS = (mark("Began"), mark("What"), mark("Share"), mark("Done"), mark("Length"))
FIGURES = 7.0
"""So wide is each of the three columns of figures, in letter sizes."""
RIGHT = Qt.AlignmentFlag.AlignRight


class PastList(Painted):
    """Paints the entries about the chosen one. A click opens one; the wheel rolls."""

    opened = Signal(int)
    """The place of the entry that was clicked."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.text_px = 14
        self.entries: tuple[Entry, ...] = ()
        self.place: Path | None = None
        self.chosen = self.first = 0
        self.said = ""
        """What went wrong, or is going on."""

    def show_entries(self, entries: tuple[Entry, ...], place: Path) -> None:
        """Show the sessions of `place`; the one that was chosen stays chosen."""
        kept = self.entries[self.chosen].folder if self.entries else None
        self.entries, self.place = entries, place
        found = [k for k, entry in enumerate(entries) if entry.folder == kept]
        self.chosen = found[0] if found else 0
        self.choose(self.chosen)

    def choose(self, place: int) -> None:
        """Choose the entry at `place`, or the nearest there is."""
        self.chosen = min(max(place, 0), max(0, len(self.entries) - 1))
        self.first = min(max(self.first, self.chosen - self.count + 1), self.chosen)
        self.refresh()

    def say(self, text: str) -> None:
        """Say `text` under the title."""
        if text != self.said:
            self.said = text
            self.refresh()

    @property
    def count(self) -> int:
        """How many entries are seen at a time."""
        return max(1, int((self.height() - self._top()) / (self.text_px * ROW)))

    def _top(self) -> float:
        return self.text_px * 8.0

    def row_room(self, place: int) -> QRectF:
        """Return where the entry at `place` lies, seen or not."""
        high = self.text_px * ROW
        return QRectF(0, self._top() + (place - self.first) * high, self.width(), high)

    def lay_out(self) -> list[Line]:
        """Return title, folder, what is said, and the entries that are seen."""
        size, theme, width = self.text_px, self.theme, float(self.width())
        title = QRectF(0, 0, width, size * 2.6)
        lines = [lettering.lay("list", say(TITLE), title, round(size * 1.7), theme.ink, bold=True)]
        where = "" if self.place is None else say("in {place}", place=self.place)
        lines.append(lettering.lay("place", where, QRectF(0, size * 2.7, width, size * 1.5), size, theme.quiet))
        said = self.said or ("" if self.entries or self.place is None else say(NONE))
        lines.append(lettering.lay("said", said, QRectF(0, size * 4.3, width, size * 1.8), size, theme.outside))
        seen = range(self.first, min(len(self.entries), self.first + self.count))
        return [*lines, *self._heads(), *(line for k in seen for line in self._row(k))]

    def _heads(self) -> list[Line]:
        if not self.entries:
            return []
        high = self.text_px * 1.5
        rooms = self._columns(QRectF(0, self._top() - high, self.width(), high))
        sides = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignLeft, RIGHT, RIGHT, RIGHT
        return [
            lettering.lay(f"head {head}", say(head), room, self.text_px, self.theme.quiet, align=side)
            for head, room, side in zip(HEADS, rooms, sides, strict=True)
        ]

    def _columns(self, room: QRectF) -> tuple[QRectF, ...]:
        """Return where each column of a row that lies in `room` lies: when, what, and three of figures."""
        size, inner = self.text_px, room.adjusted(self.text_px * 0.6, 0, -self.text_px * 0.6, 0)
        when, figure = lettering.width_of(WHEN, size, bold=True), size * FIGURES
        what = QRectF(inner.left() + when, inner.top(), inner.width() - when - 3 * figure, inner.height())
        figures = (QRectF(what.right() + k * figure, inner.top(), figure, inner.height()) for k in range(3))
        return QRectF(inner.left(), inner.top(), when, inner.height()), what, *figures

    def _row(self, place: int) -> list[Line]:
        entry, size, theme = self.entries[place], self.text_px, self.theme
        when, what, *figures = self._columns(self.row_room(place))
        lines = [lettering.lay(f"when {place}", entry.when, when, size, theme.ink, bold=True)]
        if entry.trouble:
            return [*lines, *self._troubled(place, entry, what.united(figures[-1]))]
        lines.append(lettering.lay(f"what {place}", entry.what, what, size, theme.ink))
        told = zip(("share", "done", "length"), (entry.share, entry.done, entry.length), figures, strict=True)
        return [
            *lines,
            *(lettering.lay(f"{name} {place}", text, room, size, theme.ink, align=RIGHT) for name, text, room in told),
        ]

    def _troubled(self, place: int, entry: Entry, room: QRectF) -> list[Line]:
        """Return what was asked for, where that is known, and why it cannot be opened."""
        half = room.width() * (0.45 if entry.what else 0.0)
        what, why = room.adjusted(0, 0, half - room.width(), 0), room.adjusted(half, 0, 0, 0)
        size, theme = self.text_px, self.theme
        return [
            lettering.lay(f"what {place}", entry.what, what, size, theme.quiet),
            lettering.lay(f"trouble {place}", retell(entry.trouble), why, size, theme.outside),
        ]

    def paint_shapes(self, painter: QPainter) -> None:
        """Frame the chosen entry."""
        if self.entries:
            room = self.row_room(self.chosen).adjusted(1, 1, -2, -2)
            painter.fillRect(room, QColor(self.theme.raised))
            painter.setPen(QPen(QColor(self.theme.outside), 2))
            painter.setBrush(QBrush())
            painter.drawRect(room)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Open what is clicked."""
        place = self.first + int((event.position().y() - self._top()) // (self.text_px * ROW))
        if event.position().y() >= self._top() and place < min(len(self.entries), self.first + self.count):
            self.choose(place)
            self.opened.emit(place)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Choose another one."""
        self.choose(self.chosen - round(event.angleDelta().y() / NOTCH))
        event.accept()
