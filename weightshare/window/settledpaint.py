"""Settled readings, painted: what to do, what such scales cannot, one panel a foot, and what both make together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from weightshare.practice.settledview import SettledView, SideView
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.benchsheet import BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

HEAD_PART, LIMIT_PART, TITLE_PART, FIGURE_PART, WORD_PART, NOTE_PART = 0.085, 0.036, 0.042, 0.15, 0.042, 0.034
"""Sizes of letters, as parts of the height."""
HEAD_BOTTOM, BAND_BOTTOM, PANEL_BOTTOM, NOTE_BOTTOM = 0.215, 0.285, 0.79, 0.905
"""Where each part ends, as parts of the height."""
PAD_PART = 0.022
PITCH, MARK_PART = 1.3, 1.3
"""From one line to the next, and the room for a mark before a line, as parts of the letters' size."""
MISSING = "\u2013"
"""In place of a figure that there is not."""


@dataclass(frozen=True, slots=True)
class _Words:
    """What is said in one colour, broken into as many lines as it takes; empty: nothing."""

    name: str
    text: str
    colour: str
    bold: bool = False


class SettledPaint(BenchSheet):
    """Paints the newest SettledView."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.shown = SettledView("")

    def show_view(self, view: SettledView) -> None:
        """Show `view`; paint where something in it differs."""
        if view != self.shown:
            self.shown = view
            self.refresh()

    def lay_out(self) -> list[Line]:
        """Return the lines of text for the newest view."""
        sides = [
            line
            for side, room in zip(self.shown.sides, self._side_rooms(), strict=True)
            for line in self._side(side, room)
        ]
        return [*self._headline(), self._limit(), *sides, *self._middle(), *self._notes(), *self._foot()]

    def _headline(self) -> list[Line]:
        largest, shift = self._px(HEAD_PART), self._px(HEAD_PART) * 1.2
        margin = self._margin()
        room = QRectF(margin + shift, margin / 2, self._wide() - shift, self._px(HEAD_BOTTOM) - margin * 0.75)
        size, said = lettering.fill(self.shown.headline, largest, int(room.width()), int(room.height()))
        high = size * lettering.PITCH
        room.setTop(room.top() + (room.height() - len(said) * high) / 2)
        return [
            lettering.lay(
                f"headline {index}", row, lettering.row_room(room, index, high), size, self.theme.ink, bold=True
            )
            for index, row in enumerate(said)
        ]

    def _limit(self) -> Line:
        room = self._band().adjusted(self._px(PAD_PART), 0, -self._px(PAD_PART), 0)
        return lettering.lay("limit", say(self.shown.limit), room, self._px(LIMIT_PART), self.theme.ink, bold=True)

    def _side(self, side: SideView, room: QRectF) -> list[Line]:
        """Lay one foot's reading into its panel: whose it is, the load, how old it is, what else there is to say."""
        theme, inner = self.theme, self._inner(room)
        ink = theme.quiet if side.faded else theme.ink
        said = [
            _Words(f"{side.side} state", side.state, mark.shape_colour(side.mark, theme), bold=True),
            _Words(f"{side.side} percent", side.percent, ink),
            _Words(f"{side.side} original", side.original, ink),
            _Words(f"{side.side} link", side.link, theme.outside if side.troubled else theme.quiet),
            _Words(f"{side.side} scale", side.scale, theme.quiet),
        ]
        lines, below = self._figure(side.side, side.title, side.load or MISSING, ink, inner)
        return [*lines, *self._words(said, below, marked=True)]

    def _figure(self, name: str, title: str, figure: str, ink: str, room: QRectF) -> tuple[list[Line], QRectF]:
        """Lay a title and a large figure; return them, and the room that is left below."""
        size, large = self._px(TITLE_PART), self._px(FIGURE_PART)
        top = QRectF(room.left(), room.top(), room.width(), size * PITCH)
        middle = QRectF(room.left(), top.bottom(), room.width(), large * 1.15)
        lines = [
            lettering.lay(f"{name} title", title, top, size, self.theme.ink, bold=True),
            lettering.lay(f"{name} figure", figure, middle, large, ink, bold=True),
        ]
        return lines, QRectF(room.left(), middle.bottom(), room.width(), room.bottom() - middle.bottom())

    def _words(self, said: Sequence[_Words], room: QRectF, *, marked: bool = False) -> list[Line]:
        """Lay words under each other, smaller where there are many; a mark's room is left before the first."""
        largest = self._px(WORD_PART)
        rows: list[tuple[str, str, _Words]] = []
        size = largest
        for size in range(largest, largest // 2, -1):
            indent = size * MARK_PART if marked else 0.0
            rows = [
                (f"{words.name}, line {index}" if index else words.name, row, words)
                for words in said
                for index, row in enumerate(lettering.wrap(words.text, size, room.width() - indent, words.bold))
            ]
            if len(rows) * size * PITCH <= room.height():
                break
        lines = []
        for index, (name, text, words) in enumerate(rows):
            row = lettering.row_room(room, index, size * PITCH)
            if marked and words is said[0]:
                row.setLeft(row.left() + size * MARK_PART)
            lines.append(lettering.lay(name, text, row, size, words.colour, bold=words.bold))
        return lines

    def _middle(self) -> list[Line]:
        """Lay what the readings make together, or why they make nothing."""
        room, share, theme = self._inner(self._middle_room()), self.shown.share, self.theme
        if share is None:
            return self._words([_Words("missing", self.shown.share_missing, theme.quiet)], room)
        ink = theme.quiet if share.faded else theme.ink
        said = [
            _Words(
                "age",
                say("OLD: {age}", age=share.age) if share.faded else share.age,
                theme.outside if share.faded else ink,
            ),
            _Words("asked", share.asked, ink, bold=True),
            _Words("symmetry", share.symmetry, ink),
        ]
        lines, below = self._figure("share", share.label, share.share, ink, room)
        return [*lines, *self._words(said, below)]

    def _notes(self) -> list[Line]:
        top, bottom = self._px(PANEL_BOTTOM) + self._px(0.012), self._px(NOTE_BOTTOM)
        room = QRectF(self._margin(), top, self._wide(), bottom - top)
        notes = [_Words(f"note {index}", text, self.theme.outside) for index, text in enumerate(self.shown.notes)]
        return self._words(notes, room)

    def _foot(self) -> list[Line]:
        size = self._px(NOTE_PART)
        room = QRectF(self._margin(), self.height() - size * 1.8, self._wide(), size * 1.4)
        return [lettering.lay("body", self.shown.body, room, size, self.theme.quiet)]

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the panels, the band behind what such scales cannot, and the marks."""
        theme, size = self.theme, self._px(HEAD_PART)
        head = self.lines()[0].room if self.shown.headline else QRectF()
        centre = QPointF(self._margin() + size * 0.5, head.center().y())
        mark.paint_shape(painter, self.shown.mark, centre, size * 0.8, mark.shape_colour(self.shown.mark, theme))
        painter.fillRect(self._band(), QColor(theme.path))
        for room in (*self._side_rooms(), self._middle_room()):
            painter.fillRect(room, QColor(theme.raised))
            painter.setPen(QPen(QColor(theme.edge), 1.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(room)
        states = {line.name: line for line in self.lines() if line.name.endswith(" state")}
        for side in self.shown.sides:
            self._paint_mark(painter, side, states[f"{side.side} state"])

    def _paint_mark(self, painter: QPainter, side: SideView, line: Line) -> None:
        size = line.room.height() / PITCH
        centre = QPointF(line.room.left() - size * MARK_PART * 0.6, line.room.center().y())
        mark.paint_shape(painter, side.mark, centre, size * 0.75, mark.shape_colour(side.mark, self.theme))

    def _band(self) -> QRectF:
        top = self._px(HEAD_BOTTOM)
        return QRectF(self._margin(), top, self._wide(), self._px(BAND_BOTTOM) - top - self._px(0.012))

    def _inner(self, room: QRectF) -> QRectF:
        pad = self._px(PAD_PART)
        return room.adjusted(pad, pad * 0.7, -pad, -pad * 0.7)

    def _rooms(self) -> list[QRectF]:
        """Return the panels from left to right: the left foot, what both make, the right foot; of one foot, its own."""
        count, gap = len(self.shown.sides) + 1, self._margin() / 2
        wide = (self._wide() - gap * (count - 1)) / count
        top, bottom = self._px(BAND_BOTTOM), self._px(PANEL_BOTTOM)
        return [QRectF(self._margin() + index * (wide + gap), top, wide, bottom - top) for index in range(count)]

    def _side_rooms(self) -> list[QRectF]:
        rooms = self._rooms()
        return [rooms[0], rooms[2]] if len(rooms) > 2 else rooms[: len(self.shown.sides)]

    def _middle_room(self) -> QRectF:
        rooms = self._rooms()
        return rooms[1] if len(rooms) > 1 else rooms[0]
