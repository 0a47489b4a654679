"""The figures beside the path, readable across the room: share, held seconds, holds, load."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from weightshare.practice.screen import Figures, Screen
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

LARGEST_MM = 60.0
TAIL_PART, TAIL_PITCH = 0.35, 1.16
"""What stands beside a large figure: its letters' size at most, as part of the figure's, and its lines' distance."""
SHRINK = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
"""A large figure gives way in these steps until what stands beside it can be read."""
WIDEST = "00"
"""The room that a figure has at least: what stands beside it stays where it is from 9 to 10."""
STONE_STEPS = 4
"""A stone grows in so many steps: it need not be painted anew sixty times a second."""


@dataclass(frozen=True, slots=True)
class _Block:
    """A large figure with its unit, and beside it in lines: what it is, and what is asked for."""

    name: str
    label: str
    figure: str
    unit: str
    beside: tuple[str, ...]
    named: str


@dataclass(frozen=True, slots=True)
class _Fit:
    """How large a figure and its unit are, px, from where on there is room beside them, and for how large letters."""

    size: int
    unit_px: int
    left: float
    tail_px: int


class FiguresView(PaintedView):
    """Share and held seconds as high as fits, at least 40 mm where the screen has the room."""

    def __init__(self, theme: Theme, px_per_mm: float, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.px_per_mm = px_per_mm

    def key_of(self, screen: Screen) -> Hashable:
        """Return all figures, the growing one in steps."""
        figures = screen.figures
        return (
            figures.share,
            figures.share_doubt,
            figures.share_label,
            figures.aim,
            figures.held,
            figures.held_goal,
            figures.held_label,
            figures.held_unit,
            self._laid(figures),
            figures.stones,
            figures.holds,
            figures.holds_label,
            figures.load_kg,
            figures.load_percent,
            figures.load_label,
        )

    @property
    def figure_px(self) -> float:
        """How high the large figures are now, px."""
        spare = self.height() - self._stones_px() - self._foot_px()
        return max(20.0, min(LARGEST_MM * self.px_per_mm, (spare - 5 * self._gap()) / 2))

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the figures with their labels, from the top down."""
        figures, gap = screen.figures, self._gap()
        worth = (f"{figures.share_doubt} %",) if figures.share_doubt else ()
        aim = (*worth, *(part for part in figures.aim.split(", ") if part))
        goal = (figures.held_goal,) if figures.held_goal else ()
        blocks = (
            _Block("share", figures.share_label, figures.share, figures.share_unit, aim, "aim"),
            _Block("held", figures.held_label, figures.held, figures.held_unit, goal, "held beside"),
        )
        fits = self._aligned(blocks)
        lines = self._lay_block(blocks[0], fits[0], 0.0)
        lines += self._lay_block(blocks[1], fits[1], self._block_px() + gap)
        self._feet(lines, figures, self.stones_room().bottom() + gap)
        return [line for line in lines if line.text]

    def _aligned(self, blocks: tuple[_Block, ...]) -> list[_Fit]:
        """Return how each block fits: where both can be read so, what stands beside the figures is one column."""
        fits = [self._fit(block) for block in blocks]
        left = max(fit.left for fit in fits)
        tail_px = min(self._tail_px(block, self.width() - left) for block in blocks)
        if tail_px < self._small():
            return fits
        return [replace(fit, left=left, tail_px=tail_px) for fit in fits]

    def _fit(self, block: _Block) -> _Fit:
        """Return how large a figure can be for what stands beside it to be read."""
        full, wide = round(self.figure_px / lettering.figure_part()), max(block.figure, WIDEST, key=len)
        found = _Fit(full, 0, 0.0, 0)
        for part in SHRINK:
            size, unit_px = round(full * part), round(full * part * 0.34)
            taken = lettering.width_of(wide, size) + lettering.width_of(block.unit, unit_px) * 1.1
            left = taken + (unit_px * 0.22 + self._small() * 0.7)
            found = _Fit(size, unit_px, left, self._tail_px(block, self.width() - left))
            if found.tail_px >= self._small():
                break
        return found

    def _lay_block(self, block: _Block, fit: _Fit, top: float) -> list[Line]:
        """Lay a large figure with its unit, and what it is and what is asked for beside it."""
        room = QRectF(0, top, self.width(), self.figure_px + self._gap())
        figure = lettering.lay(block.name, block.figure, room, fit.size, self.theme.ink).ink_aligned()
        unit = figure.beside(f"{block.name} unit", block.unit, fit.unit_px, self.theme.quiet, gap=fit.unit_px * 0.22)
        shown = [figure, unit] if block.figure else []
        beside = QRectF(fit.left, top, self.width() - fit.left, room.height())
        return [*shown, *self._lay_tail(block, beside, max(8, fit.tail_px))]

    def _tail_px(self, block: _Block, width: float) -> int:
        """Return how large the lines beside a figure may be: they take its height and `width`; 0: they do not fit."""
        for size in range(round(self.figure_px * TAIL_PART), 12, -1):
            rows = [row for text in (block.label, *block.beside) for row in lettering.wrap(text, size, width)]
            fits = all(lettering.width_of(row, size) <= width for row in rows)
            if fits and len(rows) * size * TAIL_PITCH <= self.figure_px + self._gap():
                return size
        return 0

    def _lay_tail(self, block: _Block, room: QRectF, size: int) -> list[Line]:
        """Lay the lines beside a figure; the last of them stands on the figure's own baseline."""
        label = [(f"{block.name} label", row) for row in lettering.wrap(block.label, size, room.width())]
        beside = [] if not block.figure else [(block.named, r) for t in block.beside for r in self._rows(t, size, room)]
        rows, high = [*label, *beside], size * TAIL_PITCH
        cap = size * lettering.figure_part()
        foot = room.center().y() + self.figure_px / 2 + cap / 2
        lines, seen = [], dict[str, int]()
        for index, (name, text) in enumerate(rows):
            middle = foot - cap - (len(rows) - 1 - index) * high
            place = QRectF(room.left(), middle - high / 2, room.width(), high)
            number = seen[name] = seen.get(name, -1) + 1
            colour = self.theme.quiet if name.endswith("label") else self.theme.ink
            lines.append(lettering.lay(f"{name} {number}" if number else name, text, place, size, colour))
        return lines

    @staticmethod
    def _rows(text: str, size: int, room: QRectF) -> list[str]:
        return lettering.wrap(text, size, room.width())

    def _block_px(self) -> float:
        return self.figure_px + self._gap()

    def _feet(self, lines: list[Line], figures: Figures, top: float) -> None:
        small, theme, half, height = self._small(), self.theme, self.width() / 2, self._foot_px()
        label, large = height * 0.29, height * 0.41
        for left, name, over, figure, under in (
            (0.0, "holds", say(figures.holds_label), figures.holds, ""),
            (half, "load", figures.load_label, figures.load_kg, figures.load_percent),
        ):
            room = QRectF(left, top, half - 8, label)
            lines.append(lettering.lay(f"{name} label", over if figure else "", room, small, theme.quiet))
            room = QRectF(left, top + label, half - 8, large)
            lines.append(lettering.lay(name, figure, room, round(large * 0.98), theme.ink, bold=True))
            room = QRectF(left, top + label + large, half - 8, height - label - large)
            lines.append(lettering.lay(f"{name} under", under, room, small, theme.ink))

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the stones of the hold, one for each hold that is asked for, and a dash where there is no number."""
        figures = screen.figures
        for label, figure, top in (
            (figures.share_label, figures.share, 0.0),
            (figures.held_label, figures.held, self._gap() + self._block_px()),
        ):
            if label and not figure:
                middle = round(top + self._block_px() / 2)
                painter.fillRect(0, middle, round(self.figure_px / 3), 5, QColor(self.theme.quiet))
        if figures.stones and figures.held:
            columns = min(figures.stones, 15 if figures.stones > 10 else 10)
            laid = self._laid(figures)
            room = self.stones_room()
            mark.paint_stones(painter, room, self.theme, count=figures.stones, filled=laid, columns=columns)
        if figures.holds and figures.holds_asked <= 10:
            top = self.stones_room().bottom() + self._gap() + self._foot_px() * 0.74
            room = QRectF(0, top, min(self.width() / 2 - 24, figures.holds_asked * 44), self._foot_px() * 0.2)
            done, asked = float(figures.holds_done), figures.holds_asked
            mark.paint_stones(painter, room, self.theme, count=asked, filled=done, columns=asked)

    def stones_room(self) -> QRectF:
        """Return where the stones of held seconds lie."""
        gap = self._gap()
        top = 2 * self._block_px() + 2 * gap
        return QRectF(0, top, self.width() * 0.94, self._stones_px())

    @staticmethod
    def _laid(figures: Figures) -> float:
        return int(figures.held_fraction * figures.stones * STONE_STEPS) / STONE_STEPS

    def _small(self) -> int:
        return max(14, self.height() // 18)

    def _gap(self) -> float:
        return max(4.0, self.height() * 0.024)

    def _stones_px(self) -> float:
        return self._small() * 1.2

    def _foot_px(self) -> float:
        return self._small() * 4.3
