"""The ceiling's alarm: over everything, told by its shape, its words and its colour."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF, QTransform

from weightshare.practice.screen import Alarm, AlarmKind, Screen
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

TITLES = {AlarmKind.OVER: mark("TOO MUCH LOAD"), AlarmKind.UNREAD: mark("LOAD NOT READ")}
WIDTH_PART, LARGE_PART = 0.94, 0.095
TOP_PART, GAP_PART = 0.16, 0.04
"""Where the mark begins, and what is left free below it, as parts of the height."""


class AlarmView(PaintedView):
    """Paints `Screen.alarm` over the whole board."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the alarm."""
        return screen.alarm

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the kind in a word, what to do, and what happened."""
        alarm = screen.alarm
        if alarm is None:
            return []
        ink = self._colours(alarm.kind)[1]
        said = self._broken(alarm)
        lines = [self._lay("alarm", say(TITLES[alarm.kind]), 0.03, 0.075, ink)]
        for index, text in enumerate(said):
            name = "headline" if index == 0 else f"headline {index}"
            lines.append(self._lay(name, text, self._foot(said) + index * LARGE_PART * 1.25, LARGE_PART, ink))
        words = self._lay("alarm words", alarm.words, 0.82, 0.065, ink)
        return [*lines, words, self._lay("alarm note", alarm.note, 0.90, 0.04, ink)] if alarm.note else [*lines, words]

    def _lay(self, name: str, text: str, top: float, size: float, ink: str) -> Line:
        """Lay a line across the view; `top` and `size` are parts of the height."""
        width, height = self.width() * WIDTH_PART, self.height()
        room = QRectF((self.width() - width) / 2, height * top, width, height * size * 1.3)
        return lettering.lay(
            name, text, room, round(height * size), ink, bold=True, align=Qt.AlignmentFlag.AlignHCenter
        )

    def _broken(self, alarm: Alarm) -> list[str]:
        size = round(self.height() * LARGE_PART)
        return lettering.break_large(alarm.headline, size, self.width() * WIDTH_PART)

    @staticmethod
    def _foot(said: list[str]) -> float:
        """Return where the headline begins, and the mark above it ends, as part of the height."""
        return 0.80 - LARGE_PART * 1.25 * len(said)

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the ground in the kind's colour, a thick rim, and the mark."""
        alarm = screen.alarm
        if alarm is None:
            return
        ground, ink = self._colours(alarm.kind)
        painter.fillRect(self.rect(), QColor(ground))
        rim = max(8, self.height() // 60)
        painter.setPen(
            QPen(QColor(ink), rim, Qt.PenStyle.SolidLine if alarm.kind is AlarmKind.OVER else Qt.PenStyle.DashLine)
        )
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self.rect().adjusted(rim, rim, -rim, -rim))
        foot = self._foot(self._broken(alarm)) - GAP_PART
        centre = QPointF(self.width() / 2, self.height() * (TOP_PART + foot) / 2)
        size = self.height() * (foot - TOP_PART)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        paint = _paint_over if alarm.kind is AlarmKind.OVER else _paint_unread
        paint(painter, centre, size, ink)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _colours(self, kind: AlarmKind) -> tuple[str, str]:
        """Return ground and ink."""
        theme = self.theme
        return (theme.over, theme.over_ink) if kind is AlarmKind.OVER else (theme.unread, theme.unread_ink)


def _paint_over(painter: QPainter, centre: QPointF, size: float, ink: str) -> None:
    """A triangle with an exclamation mark left open in it: the sign for danger that everybody knows."""
    shape = QPainterPath()
    shape.setFillRule(Qt.FillRule.OddEvenFill)
    shape.addPolygon(_polygon((0.0, -0.5), (0.58, 0.5), (-0.58, 0.5)))
    shape.addPolygon(_polygon((-0.075, -0.17), (0.075, -0.17), (0.045, 0.2), (-0.045, 0.2)))
    shape.addEllipse(QPointF(0.0, 0.33), 0.07, 0.07)
    painter.fillPath(QTransform(size, 0, 0, size, centre.x(), centre.y()).map(shape), QColor(ink))


def _paint_unread(painter: QPainter, centre: QPointF, size: float, ink: str) -> None:
    """A ring that is struck through: nothing is read."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(ink), size * 0.11, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawEllipse(centre, size * 0.42, size * 0.42)
    reach = size * 0.56
    painter.drawLine(
        QPointF(centre.x() - reach, centre.y() + reach * 0.8), QPointF(centre.x() + reach, centre.y() - reach * 0.8)
    )


def _polygon(*points: tuple[float, float]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in (*points, points[0])])
