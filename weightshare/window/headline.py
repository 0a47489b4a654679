"""The top of the window: the state in a mark and in words, and what to do now; both are read at three metres."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from weightshare.practice.screen import Screen, Shape
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView

STATE_PART, LARGE_PART = 0.070, 0.090
"""Sizes of the state's letters and of the headline's where it takes two lines, as parts of the board's height.

On a screen of 1366 x 768 and 15.6 inches a capital of the headline is 11 mm high then: 13 arc minutes at three metres.
"""
ALONE = 1.3
"""How much larger a headline may be that takes one line."""
STATE_ROW = 1.16
"""How high the state's row is, in the size of its letters."""
NOTE_PART, NOTE_ROW = 0.8, 1.3
"""A note beside the state, in parts of its size; and how high a row of a note below the headline is."""
NOTE_LINES = 2
BAND_PART = STATE_PART * STATE_ROW + 2 * lettering.PITCH * LARGE_PART + 0.006
"""How high state and headline are together, as part of the board's height."""
NOTE_SIZE = 0.042
"""The size of a note below the headline, as part of the board's height."""
BELOW_PART = NOTE_LINES * NOTE_ROW * NOTE_SIZE


class HeadlineView(PaintedView):
    """One line of state, what to do in one or two lines as large as they fit, and a note where there is one."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the words and the mark."""
        return screen.headline, screen.state, screen.shape, screen.note, screen.soles is None

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return state, note and headline."""
        below = note_is_below(screen)
        lines = self._upper(screen, "" if below else screen.note)
        width, top, theme = self.width(), self._state_px() * STATE_ROW, self.theme
        high = round(2 * lettering.PITCH * LARGE_PART * self._board_px())
        wanted = round(LARGE_PART * ALONE * self._board_px())
        size, said = lettering.fill(screen.headline, wanted, width, high)
        # one line stands in the middle of the room for two
        top += (high - len(said) * size * lettering.PITCH) / 2
        for index, text in enumerate(said):
            room = QRectF(0, top + index * size * lettering.PITCH, width, size * lettering.PITCH)
            name = "headline" if index == 0 else f"headline {index}"
            lines.append(lettering.lay(name, text, room, size, theme.ink, bold=True))
        return [*lines, *self._below(screen.note)] if below else lines

    def _upper(self, screen: Screen, note: str) -> list[Line]:
        """Lay the state, and the note beside it; both as much smaller as it takes."""
        size = self._state_px()
        left = self._mark_px() * 1.35 if screen.shape is not Shape.NONE else 0.0
        room = self.width() - left
        beside = f"    {note}" if note else ""
        taken = lettering.width_of(screen.state, size, True) + lettering.width_of(beside, round(size * NOTE_PART))
        size = int(size * min(1.0, room / max(1.0, taken)))
        upper = QRectF(left, 0, room, self._state_px() * STATE_ROW)
        state = lettering.lay("state", screen.state, upper, size, self._colour(screen), bold=True)
        if not note:
            return [state]
        return [state, state.beside("note", note, round(size * NOTE_PART), self.theme.ink, gap=size * 0.6)]

    def _below(self, note: str) -> list[Line]:
        size, width = round(NOTE_SIZE * self._board_px()), float(self.width())
        rows = lettering.wrap(note, size, width)
        top = self.height() - NOTE_LINES * NOTE_ROW * size
        return [
            lettering.lay(
                "note" if index == 0 else f"note {index}",
                text,
                QRectF(0, top + index * NOTE_ROW * size, width, NOTE_ROW * size),
                size,
                self.theme.ink,
            )
            for index, text in enumerate(rows)
        ]

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint the state's mark before its words."""
        size = self._mark_px()
        centre = QPointF(size * 0.62, self._state_px() * STATE_ROW / 2)
        mark.paint_shape(painter, screen.shape, centre, size, self._colour(screen))

    def _colour(self, screen: Screen) -> str:
        return mark.shape_colour(screen.shape, self.theme, asks=screen.soles is not None)

    def _board_px(self) -> int:
        board = self.parentWidget()
        return self.height() if board is None else board.height()

    def _state_px(self) -> int:
        return round(STATE_PART * self._board_px())

    def _mark_px(self) -> float:
        return self._state_px() * 0.9


def note_is_below(screen: Screen) -> bool:
    """Return whether a note has rows of its own below the headline: the picture of the plates leaves the room."""
    return bool(screen.note) and screen.soles is not None
