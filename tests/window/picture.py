"""What is painted, as pixels and as lines of text, and what no picture may have."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget

from weightshare.practice.screen import Screen
from weightshare.window.board import Board


def pixels(widget: QWidget) -> NDArray[np.uint8]:
    """Return what `widget` paints, as red, green, blue, shape (height, width, 3)."""
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


def is_colour(picture: NDArray[np.uint8], colour: str) -> NDArray[np.bool_]:
    wanted = QColor(colour)
    found: NDArray[np.bool_] = np.all(picture == (wanted.red(), wanted.green(), wanted.blue()), axis=-1)
    return found


def path_picture(board: Board) -> NDArray[np.uint8]:
    place = board.path.geometry()
    return pixels(board)[place.top() : place.bottom() + 1, place.left() : place.right() + 1]


def corridor_columns(board: Board, picture: NDArray[np.uint8], row: int = 6) -> tuple[int, int]:
    """Return the first and last column that belongs to the corridor, as painted in `row`."""
    edge = np.flatnonzero(is_colour(picture[row], board.theme.edge))
    return int(edge[0]), int(edge[-1])


def needle_column(board: Board, picture: NDArray[np.uint8], screen: Screen) -> int:
    """Return the middle column of the puck's needle, as painted above the puck."""
    assert screen.path is not None
    plane = board.path.plane(screen.path)
    above = picture[plane.now_row - 80 : plane.now_row - 12]
    columns = np.flatnonzero(is_colour(above, board.theme.ink).sum(axis=0) >= 5)
    assert len(columns) == 3, "the needle is three pixels wide"
    return int(columns[1])


def look_for_faults(board: Board, name: str) -> None:
    """Fail where a line of text is cut, leaves its place, or lies over another of the same part."""
    lines = board.lines()
    for view, line in lines:
        ink = line.bounds()
        assert "\u2026" not in line.text, f"{name}: {line.name} is cut: {line.text}"
        assert view.rect().toRectF().adjusted(-1, -1, 1, 1).contains(ink), f"{name}: {line.name} leaves its view"
        room = line.room.adjusted(-2, -1000, 2, 1000)
        assert room.contains(ink), f"{name}: {line.name} is too wide"
    for (view, line), (other_view, other) in combinations(lines, 2):
        over = view is other_view and line.bounds().intersects(other.bounds())
        assert not over, f"{name}: {line.name} lies over {other.name}"
