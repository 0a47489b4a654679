"""What is drawn on the pages of a PDF: pictures, the foot of each page, and the outline that leads to each heading."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from weightshare.report import drawing, letter

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.pdfgen.canvas import Canvas

LANGUAGE = "en-GB"
_NUMBER_ROOM = 70.0
"""For the number of the page, beside the foot."""
_ABOVE = 16.0
"""So much above a heading a reader that follows the outline comes out."""


def numbered(foot: str, margin: float, base: float, size: float) -> Callable[..., Any]:
    """Return a kind of canvas that writes the foot of each page when it knows how many there are.

    foot: stands at `margin` from the left, on a line `base` points up, in letters of `size`. What flowables put into
    the canvas's `headings`, each with how high it stands, becomes the file's outline.
    """
    from reportlab.pdfgen.canvas import Canvas

    class Numbered(Canvas):  # type: ignore[misc, unused-ignore]
        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **named)
            self._pages: list[dict[str, Any]] = []
            self.headings: list[tuple[str, float]] = []
            # a window is named by what the document is, not by its file
            self.setViewerPreference("DisplayDocTitle", "true")

        def showPage(self) -> None:
            self._pages.append(dict(self.__dict__))
            self.headings = []
            self._startPage()

        def save(self) -> None:
            width = self._pagesize[0]
            said = letter.shortened(foot, width - 2 * margin - _NUMBER_ROOM, size)
            for number, page in enumerate(self._pages, 1):
                self.__dict__.update(page)
                for place, (heading, y) in enumerate(self.headings):
                    key = f"{number}.{place}"
                    self.bookmarkPage(key, fit="XYZ", left=0, top=y + _ABOVE, zoom=0)
                    self.addOutlineEntry(heading, key)
                write(self, drawing.Words(margin, base, said, size, colour=drawing.QUIET))
                count = f"page {number} of {len(self._pages)}"
                write(self, drawing.Words(width - margin, base, count, size, "end", drawing.QUIET))
                super().showPage()
            super().save()

    return Numbered


@lru_cache(maxsize=32)
def colour_of(name: str) -> Color:
    """Return a colour like #1c2733 as a PDF has it: reading it for each word takes longer than writing the word."""
    from reportlab.lib.colors import HexColor

    return HexColor(name)


def draw(canvas: Canvas, picture: drawing.Drawing) -> None:
    """Draw a picture with its foot at the origin."""
    canvas.saveState()
    canvas.translate(0.0, picture.height)
    for part in picture.parts:
        if isinstance(part, drawing.Path):
            _trace(canvas, part)
        else:
            write(canvas, part, flipped=True)
    canvas.restoreState()


def _trace(canvas: Canvas, path: drawing.Path) -> None:
    canvas.setDash(*((4, 3) if path.dashed else ()))
    canvas.setLineWidth(path.width)
    if path.stroke is not None:
        canvas.setStrokeColor(colour_of(path.stroke))
    if path.fill is not None:
        canvas.setFillColor(colour_of(path.fill))
    (x, y), *rest = path.points
    line = canvas.beginPath()
    line.moveTo(x, -y)
    for x, y in rest:
        line.lineTo(x, -y)
    if path.closed:
        line.close()
    canvas.drawPath(line, stroke=int(path.stroke is not None), fill=int(path.fill is not None))


def write(canvas: Canvas, words: drawing.Words, *, flipped: bool = False) -> None:
    """Write words where they say; flipped: y goes down."""
    canvas.saveState()
    canvas.setFillColor(colour_of(words.colour))
    canvas.translate(words.x, -words.y if flipped else words.y)
    if words.turned:
        canvas.rotate(90)
    x = -{"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor] * letter.width_of(words.text, words.size, words.bold)
    for font, piece in letter.runs(words.text, words.bold):
        canvas.setFont(font, words.size)
        canvas.drawString(x, 0.0, piece)
        x += canvas.stringWidth(piece, font, words.size)
    canvas.restoreState()
