"""Lines, circles, dimensions and words in millimetres of the thing drawn, on a sheet with a frame and a title."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from weightshare.report.drawing import BLUE, INK, PAPER, QUIET, SHADE, Drawing, Part, Path, Point, Words

WIDTH, HEIGHT, MARGIN = 842.0, 595.0, 18.0
"""A4, lying, in points."""
METAL, STEEL, RUBBER, BOARD = "#dfe5ea", "#b9c4ce", "#5b6875", "#cfe0d2"
THIN, THICK = 0.5, 1.3
ARROW = 5.0
SIZE = 9.0


@dataclass
class Sheet:
    """A page: `parts` are in points, y downwards."""

    title: str
    words: str
    """What it shows, for those who do not see it."""
    parts: list[Part] = field(default_factory=list)

    def finish(self, scale: str = "", *, lengths: bool = True) -> Drawing:
        """Return the page with its frame, its title and its scale."""
        frame = _box(MARGIN, MARGIN, WIDTH - MARGIN, HEIGHT - MARGIN)
        rule = ((MARGIN, HEIGHT - MARGIN - 26), (WIDTH - MARGIN, HEIGHT - MARGIN - 26))
        base = HEIGHT - MARGIN - 9
        note = " · ".join(["weightshare, hardware", *["lengths in mm"] * lengths, *[scale] * bool(scale)])
        own: list[Part] = [
            Path(frame, INK, None, 1.0, closed=True),
            Path(rule, INK, None, 1.0),
            Words(MARGIN + 10, base, self.title, 13, bold=True),
            Words(WIDTH - MARGIN - 10, base, note, 8.5, "end", QUIET),
        ]
        return Drawing(WIDTH, HEIGHT, self.words, (*self.parts, *own))

    def say(
        self, x: float, y: float, text: str, size: float = SIZE, anchor: str = "start", *, bold: bool = False
    ) -> None:
        """Write a line at a place of the page."""
        self.parts.append(Words(x, y, text, size, anchor, INK, bold))

    def list(self, x: float, y: float, lines: Sequence[str], size: float = SIZE, step: float = 13.0) -> float:
        """Write line under line; return where the next one would be."""
        for line in lines:
            self.say(x, y, line, size)
            y += step
        return y

    def table(
        self, x: float, y: float, rows: Sequence[Sequence[str]], widths: Sequence[float], size: float = 8.5
    ) -> None:
        """Write rows in columns of so many points; the first row is the head."""
        for number, row in enumerate(rows):
            left = x
            for cell, width in zip(row, widths, strict=True):
                self.say(left, y + 13 * number, cell, size, bold=number == 0)
                left += width
        self.parts.append(Path(((x, y + 4), (x + sum(widths), y + 4)), INK, None, THIN))

    def block(self, x: float, y: float, w: float, h: float, lines: Sequence[str] = (), *, fill: str = PAPER) -> None:
        """Draw a box on the page, with its name in bold and what else is to be said in it."""
        self.parts.append(Path(_box(x, y, x + w, y + h), INK, fill, 1.0, closed=True))
        top = y + h / 2 - 5.5 * (len(lines) - 1) + 3
        for number, line in enumerate(lines):
            self.say(x + w / 2, top + 11 * number, line, 8.5 if number else 9.0, "middle", bold=number == 0)

    def wire(self, *points: Point, colour: str = INK, width: float = 1.0, dashed: bool = False) -> None:
        """Draw a line through places of the page."""
        self.parts.append(Path(points, colour, None, width, dashed=dashed))

    def dot(self, x: float, y: float) -> None:
        """Draw a joint of two wires."""
        self.parts.append(Path(_ring(x, y, 2.2), None, INK, closed=True))


@dataclass(frozen=True)
class View:
    """A part of the sheet on which a thing is drawn: `scale` points to the mm, (x0, y0) is where its origin lies."""

    sheet: Sheet
    scale: float
    x0: float
    y0: float

    def at(self, x: float, y: float) -> Point:
        """Return where a point of the thing (mm, y upwards) lies on the page."""
        return self.x0 + x * self.scale, self.y0 - y * self.scale

    def shape(
        self, points: Sequence[Point], fill: str | None = None, width: float = THICK, *, dashed: bool = False
    ) -> None:
        """Draw a closed shape."""
        self.sheet.parts.append(Path(tuple(self.at(*p) for p in points), INK, fill, width, closed=True, dashed=dashed))

    def rect(
        self, x1: float, y1: float, x2: float, y2: float, fill: str | None = None, *, dashed: bool = False
    ) -> None:
        """Draw a rectangle by two corners."""
        self.shape(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), fill, 0.9, dashed=dashed)

    def plate(self, w: float, h: float, radius: float, fill: str | None = None) -> None:
        """Draw a rectangle with rounded corners about the origin."""
        turns = [(1, 1, 0), (-1, 1, 90), (-1, -1, 180), (1, -1, 270)]
        points = [
            (sx * (w / 2 - radius) + radius * _cos(a + step), sy * (h / 2 - radius) + radius * _sin(a + step))
            for sx, sy, a in turns
            for step in range(0, 91, 15)
        ]
        self.shape(points, fill)

    def circle(self, x: float, y: float, radius: float, fill: str | None = None, *, dashed: bool = False) -> None:
        """Draw a circle."""
        px, py = self.at(x, y)
        ring = _ring(px, py, radius * self.scale)
        self.sheet.parts.append(Path(ring, INK, fill, 0.8, closed=True, dashed=dashed))

    def cross(self, x: float, y: float, reach: float) -> None:
        """Draw a thin cross through a centre."""
        self.line((x - reach, y), (x + reach, y))
        self.line((x, y - reach), (x, y + reach))

    def line(self, *points: Point, width: float = THIN, dashed: bool = False, colour: str = INK) -> None:
        """Draw a line."""
        self.sheet.parts.append(Path(tuple(self.at(*p) for p in points), colour, None, width, dashed=dashed))

    def across(self, x1: float, x2: float, y: float, away: float, text: str = "") -> None:
        """Dimension a width: from x1 to x2 at `y`, the line `away` points under it (above, where negative)."""
        (a, top), (b, _) = self.at(x1, y), self.at(x2, y)
        line = top + away
        self._dimension((a, line), (b, line), (a, top), (b, top))
        self._label((a + b) / 2, line - 3, text or f"{abs(x2 - x1):g}", outside=abs(b - a) < 16, right=max(a, b))

    def upward(self, y1: float, y2: float, x: float, away: float, text: str = "") -> None:
        """Dimension a height: from y1 to y2 at `x`, the line `away` points to the right (left, where negative)."""
        (left, a), (_, b) = self.at(x, y1), self.at(x, y2)
        line = left + away
        self._dimension((line, a), (line, b), (left, a), (left, b))
        words = text or f"{abs(y2 - y1):g}"
        if abs(a - b) < 18:
            self.sheet.say(line + (6 if away > 0 else -6), (a + b) / 2 + 3, words, 8.5, "start" if away > 0 else "end")
        else:
            self.sheet.parts.append(Words(line - 3, (a + b) / 2, words, 8.5, "middle", INK, turned=True))

    def note(self, x: float, y: float, dx: float, dy: float, text: str) -> None:
        """Write `text` at the end of a line from a point of the thing; dx, dy in points of the page."""
        px, py = self.at(x, y)
        ex, ey = px + dx, py + dy
        side = 1 if dx >= 0 else -1
        self.sheet.parts.append(Path(((px, py), (ex, ey), (ex + 8 * side, ey)), BLUE, None, 0.6))
        self.sheet.parts.append(Path(_ring(px, py, 1.5), None, BLUE, closed=True))
        self.sheet.say(ex + 11 * side, ey + 3, text, 8.5, "start" if side > 0 else "end")

    def _dimension(self, a: Point, b: Point, edge_a: Point, edge_b: Point) -> None:
        for end, edge in ((a, edge_a), (b, edge_b)):
            self.sheet.parts.append(_witness(edge, end))
        short = math.dist(a, b) < 3 * ARROW
        self.sheet.parts.append(Path((a, b), INK, None, 0.5))
        for tip, tail in ((a, b), (b, a)):
            self.sheet.parts.append(_arrow(tip, tail if not short else (2 * tip[0] - tail[0], 2 * tip[1] - tail[1])))

    def _label(self, x: float, y: float, text: str, *, outside: bool, right: float) -> None:
        if outside:
            self.sheet.say(right + 8, y + 6, text, 8.5)
        else:
            self.sheet.say(x, y, text, 8.5, "middle")


def _witness(edge: Point, end: Point) -> Path:
    """Return the thin line from a little off the thing's edge to a little past the dimension's line."""
    way = math.dist(edge, end) or 1.0
    ux, uy = 3 * (end[0] - edge[0]) / way, 3 * (end[1] - edge[1]) / way
    return Path(((edge[0] + ux, edge[1] + uy), (end[0] + ux, end[1] + uy)), INK, None, 0.4)


def _arrow(tip: Point, tail: Point) -> Path:
    angle = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    sides = [(tip[0] + ARROW * math.cos(angle + s), tip[1] + ARROW * math.sin(angle + s)) for s in (0.25, -0.25)]
    return Path((tip, *sides), None, INK, closed=True)


def _ring(x: float, y: float, radius: float) -> tuple[Point, ...]:
    count = 12 if radius < 4 else 36
    return tuple(
        (x + radius * math.cos(math.tau * k / count), y + radius * math.sin(math.tau * k / count)) for k in range(count)
    )


def _box(x1: float, y1: float, x2: float, y2: float) -> tuple[Point, ...]:
    return ((x1, y1), (x2, y1), (x2, y2), (x1, y2))


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))


def _sin(degrees: float) -> float:
    return math.sin(math.radians(degrees))


__all__ = ["BLUE", "BOARD", "INK", "METAL", "PAPER", "QUIET", "RUBBER", "SHADE", "STEEL", "Sheet", "View"]
