"""A set without help: what to do, large, and nothing to steer by."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QRectF, Qt

from weightshare.practice.screen import Screen
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.view import PaintedView


class BlindView(PaintedView):
    """Paints the headline of a blind set over the whole middle of the window."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the words."""
        return screen.headline, screen.state, screen.note

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the headline, broken into lines that fit, the state over it and the note under it."""
        width, height, theme = float(self.width()), self.height(), self.theme
        small = max(16, height // 9)
        size, said = lettering.fill(screen.headline, max(24, height // 5), self.width(), round(height * 0.6), 3)
        centre = Qt.AlignmentFlag.AlignHCenter
        top = (height - len(said) * size * 1.3) / 2
        lines = [
            lettering.lay(
                "state",
                screen.state,
                QRectF(0, top - small * 1.7, width, small * 1.4),
                small,
                theme.quiet,
                align=centre,
            )
        ]
        for index, text in enumerate(said):
            room = QRectF(0, top + index * size * 1.3, width, size * 1.3)
            name = "headline" if index == 0 else f"headline {index}"
            lines.append(lettering.lay(name, text, room, size, theme.ink, bold=True, align=centre))
        below = QRectF(0, top + len(said) * size * 1.3 + small * 0.2, width, small * 1.4)
        return [
            *lines,
            *([lettering.lay("note", screen.note, below, small, theme.ink, align=centre)] if screen.note else []),
        ]
