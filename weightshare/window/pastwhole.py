"""The course of a whole saved session as a picture that is painted once: it stays the same however it is zoomed."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QPainter, QPixmap

from weightshare.practice.past.lane import Lane
from weightshare.window.pastdraw import draw_curve
from weightshare.window.pastplace import Places, ys_of
from weightshare.window.theme import Theme

BLOCKS_PER_PX = 0.5


class WholeCourse:
    """Keeps the newest picture, and what it was painted for."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._painted = QPixmap()

    def paint(self, painter: QPainter, places: Places, lane: Lane, whole_s: tuple[float, float], theme: Theme) -> None:
        """Paint the first curve of `lane` over the whole session, from `whole_s[0]` to `whole_s[1]`, into its place."""
        ratio = painter.device().devicePixelRatio()
        key = (lane, theme, places.whole.getRect(), ratio)
        if key != self._key:
            self._key, self._painted = key, _paint(places, lane, whole_s, theme, ratio)
        # between two pixels it would be blurred
        painter.drawPixmap(places.whole.topLeft().toPoint(), self._painted)


def _paint(places: Places, lane: Lane, whole_s: tuple[float, float], theme: Theme, ratio: float) -> QPixmap:
    room = places.whole.translated(-places.whole.topLeft())
    found = lane.curves[0].pyramid.envelope(*whole_s, round(BLOCKS_PER_PX * room.width()))
    painted = QPixmap(round(room.width() * ratio), round(room.height() * ratio))
    painted.setDevicePixelRatio(ratio)
    painted.fill(QColor(theme.raised))
    painter = QPainter(painted)
    painter.translate(QPointF(-places.plane.left(), 0.0))
    draw_curve(painter, found, theme.quiet, partial(places.xs_of, span_s=whole_s), partial(ys_of, room, lane))
    painter.end()
    return painted
