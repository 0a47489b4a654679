"""What a calibration came to: each figure, what to be careful about, what is left over, and where the file is."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from weightshare.metrology.found import Found
from weightshare.practice.message import retell
from weightshare.practice.screen import Shape
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.benchgrid import FigureGrid
from weightshare.window.benchplot import KEYS, BenchPlot
from weightshare.window.benchsheet import BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView

DONE = mark("Calibrated.")
INTERVALS = mark("All intervals are for 95 %. For your information: no approval, and no laboratory's certificate.")
TABLE_PART = 0.68
"""The part of the width that the table takes; the plots have the rest."""
ROW, HEAD_PART = 1.3, 0.062


class BenchResult(BenchSheet):
    """Paints the result of the newest calibration, to be read at the desk."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(theme, parent)
        self.shown = BenchView()
        self.valid = ""
        """Until when it holds, in words."""

    def show_view(self, view: BenchView, valid: str) -> None:
        """Show what `view` has found."""
        if (view, valid) != (self.shown, self.valid):
            self.shown, self.valid = view, valid
            self.refresh()

    def lay_out(self) -> list[Line]:
        """Return the lines of text for what was found."""
        found = self.shown.found
        if found is None:
            return self._top()
        plots = [line for plot in self._plots(found) for line in plot.lines()]
        return [*self._top(), *self._grid(found).lines(), *self._below(found), *plots, *self._keys()]

    def _top(self) -> list[Line]:
        words = " ".join(part for part in (say(DONE), self.valid) if part)
        lines = [self._first_line(words, self._px(HEAD_PART))]
        small = self._small()
        top = lines[0].room.bottom()
        for name, label, text in (
            ("place", say("Kept in"), self.shown.place),
            ("kept", say("The one before is kept in"), self.shown.kept),
        ):
            if text:
                below = QRectF(self._margin(), top, self._wide(), small * 1.4)
                lines.append(lettering.lay(name, f"{label} {text}", below, small, self.theme.quiet))
                top = below.bottom()
        return lines

    def _table_room(self) -> QRectF:
        top = self._margin() / 2 + self._px(HEAD_PART) * 1.25 + self._small() * 3.2
        bottom = self.height() - self._px(0.25)
        return QRectF(self._margin(), top, self._wide() * TABLE_PART, bottom - top)

    def _grid(self, found: Found) -> FigureGrid:
        return FigureGrid(found, self._table_room(), self.theme, self._small())

    def _below(self, found: Found) -> list[Line]:
        """Lay the cautions under the table, as many as there is room for, and what intervals are."""
        size, room, theme = self._small(), self._table_room(), self.theme
        top = self._grid(found).bottom + size * 0.5
        last = [(row, theme.quiet) for row in lettering.wrap(say(INTERVALS), size, room.width())]
        rows: list[tuple[str, str]] = []
        most, told = int((self.height() - self._margin() - top) / (size * ROW)) - len(last), 0
        for caution in found.cautions:
            more = lettering.wrap(f"\u25c6 {retell(caution)}", size, room.width())
            if len(rows) + len(more) > most - 1:
                break
            rows, told = [*rows, *((row, theme.outside) for row in more)], told + 1
        if told < len(found.cautions):
            rows.append((say("\u25c6 and {count} more, in the file", count=len(found.cautions) - told), theme.outside))
        room.setTop(top)
        return [
            lettering.lay(f"below {index}", text, lettering.row_room(room, index, size * ROW), size, colour)
            for index, (text, colour) in enumerate([*rows, *last])
        ]

    def _plots(self, found: Found) -> list[BenchPlot]:
        table, gap = self._table_room(), self._small()
        left = table.right() + 1.5 * gap
        room = QRectF(
            left, table.top(), self.width() - left - self._margin(), self.height() - table.top() - self._px(0.225)
        )
        high = (room.height() - gap * (len(found.fits) - 1)) / len(found.fits)
        return [
            BenchPlot(
                found,
                fit,
                QRectF(room.left(), room.top() + index * (high + gap), room.width(), high),
                self.theme,
                round(self._small() * 0.9),
            )
            for index, fit in enumerate(found.fits)
        ]

    def _keys(self) -> list[Line]:
        """Lay what the marks of the plots mean."""
        table, size = self._table_room(), self._small()
        left, letters, quiet = table.right() + 1.5 * size, round(size * 0.9), self.theme.quiet
        room = QRectF(left, self.height() - self._px(0.215), self.width() - left - self._margin(), size * ROW)
        return [
            lettering.lay(f"key {index}", text, lettering.row_room(room, index, size * ROW), letters, quiet)
            for index, text in enumerate(map(say, KEYS))
        ]

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the mark, the rows' lines, plots."""
        self._paint_first_mark(painter, Shape.DISC, self._px(HEAD_PART))
        if self.shown.found is not None:
            self._grid(self.shown.found).paint(painter)
            for plot in self._plots(self.shown.found):
                plot.paint(painter)
