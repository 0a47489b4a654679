"""Setting up the scales, painted: the steps, what to do now, a card for each scale, and a drawing beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from weightshare import tongue
from weightshare.practice.startview import StartRow, StartStep, StartView
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.benchsheet import BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.startdraw import Drawing
from weightshare.window.theme import Theme

STEP_PART, HEAD_PART, WORD_PART, TITLE_PART = 0.026, 0.058, 0.031, 0.034
LINE_PART, NOTE_PART, HINT_PART = 0.027, 0.023, 0.023
"""Sizes of letters, as parts of the height."""
STEP_BOTTOM, HEAD_BOTTOM, WORD_BOTTOM, BODY_BOTTOM, TROUBLE_BOTTOM, HINT_TOP = 0.075, 0.165, 0.27, 0.765, 0.845, 0.952
"""Where each part ends or begins, as parts of the height."""
ROWS_PART, PLACE_PART = 0.60, 0.44
"""The width of the cards, and of the words beside the larger drawing, as parts of the page's."""
PITCH = 1.3
MOST_ROWS = 4
"""So many scales are shown at a time; the others when the mark comes to them."""
SHRINKS = 24
"""So much smaller letters may get, percent, before fewer scales are shown; with two or one, twice that."""
MORE = tongue.mark("{first} to {last} of {count}; \u2191 \u2193 show the others")
BARS, BARS_WIDE = 4, 3.0
"""How many a signal can have, and how wide they are, in the size of a title's letters."""


@dataclass(frozen=True, slots=True)
class _Card:
    row: StartRow
    room: QRectF
    title_px: int
    line_px: int
    lines: tuple[str, ...]


