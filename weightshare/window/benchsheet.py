"""What the painted pages of the guided calibration have in common: sizes by the page's height, a first line."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from weightshare.practice.screen import Shape
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import Painted

KEY_PART, KEY_HIGH = 0.30, 0.105
"""The big key's width and height, as parts of the page's."""


class BenchSheet(Painted):
    """A page with a margin around it. All lengths are in px."""

    def _px(self, part: float) -> int:
        return round(part * self.height())

    def _margin(self) -> float:
        return self.height() * 0.035

    def _wide(self) -> float:
        """Return the width between the margins."""
        return self.width() - 2 * self._margin()

    def _small(self) -> int:
        """Return the size of letters that are read at the desk."""
        return max(13, round(self.height() / 42))

    def _first_line(self, words: str, size: int) -> Line:
        """Lay what the page says first, behind its mark."""
        room = QRectF(self._margin() + size * 1.3, self._margin() / 2, self._wide() - size * 1.3, size * 1.25)
        return lettering.lay("headline", words, room, size, self.theme.ink, bold=True)

    def _paint_first_mark(self, painter: QPainter, shape: Shape, size: int) -> None:
        centre = QPointF(self._margin() + size * 0.5, self._margin() / 2 + size * 0.62)
        mark.paint_shape(painter, shape, centre, size * 0.8, mark.shape_colour(shape, self.theme))
