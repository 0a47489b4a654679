"""What a calibration came to: each figure, what to be careful about, what is left over, and where the file is."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from weightshare.metrology.found import Found
from weightshare.practice.screen import Shape
from weightshare.window import lettering, mark
from weightshare.window.benchgrid import FigureGrid
from weightshare.window.benchplot import KEYS, BenchPlot
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView

DONE = "Calibrated."
INTERVALS = "Intervals hold with 95 %. For your information: no approval, and no laboratory's certificate."
TABLE_PART = 0.68
"""The part of the width that the table takes; the plots have the rest."""
ROW = 1.3


class BenchResult(QWidget):
    """Paints the result of the newest calibration, to be read at the desk."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.shown = BenchView()
        self.valid = ""
        """Until when it holds, in words."""
        self._lines: list[Line] | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_view(self, view: BenchView, valid: str) -> None:
        """Show what `view` has found."""
        if (view, valid) != (self.shown, self.valid):
            self.shown, self.valid = view, valid
            self.refresh()

    def refresh(self) -> None:
        """Lay out and paint anew at the next turn."""
        self._lines = None
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another size."""
        self._lines = None

    def lines(self) -> list[Line]:
        """Return the lines of text that are painted now."""
        if self._lines is None:
            found = self.shown.found
            self._lines = self._top()
            if found is not None:
                plots = [line for plot in self._plots(found) for line in plot.lines()]
                self._lines += [*self._grid(found).lines(), *self._below(found), *plots, *self._keys()]
        return self._lines

    def _top(self) -> list[Line]:
        theme, size = self.theme, self._px(0.062)
        room = QRectF(self._margin() + size * 1.3, self._margin() / 2, self._wide() - size * 1.3, size * 1.25)
        words = " ".join(part for part in (DONE, self.valid) if part)
        lines = [lettering.lay("headline", words, room, size, theme.ink, bold=True)]
        small = self._small()
        top = room.bottom()
        for name, label, text in (
            ("place", "Kept in", self.shown.place),
            ("kept", "The one before is kept in", self.shown.kept),
        ):
            if text:
                below = QRectF(self._margin(), top, self._wide(), small * 1.4)
                lines.append(lettering.lay(name, f"{label} {text}", below, small, theme.quiet))
                top = below.bottom()
        return lines

    def _table_room(self) -> QRectF:
        top = self._margin() / 2 + self._px(0.062) * 1.25 + self._small() * 3.2
        bottom = self.height() - self._px(0.25)
        return QRectF(self._margin(), top, self._wide() * TABLE_PART, bottom - top)

    def _grid(self, found: Found) -> FigureGrid:
        return FigureGrid(found, self._table_room(), self.theme, self._small())

    def _below(self, found: Found) -> list[Line]:
        """Lay the cautions under the table, as many as there is room for, and what intervals are."""
        size, room, theme = self._small(), self._table_room(), self.theme
        top = self._grid(found).bottom + size * 0.5
        last = [(row, theme.quiet) for row in lettering.wrap(INTERVALS, size, room.width())]
        rows: list[tuple[str, str]] = []
        most, told = int((self.height() - self._margin() - top) / (size * ROW)) - len(last), 0
        for caution in found.cautions:
            more = lettering.wrap(f"\u25c6 {caution}", size, room.width())
            if len(rows) + len(more) > most - 1:
                break
            rows, told = [*rows, *((row, theme.outside) for row in more)], told + 1
        if told < len(found.cautions):
            rows.append((f"\u25c6 and {len(found.cautions) - told} more, in the file", theme.outside))
        return [
            lettering.lay(
                f"below {index}", text, QRectF(room.left(), top + index * size * ROW, room.width(), size * ROW), size, c
            )
            for index, (text, c) in enumerate([*rows, *last])
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
        left, top = table.right() + 1.5 * size, self.height() - self._px(0.215)
        return [
            lettering.lay(
                f"key {index}",
                text,
                QRectF(left, top + index * size * ROW, self.width() - left - self._margin(), size * ROW),
                round(size * 0.9),
                self.theme.quiet,
            )
            for index, text in enumerate(KEYS)
        ]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, the rows' lines, plots, text."""
        painter, size, theme = QPainter(self), self._px(0.062), self.theme
        painter.fillRect(event.rect(), QColor(theme.ground))
        centre = QPointF(self._margin() + size * 0.5, self._margin() / 2 + size * 0.62)
        mark.paint_shape(painter, Shape.DISC, centre, size * 0.8, theme.inside)
        if self.shown.found is not None:
            self._grid(self.shown.found).paint(painter)
            for plot in self._plots(self.shown.found):
                plot.paint(painter)
        lettering.paint(painter, self.lines())
        painter.end()

    def _small(self) -> int:
        return max(13, round(self.height() / 42))

    def _px(self, part: float) -> int:
        return round(part * self.height())

    def _margin(self) -> float:
        return self.height() * 0.035

    def _wide(self) -> float:
        return self.width() - 2 * self._margin()
