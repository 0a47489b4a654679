"""The step of a guided calibration that is under way: read from the plates, with both hands full."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from weightshare import tongue
from weightshare.model import Side
from weightshare.practice.screen import Shape
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.benchdraw import BenchDrawing, kilograms
from weightshare.window.benchsheet import KEY_HIGH, BenchSheet
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.workbench.view import BenchView, Stage

STATES = {
    Stage.CONNECT: (Shape.RING, tongue.mark("Looking for the scale")),
    Stage.ASK: (Shape.RING, tongue.mark("Waiting for the load")),
    Stage.MEASURE: (Shape.DISC, tongue.mark("Measuring")),
    Stage.DONE: (Shape.DISC, tongue.mark("Done")),
    Stage.FAILED: (Shape.CROSS, tongue.mark("It cannot go on")),
}
NOT_AS_ASKED = (Shape.DIAMOND, tongue.mark("Not as it should be"))
GIVE_UP = tongue.mark("Give this calibration up?")
GIVE_UP_WORDS = tongue.mark("Then nothing is written, and what was in force before stays in force.")
COULD_NOT_BEGIN = tongue.mark("It could not begin")
HINT, HINT_BACK = tongue.mark("Esc: give up"), tongue.mark("Backspace: the step before once more")
HINT_LEAVE = tongue.mark("Esc: back to practice")
HINT_GIVE_UP = tongue.mark("Esc once more: give up   \u00b7   any other key: go on measuring")
STATE_PART, HEAD_PART, SAID_PART = 0.070, 0.105, 0.047
"""Sizes of the letters, as parts of the height: what is the matter, what to do, and what else there is to say."""
ROW, MOST_LINES = 1.25, 3
COLUMN_PART = 0.40
"""The part of the width that the words beside the drawing take."""
SECONDS_PER_MINUTE = 60.0


def left_words(left_s: float) -> str:
    """Return about how long `left_s` seconds are, in words; empty for nothing."""
    if left_s < 1.0:
        return ""
    if left_s < 1.5 * SECONDS_PER_MINUTE:
        return say("about {left} s left", left=10 * math.ceil(left_s / 10))
    return say("about {left} min left", left=math.ceil(left_s / SECONDS_PER_MINUTE))


def _numbered(name: str, index: int) -> str:
    return f"{name} {index}" if index else name


class BenchGuide(BenchSheet):
    """Paints the newest BenchView; `asks` is set while it is asked whether to give up."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(theme, parent)
        self.shown, self.asks = BenchView(), False

    def show_view(self, view: BenchView, *, asks: bool = False) -> None:
        """Show `view`; paint where something in it differs."""
        if (view, asks) != (self.shown, self.asks):
            self.shown, self.asks = view, asks
            self.refresh()

    def lay_out(self) -> list[Line]:
        """Return the lines of text for the newest view."""
        drawn = self._drawing().lines() if self._draws else []
        return [*self._top(), *self._headline(), *drawn, *self._beside(), *self._foot()]

    @property
    def state(self) -> tuple[Shape, str]:
        """The mark and the words for where it stands."""
        if self.shown.trouble and self.shown.stage in (Stage.ASK, Stage.MEASURE):
            shape, words = NOT_AS_ASKED
        else:
            shape, words = STATES[self.shown.stage]
        return shape, say(words)

    @property
    def _draws(self) -> bool:
        """Whether there is something to lay or to take off."""
        return not self.asks and self.shown.stage in (Stage.ASK, Stage.MEASURE)

    def _top(self) -> list[Line]:
        size, width, theme = self._px(STATE_PART), self._wide(), self.theme
        shape, words = self.state
        room = QRectF(self._margin() + size * 1.25, self._margin() / 2, width * 0.6, size * 1.2)
        colour = mark.shape_colour(shape, theme)
        lines = [lettering.lay("state", words, room, size, colour, bold=True)]
        if self.shown.steps:
            told = (
                say("step {number} of {steps}", number=max(1, self.shown.number), steps=self.shown.steps),
                left_words(self.shown.left_s),
            )
            text = "   \u00b7   ".join(part for part in told if part)
            right = QRectF(self._margin() + width * 0.55, room.top(), width * 0.45, room.height())
            align = Qt.AlignmentFlag.AlignRight
            lines.append(lettering.lay("steps", text, right, round(size * 0.66), theme.ink, align=align))
        return lines

    def _headline(self) -> list[Line]:
        failed = say(COULD_NOT_BEGIN) if self.shown.stage is Stage.FAILED else ""
        text = say(GIVE_UP) if self.asks else self.shown.headline or failed
        room = self._headline_room()
        largest = round(self._px(HEAD_PART) * 1.15)
        size, said = lettering.fill(text, largest, int(room.width()), int(room.height()), MOST_LINES)
        high, ink = size * lettering.PITCH, self.theme.ink
        room.setTop(room.top() + (room.height() - len(said) * high) / 2)
        return [
            lettering.lay(
                _numbered("headline", index), row, lettering.row_room(room, index, high), size, ink, bold=True
            )
            for index, row in enumerate(said)
        ]

    def _beside(self) -> list[Line]:
        """Lay what lies there now, what is asked for, and what there is to say about it."""
        view, room, theme, size = self.shown, self._column(), self.theme, self._px(SAID_PART)
        if self.asks:
            return [lettering.lay("words", say(GIVE_UP_WORDS), self._whole_room(), size, theme.ink)]
        if not self._draws:
            return self._said(self._whole_room())
        lines: list[Line] = []
        top = room.top()
        if view.ask is not None:
            side = view.ask.placement.side
            load = view.load_kg[list(Side).index(side)]
            figure = QRectF(room.left(), top, room.width(), size * 2.6)
            lines.append(
                lettering.lay("load", kilograms(load), figure, round(size * 2.2), theme.ink, bold=True).ink_aligned()
            )
            asked = say("on the {side} plate; asked: {load:g} kg", side=side, load=view.ask.load_kg)
            below = QRectF(room.left(), figure.bottom(), room.width(), size * 1.3)
            lines.append(lettering.lay("asked", asked, below, round(size * 0.8), theme.quiet))
            top = below.bottom() + size * 0.4 if view.stage is Stage.ASK else self.step_bar().bottom() + size * 0.6
        return [*lines, *self._said(QRectF(room.left(), top, room.width(), self._key_top() - top))]

    def _said(self, room: QRectF) -> list[Line]:
        """Lay words and trouble into `room`, smaller where there are many."""
        view, theme, largest = self.shown, self.theme, self._px(SAID_PART)
        said = [("words", view.words, theme.ink, False), ("trouble", view.trouble, theme.outside, True)]
        rows: list[tuple[str, str, str, bool]] = []
        size = largest
        for size in range(largest, largest // 2, -1):
            rows = [
                (_numbered(name, index), row, colour, bold)
                for name, text, colour, bold in said
                for index, row in enumerate(lettering.wrap(text, size, room.width(), bold))
            ]
            if len(rows) * size * ROW <= room.height():
                break
        return [
            lettering.lay(name, text, lettering.row_room(room, index, size * ROW), size, colour, bold=bold)
            for index, (name, text, colour, bold) in enumerate(rows)
        ]

    def _key_top(self) -> float:
        """Where the big key begins, whether it is there or not: words do not jump when it comes."""
        return self.height() * (1.0 - KEY_HIGH) - self._margin() - self._px(0.012)

    def _foot(self) -> list[Line]:
        parts = [say(HINT_BACK)] if self.shown.may_go_back else []
        leaves = say(HINT) if self._draws else say(HINT_LEAVE)
        text = say(HINT_GIVE_UP) if self.asks else "   \u00b7   ".join([*parts, leaves])
        size = self._px(0.032)
        room = QRectF(self._margin(), self.height() - size * 1.8, self._wide(), size * 1.4)
        return [lettering.lay("hint", text, room, size, self.theme.quiet)]

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint the mark of the state, how far it is, and the drawing."""
        size, (shape, _words) = self._px(STATE_PART), self.state
        centre = QPointF(self._margin() + size * 0.5, self._margin() / 2 + size * 0.6)
        mark.paint_shape(painter, shape, centre, size * 0.85, mark.shape_colour(shape, self.theme))
        if self.shown.steps:
            done = max(0.0, self.shown.number - 1 + self.shown.part)
            self._paint_bar(painter, self._course_bar(), done / self.shown.steps)
        if self._draws:
            self._drawing().paint(painter)
            if self.shown.ask is not None and self.shown.stage is not Stage.ASK:
                self._paint_bar(painter, self.step_bar(), self.shown.part)

    def _paint_bar(self, painter: QPainter, room: QRectF, part: float) -> None:
        filled = room.adjusted(0, 0, -room.width() * (1.0 - min(1.0, max(0.0, part))), 0)
        painter.fillRect(filled, QColor(self.theme.laid))
        painter.setPen(QPen(QColor(self.theme.edge), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(room)

    def step_bar(self) -> QRectF:
        """Return where the progress of this step is painted."""
        column, size = self._column(), self._px(SAID_PART)
        return QRectF(column.left(), column.top() + size * 4.2, column.width(), size * 0.7)

    def _course_bar(self) -> QRectF:
        top = self._margin() / 2 + self._px(STATE_PART) * 1.25
        return QRectF(self._margin(), top, self._wide(), self._px(0.016))

    def _headline_room(self) -> QRectF:
        top = self._course_bar().bottom() + self._px(0.012)
        return QRectF(self._margin(), top, self._wide(), 2 * lettering.PITCH * self._px(HEAD_PART))

    def _whole_room(self) -> QRectF:
        """Where words are laid when nothing is drawn: over the whole width."""
        head, size = self._headline_room(), self._px(SAID_PART)
        top = head.bottom() + self._px(0.02)
        high = size * ROW if self.asks else self._key_top() - top
        return QRectF(head.left(), top, head.width(), high)

    def _middle(self) -> QRectF:
        top = self._headline_room().bottom() + self._px(0.012)
        return QRectF(self._margin(), top, self._wide(), self.height() - top - self._px(0.065))

    def _drawing(self) -> BenchDrawing:
        middle = self._middle()
        middle.setWidth(middle.width() * (1.0 - COLUMN_PART) - self._margin())
        return BenchDrawing(self.shown.ask, self.shown.load_kg, middle, self.theme)

    def _column(self) -> QRectF:
        middle = self._middle()
        return middle.adjusted(middle.width() * (1.0 - COLUMN_PART), self._px(0.02), 0, 0)
