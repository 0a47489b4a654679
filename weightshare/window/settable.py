"""The sets of a session as a table: heads, rows, columns as wide as their longest cell."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from weightshare.practice.screen import Summary
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

MOST_ROWS = 8
"""The last so many sets are shown."""
GAP_PART = 1.4
"""Between two columns, in heights of the letters."""
ROW_PART = 1.6
SMALLEST_PX = 13


class SetTable:
    """Lays the table of `summary` into `room`, its letters `size` px high or as much smaller as it takes."""

    def __init__(self, summary: Summary, room: QRectF, size: int, theme: Theme) -> None:
        self.room, self.theme = room, theme
        self._cells = [summary.heads, *(row.cells for row in summary.rows[-MOST_ROWS:])]
        self.size = size
        while self.size > SMALLEST_PX and (sum(self._widths()) > room.width() or self.height > room.height()):
            self.size -= 1

    @property
    def height(self) -> float:
        """How high the table is (px)."""
        return len(self._cells) * self.size * ROW_PART

    def lines(self) -> list[Line]:
        """Return each cell's line: the first column from the left, figures right-aligned under their heads."""
        widths, lines = self._widths(), []
        for down, cells in enumerate(self._cells):
            left = self.room.left()
            for across, text in enumerate(cells):
                room = QRectF(left, self._top(down), widths[across] - self._gap(), self.size * ROW_PART)
                align = Qt.AlignmentFlag.AlignLeft if across == 0 else Qt.AlignmentFlag.AlignRight
                colour = self.theme.quiet if down == 0 else self.theme.ink
                name = f"cell {down} {across}"
                lines.append(
                    lettering.lay(name, text, room, self.size, colour, bold=down > 0 and across < 2, align=align)
                )
                left += widths[across]
        return [line for line in lines if line.text]

    def paint(self, painter: QPainter) -> None:
        """Paint the lines between heads and rows."""
        width = sum(self._widths()) - self._gap()
        for down in range(1, len(self._cells)):
            colour = self.theme.edge if down == 1 else self.theme.hairline
            painter.fillRect(QRectF(self.room.left(), round(self._top(down)), width, 1), QColor(colour))

    def _top(self, down: int) -> float:
        return self.room.top() + down * self.size * ROW_PART

    def _gap(self) -> float:
        return self.size * GAP_PART

    def _widths(self) -> list[float]:
        columns = zip(*self._cells, strict=True)
        return [max(lettering.width_of(text, self.size, True) for text in column) + self._gap() for column in columns]
