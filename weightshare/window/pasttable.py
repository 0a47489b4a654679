"""What happened in a saved session as a table: a row each, the chosen one framed; it rolls with what is chosen."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from weightshare.practice.past.moment import Kind, Moment
from weightshare.practice.past.view import PastView
from weightshare.tongue import mark, number, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

RIGHT = Qt.AlignmentFlag.AlignRight
ROW = 1.5
"""How high a row is, in parts of the letters' size."""
NAME, MARKS = 2.4, 1.6
"""How wide number and marks are, likewise."""
TABLE_PART = 0.9
NOTCH = 120
SIGNS = {Kind.REJECTED: "\u2715", Kind.CEILING: "!"}
LEGEND = mark("s: supported    i: incomplete return    ?: not known whether supported")
NOTHING = mark("No repetition, no hold and no passed limit was found.")


class PastTable(Painted):
    """Paints the rows about the chosen one. A click chooses; the wheel rolls."""

    chosen = Signal(int)
    """The place of the row that was clicked."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.view: PastView | None = None
        self.text_px = 14
        self.first = 0
        """The place of the first row that is shown."""

    def show_view(self, view: PastView) -> None:
        """Show the rows of `view`, the chosen one among them."""
        if view is not self.view:
            self.view, self.first = view, 0
        if view.chosen is not None:
            self.first = min(max(self.first, view.chosen - self.count + 1), view.chosen)
        self.refresh()

    @property
    def size_px(self) -> int:
        """The size of its letters."""
        return round(self.text_px * TABLE_PART)

    @property
    def count(self) -> int:
        """How many rows are seen at a time."""
        return max(1, int((self.height() - self._top() - self.size_px * ROW) / (self.size_px * ROW)))

    def _top(self) -> float:
        return self.size_px * ROW * 2.2

    def row_room(self, place: int) -> QRectF:
        """Return where the row at `place` lies, seen or not."""
        high = self.size_px * ROW
        return QRectF(0, self._top() + (place - self.first) * high, self.width(), high)

    def _columns(self, room: QRectF, count: int) -> list[QRectF]:
        """Return the places of the cells of one row."""
        size = self.size_px
        wide = (room.width() - (NAME + MARKS) * size) / max(1, count)
        left = room.left() + NAME * size
        return [QRectF(left + k * wide, room.top(), wide, room.height()) for k in range(count)]

    def lay_out(self) -> list[Line]:
        """Return the heads, the rows that are seen, and what the marks mean."""
        view = self.view
        if view is None:
            return []
        moments = view.table.moments
        if not moments:
            room = QRectF(0, 0, self.width(), self.size_px * ROW)
            return [lettering.lay("nothing", say(NOTHING), room, self.size_px, self.theme.ink)]
        seen = range(self.first, min(len(moments), self.first + self.count))
        lines = [*self._heads(view), *(line for k in seen for line in self._row(view, k))]
        below = QRectF(0, self.height() - self.size_px * ROW, self.width(), self.size_px * ROW)
        of = say("{first} to {last} of {count}", first=seen.start + 1, last=seen.stop, count=len(moments))
        wide = lettering.width_of(of, self.size_px) + self.size_px
        lines.append(lettering.lay("of", of, below, self.size_px, self.theme.quiet, align=RIGHT))
        if any(one.marks for one in moments):
            lines.append(
                lettering.lay("legend", say(LEGEND), below.adjusted(0, 0, -wide, 0), self.size_px, self.theme.quiet)
            )
        return lines

    def _heads(self, view: PastView) -> list[Line]:
        size, quiet = self.size_px, self.theme.quiet
        heads = view.table.heads
        cells = self._columns(QRectF(0, size * ROW, self.width(), size * ROW), len(heads))
        lines = [
            lettering.lay(f"head {k}", say(text), cell, size, quiet, align=RIGHT)
            for k, (text, cell) in enumerate(zip(heads, cells, strict=True))
        ]
        begin = 0
        for k, (text, count) in enumerate(view.table.units):
            # over the middle one of its columns; they are flush right
            over = cells[begin + count // 2].adjusted(-size, -size * ROW, 0, -size * ROW)
            lines.append(lettering.lay(f"unit {k}", say(text), over, size, quiet, align=RIGHT))
            begin += count
        return lines

    def _row(self, view: PastView, place: int) -> list[Line]:
        one, room, size = view.table.moments[place], self.row_room(place), self.size_px
        name = QRectF(room.left(), room.top(), NAME * size - size * 0.4, room.height())
        said = SIGNS.get(one.kind) or (f"\u2715{one.number}" if one.kind is Kind.STRUCK else str(one.number))
        lines = [lettering.lay(f"row {place}", said, name, size, self._colour(one), bold=True, align=RIGHT)]
        if one.words:
            rest = room.adjusted(NAME * size + size * 0.6, 0, 0, 0)
            text = f"{number(one.from_s, '.1f')} s  \u00b7  {one.words}"
            return [*lines, lettering.lay(f"words {place}", text, rest, size, self._colour(one))]
        cells = self._columns(room, len(view.table.heads))
        # a hold among repetitions has fewer cells: its last ones are what counts
        for k, (text, cell) in enumerate(zip(one.cells, cells, strict=False)):
            lines.append(lettering.lay(f"cell {place} {k}", text, cell, size, self.theme.ink, align=RIGHT))
        marks = QRectF(room.right() - MARKS * size, room.top(), MARKS * size, room.height())
        if one.marks:
            lines.append(lettering.lay(f"marks {place}", one.marks, marks, size, self.theme.outside, align=RIGHT))
        return lines

    def _colour(self, one: Moment) -> str:
        return self.theme.outside if one.kind in SIGNS or one.kind is Kind.STRUCK else self.theme.ink

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the line under the heads, and the frame about the chosen row."""
        view = self.view
        if view is None or not view.table.moments:
            return
        painter.setPen(QPen(QColor(self.theme.hairline), 1))
        y = round(self._top() - 2)
        painter.drawLine(0, y, self.width(), y)
        if view.chosen is not None and self.first <= view.chosen < self.first + self.count:
            room = self.row_room(view.chosen).adjusted(1, 0, -1, -1)
            painter.fillRect(room, QColor(self.theme.raised))
            painter.setPen(QPen(QColor(self.theme.outside), 2))
            painter.setBrush(QBrush())
            painter.drawRect(room)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the row that is clicked."""
        if self.view is None:
            return
        place = self.first + int((event.position().y() - self._top()) // (self.size_px * ROW))
        if event.position().y() >= self._top() and self.first <= place < min(
            len(self.view.table.moments), self.first + self.count
        ):
            self.chosen.emit(place)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Roll the rows."""
        if self.view is not None:
            most = max(0, len(self.view.table.moments) - self.count)
            self.first = min(max(0, self.first - round(3 * event.angleDelta().y() / NOTCH)), most)
            self.refresh()
        event.accept()
