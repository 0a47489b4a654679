"""The marks that say a state without colour, the soles of two feet, and stones."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF, QTransform
from shiboken6 import VoidPtr

from weightshare.model import Floats, Side
from weightshare.practice.screen import Shape
from weightshare.window.theme import Theme


def shape_colour(shape: Shape, theme: Theme, *, asks: bool = False) -> str:
    """Return the colour that goes with `shape`: inside, outside, or neither; an arrowhead that `asks` blames nobody."""
    if shape is Shape.DISC or (asks and shape in (Shape.TO_LEFT, Shape.TO_RIGHT)):
        return theme.inside
    return theme.quiet if shape in (Shape.RING, Shape.NONE) else theme.outside


def paint_shape(painter: QPainter, shape: Shape, centre: QPointF, size: float, colour: str, *, rim: str = "") -> None:
    """Paint `shape` about `centre`, `size` px across, with a rim in the colour behind it where one is given."""
    if shape is Shape.NONE:
        return
    ink = QColor(colour)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    if shape in (Shape.RING, Shape.CROSS):
        painter.setPen(QPen(ink, size * 0.16, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(outline(shape).map_to(centre, size * 0.84))
    else:
        painter.setPen(QPen(QColor(rim), size * 0.10) if rim else Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawPath(outline(shape).map_to(centre, size))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


class Outline:
    """A path of size 1 about the origin, which can be put anywhere at any size."""

    def __init__(self, path: QPainterPath) -> None:
        self._path = path

    def map_to(self, centre: QPointF, size: float) -> QPainterPath:
        """Return the path about `centre`, `size` px across."""
        return QTransform(size, 0, 0, size, centre.x(), centre.y()).map(self._path)


@lru_cache(maxsize=8)
def outline(shape: Shape) -> Outline:
    """Return the outline of `shape`."""
    path = QPainterPath()
    if shape in (Shape.DISC, Shape.RING):
        path.addEllipse(QRectF(-0.5, -0.5, 1, 1))
    elif shape is Shape.DIAMOND:
        path.addPolygon(_polygon((0, -0.6), (0.6, 0), (0, 0.6), (-0.6, 0)))
    elif shape is Shape.CROSS:
        path.moveTo(-0.4, -0.4)
        path.lineTo(0.4, 0.4)
        path.moveTo(-0.4, 0.4)
        path.lineTo(0.4, -0.4)
    else:
        side = 1 if shape is Shape.TO_RIGHT else -1
        path.addPolygon(_polygon((side * 0.62, 0), (side * -0.38, -0.6), (side * -0.38, 0.6)))
    path.closeSubpath()
    return Outline(path)


def _polygon(*points: tuple[float, float]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points])


def polygon(x: Floats, y: Floats) -> QPolygonF:
    """Return points (px, shape (n,) each) as Qt's own, written in one go: one by one they cost more than the line."""
    made = QPolygonF()
    made.resize(len(x))
    # its type hints know one argument only
    pointer: Any = VoidPtr
    memory = pointer(made.data(), 16 * len(x), True)
    points = np.frombuffer(memory, dtype=np.float64).reshape(len(x), 2)
    points[:, 0], points[:, 1] = x, y
    return made


@lru_cache(maxsize=2)
def sole(side: Side) -> Outline:
    """Return the print of a bare foot, toes up, one high, about the origin."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    path.moveTo(-0.155, -0.20)
    path.cubicTo(-0.16, -0.33, 0.16, -0.36, 0.17, -0.17)
    path.cubicTo(0.18, -0.04, 0.12, 0.08, 0.13, 0.24)
    path.cubicTo(0.14, 0.42, 0.10, 0.50, 0.00, 0.50)
    path.cubicTo(-0.10, 0.50, -0.13, 0.41, -0.11, 0.26)
    path.cubicTo(-0.09, 0.10, -0.15, 0.00, -0.155, -0.20)
    path.closeSubpath()
    for x, y, radius in (
        (-0.10, -0.40, 0.064),
        (-0.005, -0.425, 0.044),
        (0.07, -0.40, 0.038),
        (0.13, -0.355, 0.033),
        (0.175, -0.295, 0.028),
    ):
        path.addEllipse(QPointF(x, y), radius, radius * 1.15)
    # drawn as a right foot, the great toe towards the middle; the left one is its mirror image
    return Outline(path if side is Side.RIGHT else QTransform(-1, 0, 0, 1, 0, 0).map(path))


def paint_stones(painter: QPainter, room: QRectF, theme: Theme, *, count: int, filled: float, columns: int) -> None:
    """Paint `count` stones into `room`, `columns` a row, the first `filled` of them laid; the last one in part."""
    rows = -(-count // columns)
    gap = max(2.0, room.width() / columns * 0.14)
    width = (room.width() - gap * (columns - 1)) / columns
    height = (room.height() - gap * (rows - 1)) / rows
    for index in range(count):
        left = round(room.left() + (index % columns) * (width + gap))
        top = round(room.top() + (index // columns) * (height + gap))
        stone = QRectF(left, top, round(width), round(height))
        part = min(1.0, max(0.0, filled - index))
        if part > 0:
            painter.fillRect(QRectF(left, top, round(stone.width() * part), stone.height()), QColor(theme.laid))
        painter.setPen(QColor(theme.edge))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(stone.adjusted(0, 0, -1, -1))
