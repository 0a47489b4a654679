"""The sets of a session as a table: columns as wide as their longest cell, and words in the last one broken to fit."""

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
LINE_PART, PAD_PART = 1.25, 0.35
"""How high a line of a row is, and what a row has besides, in heights of the letters."""
SMALLEST_PX = 13
FIGURE_LETTERS = 9
"""A column of no longer cells has figures in it, right-aligned under their head."""
NOTES_PART = 0.3
"""The least part of the width that the last column is broken to."""


class SetTable:
    """Lays the table of `summary` into `room`, its letters `size` px high or as much smaller as it takes."""

    def __init__(self, summary: Summary, room: QRectF, size: int, theme: Theme) -> None:
        self.room, self.theme = room, theme
        rows = [row.cells for row in summary.rows[-MOST_ROWS:]]
        said = [place for place in range(len(summary.heads)) if not rows or any(cells[place] for cells in rows)]
        self._cells = [tuple(cells[place] for place in said) for cells in (summary.heads, *rows)]
        self.size = size
        self._set()
        while self.size > SMALLEST_PX and (sum(self._widths) > room.width() or self.height > room.height()):
            self.size -= 1
            self._set()

    def _set(self) -> None:
        """Take the letters' size: how wide columns are, what is broken, where rows begin."""
        *columns, last = zip(*self._cells, strict=True)
        self._widths = [self._width_of(column) for column in columns]
        left = max(self.room.width() - sum(self._widths), self.room.width() * NOTES_PART)
        self._widths.append(min(self._width_of(last), left))
        fits = self._widths[-1] - self._gap()
        self._last = [lettering.wrap(text, self.size, fits, bold=True) for text in last]
        self._tops = [self.room.top()]
        for lines in self._last:
            high = self.size * (LINE_PART * max(1, len(lines)) + PAD_PART)
            self._tops.append(self._tops[-1] + high)

    @property
    def height(self) -> float:
        """How high the table is (px)."""
        return self._tops[-1] - self._tops[0]

    def lines(self) -> list[Line]:
        """Return each cell's lines."""
        lines = []
        for down, cells in enumerate(self._cells):
            left = self.room.left()
            for across, text in enumerate(cells):
                said = self._last[down] if across == len(cells) - 1 else [text]
                for index, part in enumerate(said):
                    top = self._tops[down] + self.size * (PAD_PART / 2 + LINE_PART * index)
                    room = QRectF(left, top, self._widths[across] - self._gap(), self.size * LINE_PART)
                    lines.append(self._lay(f"cell {down} {across} {index}", part, room, down, across))
                left += self._widths[across]
        return [line for line in lines if line.text]

    def _lay(self, name: str, text: str, room: QRectF, down: int, across: int) -> Line:
        column = [cells[across] for cells in self._cells[1:]]
        figures = across > 0 and max(map(len, column), default=0) <= FIGURE_LETTERS and any(column)
        align = Qt.AlignmentFlag.AlignRight if figures else Qt.AlignmentFlag.AlignLeft
        colour = self.theme.quiet if down == 0 else self.theme.ink
        return lettering.lay(name, text, room, self.size, colour, bold=down > 0 and across < 2, align=align)

    def paint(self, painter: QPainter) -> None:
        """Paint the lines between heads and rows."""
        width = sum(self._widths) - self._gap()
        for down, top in enumerate(self._tops[1:-1]):
            colour = self.theme.edge if down == 0 else self.theme.hairline
            painter.fillRect(QRectF(self.room.left(), round(top), width, 1), QColor(colour))

    def _gap(self) -> float:
        return self.size * GAP_PART

    def _width_of(self, column: tuple[str, ...]) -> float:
        return max(lettering.width_of(text, self.size, True) for text in column) + self._gap()
