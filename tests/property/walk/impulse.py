"""Integrals over a phase, from row to row, by trapezoids. Part of the walk."""

from __future__ import annotations

import bisect
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tests.property.walk.lift import Reading
from tests.property.walk.row import NAN, Sample

READ_PART = 0.9


@dataclass
class Piece:
    """What lies between two rows that were read, cut to the phase."""

    begin_s: float
    end_s: float
    left: tuple[float, float]
    """At its two ends, N."""
    right: tuple[float, float]
    share: tuple[float, float]

    @property
    def span_s(self) -> float:
        return self.end_s - self.begin_s

    def impulse(self, side: str) -> float:
        ends = self.left if side == "left" else self.right
        return 0.5 * (ends[0] + ends[1]) * self.span_s


def pieces(samples: Sequence[Sample], begin_s: float, end_s: float) -> Iterator[Piece]:
    """Yield the phase's pieces; what was not read is left out."""
    first, last = (bisect.bisect_left(samples, at_s, key=lambda sample: sample.time_s) for at_s in (begin_s, end_s))
    for a, b in pairwise(samples[max(first - 1, 0) : last + 1]):
        x_s, y_s = max(a.time_s, begin_s), min(b.time_s, end_s)
        if y_s <= x_s or not b.follows or a.missing or b.missing:
            continue
        x, y = ((t - a.time_s) / (b.time_s - a.time_s) for t in (x_s, y_s))
        lines = [(_on(p, q, x), _on(p, q, y)) for p, q in ((a.left, b.left), (a.right, b.right), (a.share, b.share))]
        yield Piece(x_s, y_s, *lines)


def _on(p: float, q: float, part: float) -> float:
    return p + part * (q - p)


def share(samples: Sequence[Sample], begin_s: float, end_s: float, injured: str) -> float | None:
    """Return the injured side's impulse share; None where too little was read."""
    parts = list(pieces(samples, begin_s, end_s))
    if not well_read(parts, end_s - begin_s):
        return None
    return _percent((piece.impulse(injured), piece.impulse("left") + piece.impulse("right")) for piece in parts)


def well_read(parts: Sequence[Piece], span_s: float) -> bool:
    return math.fsum(piece.span_s for piece in parts) >= READ_PART * span_s > 0.0


def _percent(pairs: Iterator[tuple[float, float]]) -> float | None:
    parts = list(pairs)
    whole = math.fsum(total for _, total in parts)
    return 100.0 * math.fsum(part for part, _ in parts) / whole if whole > 0.0 else None


def mean_force(samples: Sequence[Sample], begin_s: float, end_s: float, side: str) -> float | None:
    """Return the mean force on one side; None where too little was read."""
    parts = list(pieces(samples, begin_s, end_s))
    if not well_read(parts, end_s - begin_s):
        return None
    return math.fsum(piece.impulse(side) for piece in parts) / math.fsum(piece.span_s for piece in parts)


def least_force(samples: Sequence[Sample], begin_s: float, end_s: float, side: str) -> float | None:
    parts = list(pieces(samples, begin_s, end_s))
    if not well_read(parts, end_s - begin_s):
        return None
    return min(min(piece.left if side == "left" else piece.right) for piece in parts)


def in_band(samples: Sequence[Sample], begin_s: float, end_s: float, low: float, high: float) -> float | None:
    """Return in how much of the phase the share was in the band, percent; what was not read is outside."""
    parts = list(pieces(samples, begin_s, end_s))
    if not well_read(parts, end_s - begin_s):
        return None
    inside = math.fsum(piece.span_s * part_between(*piece.share, low, high) for piece in parts)
    return 100.0 * inside / (end_s - begin_s)


def part_between(a: float, b: float, low: float, high: float) -> float:
    """Return how much of the straight line from `a` to `b` lies between two levels; 0 where an end is unknown."""
    if a == b:
        return 1.0 if low <= a <= high else 0.0
    least, most = max(min(a, b), low), min(max(a, b), high)
    return max(most - least, 0.0) / abs(b - a) if most > least else 0.0


def thirds(
    samples: Sequence[Sample],
    course: Sequence[Reading],
    span: tuple[float, float],
    levels: tuple[float, float],
    side: str,
) -> tuple[float | None, ...]:
    """Return the impulse share of the upper, the middle and the lower third of the way from level to level."""
    high, low = levels
    borders = [math.inf, high - (high - low) / 3.0, low + (high - low) / 3.0, -math.inf]
    found: list[float | None] = []
    for upper, lower in pairwise(borders):
        inside = [cut for piece in pieces(samples, *span) for cut in _between(piece, course, lower, upper)]
        enough = well_read(inside, time_between(course, span, lower, upper))
        impulses = ((cut.impulse(side), cut.impulse("left") + cut.impulse("right")) for cut in inside)
        found.append(_percent(impulses) if enough else None)
    return tuple(found)


def _between(piece: Piece, course: Sequence[Reading], low: float, high: float) -> Iterator[Piece]:
    """Yield that part of a piece in which the height is between two levels."""
    a, b = height_at(course, piece.begin_s), height_at(course, piece.end_s)
    marks = [0.0, *sorted((level - a) / (b - a) for level in (low, high) if min(a, b) < level < max(a, b)), 1.0]
    for x, y in pairwise(marks):
        if low <= _on(a, b, 0.5 * (x + y)) < high:
            begin_s, end_s = (_on(piece.begin_s, piece.end_s, part) for part in (x, y))
            lines = [(_on(*line, x), _on(*line, y)) for line in (piece.left, piece.right, piece.share)]
            yield Piece(begin_s, end_s, *lines)


def time_between(course: Sequence[Reading], span: tuple[float, float], low: float, high: float) -> float:
    """Return how long the height is between two levels within a span."""
    inner = [reading.time_s for reading in course if span[0] < reading.time_s < span[1]]
    marks = [span[0], *inner, span[1]]
    heights = [height_at(course, mark) for mark in marks]
    lines = zip(pairwise(marks), pairwise(heights), strict=True)
    return math.fsum((y - x) * part_between(p, q, low, high) for (x, y), (p, q) in lines)


def height_at(course: Sequence[Reading], time_s: float) -> float:
    """Return the height at an instant on the straight lines between the readings."""
    k = bisect.bisect_left(course, time_s, key=lambda reading: reading.time_s)
    if not 0 < k < len(course):
        return course[k].height if k == 0 and course[0].time_s == time_s else NAN
    a, b = course[k - 1], course[k]
    return _on(a.height, b.height, (time_s - a.time_s) / (b.time_s - a.time_s))
