"""Both plates from above, with the load that is asked for at its spot."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from weightshare import tongue
from weightshare.metrology.reading import Going, Kind, Spot
from weightshare.model import Side
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.benchtable import number
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.plan import Ask

PLATE_WIDE = 0.62
"""A plate's width in the drawing, as part of its height."""
MIDDLE_PART, QUARTER_PART = 0.36, 0.25
"""A weight's height, as part of the plate's: in the middle, and in a quarter."""
FRONT = mark("front: toes")


def kilograms(load_kg: float | None) -> str:
    """Return a load to the tenth; a dash where it is not known."""
    return "\u2013" if load_kg is None else f"{number(load_kg, 1)} kg"


class BenchDrawing:
    """The picture within `room`: plates, quarters, the weight, and what lies on each plate by the readings."""

    def __init__(self, ask: Ask | None, load_kg: tuple[float | None, float | None], room: QRectF, theme: Theme) -> None:
        self._ask, self._load_kg, self._room, self._theme = ask, load_kg, room, theme
        self._text_px = max(14, round(room.height() / 13))

    def lines(self) -> list[Line]:
        """Return where the front is, each plate's name with its load, and the weight's own inscription."""
        centre, theme, size = Qt.AlignmentFlag.AlignHCenter, self._theme, self._text_px
        front = QRectF(self._room.left(), self._room.top(), self._room.width(), size * 1.25)
        lines = [lettering.lay("front", say(FRONT), front, round(size * 0.72), theme.quiet, align=centre)]
        for side, load_kg in zip(Side, self._load_kg, strict=True):
            plate = self.plate(side)
            below = QRectF(plate.left() - 0.15 * plate.width(), plate.bottom(), 1.3 * plate.width(), size * 1.3)
            told = kilograms(load_kg)
            asked = self._ask is not None and self._ask.placement.side is side
            words = f"{say(side)}: {told}"
            lines.append(lettering.lay(f"{side} load", words, below, size, theme.ink, bold=asked, align=centre))
        if self._ask is not None:
            lines.append(self._inscription(self._ask))
        return lines

    def _inscription(self, ask: Ask) -> Line:
        weight, centre = self.weight(ask), Qt.AlignmentFlag.AlignHCenter
        if not ask.load_kg:
            size = round(self._text_px * 0.9)
            return lettering.lay("weight", say("empty"), weight, size, self._theme.ink, bold=True, align=centre)
        body = weight.adjusted(weight.width() * 0.09, weight.height() * 0.32, -weight.width() * 0.09, 0)
        size = round(weight.height() * 0.34)
        return lettering.lay(
            "weight", f"{tongue.number(ask.load_kg, 'g')} kg", body, size, self._theme.ground, bold=True, align=centre
        )

    def plate(self, side: Side) -> QRectF:
        """Return where the plate lies."""
        room, line = self._room, self._text_px * 1.3
        height = min(room.height() - 2 * line, room.width() / (2 * PLATE_WIDE + 0.4))
        width, gap = height * PLATE_WIDE, height * 0.14
        left = room.center().x() + (gap / 2 if side is Side.RIGHT else -gap / 2 - width)
        return QRectF(left, room.center().y() - height / 2, width, height)

    def weight(self, ask: Ask) -> QRectF:
        """Return the room of the weight that is asked for."""
        plate, spot = self.plate(ask.placement.side), ask.placement.spot
        high = plate.height() * (MIDDLE_PART if spot is Spot.MIDDLE else QUARTER_PART)
        wide = high * 1.25 if spot is not Spot.MIDDLE else high * 1.3
        x = plate.center().x() + spot.x_sign * plate.width() * 0.25
        y = plate.center().y() - spot.y_sign * plate.height() * 0.25
        return QRectF(x - wide / 2, y - high / 2, wide, high)

    def paint(self, painter: QPainter) -> None:
        """Paint all that is no text."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for side in Side:
            self._paint_plate(painter, side)
        if self._ask is not None:
            self._paint_weight(painter, self._ask)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_plate(self, painter: QPainter, side: Side) -> None:
        plate, theme = self.plate(side), self._theme
        asked = self._ask is not None and self._ask.placement.side is side
        painter.setPen(QPen(QColor(theme.edge if asked else theme.quiet), 5 if asked else 2))
        painter.setBrush(QColor(theme.path if asked else theme.ground))
        painter.drawRoundedRect(plate, 14, 14)
        painter.setPen(QPen(QColor(theme.edge if asked else theme.quiet), 1.5, Qt.PenStyle.DotLine))
        middle, inner = plate.center(), plate.adjusted(8, 8, -8, -8)
        painter.drawLine(QPointF(middle.x(), inner.top()), QPointF(middle.x(), inner.bottom()))
        painter.drawLine(QPointF(inner.left(), middle.y()), QPointF(inner.right(), middle.y()))

    def _paint_weight(self, painter: QPainter, ask: Ask) -> None:
        room, theme = self.weight(ask), self._theme
        if not ask.load_kg:
            painter.setPen(QPen(QColor(theme.ink), 2.5, Qt.PenStyle.DashLine))
            painter.setBrush(QColor(theme.ground))
            painter.drawEllipse(room)
            return
        painter.setPen(QPen(QColor(theme.ground), 3))
        painter.setBrush(QColor(theme.inside))
        painter.drawPath(_weight(room))
        if ask.placement.kind is Kind.SERIES:
            self._paint_way(painter, room, off=ask.placement.going is Going.DOWN)

    def _paint_way(self, painter: QPainter, room: QRectF, *, off: bool) -> None:
        """Paint an arrow above the weight: down to it, or up where something is taken off and it stays."""
        high, x = room.height() * 0.42, room.center().x()
        near, far = QPointF(x, room.top() - high * 0.25), QPointF(x, room.top() - high * 1.25)
        tip, foot, way = (far, near, 1) if off else (near, far, -1)
        painter.setPen(QPen(QColor(self._theme.ink), max(4.0, high * 0.13), Qt.PenStyle.SolidLine))
        painter.drawLine(tip, foot)
        for side in (-1, 1):
            painter.drawLine(tip, QPointF(x + side * high * 0.32, tip.y() + way * high * 0.36))


def _weight(room: QRectF) -> QPainterPath:
    """Return a weight with its ring, as on a market's scales."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    body_top, wide = room.top() + room.height() * 0.30, room.width()
    path.moveTo(room.left() + wide * 0.08, body_top)
    path.lineTo(room.right() - wide * 0.08, body_top)
    path.lineTo(room.right(), room.bottom())
    path.lineTo(room.left(), room.bottom())
    path.closeSubpath()
    ring = QRectF(room.center().x() - room.height() * 0.16, room.top(), room.height() * 0.32, room.height() * 0.30)
    path.addEllipse(ring)
    path.addEllipse(
        ring.adjusted(ring.width() * 0.24, ring.height() * 0.24, -ring.width() * 0.24, -ring.height() * 0.2)
    )
    return path
