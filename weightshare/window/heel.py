"""How high one heel is: a column that stands over its own sole, with the line from where on a raise counts."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from weightshare import tongue
from weightshare.model import Side
from weightshare.practice.screen import Heels, Screen, Shape
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

LOWEST, HIGHEST = -0.35, 1.25
"""What the column reaches over, in parts of a full raise: on a step the heel goes below the level of standing."""

UNSEEN = (tongue.mark("not"), tongue.mark("seen"))
"""In two lines: the column is narrow, and its letters are as large as elsewhere."""


class HeelView(PaintedView):
    """Paints one side of `Path.heels`. The injured side's column has the thick rim, and is called so."""

    def __init__(self, theme: Theme, side: Side, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.side = side

    def key_of(self, screen: Screen) -> Hashable:
        """Return the height as it is drawn, to the pixel."""
        heels = _heels(screen)
        height = self._height(heels)
        row = None if height is None else round(self.row(height))
        return row, heels.goal, height is not None and self._is_up(heels), screen.injured

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return whose heel it is, and below whether it is read."""
        width, size = float(self.width()), self._text_px()
        centre = Qt.AlignmentFlag.AlignHCenter
        heels, injured = _heels(screen), screen.injured is self.side
        lines = [
            lettering.lay(
                "heel",
                tongue.say("heel"),
                QRectF(0, 0, width, size * 1.3),
                size,
                self.theme.ink,
                bold=injured,
                align=centre,
            )
        ]
        if self._height(heels) is None:
            for index, text in enumerate(map(tongue.say, UNSEEN)):
                room = QRectF(0, self.row(0.0) - size * (2.9 - 1.2 * index), width, size * 1.2)
                name = f"heel unseen {index}"
                lines.append(lettering.lay(name, text, room, size, self.theme.quiet, align=centre))
        return lines

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the column, the level of standing, the goal, and the heel."""
        theme, heels, column = self.theme, _heels(screen), self.column()
        height = self._height(heels)
        painter.fillRect(column, QColor(theme.path))
        standing = round(self.row(0.0))
        if height is not None:
            row, up = round(self.row(height)), self._is_up(heels)
            top, bottom = min(row, standing), max(row, standing)
            painter.fillRect(
                QRectF(column.left(), top, column.width(), bottom - top), QColor(theme.inside if up else theme.laid)
            )
        painter.setPen(QPen(QColor(theme.edge), 4 if screen.injured is self.side else 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(column)
        painter.fillRect(QRectF(column.left() - 4, standing - 1, column.width() + 8, 3), QColor(theme.edge))
        if heels.goal is not None:
            self._paint_goal(painter, heels.goal)
        if height is not None:
            self._paint_heel(painter, height, self._is_up(heels))

    def _paint_goal(self, painter: QPainter, goal: float) -> None:
        column, row = self.column(), round(self.row(goal))
        painter.fillRect(QRectF(column.left() - 8, row - 4, column.width() + 16, 8), QColor(self.theme.ground))
        painter.fillRect(QRectF(column.left() - 8, row - 2, column.width() + 16, 4), QColor(self.theme.ink))

    def _paint_heel(self, painter: QPainter, height: float, up: bool) -> None:
        """A disc over the goal, a bar below it: told apart without colour."""
        column, row = self.column(), self.row(height)
        if up:
            size = column.width() * 0.62
            mark.paint_shape(
                painter,
                Shape.DISC,
                QPointF(column.center().x(), row),
                size,
                self.theme.inside,
                rim=self.theme.ground,
            )
            return
        painter.fillRect(QRectF(column.left(), round(row) - 3, column.width(), 6), QColor(self.theme.ink))

    def row(self, height: float) -> float:
        """Return the row of a heel's height (parts of a full raise); beyond the column it stays at its ends."""
        part = (min(max(height, LOWEST), HIGHEST) - LOWEST) / (HIGHEST - LOWEST)
        column = self.column()
        return column.bottom() - part * column.height()

    def column(self) -> QRectF:
        """Return where the column stands (px)."""
        top = self._text_px() * 1.6
        width = round(self.width() * 0.52)
        return QRectF(round((self.width() - width) / 2), round(top), width, round(self.height() - top - 8))

    def _height(self, heels: Heels) -> float | None:
        return heels.left if self.side is Side.LEFT else heels.right

    def _is_up(self, heels: Heels) -> bool:
        height = self._height(heels)
        return height is not None and heels.goal is not None and height >= heels.goal

    def _text_px(self) -> int:
        return max(14, min(self.height() // 15, round(self.width() * 0.4)))


def _heels(screen: Screen) -> Heels:
    return (screen.path.heels if screen.path is not None else None) or Heels()
