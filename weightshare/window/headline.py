"""The top of the window: the state in a mark and in words, and what to do now."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from weightshare.practice.screen import Screen, Shape
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView


class HeadlineView(PaintedView):
    """One line of state, one large line of what to do, and a note where there is one."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the words and the mark."""
        return screen.headline, screen.state, screen.shape, screen.note, screen.soles is None

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return state, note and headline."""
        height, width, theme = self.height(), self.width(), self.theme
        small, large = round(height * 0.24), round(height * 0.40)
        left = self._mark_px() * 1.5 if screen.shape is not Shape.NONE else 0.0
        upper = QRectF(left, height * 0.04, width - left, height * 0.34)
        state = lettering.lay("state", screen.state, upper, small, self._colour(screen), bold=True)
        lines = [state]
        if screen.note:
            room = QRectF(state.end + small, upper.top(), max(0.0, width - state.end - small), upper.height())
            lines.append(lettering.lay("note", screen.note, room, small, theme.ink))
        lower = QRectF(0, height * 0.42, width, height * 0.54)
        return [*lines, lettering.lay("headline", screen.headline, lower, large, theme.ink, bold=True)]

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the state's mark before its words."""
        size = self._mark_px()
        centre = QPointF(size * 0.62, self.height() * 0.21)
        mark.paint_shape(painter, screen.shape, centre, size, self._colour(screen))

    def _colour(self, screen: Screen) -> str:
        return mark.shape_colour(screen.shape, self.theme, asks=screen.soles is not None)

    def _mark_px(self) -> float:
        return self.height() * 0.22
