"""The figures of a calibration as a table within a room, all of it in letters of one size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from weightshare.metrology.found import Found
from weightshare.tongue import say
from weightshare.window import lettering
from weightshare.window.benchtable import HEADS, rows_of
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

NAME_PART = 0.26
"""The part of the width that the names take."""
CELL_PARTS = (0.235, 0.465, 0.30)
ROW, LETTERS = 1.42, 0.72
"""How high a row is at most, in small letters; and how high letters are in a row that is lower."""
HEAD_ROWS = 2


@dataclass(frozen=True, slots=True)
class _Place:
    """Words and where they go; `is_quiet`: they are of lesser weight."""

    name: str
    text: str
    room: QRectF
    is_left: bool = False
    is_quiet: bool = False


class FigureGrid:
    """A row for each figure, under each other the plates' names, what the columns are, and the figures."""

    def __init__(self, found: Found, room: QRectF, theme: Theme, small_px: int) -> None:
        self._found, self._room, self._theme, self._small_px = found, room, theme, small_px
        self._rows = rows_of(found)
        self._row_px = min(small_px * ROW, room.height() / (len(self._rows) + HEAD_ROWS))

    @property
    def bottom(self) -> float:
        """Where the table ends."""
        return self._room.top() + (len(self._rows) + HEAD_ROWS) * self._row_px

    def lines(self) -> list[Line]:
        """Return all words of the table."""
        places = [*self._heads(), *self._cells()]
        size = min(self._small_px, int(self._row_px * LETTERS))
        size = min((lettering.fit(place.text, size, place.room.width()) for place in places), default=size)
        right, left, theme = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft, self._theme
        return [
            lettering.lay(
                place.name,
                place.text,
                place.room,
                size,
                theme.quiet if place.is_quiet else theme.ink,
                align=left if place.is_left else right,
            )
            for place in places
        ]

    def paint(self, painter: QPainter) -> None:
        """Paint a line above each row, and one under the last."""
        painter.setPen(QPen(QColor(self._theme.hairline), 1))
        for index in range(len(self._rows) + 1):
            y = round(self._room.top() + (index + HEAD_ROWS) * self._row_px)
            painter.drawLine(round(self._room.left()), y, round(self._room.right()), y)

    def _heads(self) -> Iterator[_Place]:
        for place, fit in enumerate(self._found.fits):
            over = self._cell(place, 0, 0).united(self._cell(place, len(HEADS) - 1, 0))
            yield _Place(
                f"plate {place}", say("{side} plate, 0 to {range:.0f} N", side=fit.side, range=fit.range_N), over
            )
            for part, text in enumerate(map(say, HEADS)):
                yield _Place(f"head {place} {part}", text, self._cell(place, part, 1), is_quiet=True)

    def _cells(self) -> Iterator[_Place]:
        for index, row in enumerate(self._rows, HEAD_ROWS):
            top, wide = self._room.top() + index * self._row_px, self._room.width() * NAME_PART
            yield _Place(f"name {index}", row.name, QRectF(self._room.left(), top, wide, self._row_px), is_left=True)
            for place, cell in enumerate(row.cells):
                told = () if cell is None else (cell.value, cell.interval, cell.percent)
                for part, text in enumerate(told):
                    if text:
                        room = self._cell(place, part, index)
                        yield _Place(f"cell {index} {place} {part}", text, room, is_quiet=part == 1)

    def _cell(self, place: int, part: int, row: int) -> QRectF:
        room, high = self._room, self._row_px
        wide = room.width() * (1.0 - NAME_PART) / max(1, len(self._found.fits))
        left = room.left() + room.width() * NAME_PART + place * wide + wide * sum(CELL_PARTS[:part])
        return QRectF(left, room.top() + row * high, wide * CELL_PARTS[part] - self._small_px * 0.6, high)
