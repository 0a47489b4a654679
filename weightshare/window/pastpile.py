"""Repetitions of a saved session over each other, from where the lowering begins: share, and below it the heel."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from weightshare.model import Floats
from weightshare.practice.past.lane import Lane, round_step
from weightshare.practice.past.pyramid import Envelope
from weightshare.practice.past.view import Overlay, PastView
from weightshare.tongue import mark, number, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.pastdraw import draw_curve
from weightshare.window.pastplace import GUTTER, y_of, ys_of
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

RIGHT, CENTRE = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
MOST_TIMES = 6
BEFORE = mark("seconds from where the lowering begins")


class PastPile(Painted):
    """Paints `PastView.overlay`; the chosen repetition lies on top, darker than the others."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.text_px = 14
        self.overlays: tuple[Overlay, ...] = ()
        self._shown: tuple[PastView, int | None] | None = None

    def show_view(self, view: PastView) -> None:
        """Show what is chosen; the same again changes nothing."""
        if self._shown != (view, view.chosen):
            self._shown, self.overlays = (view, view.chosen), view.overlay()
            self.refresh()

    def rooms(self) -> list[QRectF]:
        """Return where each overlay is painted, under each other."""
        size, count = self.text_px, max(1, len(self.overlays))
        left, top, bottom = lettering.width_of(GUTTER, size), size * 2.1, self.height() - size * 2.9
        high = (bottom - top) / count
        width = self.width() - left - size * 0.5
        return [QRectF(left, round(top + k * high), width, round(high - size * 0.9)) for k in range(count)]

    def lay_out(self) -> list[Line]:
        """Return which repetitions they are, and the numbers of the axes."""
        if not self.overlays:
            return []
        size, theme, (first, *_rest) = self.text_px, self.theme, self.overlays
        over = QRectF(0, 0, self.width(), size * 1.4)
        lines = [lettering.lay("pile", say("Over each other: {of}", of=first.of), over, size, theme.ink, bold=True)]
        for room, overlay in zip(self.rooms(), self.overlays, strict=True):
            lines += self._heights(room, overlay.lane)
        return [*lines, *self._times(self.rooms()[-1], first)]

    def _heights(self, room: QRectF, lane: Lane) -> list[Line]:
        size, lines = round(self.text_px * 0.9), []
        for value in lane.ticks()[:: 1 if room.height() > size * 6 else 2]:
            y, unit = y_of(room, lane, value), lane.unit if value == lane.ticks()[0] else ""
            left = QRectF(0, y - size * 0.6, room.left() - size * 0.4, size * 1.2)
            text = f"{number(value, 'g')} {unit}".strip()
            lines.append(lettering.lay(f"{lane.short} {value:g}", text, left, size, self.theme.quiet, align=RIGHT))
        return lines

    def _times(self, room: QRectF, overlay: Overlay) -> list[Line]:
        size, step = round(self.text_px * 0.9), round_step(overlay.to_s - overlay.from_s, MOST_TIMES)
        top, lines = room.bottom() + size * 0.3, []
        for index in range(-int(-overlay.from_s // step), int(overlay.to_s // step) + 1):
            place = QRectF(self._x(room, overlay, index * step) - size * 3, top, size * 6, size * 1.2)
            text = number(index * step, "g").replace("-", "\u2212")
            lines.append(lettering.lay(f"time {text}", text, place, size, self.theme.quiet, align=CENTRE))
        below = QRectF(room.left(), top + size * 1.25, room.width(), size * 1.2)
        return [*lines, lettering.lay("axis", say(BEFORE), below, size, self.theme.quiet, align=CENTRE)]

    def _x(self, room: QRectF, overlay: Overlay, time_s: float) -> float:
        return room.left() + room.width() * (time_s - overlay.from_s) / (overlay.to_s - overlay.from_s)

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the band of the lowering, where the lowering begins, and each repetition."""
        for room, overlay in zip(self.rooms(), self.overlays, strict=False):
            painter.setPen(QPen(QColor(self.theme.hairline), 1))
            painter.drawRect(room)
            self._paint_band(painter, room, overlay)
            x = self._x(room, overlay, 0.0)
            painter.setPen(QPen(QColor(self.theme.quiet), 1, Qt.PenStyle.DashLine))
            painter.drawLine(QLineF(x, room.top(), x, room.bottom()))
            painter.setClipRect(room)
            for piece in overlay.pieces:
                found = Envelope(piece.time_s, piece.low, piece.high, 1)
                colour = self.theme.ink if piece.is_chosen else self.theme.edge
                draw_curve(painter, found, colour, partial(self._xs, room, overlay), partial(ys_of, room, overlay.lane))
            painter.setClipping(False)

    def _paint_band(self, painter: QPainter, room: QRectF, overlay: Overlay) -> None:
        """Paint the band from the lowering on, where the share is what is shown."""
        if overlay.asked is None:
            return
        low, high = (y_of(room, overlay.lane, edge) for edge in overlay.asked)
        left = self._x(room, overlay, max(0.0, overlay.from_s))
        band = QRectF(left, high, room.right() - left, low - high)
        painter.fillRect(band, QColor(self.theme.path))
        painter.setPen(QPen(QColor(self.theme.edge), 1))
        for y in (low, high):
            painter.drawLine(QLineF(band.left(), y, band.right(), y))

    def _xs(self, room: QRectF, overlay: Overlay, time_s: Floats) -> Floats:
        placed: Floats = room.left() + room.width() * (time_s - overlay.from_s) / (overlay.to_s - overlay.from_s)
        return placed
