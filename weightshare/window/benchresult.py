"""What a calibration came to: each figure, what to be careful about, what is left over, and where the file is."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from weightshare.metrology.found import Found
from weightshare.practice.screen import Shape
from weightshare.window import lettering, mark
from weightshare.window.benchplot import KEYS, BenchPlot
from weightshare.window.benchtable import HEADS, Row, rows_of
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView

DONE = "Calibrated."
INTERVALS = "Intervals hold with 95 %. Information for you: this is no approval and no certificate of a laboratory."
TABLE_PART = 0.68
"""The part of the width that the table takes; the plots have the rest."""
NAME_PART = 0.26
CELL_PARTS = (0.235, 0.465, 0.30)
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
                self._lines += [*self._table(found), *self._below(found), *plots, *self._keys()]
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
        return min(self._small() * 1.6, self._table_room().height() / (len(self._rows) + 2))

    def _table(self, found: Found) -> list[Line]:
        """Lay the table, all of it in letters of one size."""
        cells = [*self._heads(found), *self._cells(found)]
        size = min(self._small(), int(self._row_px() * 0.72))
        size = min(lettering.fit(text, size, room.width()) for _name, text, room, _left, _quiet in cells)
        right, left = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft
        return [
            lettering.lay(
                name,
                text,
                room,
                size,
                self.theme.quiet if quiet else self.theme.ink,
                align=left if is_left else right,
            )
            for name, text, room, is_left, quiet in cells
        ]

    def _heads(self, found: Found) -> Iterator[tuple[str, str, QRectF, bool, bool]]:
        """Yield name, words, room, whether at its left, whether of lesser weight."""
        plates = len(found.fits)
        for place, fit in enumerate(found.fits):
            first, last = self._cell_room(plates, place, 0, 0), self._cell_room(plates, place, 2, 0)
            yield f"plate {place}", f"{fit.side} plate, 0 to {fit.range_N:.0f} N", first.united(last), False, False
            for part, text in enumerate(HEADS):
                yield f"head {place} {part}", text, self._cell_room(plates, place, part, 1), False, True

    def _cells(self, found: Found) -> Iterator[tuple[str, str, QRectF, bool, bool]]:
        table, high = self._table_room(), self._row_px()
        for index, row in enumerate(self._rows):
            room = QRectF(table.left(), table.top() + (index + 2) * high, table.width() * NAME_PART, high)
            yield f"name {index}", row.name, room, True, False
            for place, cell in enumerate(row.cells):
                told = () if cell is None else (cell.value, cell.interval, cell.percent)
                for part, text in enumerate(told):
                    if text:
                        room = self._cell_room(len(found.fits), place, part, index + 2)
                        yield f"cell {index} {place} {part}", text, room, False, part == 1

    def _cell_room(self, plates: int, place: int, part: int, row: int) -> QRectF:
        table, high = self._table_room(), self._row_px()
        wide = table.width() * (1.0 - NAME_PART) / plates
        left = table.left() + table.width() * NAME_PART + place * wide + wide * sum(CELL_PARTS[:part])
        return QRectF(left, table.top() + row * high, wide * CELL_PARTS[part] - self._small() * 0.25, high)

    def _below(self, found: Found) -> list[Line]:
        """Lay the cautions under the table, as many as there is room for, and what intervals are."""
        size, room, theme = self._small(), self._table_room(), self.theme
        top = room.top() + (len(self._rows) + 2) * self._row_px() + size * 0.5
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
        room, high = self._table_room(), self._row_px()
        painter.setPen(QPen(QColor(theme.hairline), 1))
        for index in range(len(self._rows) + 1):
            y = room.top() + (index + 2) * high
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
