"""The figures beside the path, readable across the room: share, held seconds, holds, load."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from weightshare.practice.screen import Figures, Screen
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

LARGEST_MM = 60.0
LABEL_PART = 1.5
STONE_STEPS = 4
"""A stone grows in so many steps: it need not be painted anew sixty times a second."""


@dataclass(frozen=True, slots=True)
class _Block:
    """A large figure: its label above, its unit and something small beside it."""

    name: str
    label: str
    figure: str
    unit: str
    beside: str


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
        spare = self.height() - 2 * self._small() * LABEL_PART - self._stones_px() - self._foot_px()
        return max(20.0, min(LARGEST_MM * self.px_per_mm, (spare - 6 * self._gap()) / 2))

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the figures with their labels, from the top down."""
        figures, gap, small = screen.figures, self._gap(), self._small()
        lines: list[Line] = []
        share = _Block("share", figures.share_label, figures.share, "%", "")
        held = _Block("held", figures.held_label, figures.held, figures.held_unit, figures.held_goal)
        lines += self._lay_block(share, gap / 2)
        if figures.aim:
            left = lines[0].end + small
            room = QRectF(left, lines[0].room.top(), self.width() * 0.94 - left, lines[0].room.height())
            right = Qt.AlignmentFlag.AlignRight
            lines.append(lettering.lay("aim", figures.aim, room, round(small * 1.1), self.theme.ink, align=right))
        lines += self._lay_block(held, gap / 2 + self._block_px() + gap)
        self._feet(lines, figures, self.stones_room().bottom() + gap)
        return [line for line in lines if line.text]

    def _lay_block(self, block: _Block, top: float) -> list[Line]:
        """Lay a label over a large figure with its unit and what stands beside it."""
        small, theme, width = self._small(), self.theme, float(self.width())
        above = QRectF(0, top, width, small * LABEL_PART)
        label = lettering.lay(f"{block.name} label", block.label, above, small, theme.quiet)
        if not block.figure:
            return [label]
        size = round(self.figure_px / lettering.figure_part())
        unit_px, beside_px = max(small, round(size * 0.34)), round(small * 1.25)
        tail = lettering.width_of(f"  {block.unit}", unit_px) + lettering.width_of(f"   {block.beside}", beside_px)
        room = QRectF(0, above.bottom(), width, self.figure_px + self._gap())
        size = lettering.fit(block.figure, size, width - tail)
        figure = lettering.lay(block.name, block.figure, room, size, theme.ink).ink_aligned()
        unit = figure.beside(f"{block.name} unit", block.unit, unit_px, theme.quiet, gap=unit_px * 0.22)
        beside = unit.beside(f"{block.name} beside", block.beside, beside_px, theme.ink, gap=small * 0.8)
        return [label, figure, unit, beside]

    def _block_px(self) -> float:
        return self._small() * LABEL_PART + self.figure_px + self._gap()

    def _feet(self, lines: list[Line], figures: Figures, top: float) -> None:
        small, theme, half, height = self._small(), self.theme, self.width() / 2, self._foot_px()
        label, large = height * 0.28, height * 0.40
        for left, name, over, figure, under in (
            (0.0, "holds", figures.holds_label, figures.holds, ""),
            (half, "load", figures.load_label, figures.load_kg, figures.load_percent),
        ):
            room = QRectF(left, top, half - 8, label)
            lines.append(lettering.lay(f"{name} label", over if figure else "", room, small, theme.quiet))
            room = QRectF(left, top + label, half - 8, large)
            lines.append(lettering.lay(name, figure, room, round(large * 0.92), theme.ink, bold=True))
            room = QRectF(left, top + label + large, half - 8, height - label - large)
            lines.append(lettering.lay(f"{name} under", under, room, round(small * 1.1), theme.ink))

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the stones of the hold, one for each hold that is asked for, and a dash where there is no number."""
        figures = screen.figures
        for label, figure, top in (
            (figures.share_label, figures.share, self._gap() / 2),
            (figures.held_label, figures.held, self._gap() * 1.5 + self._block_px()),
        ):
            if label and not figure:
                middle = round(top + self._block_px() - self.figure_px / 2)
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
        top = gap / 2 + 2 * self._block_px() + gap
        return QRectF(0, top, self.width() * 0.94, self._stones_px())

    @staticmethod
    def _laid(figures: Figures) -> float:
        return int(figures.held_fraction * figures.stones * STONE_STEPS) / STONE_STEPS

    def _small(self) -> int:
        return max(14, self.height() // 30)

    def _gap(self) -> float:
        return max(4.0, self.height() * 0.018)

    def _stones_px(self) -> float:
        return self._small() * 2.4

    def _foot_px(self) -> float:
        return self._small() * 4.6