class StartPaint(BenchSheet):
    """Paints the newest StartView."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.shown = StartView()
        self._cards: list[_Card] = []
        self._first = 0
        """Which of the rows the first card is."""

    def show_view(self, view: StartView) -> None:
        """Show `view`; paint where something in it differs."""
        if view != self.shown:
            self.shown = view
            self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another size."""
        super().resizeEvent(event)
        self._cards = []

    @property
    def drawing(self) -> Drawing:
        """The drawing beside the words, for what is shown now."""
        return Drawing(self._draw_room(), self.theme, self.shown.step, pressing=self.shown.pressing)

    def list_room(self) -> QRectF:
        """Return where the words of the placement lie, and under them the fields, px."""
        return QRectF(self._margin(), self._px(HEAD_BOTTOM), self._wide() * PLACE_PART, self._body_high())

    def lay_out(self) -> list[Line]:
        """Return the lines of text for the newest view."""
        self._cards = self._lay_cards()
        said = self._placement() if self.shown.step is StartStep.PLACE else self._words()
        cards = [line for index, card in enumerate(self._cards) for line in self._card_lines(index, card)]
        return [*self._steps(), *self._headline(), *said, *cards, *self._others(), *self.drawing.lines(), *self._foot()]

    def _body_high(self) -> float:
        return float(self._px(BODY_BOTTOM) - self._px(HEAD_BOTTOM))

    def _draw_room(self) -> QRectF:
        place = self.shown.step is StartStep.PLACE
        part, top = (PLACE_PART, HEAD_BOTTOM) if place else (ROWS_PART, WORD_BOTTOM)
        left = self._margin() + self._wide() * part + self._margin()
        high = (HINT_TOP - 0.11 if place else BODY_BOTTOM) - top
        return QRectF(left, self._px(top), self.width() - self._margin() - left, self._px(high))

    def _steps(self) -> list[Line]:
        """Lay the names of the steps beside each other, the one that is done now in bold."""
        theme, size = self.theme, self._px(STEP_PART)
        lines: list[Line] = []
        x = self._margin()
        for number, step in enumerate(StartStep):
            now = step is self.shown.step and not self.shown.looking
            text, colour = f"{number + 1}  {say(step)}", theme.ink if now else theme.quiet
            wide = lettering.width_of(text, size, now) + 2
            room = QRectF(x, self._margin() * 0.6, wide, size * 1.4)
            lines.append(lettering.lay(f"step {number}", text, room, size, colour, bold=now))
            x += wide + size * 1.8
        return lines

    def _headline(self) -> list[Line]:
        room = QRectF(self._margin(), self._px(STEP_BOTTOM), self._wide(), self._px(HEAD_BOTTOM - STEP_BOTTOM))
        size, said = lettering.fill(self.shown.headline, self._px(HEAD_PART), int(room.width()), int(room.height()))
        high = size * lettering.PITCH
        return [
            lettering.lay(
                f"headline {index}", row, lettering.row_room(room, index, high), size, self.theme.ink, bold=True
            )
            for index, row in enumerate(said)
        ]

    def _words(self) -> list[Line]:
        top = self._px(HEAD_BOTTOM)
        room = QRectF(self._margin(), top, self._wide(), self._px(WORD_BOTTOM) - top - self._px(0.01))
        return self._fit("words", self.shown.words, room, self._px(WORD_PART), self.theme.quiet)

    def _placement(self) -> list[Line]:
        """Lay what is to be seen to in a list, with a dash before each."""
        room = self.list_room()
        room.setHeight(room.height() * 0.61)
        return self._fit("words", self.shown.words, room, self._px(WORD_PART), self.theme.ink, dash="\u2013  ")

    def _fit(
        self, name: str, said: Sequence[str], room: QRectF, largest: int, colour: str, *, dash: str = ""
    ) -> list[Line]:
        """Lay texts under each other, each on lines of its own after a `dash`, as large as they fit."""
        rows: list[tuple[str, str]] = []
        size, shift = largest, 0.0
        for size in range(largest, largest // 2, -1):
            shift = lettering.width_of(dash, size)
            broken = [lettering.wrap(text, size, room.width() - shift) for text in said]
            rows = [("" if index else dash, row) for text in broken for index, row in enumerate(text)]
            if len(rows) * size * PITCH <= room.height():
                break
        lines = []
        for index, (before, row) in enumerate(rows):
            place = lettering.row_room(room, index, size * PITCH)
            place.setLeft(place.left() + (0.0 if before else shift))
            lines.append(lettering.lay(f"{name} {index}", before + row, place, size, colour))
        return lines

    def _lay_cards(self) -> list[_Card]:
        """Return the cards that are to be seen, around the marked one: as many as fit with letters of a good size."""
        rows = self.shown.rows
        at = next((index for index, row in enumerate(rows) if row.marked), 0)
        top, most = float(self._px(WORD_BOTTOM)), float(self._px(BODY_BOTTOM) - self._px(WORD_BOTTOM))
        cards: list[_Card] = []
        for count in range(min(MOST_ROWS, len(rows)), 0, -1):
            self._first = max(0, min(at - 1, len(rows) - count)) if count > 1 else at
            room = most - (self._px(NOTE_PART) * PITCH if count < len(rows) else 0.0)
            for shrink in range(100, 100 - (SHRINKS if count > 2 else 2 * SHRINKS), -4):
                title, small = round(self._px(TITLE_PART) * shrink / 100), round(self._px(LINE_PART) * shrink / 100)
                cards, bottom = self._stack(rows[self._first : self._first + count], title, small, top)
                if bottom - top <= room:
                    return cards
        return cards

    def _others(self) -> list[Line]:
        """Say which of the scales are to be seen, where not all of them are."""
        if len(self._cards) == len(self.shown.rows):
            return []
        last, size = self._cards[-1].room, self._px(NOTE_PART)
        room = QRectF(last.left(), last.bottom() + size * 0.3, last.width(), size * PITCH)
        said = say(MORE, first=self._first + 1, last=self._first + len(self._cards), count=len(self.shown.rows))
        return [lettering.lay("others", said, room, size, self.theme.quiet)]

    def _stack(self, rows: Sequence[StartRow], title: int, small: int, top: float) -> tuple[list[_Card], float]:
        cards, wide, pad = [], self._wide() * ROWS_PART, title * 0.4
        for row in rows:
            inner = wide - title * 3.0 - (title * BARS_WIDE if row.bars is not None else 0.0)
            lines = tuple(part for text in row.lines if text for part in lettering.wrap(text, small, inner))
            high = title * PITCH + len(lines) * small * PITCH + 2 * pad
            cards.append(_Card(row, QRectF(self._margin(), top, wide, high), title, small, lines))
            top += high + pad * 1.2
        return cards, top

    def _card_lines(self, index: int, card: _Card) -> list[Line]:
        theme, row, title, small = self.theme, card.row, card.title_px, card.line_px
        left, top = card.room.left() + title * 2.0, card.room.top() + title * 0.4
        wide = card.room.right() - left - title - (title * BARS_WIDE if row.bars is not None else 0.0)
        ink = theme.ink if row.wanted else theme.quiet
        said = say("{title}  \u2013  chosen", title=row.title) if row.picked else row.title
        room = QRectF(left, top, wide, title * PITCH)
        lines = [lettering.lay(f"card {index}", said, room, title, ink, bold=True)]
        for number, text in enumerate(card.lines):
            room = QRectF(left, top + title * PITCH + number * small * PITCH, wide, small * PITCH)
            lines.append(lettering.lay(f"card {index} line {number}", text, room, small, ink))
        return lines

    def _foot(self) -> list[Line]:
        """Lay what stands in the way, and under all what the keys do."""
        theme, view = self.theme, self.shown
        top = self._px(BODY_BOTTOM) + self._px(0.008)
        room = QRectF(self._margin(), top, self._wide() * (PLACE_PART if view.step is StartStep.PLACE else 1.0), 0)
        room.setHeight(self._px(TROUBLE_BOTTOM) - top)
        said: tuple[str, ...] = (view.trouble,)
        part, colour = WORD_PART, theme.outside
        if not view.trouble:
            said, part, colour = view.notes, NOTE_PART, theme.quiet
        lines = self._fit("trouble", said, room, self._px(part), colour) if any(said) else []
        size = self._px(HINT_PART)
        foot = QRectF(self._margin(), self._px(HINT_TOP), self._wide(), size * 1.5)
        return [*lines, lettering.lay("hint", view.hint, foot, size, theme.quiet)]

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the cards, their marks and signal bars, a line under the step that is done now, and the drawing."""
        lines = {line.name: line for line in self.lines()}
        for number, step in enumerate(StartStep):
            if step is self.shown.step and not self.shown.looking:
                room = lines[f"step {number}"].room
                painter.fillRect(QRectF(room.left(), room.bottom(), room.width(), 3), QColor(self.theme.edge))
        for card in self._cards:
            self._paint_card(painter, card)
        self.drawing.paint(painter)

    def _paint_card(self, painter: QPainter, card: _Card) -> None:
        theme, row, size = self.theme, card.row, card.title_px
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setBrush(QColor(theme.path if row.picked else theme.raised))
        painter.setPen(QPen(QColor(theme.outside if row.marked else theme.edge), 3 if row.marked else 1))
        painter.drawRect(card.room)
        centre = QPointF(card.room.left() + size, card.room.top() + size * 1.05)
        mark.paint_shape(painter, row.shape, centre, size * 0.7, mark.shape_colour(row.shape, theme))
        if row.bars is not None:
            foot = QPointF(card.room.right() - size * (BARS_WIDE - 0.4), card.room.top() + size * 1.7)
            self._paint_bars(painter, row.bars, foot, size * 0.3)

    def _paint_bars(self, painter: QPainter, bars: int, foot: QPointF, unit: float) -> None:
        """Paint how strongly a scale is heard, as bars that grow by `unit`; those that it has not are hollow."""
        theme = self.theme
        painter.setPen(QPen(QColor(theme.edge), 1))
        for number in range(BARS):
            high = unit * (number + 1)
            room = QRectF(foot.x() + number * unit * 1.5, foot.y() - high, unit, high)
            painter.setBrush(QColor(theme.edge) if number < bars else Qt.BrushStyle.NoBrush)
            painter.drawRect(room)
