"""What has to be known of a saved session first: where it came from, what it is worth, what is missing of it."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget

from weightshare.practice.past.fact import Fact
from weightshare.practice.past.view import PastView
from weightshare.tongue import mark, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

SIZES = (1.0, 0.95, 0.9, 0.85, 0.8)
"""Of the letters, from the usual one down to the least."""
PITCH = 1.35
TITLE = mark("To bear in mind")
CAUTION, PLAIN = "! ", ""


class PastFacts(Painted):
    """Paints the facts, cautions first; what does not fit is counted, and it is said where it stands."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.text_px = 14
        self.facts: tuple[Fact, ...] = ()

    def show_view(self, view: PastView) -> None:
        """Show the facts of `view`."""
        if self.facts is not view.facts:
            self.facts = view.facts
            self.refresh()

    def lay_out(self) -> list[Line]:
        """Return the title and the facts, as large as they all fit."""
        width, theme = float(self.width()), self.theme
        for part in SIZES:
            size = max(11, round(self.text_px * part))
            rows, shown = self._rows(self.facts, size, width)
            if (len(rows) + 1) * size * PITCH <= self.height():
                break
        lines = [self._line("facts", say(TITLE), 0, size, theme.ink, bold=True)]
        most = int(self.height() / (size * PITCH)) - 1
        if len(rows) > most:
            shown = sum(
                1 for k in range(len(self.facts)) if len(self._rows(self.facts[: k + 1], size, width)[0]) < most
            )
            rows = self._rows(self.facts[:shown], size, width)[0]
            rows.append((say("and {count} more: weightshare analyse", count=len(self.facts) - shown), theme.ink))
        lines += [self._line(f"fact {k}", text, k + 1, size, colour) for k, (text, colour) in enumerate(rows)]
        return lines

    def _rows(self, facts: tuple[Fact, ...], size: int, width: float) -> tuple[list[tuple[str, str]], int]:
        """Return the rows with their colours, and how many facts they are."""
        rows = []
        for fact in facts:
            colour = self.theme.outside if fact.is_caution else self.theme.quiet
            said = f"{CAUTION if fact.is_caution else PLAIN}{fact.text}"
            rows += [(row, colour) for row in lettering.wrap(said, size, width)]
        return rows, len(facts)

    def _line(self, name: str, text: str, row: int, size: int, colour: str, *, bold: bool = False) -> Line:
        room = QRectF(0, row * size * PITCH, self.width(), size * PITCH)
        return lettering.lay(name, text, room, size, colour, bold=bold)
