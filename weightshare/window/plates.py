"""The picture before practice: two plates, with or without feet, and which foot is meant."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from weightshare.model import Side
from weightshare.practice.screen import Screen, Shape, Soles
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

REACH = (20.0, 80.0)
"""The left side's shares at the ends of the line that shows how far to shift, percent."""


class PlatesView(PaintedView):
    """Paints `Screen.soles`."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the picture and whose side is injured."""
        return screen.soles, screen.injured, screen.shape

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the names of the two sides."""
        size = max(16, self.height() // 13)
        lines = []
        for side in Side:
            plate = self._plate(side)
            room = QRectF(plate.left() - 40, plate.bottom() + size * 0.4, plate.width() + 80, size * 1.6)
            centre = Qt.AlignmentFlag.AlignHCenter
            lines.append(lettering.lay(f"{side} plate", say(side), room, size, self.theme.ink, align=centre))
        return lines

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint plates, soles, and an arrowhead towards the foot that is meant."""
        soles = screen.soles
        if soles is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for side in Side:
            self._paint_plate(painter, soles, side)
        if soles.named is not None:
            self._paint_way(painter, soles.named)
        if soles.reach_percent is not None:
            self._paint_reach(painter, soles.reach_percent, soles.place_percent)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_plate(self, painter: QPainter, soles: Soles, side: Side) -> None:
        theme, plate = self.theme, self._plate(side)
        painter.setPen(QPen(QColor(theme.edge), 3))
        painter.setBrush(QColor(theme.path))
        painter.drawRoundedRect(plate, 14, 14)
        if not soles.feet:
            return
        shape = mark.sole(side).map_to(plate.center(), plate.height() * 0.8)
        if soles.named is side:
            # it fills from the heel up as the foot takes what it is asked for
            filled = QPainterPath()
            filled.addRect(plate.adjusted(0, plate.height() * (0.9 - 0.8 * soles.part), 0, 0))
            painter.fillPath(shape.intersected(filled), QColor(theme.inside))
        style = Qt.PenStyle.SolidLine if soles.standing else Qt.PenStyle.DashLine
        painter.setPen(QPen(QColor(theme.ink), 5 if soles.named is side else 2.5, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(shape)

    def _paint_way(self, painter: QPainter, named: Side) -> None:
        outer = self._plate(named)
        x = outer.right() + outer.width() * 0.38 if named is Side.RIGHT else outer.left() - outer.width() * 0.38
        centre, size = QPointF(x, outer.center().y()), outer.width() * 0.3
        mark.paint_shape(painter, Shape.towards(named), centre, size, self.theme.inside)

    def _paint_reach(self, painter: QPainter, reach: tuple[float, float], place: float | None) -> None:
        """Paint how far the load is to go to either side, and where it is: left of the middle is more on the left."""
        line = self._reach_line()

        def x_of(left_percent: float) -> float:
            return line.right() - line.width() * (left_percent - REACH[0]) / (REACH[1] - REACH[0])

        y, size = line.center().y(), line.height()
        painter.setPen(QPen(QColor(self.theme.edge), 3))
        painter.drawLine(QPointF(line.left(), y), QPointF(line.right(), y))
        painter.drawLine(QPointF(x_of(50.0), y - 0.3 * size), QPointF(x_of(50.0), y + 0.3 * size))
        painter.setPen(QPen(QColor(self.theme.inside), 7))
        painter.drawLine(QPointF(x_of(reach[0]), y), QPointF(x_of(reach[1]), y))
        for end in reach:
            painter.drawLine(QPointF(x_of(end), y - 0.5 * size), QPointF(x_of(end), y + 0.5 * size))
        if place is not None:
            x = min(max(x_of(place), line.left()), line.right())
            mark.paint_shape(painter, Shape.DISC, QPointF(x, y), 0.6 * size, self.theme.ink)

    def _reach_line(self) -> QRectF:
        left, right = self._plate(Side.LEFT).left(), self._plate(Side.RIGHT).right()
        return QRectF(left, self.height() * 0.89, right - left, self.height() * 0.09)

    @property
    def _reaches(self) -> bool:
        """Whether the line of how far to shift stands below the plates."""
        screen = self.screen_shown
        return screen is not None and screen.soles is not None and screen.soles.reach_percent is not None

    def _plate(self, side: Side) -> QRectF:
        height = min(self.height() * (0.66 if self._reaches else 0.78), self.width() * 0.5)
        width, gap = height * 0.52, height * 0.10
        left = self.width() / 2 + (gap / 2 if side is Side.RIGHT else -gap / 2 - width)
        return QRectF(left, self.height() * 0.04, width, height)
