"""What a calibration leaves over: reading minus load of every placement against the load, one picture a plate."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from weightshare.metrology.found import Found, PlateFit, Residual
from weightshare.metrology.reading import Going, Spot
from weightshare.tongue import mark, number, say
from weightshare.window import lettering
from weightshare.window.benchaxis import Axes
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

KEYS = mark("\u25b2 laid on   \u25bd taken off   \u25c7 in a quarter"), mark("dashed: two residual standard deviations")
STEPS_N = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
"""Half the height of the picture is one of these: N."""


class BenchPlot:
    """The picture of one plate's residuals within `room`."""

    def __init__(self, found: Found, fit: PlateFit, room: QRectF, theme: Theme, text_px: int) -> None:
        self._fit = fit
        left = lettering.width_of("+0.5 N ", text_px) + text_px
        plane = room.adjusted(left, text_px * 2.1, -text_px * 0.5, -text_px * 2.0)
        self.axes = Axes(str(fit.side), room, plane, theme, text_px)
        self._points = [point for point in found.residuals if point.side is fit.side]
        furthest = max((abs(point.residual_N) for point in self._points), default=0.0)
        self.reach_N = next((step for step in STEPS_N if step >= max(furthest, 2.2 * fit.residual_sd_N)), STEPS_N[-1])
        """Half the height, N."""

    def lines(self) -> list[Line]:
        """Return the title and the ends of both axes."""
        axes, reach, quiet = self.axes, f"{number(self.reach_N, 'g')} N", self.axes.theme.quiet
        name, size, plane = axes.name, axes.text_px, axes.plane
        below = QRectF(plane.left(), plane.bottom() + size * 0.5, plane.width(), size * 1.3)
        end, right = f"{self._fit.range_N:.0f} N", Qt.AlignmentFlag.AlignRight
        return [
            axes.title(f"plot {name}", say("{name}: reading minus load", name=say(name))),
            *axes.heights(((f"+{reach}", plane.top()), ("0", plane.center().y()), (f"\u2212{reach}", plane.bottom()))),
            lettering.lay(f"{name} x 0", "0 N", below, size, quiet),
            lettering.lay(f"{name} x end", end, below, size, quiet, align=right),
        ]

    def place_of(self, point: Residual) -> QPointF:
        """Return where `point` is painted."""
        plane = self.axes.plane
        x = plane.left() + plane.width() * point.load_N / max(1.0, self._fit.range_N)
        part = max(-1.0, min(1.0, point.residual_N / self.reach_N))
        return QPointF(min(x, plane.right()), plane.center().y() - part * plane.height() / 2)

    def paint(self, painter: QPainter) -> None:
        """Paint axes, the spread and every placement."""
        axes, middle = self.axes, self.axes.plane.center().y()
        spread = axes.plane.height() / 2 * min(1.0, 2.0 * self._fit.residual_sd_N / self.reach_N)
        axes.paint(painter, middle, (middle - spread, middle + spread), axes.theme.edge)
        axes.begin_marks(painter)
        for point in self._points:
            full = point.spot is Spot.MIDDLE and point.going is Going.UP
            axes.paint_mark(painter, shape_of(point), self.place_of(point), is_full=full)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


def shape_of(point: Residual) -> str:
    """Return the mark of a placement: upwards where it was laid on, downwards where it was taken off."""
    if point.spot is not Spot.MIDDLE:
        return "diamond"
    return "up" if point.going is Going.UP else "down"
