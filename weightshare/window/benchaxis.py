"""What the pictures of the guided calibration have in common: a plane with a zero line and limits, and marks on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

CORNERS = {
    "up": ((0.0, -1.0), (1.0, 0.8), (-1.0, 0.8)),
    "down": ((0.0, 1.0), (1.0, -0.8), (-1.0, -0.8)),
    "diamond": ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)),
}
"""Marks of size 1 about the origin."""


@dataclass(frozen=True, slots=True)
class Axes:
    """A `plane` within `room` (px), and the letters and words around it; `name` begins each line's name."""

    name: str
    room: QRectF
    plane: QRectF
    theme: Theme
    text_px: int

    def title(self, name: str, words: str) -> Line:
        """Lay what is pictured over the plane."""
        over = QRectF(self.room.left(), self.room.top(), self.room.width(), self.text_px * 1.5)
        return lettering.lay(name, words, over, self.text_px, self.theme.ink, bold=True)

    def heights(self, told: Iterable[tuple[str, float]]) -> list[Line]:
        """Lay each text left of the plane, at its height (px)."""
        size, wide = self.text_px, self.plane.left() - self.room.left() - self.text_px * 0.4
        right, quiet = Qt.AlignmentFlag.AlignRight, self.theme.quiet
        rooms = [(text, QRectF(self.room.left(), y - size * 0.6, wide, size * 1.2)) for text, y in told]
        return [lettering.lay(f"{self.name} y {text}", text, room, size, quiet, align=right) for text, room in rooms]

    def paint(self, painter: QPainter, zero: float, limits: Iterable[float], colour: str) -> None:
        """Paint the plane, a line at the height `zero`, and dashed ones in `colour` at the limits (px)."""
        painter.setBrush(QColor(self.theme.raised))
        painter.setPen(QPen(QColor(self.theme.quiet), 1))
        painter.drawRect(self.plane)
        self._draw_across(painter, zero)
        painter.setPen(QPen(QColor(colour), 1.5, Qt.PenStyle.DashLine))
        for y in limits:
            self._draw_across(painter, y)

    def _draw_across(self, painter: QPainter, y: float) -> None:
        painter.drawLine(QPointF(self.plane.left(), y), QPointF(self.plane.right(), y))

    def begin_marks(self, painter: QPainter) -> None:
        """Have `painter` draw marks from now on."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(QPen(QColor(self.theme.inside), 1.6))

    def paint_mark(self, painter: QPainter, shape: str, centre: QPointF, *, is_full: bool) -> None:
        """Paint a mark of CORNERS."""
        painter.setBrush(QColor(self.theme.inside if is_full else self.theme.raised))
        size = max(5.0, self.text_px * 0.32)
        points = [QPointF(centre.x() + size * x, centre.y() + size * y) for x, y in CORNERS[shape]]
        path = QPainterPath(points[0])
        for point in points[1:]:
            path.lineTo(point)
        path.closeSubpath()
        painter.drawPath(path)
