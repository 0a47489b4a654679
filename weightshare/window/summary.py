"""What the session came to: each hold as a row of stones with its seconds, or the sets as a table."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from weightshare.practice import words
from weightshare.practice.screen import Screen, Summary
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.settable import SetTable
from weightshare.window.view import PaintedView

MOST_ROWS = 8
COLUMNS = 30
TABLE_PART = 0.5
"""How much of the height a long table of sets may take."""
BESIDE_PART = 0.36
"""The part of the width that the text below a table of sets takes; the course has the rest."""

SIZES = (0.95, 0.85, 0.75, 0.65, 0.55)
"""Of that text, from the usual one down to the least, in parts of the unit."""
ROW_PART = 1.47
"""From one row of it to the next, in parts of the letters' size."""


class SummaryView(PaintedView):
    """Paints `Screen.summary`: the first line large, one row for each hold or set, then what else there is to say."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the summary."""
        return id(screen.summary), screen.summary is None

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the result, the seconds of each hold, and the rest."""
        summary = screen.summary
        if summary is None or not summary.lines:
            return []
        unit, width, theme = self._unit(), float(self.width()), self.theme
        first = summary.lines[0]
        if summary.heads:
            return self._of_sets(summary)
        lines = [
            lettering.lay("result", first, QRectF(0, 0, width, unit * 2.4), round(unit * 1.5), theme.ink, bold=True)
        ]
        for index, held_s in enumerate(self._shown(summary)):
            room = self._row(index)
            text = (
                f"{words.seconds(held_s)} s"
                if held_s < summary.goal_s
                else say("{held} s, done", held=words.seconds(held_s))
            )
            right = QRectF(room.right() + unit * 0.6, room.top(), width - room.right() - unit * 0.6, room.height())
            lines.append(lettering.lay(f"hold {index}", text, right, round(unit * 0.95), theme.ink))
        top = self._row(len(self._shown(summary))).top() + unit * 0.8
        for index, text in enumerate(self._below(summary)):
            room = QRectF(0, top + index * unit * 1.5, width, unit * 1.4)
            lines.append(lettering.lay(f"line {index}", text, room, round(unit * 0.95), theme.quiet))
        return lines

    def _below(self, summary: Summary) -> list[str]:
        """Return what is said below the holds, line by line."""
        size, width = round(self._unit() * 0.95), float(self.width())
        return [*summary.lines[1:], *(row for text in summary.findings for row in lettering.wrap(text, size, width))]

    def _shown(self, summary: Summary) -> tuple[float, ...]:
        """Return the last holds: as many as leave room for what is said below them."""
        unit = self._unit()
        room = self.height() - self._row(0).top() - unit * (0.8 + 1.5 * len(self._below(summary)))
        most = max(1, min(MOST_ROWS, int(room / (unit * 1.7))))
        return summary.held_s[-most:]

    def _of_sets(self, summary: Summary) -> list[Line]:
        """Lay the result, the table, and below it the rest, broken between words: the course stands beside that."""
        unit, table, (first, *rest) = self._unit(), self._table(summary), summary.lines
        over = QRectF(0, 0, self.width(), unit * 2.4)
        lines = [lettering.lay("result", first, over, round(unit * 1.5), self.theme.ink, bold=True), *table.lines()]
        top = table.room.top() + table.height + unit
        said, size = self._beside(rest, summary.findings, self.height() - top)
        for index, (text, colour) in enumerate(said):
            room = QRectF(0, top + index * size * ROW_PART, self.width() * BESIDE_PART, size * ROW_PART)
            lines.append(lettering.lay(f"line {index}", text, room, size, colour))
        return lines

    def _beside(self, said: list[str], findings: tuple[str, ...], high: float) -> tuple[list[tuple[str, str]], int]:
        """Return the rows below a table with their colours, and the largest size in which all fit into `high`."""
        unit, width = self._unit(), self.width() * BESIDE_PART
        for part in SIZES:
            size = round(unit * part)
            rows = [(row, self.theme.ink) for text in said for row in lettering.wrap(text, size, width)]
            rows += [(row, self.theme.quiet) for text in findings for row in lettering.wrap(text, size, width)]
            if len(rows) * size * ROW_PART <= high:
                break
        return rows, size

    def _table(self, summary: Summary) -> SetTable:
        unit = self._unit()
        room = QRectF(0, unit * 2.8, self.width(), self.height() * TABLE_PART)
        return SetTable(summary, room, round(unit * 1.15), self.theme)

    def course_room(self, summary: Summary) -> QRectF:
        """Return where the course of the share has its place beside the text of a session of sets."""
        unit, table = self._unit(), self._table(summary)
        left, top = self.width() * BESIDE_PART + 2 * unit, table.room.top() + table.height + unit
        return QRectF(left, top, self.width() - left, self.height() - top)

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint one row of stones for each hold."""
        summary = screen.summary or Summary()
        if summary.heads:
            self._table(summary).paint(painter)
            return
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for index, held_s in enumerate(self._shown(summary)):
            part = min(1.0, held_s / summary.goal_s) if summary.goal_s else 0.0
            mark.paint_stones(
                painter, self._row(index), self.theme, count=COLUMNS, filled=part * COLUMNS, columns=COLUMNS
            )

    def _row(self, index: int) -> QRectF:
        unit = self._unit()
        return QRectF(0, unit * (3.0 + 1.7 * index), self.width() * 0.6, unit * 1.1)

    def _unit(self) -> float:
        return max(14.0, self.height() / 21)
