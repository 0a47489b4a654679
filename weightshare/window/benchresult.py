"""What a calibration came to: each figure, what to be careful about, what is left over, and where the file is."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from weightshare.metrology.found import Found
from weightshare.practice.screen import Shape
from weightshare.window import lettering, mark
from weightshare.window.benchplot import KEY, BenchPlot
from weightshare.window.benchtable import HEADS, Row, rows_of
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView

DONE = "Calibrated."
INTERVALS = "Intervals hold with 95 %. Information for you: this is no approval and no certificate of a laboratory."
HINT = "Esc: back to practice as well"
TABLE_PART = 0.64
"""The part of the width that the table takes; the plots have the rest."""
NAME_PART = 0.24
CELL_PARTS = (0.30, 0.48, 0.22)
MOST_CAUTIONS = 4


class BenchResult(QWidget):
    """Paints the result of the newest calibration, to be read at the desk."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.shown = BenchView()
        self.valid = ""
        """Until when it holds, in words."""
        self._lines: list[Line] | None = None
        self._rows: tuple[Row, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_view(self, view: BenchView, valid: str) -> None:
        """Show what `view` has found."""
        if (view, valid) != (self.shown, self.valid):
            self.shown, self.valid = view, valid
            self._rows = rows_of(view.found) if view.found is not None else ()
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
                self._lines += [*self._table(found), *self._below(found), *plots, self._key()]
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

    def _row_px(self) -> float:
        return min(self._small() * 1.6, self._table_room().height() / (len(self._rows) + 1))

    def _table(self, found: Found) -> list[Line]:
        room, high, theme = self._table_room(), self._row_px(), self.theme
        size = min(self._small(), int(high * 0.72))
        lines = []
        for place, fit in enumerate(found.fits):
            names = (f"{fit.side}, to {fit.range_N:.0f} N", *HEADS[1:])
            for part, text in enumerate(names):
                cell = self._cell_room(len(found.fits), place, part, room.top(), high)
                align = Qt.AlignmentFlag.AlignRight
                bold = part == 0
                colour = theme.ink if bold else theme.quiet
                lines.append(lettering.lay(f"head {place} {part}", text, cell, size, colour, bold=bold, align=align))
        for index, row in enumerate(self._rows):
            top = room.top() + (index + 1) * high
            name = QRectF(room.left(), top, room.width() * NAME_PART, high)
            lines.append(lettering.lay(f"name {index}", row.name, name, size, theme.ink))
            for place, cell_words in enumerate(row.cells):
                told = () if cell_words is None else (cell_words.value, cell_words.interval, cell_words.percent)
                for part, text in enumerate(told):
                    cell = self._cell_room(len(found.fits), place, part, top, high)
                    align = Qt.AlignmentFlag.AlignRight
                    colour = theme.ink if part != 1 else theme.quiet
                    lines.append(lettering.lay(f"cell {index} {place} {part}", text, cell, size, colour, align=align))
        return [line for line in lines if line.text]

    def _cell_room(self, plates: int, place: int, part: int, top: float, high: float) -> QRectF:
        room = self._table_room()
        wide = room.width() * (1.0 - NAME_PART) / max(2, plates)
        left = room.left() + room.width() * NAME_PART + place * wide + wide * sum(CELL_PARTS[:part])
        return QRectF(left, top, wide * CELL_PARTS[part] - self._small() * 0.3, high)

    def _below(self, found: Found) -> list[Line]:
        """Lay the cautions under the table, and what intervals are."""
        size, room, theme = self._small(), self._table_room(), self.theme
        top = room.top() + (len(self._rows) + 1) * self._row_px() + size * 0.5
        texts = [(f"\u25c6 {text}", theme.outside) for text in found.cautions[:MOST_CAUTIONS]]
        if len(found.cautions) > MOST_CAUTIONS:
            texts.append((f"and {len(found.cautions) - MOST_CAUTIONS} more, in the file", theme.outside))
        lines: list[Line] = []
        for text, colour in [*texts, (INTERVALS, theme.quiet)]:
            for row in lettering.wrap(text, size, room.width()):
                place = QRectF(room.left(), top, room.width(), size * 1.3)
                lines.append(lettering.lay(f"below {len(lines)}", row, place, size, colour))
                top = place.bottom()
        return lines

    def _plots(self, found: Found) -> list[BenchPlot]:
        table, gap = self._table_room(), self._small()
        left = table.right() + 1.5 * gap
        room = QRectF(
            left, table.top(), self.width() - left - self._margin(), self.height() - table.top() - self._px(0.20)
        )
        high = (room.height() - gap * (len(found.fits) - 1)) / max(2, len(found.fits))
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

    def _key(self) -> Line:
        table, size = self._table_room(), self._small()
        left = table.right() + 1.5 * size
        room = QRectF(left, self.height() - self._px(0.195), self.width() - left - self._margin(), size * 1.4)
        return lettering.lay("key", KEY, room, round(size * 0.9), self.theme.quiet)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, the rows' lines, plots, text."""
        painter, size, theme = QPainter(self), self._px(0.062), self.theme
        painter.fillRect(event.rect(), QColor(theme.ground))
        centre = QPointF(self._margin() + size * 0.5, self._margin() / 2 + size * 0.62)
        mark.paint_shape(painter, Shape.DISC, centre, size * 0.8, theme.inside)
        room, high = self._table_room(), self._row_px()
        painter.setPen(QPen(QColor(theme.hairline), 1))
        for index in range(len(self._rows) + 1):
            y = room.top() + (index + 1) * high
            painter.drawLine(round(room.left()), round(y), round(room.right()), round(y))
        if self.shown.found is not None:
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
