"""What the session came to: each hold as a row of stones with its seconds."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from weightshare.practice import words
from weightshare.practice.screen import Screen, Summary
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

MOST_ROWS = 8
COLUMNS = 30


class SummaryView(PaintedView):
    """Paints `Screen.summary`: the first line large, one row for each hold, then what else there is to say."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the summary."""
        return id(screen.summary), screen.summary is None

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the result, the seconds of each hold, and the rest."""
        summary = screen.summary
        if summary is None or not summary.lines:
            return []
        unit, width, theme = self._unit(), float(self.width()), self.theme
        first, *rest = summary.lines
        lines = [
            lettering.lay("result", first, QRectF(0, 0, width, unit * 2.4), round(unit * 1.5), theme.ink, bold=True)
        ]
        for index, held_s in enumerate(summary.held_s[-MOST_ROWS:]):
            room = self._row(index)
            text = f"{words.seconds(held_s)} s" + ("" if held_s < summary.goal_s else ", done")
            right = QRectF(room.right() + unit * 0.6, room.top(), width - room.right() - unit * 0.6, room.height())
            lines.append(lettering.lay(f"hold {index}", text, right, round(unit * 0.9), theme.ink))
        top = self._row(len(summary.held_s[-MOST_ROWS:])).top() + unit * 0.8
        for index, text in enumerate(rest):
            room = QRectF(0, top + index * unit * 1.5, width, unit * 1.4)
            lines.append(lettering.lay(f"line {index}", text, room, round(unit * 0.9), theme.quiet))
        return lines

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint one row of stones for each hold."""
        summary = screen.summary or Summary()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for index, held_s in enumerate(summary.held_s[-MOST_ROWS:]):
            part = min(1.0, held_s / summary.goal_s) if summary.goal_s else 0.0
            mark.paint_stones(
                painter, self._row(index), self.theme, count=COLUMNS, filled=part * COLUMNS, columns=COLUMNS
            )

    def _row(self, index: int) -> QRectF:
        unit = self._unit()
        return QRectF(0, unit * (3.0 + 1.7 * index), self.width() * 0.6, unit * 1.1)

    def _unit(self) -> float:
        return max(14.0, self.height() / 24)
