"""A picture as a value: lines, areas and words in points, y downwards; drawn by whoever writes a document."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeAlias

INK = "#1c2733"
QUIET = "#5b6875"
HAIRLINE = "#c9d1d9"
SHADE = "#e8edf2"
BLUE = "#0b5cad"
RED = "#a5301c"
PAPER = "#ffffff"

WIDE, NARROW = 480.0, 280.0
"""How wide a picture is, in points: on paper and on a screen; on a phone, where its letters have ten pixels."""

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points, or a closed area; `stroke` and `fill` are colours like #1c2733, None: without."""

    points: tuple[Point, ...]
    stroke: str | None = INK
    fill: str | None = None
    width: float = 0.8
    closed: bool = False
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; `y` is its base line. `anchor` is start, middle or end; `turned` reads upwards."""

    x: float
    y: float
    text: str
    size: float = 8.0
    anchor: str = "start"
    colour: str = INK
    bold: bool = False
    turned: bool = False


Part: TypeAlias = Path | Words


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture, in points. `title` says in words what it shows, for those who do not see it."""

    width: float
    height: float
    title: str
    parts: tuple[Part, ...] = field(default=(), repr=False)


class Mark(StrEnum):
    """How a point is drawn: each kind has a shape of its own, so that colour is never needed."""

    UP = "triangle upwards"
    DOWN = "triangle downwards, open"
    DIAMOND = "diamond, open"
    SQUARE = "square"
    DISC = "disc, open"


_CORNERS: dict[Mark, tuple[Point, ...]] = {
    Mark.UP: ((0.0, -1.0), (1.0, 0.8), (-1.0, 0.8)),
    Mark.DOWN: ((0.0, 1.0), (1.0, -0.8), (-1.0, -0.8)),
    Mark.DIAMOND: ((0.0, -1.1), (1.1, 0.0), (0.0, 1.1), (-1.1, 0.0)),
    Mark.SQUARE: ((-0.85, -0.85), (0.85, -0.85), (0.85, 0.85), (-0.85, 0.85)),
    Mark.DISC: tuple((math.cos(math.tau * k / 16), math.sin(math.tau * k / 16)) for k in range(16)),
}
_FILLED = (Mark.UP, Mark.SQUARE)


def draw_mark(mark: Mark, x: float, y: float, colour: str = BLUE, size: float = 2.8) -> Path:
    """Return `mark` about the point (x, y)."""
    points = tuple((x + size * dx, y + size * dy) for dx, dy in _CORNERS[mark])
    return Path(points, colour, colour if mark in _FILLED else PAPER, min(0.9, 0.4 * size), closed=True)
