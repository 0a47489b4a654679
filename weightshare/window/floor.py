"""Below the path: whose feet stand where, and which one is injured."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from weightshare.model import Side
from weightshare.practice.screen import Path, Screen
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

EVEN_PART = 0.12
"""The part of the width that the word in the middle has."""


class FloorView(PaintedView):
    """Two soles and their names; the injured one is filled, and called so."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the injured side, and what lies in the middle."""
        return screen.injured, _middle_of(screen)

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the names of the feet and of the middle."""
        height, width = self.height(), self.width()
        size, foot = max(13, round(height * 0.46)), height * 0.72
        half = width * EVEN_PART / 2
        room = QRectF(foot, 0, width / 2 - foot - half, height)
        lines = []
        for side, place in ((Side.LEFT, room), (Side.RIGHT, room.translated(width - 2 * foot - room.width(), 0))):
            text = say("{side} foot, injured", side=side) if side is screen.injured else say("{side} foot", side=side)
            align = Qt.AlignmentFlag.AlignLeft if side is Side.LEFT else Qt.AlignmentFlag.AlignRight
            lines.append(lettering.lay(f"{side} foot", text, place, size, self.theme.ink, align=align))
        middle = QRectF(width / 2 - half, 0, 2 * half, height)
        even = lettering.lay(
            "even", _middle_of(screen), middle, size, self.theme.quiet, align=Qt.AlignmentFlag.AlignHCenter
        )
        return [*lines, even]

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the soles."""
        height = self.height()
        painter.fillRect(0, 0, self.width(), 1, QColor(self.theme.hairline))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for side, x in ((Side.LEFT, height * 0.34), (Side.RIGHT, self.width() - height * 0.34)):
            shape = mark.sole(side).map_to(QPointF(x, height / 2), height * 0.78)
            painter.setPen(QPen(QColor(self.theme.ink), 1.6))
            painter.setBrush(QColor(self.theme.ink) if side is screen.injured else Qt.BrushStyle.NoBrush)
            painter.drawPath(shape)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


def _middle_of(screen: Screen) -> str:
    return say((screen.path or Path()).middle)
