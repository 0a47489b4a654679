"""Text that knows its place: laid out first, so that a test can look for what is clipped or overlaps, then painted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPainter

FAMILIES = ("Inter", "Source Sans 3", "Segoe UI", "Helvetica Neue", "Noto Sans", "DejaVu Sans")
SMALLEST_PART = 0.5
"""Text that does not fit is made smaller down to this part, then cut."""

NEARLY_PART = 0.82
"""Large text is rather made so much smaller than broken."""
FIGURE_SAMPLE = "0123456789"
PITCH = 1.1
"""From one line of large text to the next, in its pixel size."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of text on its baseline, within the room it was given (px)."""

    name: str
    text: str
    room: QRectF
    x: float
    baseline: float
    pixel_size: int
    bold: bool
    colour: str

    def bounds(self) -> QRectF:
        """Return the smallest rectangle around the ink (px)."""
        tight = QFontMetricsF(font(self.pixel_size, self.bold)).tightBoundingRect(self.text)
        return tight.translated(self.x, self.baseline)

    @property
    def end(self) -> float:
        """Where text beside it could begin (px)."""
        return self.x + QFontMetricsF(font(self.pixel_size, self.bold)).horizontalAdvance(self.text)

    def ink_aligned(self) -> Line:
        """Return the line shifted so that its ink, not its first letter's empty margin, begins at the room's left."""
        return replace(self, x=self.x - (self.bounds().left() - self.room.left())) if self.text else self

    def beside(self, name: str, text: str, pixel_size: int, colour: str, *, gap: float) -> Line:
        """Return a line that goes on after this one, on the same baseline."""
        x = self.end + gap
        room = QRectF(x, self.room.top(), max(0.0, self.room.right() - x), self.room.height())
        return Line(name, text, room, x, self.baseline, pixel_size, False, colour)


@lru_cache(maxsize=1)
def family() -> str:
    """Return the first of FAMILIES that is installed; empty where none is, for the system's own."""
    installed = set(QFontDatabase.families())
    return next((name for name in FAMILIES if name in installed), "")


@lru_cache(maxsize=64)
def font(pixel_size: int, bold: bool = False) -> QFont:
    """Return the window's font at `pixel_size`."""
    made = QFont(family()) if family() else QFont()
    made.setPixelSize(max(1, pixel_size))
    made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return made


@lru_cache(maxsize=16)
def figure_part(bold: bool = False) -> float:
    """Return the height of a figure as part of the font's pixel size."""
    return QFontMetricsF(font(400, bold)).tightBoundingRect(FIGURE_SAMPLE).height() / 400


@lru_cache(maxsize=64)
def metrics_of(pixel_size: int, bold: bool = False) -> QFontMetricsF:
    """Return what is known of the letters of the window's font at `pixel_size`."""
    return QFontMetricsF(font(pixel_size, bold))


@lru_cache(maxsize=2048)
def width_of(text: str, pixel_size: int, bold: bool = False) -> float:
    """Return how far `text` reaches (px); the same few texts are asked for at each picture."""
    return metrics_of(pixel_size, bold).horizontalAdvance(text)


def fit(text: str, wanted_px: int, width: float, bold: bool = False) -> int:
    """Return the font size, at most `wanted_px`, at which `text` fits into `width`; never under half of that."""
    size = wanted_px
    while size > SMALLEST_PART * wanted_px and width_of(text, size, bold) > width:
        size -= 1
    return size


def wrap(text: str, pixel_size: int, width: float, bold: bool = False) -> list[str]:
    """Return `text` broken between words into lines that fit into `width`; a word that is wider stands alone."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, pixel_size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@lru_cache(maxsize=256)
def fill(text: str, largest_px: int, width: int, height: int, most_lines: int = 2) -> tuple[int, tuple[str, ...]]:
    """Return the largest size, at most `largest_px`, and the lines in which bold `text` fits into `width` x `height`.

    It is broken where a sentence or a clause ends, or into lines of like length: no word is left alone.
    """
    for size in range(largest_px, 8, -1):
        lines = wrap(text, size, width, True)
        high = len(lines) * size * PITCH
        if len(lines) <= most_lines and high <= height and _widest(lines, size) <= width:
            return size, tuple(_balance(text, size, width, len(lines)))
    return 8, (text,)


def _balance(text: str, size: int, width: int, count: int) -> list[str]:
    for end in (". ", ", "):
        clauses = text.replace(end, f"{end[0]}\n").split("\n")
        if len(clauses) == count and _widest(clauses, size) <= width:
            return clauses
    for part in range(40, 100, 2):
        lines = wrap(text, size, width * part / 100, True)
        if len(lines) <= count and _widest(lines, size) <= width:
            return lines
    return wrap(text, size, width, True)


def _widest(lines: list[str], size: int) -> float:
    return max((width_of(line, size, True) for line in lines), default=0.0)


def break_large(text: str, pixel_size: int, width: float) -> list[str]:
    """Return bold `text` as one line where it fits at nearly `pixel_size`, so that no word is left alone, or broken."""
    nearly = round(pixel_size * NEARLY_PART)
    return [text] if width_of(text, nearly, True) <= width else wrap(text, pixel_size, width, True)


def lay(
    name: str,
    text: str,
    room: QRectF,
    pixel_size: int,
    colour: str,
    *,
    bold: bool = False,
    align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
) -> Line:
    """Lay `text` into `room`, smaller or in the end cut where it does not fit; upright in the middle of it."""
    size = fit(text, pixel_size, room.width(), bold)
    metrics = metrics_of(size, bold)
    fits = width_of(text, size, bold) <= room.width() + 1
    said = text if fits else metrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width() + 1)
    spare = room.width() - width_of(said, size, bold)
    shift = {Qt.AlignmentFlag.AlignRight: spare, Qt.AlignmentFlag.AlignHCenter: spare / 2}.get(align, 0.0)
    baseline = room.center().y() + metrics.capHeight() / 2
    return Line(name, said, room, room.left() + shift, baseline, size, bold, colour)


def row_room(room: QRectF, index: int, high: float) -> QRectF:
    """Return where the line `index` goes of lines that are laid under each other from the top of `room` on (px)."""
    return QRectF(room.left(), room.top() + index * high, room.width(), high)


def paint(painter: QPainter, lines: list[Line]) -> None:
    """Paint the lines that have text."""
    for line in lines:
        if line.text:
            painter.setFont(font(line.pixel_size, line.bold))
            painter.setPen(QColor(line.colour))
            painter.drawText(QPointF(line.x, line.baseline), line.text)
