"""The corridor of a path, straight or bending: its surface, what of it counted, its edges, the seconds, the gate."""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from weightshare.practice.screen import Path
from weightshare.window import mark
from weightshare.window.plane import MOUTH_PX, Course, Plane
from weightshare.window.theme import Theme

EDGE_PX = 3
GATE_PX, GATE_REACH_PX = 14, 28
MET_S = 0.1
"""What counted until so shortly ago is painted up to the now-line, s."""


class Corridor:
    """Paints the corridor of one path after another; keeps the tile of its joints between paints."""

    def __init__(self) -> None:
        self._tile: tuple[tuple[int, int, str], QPixmap] | None = None

    def paint(self, painter: QPainter, theme: Theme, path: Path, plane: Plane) -> None:
        """Paint a corridor that stands; nothing where no band is set."""
        if path.low is None or path.high is None:
            return
        first, last = plane.corridor(path.low, path.high)
        width = last - first + 1
        if path.solid:
            painter.fillRect(first, 0, width, plane.height, QColor(theme.path))
        if path.now_s is not None:
            self._pave(painter, theme, path, plane)
        _paint_sides(painter, theme, QRect(first, 0, width, plane.height), path.solid)

    def _pave(self, painter: QPainter, theme: Theme, path: Path, plane: Plane) -> None:
        first, last = plane.corridor(path.low or 0.0, path.high or 0.0)
        width = last - first + 1
        for top, bottom in _paved_rows(path, plane):
            painter.fillRect(first, top, width, bottom - top, QColor(theme.laid))
        # joints each second of sample time: the path flows, and a second can be seen
        now_s = path.now_s or 0.0
        shift = -round(plane.y(math.ceil(now_s), now_s)) % plane.px_per_s
        tile = self._joints(width, plane.px_per_s, theme)
        painter.drawTiledPixmap(first, 0, width, plane.height, tile, 0, shift)
        if path.to_goal_s is not None:
            row = plane.now_row - round(path.to_goal_s * plane.px_per_s)
            if row > -8:
                painter.fillRect(first - 14, row - 3, width + 28, 6, QColor(theme.inside))

    def _joints(self, width: int, height: int, theme: Theme) -> QPixmap:
        key = width, height, theme.ground
        if self._tile is None or self._tile[0] != key:
            pixmap = QPixmap(width, height)
            pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(pixmap)
            painter.fillRect(0, 0, width, 2, QColor(theme.ground))
            painter.end()
            self._tile = key, pixmap
        return self._tile[1]


def paint_bent(painter: QPainter, theme: Theme, path: Path, plane: Plane, drawn: Course) -> None:
    """Paint a corridor that bends along `drawn`; at the now-line it is the band of now, to the pixel."""
    painter.setPen(Qt.PenStyle.NoPen)
    if path.solid:
        _fill(painter, drawn, theme.path)
    for top, bottom in _paved_rows(path, plane):
        _fill(painter, drawn.between(top, min(bottom, plane.height)), theme.laid)
    _paint_seconds(painter, theme, path, plane, drawn)
    _paint_phases(painter, theme, path, plane, drawn)
    _paint_curves(painter, theme, drawn, path.solid)
    if path.low is None or path.high is None:
        return
    first, last = plane.corridor(path.low, path.high)
    mouth = QRect(first, plane.now_row - MOUTH_PX, last - first + 1, 2 * MOUTH_PX)
    painter.fillRect(mouth, QColor(theme.path if path.solid else theme.ground))
    _paint_sides(painter, theme, mouth, solid=True)
    if path.ahead is not None and path.ahead.waits:
        _paint_gate(painter, theme, mouth)


def _paved_rows(path: Path, plane: Plane) -> list[tuple[int, int]]:
    """Return the rows of what counted, from the top of each stretch to its bottom, below the now-line."""
    now_s, rows = path.now_s or 0.0, []
    for start_s, end_s in path.paved:
        top, bottom = round(plane.y(end_s, now_s)), round(plane.y(start_s, now_s))
        top = plane.now_row if now_s - end_s < MET_S else max(top, plane.now_row)
        if bottom > top < plane.height:
            rows.append((top, bottom))
    return rows


