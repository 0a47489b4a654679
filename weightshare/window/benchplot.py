"""What a calibration leaves over: reading minus load of every placement against the load, one picture a plate."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from weightshare.metrology.found import Found, PlateFit, Residual
from weightshare.metrology.reading import Going, Spot
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

KEYS = "\u25b2 laid on   \u25bd taken off   \u25c7 in a quarter", "dashed: two residual standard deviations"
STEPS_N = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
"""Half the height of the picture is one of these: N."""


class BenchPlot:
    """The picture of one plate's residuals within `room`."""

    def __init__(self, found: Found, fit: PlateFit, room: QRectF, theme: Theme, text_px: int) -> None:
        self._fit, self._theme, self._room, self._text_px = fit, theme, room, text_px
        self._points = [point for point in found.residuals if point.side is fit.side]
        furthest = max((abs(point.residual_N) for point in self._points), default=0.0)
        self.reach_N = next((step for step in STEPS_N if step >= max(furthest, 2.2 * fit.residual_sd_N)), STEPS_N[-1])
        """Half the height, N."""

    def lines(self) -> list[Line]:
        """Return the title and the ends of both axes."""
        size, plane, theme = self._text_px, self._plane(), self._theme
        name = str(self._fit.side)
        title = QRectF(self._room.left(), self._room.top(), self._room.width(), size * 1.5)
        words = f"{name}: reading minus load"
        lines = [lettering.lay(f"plot {name}", words, title, size, theme.ink, bold=True)]
        right, left = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft
        axis = plane.left() - self._room.left() - size * 0.4
        for text, y in (
            (f"+{self.reach_N:g} N", plane.top()),
            ("0", plane.center().y()),
            (_minus(self), plane.bottom()),
        ):
            room = QRectF(self._room.left(), y - size * 0.6, axis, size * 1.2)
            lines.append(lettering.lay(f"{name} y {text}", text, room, size, theme.quiet, align=right))
        below = QRectF(plane.left(), plane.bottom() + size * 0.5, plane.width(), size * 1.3)
        lines.append(lettering.lay(f"{name} x 0", "0 N", below, size, theme.quiet, align=left))
        end = f"{self._fit.range_N:.0f} N"
        lines.append(lettering.lay(f"{name} x end", end, below, size, theme.quiet, align=right))
        return lines

    def _plane(self) -> QRectF:
        size = self._text_px
        return self._room.adjusted(lettering.width_of("+0.5 N ", size) + size, size * 2.1, -size * 0.5, -size * 2.0)

    def place_of(self, point: Residual) -> QPointF:
        """Return where `point` is painted."""
        plane = self._plane()
        x = plane.left() + plane.width() * point.load_N / max(1.0, self._fit.range_N)
        part = max(-1.0, min(1.0, point.residual_N / self.reach_N))
        return QPointF(min(x, plane.right()), plane.center().y() - part * plane.height() / 2)

    def paint(self, painter: QPainter) -> None:
        """Paint axes, the spread and every placement."""
        plane, theme, fit = self._plane(), self._theme, self._fit
        painter.setBrush(QColor(theme.raised))
        painter.setPen(QPen(QColor(theme.quiet), 1))
        painter.drawRect(plane)
        painter.drawLine(QPointF(plane.left(), plane.center().y()), QPointF(plane.right(), plane.center().y()))
        painter.setPen(QPen(QColor(theme.edge), 1.5, Qt.PenStyle.DashLine))
        for way in (-1, 1):
            y = plane.center().y() + way * plane.height() / 2 * min(1.0, 2.0 * fit.residual_sd_N / self.reach_N)
            painter.drawLine(QPointF(plane.left(), y), QPointF(plane.right(), y))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(QPen(QColor(theme.inside), 1.6))
        size = max(5.0, self._text_px * 0.32)
        for point in self._points:
            full = point.spot is Spot.MIDDLE and point.going is Going.UP
            painter.setBrush(QColor(theme.inside) if full else QColor(theme.raised))
            painter.drawPath(_shape(point, size).translated(self.place_of(point)))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


def _minus(plot: BenchPlot) -> str:
    return f"\u2212{plot.reach_N:g} N"


def _shape(point: Residual, size: float) -> QPainterPath:
    """Return a triangle upwards or downwards, or a diamond, about the origin."""
    path = QPainterPath(QPointF(0, -size))
    if point.spot is not Spot.MIDDLE:
        corners = ((size, 0.0), (0.0, size), (-size, 0.0))
    elif point.going is Going.UP:
        corners = ((size, size * 0.8), (-size, size * 0.8), (0.0, -size))
    else:
        path = QPainterPath(QPointF(0, size))
        corners = ((size, -size * 0.8), (-size, -size * 0.8), (0.0, size))
    for x, y in corners:
        path.lineTo(x, y)
    path.closeSubpath()
    return path
