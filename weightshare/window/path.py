"""The path: what is ahead, the puck on the now-line, and what was done."""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from weightshare.model import Floats
from weightshare.practice.screen import Path, Screen
from weightshare.window import lettering, mark
from weightshare.window.corridor import Corridor, paint_bent
from weightshare.window.lettering import Line
from weightshare.window.plane import Plane, course, thin
from weightshare.window.signpost import Post, plant, words_on_left
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

BEAT_PART, BEAT_GAP_PX = 0.18, 16
"""How large the beat's mark is at its largest, as part of the height; and what is left free about it."""

Painted = Callable[[float | None, float], None]
"""Called after each paint with the newest sample's own time and its age at that moment, both in s."""


class PathView(PaintedView):
    """Paints `Screen.path`. Left and right on it are left and right under the feet; time flows downwards."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.after_paint: Painted | None = None
        self._shown_at_s = 0.0
        self._corridor = Corridor()

    def key_of(self, screen: Screen) -> Hashable:
        """Return the screen itself: time flows, so that each one looks different."""
        self._shown_at_s = time.monotonic()
        return id(screen), screen.age_s

    def plane(self, path: Path) -> Plane:
        """Return where shares and instants lie on this widget now."""
        bends = path.ahead is not None or len(path.trail_low) > 0
        return Plane(self.width(), self.height(), path.reach_points, self._puck_px() // 2, bends)

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the words of the phases that are to come, and of the one under way; else nothing is said here."""
        path = screen.path
        if path is None or path.ahead is None or screen.blank:
            return []
        posts = plant(path, self.plane(path), screen.injured, self._beat_px() + BEAT_GAP_PX)
        return [_lay_post(index, post, self.theme) for index, post in enumerate(posts)]

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
        painter.setPen(QPen(QColor(self.theme.hairline), 2, Qt.PenStyle.DashLine))
        painter.drawLine(self.width() // 2, 0, self.width() // 2, plane.height)
        drawn = course(path, plane) if plane.bends else None
        if drawn is None:
            self._corridor.paint(painter, self.theme, path, plane)
        painter.fillRect(0, plane.now_row - 1, self.width(), 2, QColor(self.theme.edge))
        if drawn is not None:
            paint_bent(painter, self.theme, path, plane, drawn)
        if path.beat is not None and not screen.blank:
            self._paint_beat(painter, plane, path.beat, left=words_on_left(path, screen.injured))
        if not screen.blank:
            self._paint_trail(painter, path, plane)
        self._paint_puck(painter, screen, path, plane)

    def _paint_beat(self, painter: QPainter, plane: Plane, beat: float, *, left: bool) -> None:
        """Paint a disc that is largest on the beat and shrinks until the next, within a ring that stays."""
        largest = self._beat_px()
        away = largest * 0.5 + BEAT_GAP_PX / 2
        centre = QPointF(away if left else self.width() - away, plane.now_row + away + 4)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(QPen(QColor(self.theme.edge), 3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, largest * 0.5, largest * 0.5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self.theme.inside))
        radius = largest * (0.12 + 0.38 * min(1.0, max(0.0, beat)))
        painter.drawEllipse(centre, radius, radius)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

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
        points = mark.polygon(x, y)
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

    def _beat_px(self) -> float:
        return self.height() * BEAT_PART


def _lay_post(index: int, post: Post, theme: Theme) -> Line:
    bold, size = post.under_way, round(post.room.height())
    return lettering.lay(f"phase {index}", post.words, post.room, size, theme.ink, bold=bold, align=post.align)