def _paint_sides(painter: QPainter, theme: Theme, room: QRect, solid: bool) -> None:
    edge, line = QColor(theme.edge), max(1, min(EDGE_PX, room.width() // 6))
    for left in (room.left(), room.right() - line + 1):
        if solid:
            painter.fillRect(left, room.top(), line, room.height(), edge)
        else:
            for top in range(room.top(), room.bottom(), 16):
                painter.fillRect(left, top, line, 8, edge)


def _fill(painter: QPainter, drawn: Course, colour: str) -> None:
    painter.setBrush(QColor(colour))
    x = np.concatenate((drawn.left, drawn.right[::-1]))
    painter.drawPolygon(mark.polygon(x, np.concatenate((drawn.row, drawn.row[::-1]))))


def _paint_seconds(painter: QPainter, theme: Theme, path: Path, plane: Plane, drawn: Course) -> None:
    """Paint the seconds of sample time, as far as the corridor flows: one that waits stands still."""
    if path.now_s is None:
        return
    waits = path.ahead is not None and path.ahead.waits
    last_s = path.now_s + (0.0 if waits else plane.now_row / plane.px_per_s)
    for second in range(math.ceil(path.now_s - (plane.height - plane.now_row) / plane.px_per_s), math.ceil(last_s)):
        row = round(plane.y(second, path.now_s))
        left, right = np.interp(row, drawn.row, drawn.left), np.interp(row, drawn.row, drawn.right)
        painter.fillRect(round(left), row, round(right - left), 2, QColor(theme.ground))


def _paint_phases(painter: QPainter, theme: Theme, path: Path, plane: Plane, drawn: Course) -> None:
    """Paint a step across the corridor where a phase begins."""
    for from_now_s, _words in () if path.ahead is None else path.ahead.marks:
        row = plane.now_row - round(from_now_s * plane.px_per_s)
        if 0 < row < plane.now_row - MOUTH_PX:
            left, right = np.interp(row, drawn.row, drawn.left), np.interp(row, drawn.row, drawn.right)
            painter.fillRect(round(left), row - 1, round(right - left), 3, QColor(theme.edge))


def _paint_curves(painter: QPainter, theme: Theme, drawn: Course, solid: bool) -> None:
    style = Qt.PenStyle.SolidLine if solid else Qt.PenStyle.DashLine
    painter.setPen(QPen(QColor(theme.edge), 1, style))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    # three thin lines side by side cost a third of a wide one; they lie within the corridor
    for x, inward in ((drawn.left, 1), (drawn.right, -1)):
        points = mark.polygon(x, drawn.row)
        for shift in range(EDGE_PX):
            painter.translate(shift * inward, 0)
            painter.drawPolyline(points)
            painter.translate(-shift * inward, 0)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


def _paint_gate(painter: QPainter, theme: Theme, mouth: QRect) -> None:
    """Paint a barrier across the corridor's mouth: nothing flows before the person starts."""
    top, left = mouth.top() - GATE_PX - 4, mouth.left() - GATE_REACH_PX
    width = mouth.width() + 2 * GATE_REACH_PX
    painter.fillRect(left - 2, top - 2, width + 4, GATE_PX + 4, QColor(theme.ground))
    painter.setBrush(QColor(theme.ink))
    painter.setPen(Qt.PenStyle.NoPen)
    stripe = max(10, width // 9)
    painter.setClipRect(left, top, width, GATE_PX)
    for x in range(left - stripe, left + width, stripe):
        bar = [QPointF(x, top + GATE_PX), QPointF(x + GATE_PX, top)]
        bar += [QPointF(x + GATE_PX + stripe / 2, top), QPointF(x + stripe / 2, top + GATE_PX)]
        painter.drawPolygon(QPolygonF(bar))
    painter.setClipping(False)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(theme.ink), 2))
    painter.drawRect(left, top, width - 1, GATE_PX - 1)
