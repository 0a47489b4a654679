"""The path: what is ahead, the puck on the now-line, and what was done."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Hashable
from typing import Any

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QWidget
from shiboken6 import VoidPtr

from weightshare.model import Floats
from weightshare.practice.screen import Path, Screen
from weightshare.window import mark
from weightshare.window.lettering import Line
from weightshare.window.plane import Plane, thin
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

Painted = Callable[[float | None, float], None]
"""Called after each paint with the newest sample's own time and its age at that moment, both in s."""


class PathView(PaintedView):
    """Paints `Screen.path`. Left and right on it are left and right under the feet; time flows downwards."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.after_paint: Painted | None = None
        self._shown_at_s = 0.0
        self._tile: tuple[tuple[int, int, str], QPixmap] | None = None

    def key_of(self, screen: Screen) -> Hashable:
        """Return the screen itself: time flows, so that each one looks different."""
        self._shown_at_s = time.monotonic()
        return id(screen), screen.age_s

    def plane(self, path: Path) -> Plane:
        """Return where shares and instants lie on this widget now."""
        return Plane(self.width(), self.height(), path.reach_points, margin=self._puck_px() // 2)

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return nothing: the words stand below the path."""
        return []

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and tell how old the newest sample was by then."""
        super().paintEvent(event)
        if self.after_paint is not None and self.screen_shown is not None:
            path, age_s = self.screen_shown.path, self.screen_shown.age_s
            sample_s = None if path is None or path.now_s is None else path.now_s - age_s
            self.after_paint(sample_s, age_s + time.monotonic() - self._shown_at_s)

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint back to front; the puck comes last."""
        if screen.path is not None:
            self._paint(painter, screen, screen.path)

    def _paint(self, painter: QPainter, screen: Screen, path: Path) -> None:
        plane = self.plane(path)
        self._paint_corridor(painter, path, plane)
        painter.fillRect(0, plane.now_row - 1, self.width(), 2, QColor(self.theme.edge))
        if not screen.blank:
            self._paint_trail(painter, path, plane)
        self._paint_puck(painter, screen, path, plane)

    def _paint_corridor(self, painter: QPainter, path: Path, plane: Plane) -> None:
        theme = self.theme
        middle = QPen(QColor(theme.hairline), 2, Qt.PenStyle.DashLine)
        painter.setPen(middle)
        painter.drawLine(self.width() // 2, 0, self.width() // 2, plane.height)
        if path.low is None or path.high is None:
            return
        first, last = plane.corridor(path.low, path.high)
        width = last - first + 1
        if path.solid:
            painter.fillRect(first, 0, width, plane.height, QColor(theme.path))
        if path.now_s is not None:
            self._pave(painter, path, plane, first, width)
        edge = QColor(theme.edge)
        line = max(1, min(3, width // 6))
        for left in (first, last - line + 1):
            if path.solid:
                painter.fillRect(left, 0, line, plane.height, edge)
            else:
                for top in range(0, plane.height, 16):
                    painter.fillRect(left, top, line, 8, edge)

    def _pave(self, painter: QPainter, path: Path, plane: Plane, first: int, width: int) -> None:
        now_s = path.now_s or 0.0
        for start_s, end_s in path.paved:
            top, bottom = round(plane.y(end_s, now_s)), round(plane.y(start_s, now_s))
            top = plane.now_row if now_s - end_s < 0.1 else max(top, plane.now_row)
            if bottom > top:
                painter.fillRect(first, top, width, bottom - top, QColor(self.theme.laid))
        # joints each second of sample time: the path flows, and a second can be seen
        shift = -round(plane.y(math.ceil(now_s), now_s)) % plane.px_per_s
        painter.drawTiledPixmap(first, 0, width, plane.height, self._joints(width, plane.px_per_s), 0, shift)
        if path.to_goal_s is not None:
            row = plane.now_row - round(path.to_goal_s * plane.px_per_s)
            if row > -8:
                painter.fillRect(first - 14, row - 3, width + 28, 6, QColor(self.theme.inside))

    def _joints(self, width: int, height: int) -> QPixmap:
        key = width, height, self.theme.ground
        if self._tile is None or self._tile[0] != key:
            pixmap = QPixmap(width, height)
            pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(pixmap)
            painter.fillRect(0, 0, width, 2, QColor(self.theme.ground))
            painter.end()
            self._tile = key, pixmap
        return self._tile[1]

    def _paint_trail(self, painter: QPainter, path: Path, plane: Plane) -> None:
        if path.now_s is None or len(path.trail_time_s) < 2:
            return
        time_s, place, inside = thin(path)
        x = self.width() / 2 + (place - 50.0) * plane.px_per_point
        y = plane.now_row + (path.now_s - time_s) * plane.px_per_s
        known = np.isfinite(place)
        kind = np.where(known, inside.astype(np.int8), -1)
        cuts = np.flatnonzero(kind[1:] != kind[:-1]) + 1
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for begin, end in zip((0, *cuts), (*cuts, len(kind)), strict=True):
            if kind[begin] >= 0:
                stop = min(end + 1, len(kind)) if end < len(kind) and kind[end] >= 0 else end
                self._paint_run(painter, x[begin:stop], y[begin:stop], bool(kind[begin]))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_run(self, painter: QPainter, x: Floats, y: Floats, inside: bool) -> None:
        points = _polygon(x, y)
        if not inside:
            painter.setPen(QPen(QColor(self.theme.outside), 2.5, Qt.PenStyle.DotLine, Qt.PenCapStyle.FlatCap))
            painter.drawPolyline(points)
            return
        # three thin lines side by side cost a third of a wide one
        painter.setPen(QPen(QColor(self.theme.ink), 1))
        for right, down in ((0, 0), (1, 0), (-1, 1)):
            painter.translate(right, down)
            painter.drawPolyline(points)
        painter.translate(0, -1)

    def _paint_puck(self, painter: QPainter, screen: Screen, path: Path, plane: Plane) -> None:
        column = plane.puck_column(path)
        if column is None or screen.blank:
            return
        size = self._puck_px()
        if path.low is not None and path.high is not None:
            size = max(14, min(size, round((path.high - path.low) * plane.px_per_point * 0.5)))
        centre, row = QPointF(column + 0.5, plane.now_row), plane.now_row
        colour = mark.shape_colour(screen.shape, self.theme)
        mark.paint_shape(painter, screen.shape, centre, size, colour, rim=self.theme.ground)
        # the needle shows the very column that the share falls in, above and below the puck
        for top in (row - round(size * 1.25), row + round(size * 0.75)):
            painter.fillRect(column - 1, top, 3, round(size * 0.5), QColor(self.theme.ink))

    def _puck_px(self) -> int:
        return max(26, self.height() // 10)


def _polygon(x: Floats, y: Floats) -> QPolygonF:
    """Return points (px, shape (n,) each) as Qt's own, written in one go: one by one they cost more than the line."""
    polygon = QPolygonF()
    polygon.resize(len(x))
    # its type hints know one argument only
    pointer: Any = VoidPtr
    memory = pointer(polygon.data(), 16 * len(x), True)
    points = np.frombuffer(memory, dtype=np.float64).reshape(len(x), 2)
    points[:, 0], points[:, 1] = x, y
    return polygon
