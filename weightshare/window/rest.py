"""Between two sets: a clock that runs out, and the three figures of the set that matter."""

from __future__ import annotations

import math
from collections.abc import Hashable

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from weightshare import tongue
from weightshare.practice.screen import Figure, Rest, Screen
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

CLOCK_PART = 0.36
"""How much of the width the clock takes."""
STONES = 12
LINE_LETTERS, LINE_PITCH = 1.6, 1.3
"""How large the lines below the clock are at most, in units, and how far apart, in their own size."""
OVER_WORDS = (tongue.mark("The next set begins"), tongue.mark("as you start."))


class RestView(PaintedView):
    """Paints `Screen.rest`: on the left how long it lasts, on the right how the set went."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the rest, its clock in the steps that are drawn."""
        rest = screen.rest
        return None if rest is None else (rest.title, rest.left, self._left(rest), rest.figures, rest.lines, rest.over)

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the clock with its words, the figures with theirs, and what else there is to say."""
        rest = screen.rest
        if rest is None:
            return []
        return [*self._clock(rest), *self._figures(rest), *self._said(rest)]

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the stones of time that are left, and the line between clock and figures."""
        rest = screen.rest
        if rest is None:
            return
        middle = round(self.width() * CLOCK_PART + self._unit())
        painter.fillRect(middle, 0, 1, self.height(), QColor(self.theme.hairline))
        mark.paint_stones(
            painter, self.stones_room(), self.theme, count=STONES, filled=self._left(rest), columns=STONES
        )

    def stones_room(self) -> QRectF:
        """Return where the stones of time lie."""
        unit = self._unit()
        return QRectF(0, unit * 8.6, self.width() * CLOCK_PART, unit * 1.5)

    def _clock(self, rest: Rest) -> list[Line]:
        unit, theme, width = self._unit(), self.theme, self.width() * CLOCK_PART
        high = unit * 5.4
        size = lettering.fit(rest.left, round(high / lettering.figure_part()), width)
        label, colour = (say("rest is over"), theme.inside) if rest.over else (say("rest"), theme.quiet)
        lines = [
            lettering.lay("rest label", label, QRectF(0, 0, width, unit * 2.1), round(unit * 1.6), colour),
            lettering.lay(
                "clock", rest.left, QRectF(0, unit * 2.2, width, high + unit * 0.6), size, theme.ink
            ).ink_aligned(),
        ]
        if rest.over:
            for index, text in enumerate(map(say, OVER_WORDS)):
                room = QRectF(0, unit * (10.5 + 2.1 * index), width, unit * 2.1)
                lines.append(lettering.lay(f"over {index}", text, room, round(unit * 1.8), theme.ink, bold=True))
        return lines

    def _figures(self, rest: Rest) -> list[Line]:
        unit, theme = self._unit(), self.theme
        left = self.width() * CLOCK_PART + 2 * unit
        width = self.width() - left
        title = QRectF(left, 0, width, unit * 2.1)
        lines = [lettering.lay("rest title", rest.title, title, round(unit * 1.7), theme.ink, bold=True)]
        top = unit * 2.4
        high = (self.height() - top) / max(3, len(rest.figures))
        for index, figure in enumerate(rest.figures):
            lines += self._figure(figure, index, QRectF(left, top + index * high, width, high))
        return lines

    def _figure(self, figure: Figure, index: int, room: QRectF) -> list[Line]:
        """Lay the label over the figure; its unit and what stands beside it go on from there."""
        unit, theme = self._unit(), self.theme
        above = QRectF(room.left(), room.top(), room.width(), unit * 1.9)
        label = lettering.lay(f"figure {index} label", figure.label, above, round(unit * 1.45), theme.quiet)
        below = QRectF(room.left(), above.bottom(), room.width(), room.height() - above.height() - unit * 0.3)
        wanted = round((below.height() - unit * 0.4) / lettering.figure_part())
        unit_px, beside_px = round(wanted * 0.4), self._beside_px(figure, room, wanted)
        tail = lettering.width_of(f" {figure.unit}", unit_px) + lettering.width_of(f"  {figure.beside}", beside_px)
        size = lettering.fit(figure.value, wanted, room.width() - tail)
        value = lettering.lay(f"figure {index}", figure.value, below, size, theme.ink).ink_aligned()
        after = value.beside(f"figure {index} unit", figure.unit, unit_px, theme.quiet, gap=unit_px * 0.22)
        beside = after.beside(f"figure {index} beside", figure.beside, beside_px, theme.ink, gap=unit)
        return [line for line in (label, value, after, beside) if line.text]

    def _said(self, rest: Rest) -> list[Line]:
        """Lay what else there is to say below the clock, broken between words, as large as it fits."""
        unit, width = self._unit(), self.width() * CLOCK_PART
        top = unit * (15.2 if rest.over else 10.9)
        size, rows = round(unit * LINE_LETTERS), [""]
        while size > unit * 0.8:
            rows = [row for text in rest.lines for row in lettering.wrap(text, size, width)]
            if top + len(rows) * size * LINE_PITCH <= self.height():
                break
            size -= 1
        high = size * LINE_PITCH
        return [
            lettering.lay(f"line {index}", text, QRectF(0, top + index * high, width, high), size, self.theme.ink)
            for index, text in enumerate(rows)
        ]

    def _beside_px(self, figure: Figure, room: QRectF, wanted: int) -> int:
        """Return how large what stands beside a figure is: as large as fits beside the figure at its full size."""
        unit = self._unit()
        taken = lettering.width_of(figure.value, wanted) + lettering.width_of(f" {figure.unit}", round(wanted * 0.4))
        largest = round(unit * 2.2)
        return max(round(unit * 1.2), lettering.fit(figure.beside, largest, room.width() - taken - 2 * unit))

    @staticmethod
    def _left(rest: Rest) -> float:
        """Return how many stones of time are left, in quarters."""
        return math.ceil(min(1.0, max(0.0, rest.left_fraction)) * STONES * 4) / 4

    def _unit(self) -> float:
        return max(14.0, self.height() / 24)
