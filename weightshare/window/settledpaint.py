"""Settled readings, painted: what to do, what such scales cannot, one panel a foot, and what both make together."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from weightshare.practice.screen import Shape
from weightshare.practice.settledview import SettledView, ShareView, SideView
from weightshare.window import lettering, mark
from weightshare.window.benchsheet import BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

HEAD_PART, LIMIT_PART, TITLE_PART, FIGURE_PART, WORD_PART, NOTE_PART = 0.085, 0.036, 0.042, 0.15, 0.042, 0.034
"""Sizes of letters, as parts of the height."""
HEAD_BOTTOM, BAND_BOTTOM, PANEL_BOTTOM, NOTE_BOTTOM = 0.215, 0.285, 0.79, 0.905
"""Where each part ends, as parts of the height."""
PAD_PART = 0.022
MISSING = "\u2013"
"""In place of a figure that there is not."""


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
        return lettering.lay("limit", self.shown.limit, room, self._px(LIMIT_PART), self.theme.ink, bold=True)

    def _side(self, side: SideView, room: QRectF) -> list[Line]:
        """Lay one foot's reading from the top of its panel, and its scale at the bottom."""
        theme, size = self.theme, self._px(WORD_PART)
        ink = theme.quiet if side.faded else theme.ink
        rows = _Rows(self._inner(room))
        lines = [
            rows.lay(f"{side.side} title", side.title, self._px(TITLE_PART), theme.ink, bold=True),
            rows.lay(f"{side.side} load", side.load or MISSING, self._px(FIGURE_PART), ink, bold=True),
        ]
        colour = mark.shape_colour(side.mark, theme)
        lines.append(rows.lay(f"{side.side} state", side.state, size, colour, bold=True, indent=size * 1.3))
        lines += [rows.lay(f"{side.side} {name}", text, size, ink) for name, text in _more(side)]
        foot = self._inner(room)
        small, quiet = self._px(NOTE_PART), theme.outside if side.troubled else theme.quiet
        said = [*lettering.wrap(side.link, small, foot.width()), *([side.scale] if side.scale else [])]
        top = foot.bottom() - len(said) * small * 1.3
        below = QRectF(foot.left(), top, foot.width(), foot.bottom() - top)
        lines += [
            lettering.lay(f"{side.side} link {index}", row, lettering.row_room(below, index, small * 1.3), small, quiet)
            for index, row in enumerate(said)
        ]
        return lines

    def _middle(self) -> list[Line]:
        """Lay what the readings make together, or why they make nothing."""
        room, share = self._inner(self._middle_room()), self.shown.share
        if share is not None:
            return self._share(share, room)
        size = self._px(WORD_PART)
        rows = lettering.wrap(self.shown.share_missing, size, room.width())
        room.setTop(room.center().y() - len(rows) * size * 0.65)
        return [
            lettering.lay(f"missing {index}", row, lettering.row_room(room, index, size * 1.3), size, self.theme.quiet)
            for index, row in enumerate(rows)
        ]

    def _share(self, share: ShareView, room: QRectF) -> list[Line]:
        theme, size, rows = self.theme, self._px(WORD_PART), _Rows(room)
        ink = theme.quiet if share.faded else theme.ink
        lines = [
            rows.lay("share label", share.label, self._px(TITLE_PART), theme.ink, bold=True),
            rows.lay("share", share.share, self._px(FIGURE_PART), ink, bold=True),
        ]
        said = [("asked", share.asked), ("age", f"OLD: {share.age}" if share.faded else share.age)]
        said.append(("symmetry", share.symmetry))
        for name, text in said:
            for index, row in enumerate(lettering.wrap(text, size, room.width())):
                lines.append(rows.lay(f"{name} {index}", row, size, theme.ink if name == "asked" else ink))
        return lines

    def _notes(self) -> list[Line]:
        top, bottom = self._px(PANEL_BOTTOM) + self._px(0.012), self._px(NOTE_BOTTOM)
        room = QRectF(self._margin(), top, self._wide(), bottom - top)
        text, size = "   ".join(self.shown.notes), self._px(NOTE_PART)
        rows = lettering.wrap(text, size, room.width())
        while len(rows) * size * 1.3 > room.height() and size > 8:
            size -= 1
            rows = lettering.wrap(text, size, room.width())
        return [
            lettering.lay(f"note {index}", row, lettering.row_room(room, index, size * 1.3), size, self.theme.outside)
            for index, row in enumerate(rows)
        ]

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
        size = self._px(WORD_PART)
        shape = Shape.RING if side.mark is Shape.NONE else side.mark
        centre = QPointF(line.room.left() - size * 0.8, line.room.center().y())
        mark.paint_shape(painter, shape, centre, size * 0.75, mark.shape_colour(shape, self.theme))

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


def _more(side: SideView) -> list[tuple[str, str]]:
    return [(name, text) for name, text in (("percent", side.percent), ("original", side.original)) if text]


class _Rows:
    """Lays lines under each other, from the top of a room on."""

    def __init__(self, room: QRectF) -> None:
        self._room, self._top = room, room.top()

    def lay(self, name: str, text: str, size: int, colour: str, *, bold: bool = False, indent: float = 0.0) -> Line:
        """Lay the next line."""
        high = size * 1.3
        room = QRectF(self._room.left() + indent, self._top, self._room.width() - indent, high)
        self._top += high
        return lettering.lay(name, text, room, size, colour, bold=bold)
