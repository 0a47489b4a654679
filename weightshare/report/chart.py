"""Points against axes: panels one under the other, with ticks at round numbers or at dates."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import accumulate, pairwise

from weightshare.report.digit import fixed
from weightshare.report.drawing import (
    BLUE,
    HAIRLINE,
    INK,
    QUIET,
    SHADE,
    Drawing,
    Mark,
    Part,
    Path,
    Words,
    draw_mark,
)

LEFT, RIGHT, TOP, BOTTOM = 52.0, 12.0, 34.0, 34.0
BARE_TOP, BARE_BOTTOM = 20.0, 20.0
"""Room about the plane of a panel, in points; above it less where there is no legend, below it where the axis has no
name."""
SPAN_ROOM, FLAG_ROOM = 16.0, 11.0
"""Room within it for the bars along the top, and for the words of upright lines."""
_TICK_ROOM = 12.0
"""Ticks of the upright axis are no nearer to each other, in points."""
SMALL = 8.0
"""Size of all words but titles, in points: a picture that gives way a little on paper is still read."""
LARGEST, LEAST, _PART = 2.8, 1.1, 0.36
"""Half widths of marks, in points, and as a part of how far they are apart."""
LETTER = 0.56
"""About the width of a letter, as a part of its size."""


@dataclass(frozen=True, slots=True)
class Series:
    """Points of one kind; `bars` are half lengths of error bars, NaN or none: without."""

    name: str
    mark: Mark
    points: tuple[tuple[float, float], ...]
    bars: tuple[float, ...] = ()
    joined: bool = False
    colour: str = BLUE


@dataclass(frozen=True, slots=True)
class Ribbon:
    """A shaded band that goes its own way: points (x, low, high). Its edges are drawn, so that it needs no colour."""

    points: tuple[tuple[float, float, float], ...]

    @staticmethod
    def level(x_range: tuple[float, float], band: tuple[float, float]) -> Ribbon:
        """Return one that goes straight across, from low to high."""
        return Ribbon(tuple((x, *band) for x in x_range))


@dataclass(frozen=True, slots=True)
class Span:
    """A bar along the top of the plane, from x to x, with a short word in it."""

    from_x: float
    to_x: float
    words: str


@dataclass(frozen=True, slots=True)
class Block:
    """A column from x to x, from 0 up to its height."""

    from_x: float
    to_x: float
    height: float


@dataclass(frozen=True, slots=True)
class Panel:
    """One plane with its axes. `band` is shaded, from low to high; `rules` are dashed, each with its words."""

    title: str
    x_name: str
    y_name: str
    series: tuple[Series, ...]
    x_range: tuple[float, float]
    y_range: tuple[float, float]
    band: tuple[float, float] | None = None
    rules: tuple[tuple[float, str], ...] = ()
    marks_at: tuple[tuple[float, str], ...] = ()
    """Upright lines, each with its words: when the scale was calibrated."""
    x_ticks: tuple[tuple[float, str], ...] | None = field(default=None)
    """None: at round numbers."""
    ribbons: tuple[Ribbon, ...] = ()
    curves: tuple[tuple[tuple[float, float], ...], ...] = ()
    """Lines without marks: pieces of one thing that was measured all the time."""
    spans: tuple[Span, ...] = ()
    blocks: tuple[Block, ...] = ()
    tall: float = 1.0
    """How high it is, in parts of what is usual."""


def round_ticks(low: float, high: float, most: int = 6) -> tuple[tuple[float, str], ...]:
    """Return at most `most` + 1 ticks within low to high, at multiples of 1, 2 or 5 times a power of ten."""
    if not (math.isfinite(low) and math.isfinite(high) and high > low):
        return ()
    rough = (high - low) / most
    ten = 10.0 ** math.floor(math.log10(rough))
    step = next(times * ten for times in (1.0, 2.0, 5.0, 10.0) if times * ten >= rough * (1 - 1e-9))
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return tuple((index * step, fixed(index * step, decimals)) for index in range(first, last + 1))


def day_ticks(low: float, high: float, most: int = 7) -> tuple[tuple[float, str], ...]:
    """Return ticks at days, first days of months or of years; low and high are days since 1970-01-01."""
    first, last = (date(1970, 1, 1) + timedelta(days=day) for day in (math.ceil(low), math.floor(high)))
    months = [(year, month) for year in range(first.year, last.year + 1) for month in range(1, 13)]
    starts = [date(year, month, 1) for year, month in months if first <= date(year, month, 1) <= last]
    if len(starts) < 3:
        step = max(1, math.ceil((last - first).days / most))
        return tuple(_day_tick(first + timedelta(days=k)) for k in range(0, (last - first).days + 1, step))
    every = next((k for k in (1, 2, 3, 6, 12) if len(starts) / k <= most), 12 * math.ceil(len(starts) / 12 / most))
    chosen = [day for day in starts if (day.year * 12 + day.month - 1) % every == 0]
    return tuple((number_of(day), f"{day:%Y-%m}") for day in chosen)


def week_ticks(first: date, high: float, most: int = 7) -> tuple[date, ...]:
    """Return `first` and every so many whole weeks after it up to `high`, days since 1970-01-01; at most `most`."""
    weeks = int(high - number_of(first)) // 7
    step = max(1, math.ceil((weeks + 1) / most))
    return tuple(first + timedelta(weeks=k) for k in range(0, weeks + 1, step))


def _day_tick(day: date) -> tuple[float, str]:
    return number_of(day), day.isoformat()


def number_of(day: date) -> float:
    """Return `day` as days since 1970-01-01."""
    return float((day - date(1970, 1, 1)).days)


def padded(values: Sequence[float], least: float, part: float = 0.12) -> tuple[float, float]:
    """Return a range that holds all finite `values` with some room, at least `least` wide."""
    known = [value for value in values if math.isfinite(value)] or [0.0]
    low, high = min(known), max(known)
    more = max((high - low) * part, (least - (high - low)) / 2.0)
    return low - more, high + more


def draw_panels(
    panels: Sequence[Panel], title: str, width: float = 480.0, height: float = 190.0, columns: int = 1
) -> Drawing:
    """Return `panels` as one drawing, so many beside each other, each `height` points high, times its `tall`."""
    rows = [panels[at : at + columns] for at in range(0, len(panels), columns)]
    tops = list(accumulate((height * max(panel.tall for panel in row) for row in rows), initial=0.0))
    each = width / columns
    parts = [
        part
        for row, top in zip(rows, tops, strict=False)
        for place, panel in enumerate(row)
        for part in _draw(panel, (place * each, top), each, height * panel.tall)
    ]
    return Drawing(width, tops[-1], title, tuple(parts))


class _Plane:
    """Where the numbers of one panel lie on the paper."""

    def __init__(self, panel: Panel, corner: tuple[float, float], width: float, height: float) -> None:
        self.edge, top = corner
        self.left, self.right = self.edge + LEFT, self.edge + width - RIGHT
        self.top = top + (TOP if any(series.name for series in panel.series) else BARE_TOP)
        self.bottom = top + height - (BOTTOM if panel.x_name else BARE_BOTTOM)
        self._x, self._y = panel.x_range, panel.y_range
        self.flags = self.top + (SPAN_ROOM if panel.spans else 0.0)
        """Where words of upright lines stand: over what was measured all the time, never on it."""
        has_flags = panel.curves and any(words for _x, words in panel.marks_at)
        self._head = self.flags - self.top + (FLAG_ROOM if has_flags else 0.0)

    def x(self, value: float) -> float:
        low, high = self._x
        return self.left + (self.right - self.left) * (value - low) / (high - low)

    def y(self, value: float) -> float:
        low, high = self._y
        part = min(1.0, max(0.0, (value - low) / (high - low)))
        return self.bottom - (self.bottom - self.top - self._head) * part

    def box(self, top: float, bottom: float) -> tuple[tuple[float, float], ...]:
        return (self.left, top), (self.right, top), (self.right, bottom), (self.left, bottom)

    def across(self, value: float, colour: str, *, dashed: bool = False) -> Path:
        return Path(((self.left, self.y(value)), (self.right, self.y(value))), colour, width=0.6, dashed=dashed)


def _draw(panel: Panel, corner: tuple[float, float], width: float, height: float) -> Iterator[Part]:
    plane, top = _Plane(panel, corner, width, height), corner[1]
    yield Words(plane.left, top + 12.0, panel.title, 9.0, bold=True)
    yield from _legend(panel, plane, top + 25.0)
    if panel.band is not None:
        low, high = (plane.y(edge) for edge in panel.band)
        yield Path(plane.box(low, high), None, SHADE, closed=True)
    ribbons = [_ribbon(ribbon, plane) for ribbon in panel.ribbons]
    yield from (area for area, _edges in ribbons)
    yield from _axes(panel, plane)
    yield from (edge for _area, edges in ribbons for edge in edges)
    yield from (_block(block, plane) for block in panel.blocks if block.height)
    for curve in panel.curves:
        yield Path(tuple((plane.x(x), plane.y(y)) for x, y in curve), BLUE, width=0.7)
    for span in panel.spans:
        yield from _span(span, plane)
    for edge, words in panel.rules:
        yield plane.across(edge, QUIET, dashed=True)
        yield Words(plane.right - 3.0, plane.y(edge) + 9.0, words, SMALL, "end", QUIET)
    for x, words in panel.marks_at:
        yield Path(((plane.x(x), plane.top), (plane.x(x), plane.bottom)), QUIET, width=0.6, dashed=True)
        has_room = plane.x(x) + 4.0 + LETTER * SMALL * len(words) < plane.right
        aside, anchor = (2.0, "start") if has_room else (-2.0, "end")
        yield Words(plane.x(x) + aside, plane.flags + 8.0, words, SMALL, anchor, QUIET)
    size = _mark_size(panel, plane)
    for series in panel.series:
        yield from _points(series, plane, size)


def _ribbon(ribbon: Ribbon, plane: _Plane) -> tuple[Path, list[Path]]:
    """Return the area, and its edges, which lie over the lines of the axes."""
    low = tuple((plane.x(x), plane.y(y)) for x, y, _high in ribbon.points)
    high = tuple((plane.x(x), plane.y(y)) for x, _low, y in ribbon.points)
    area = Path((*low, *reversed(high)), None, SHADE, closed=True)
    return area, [Path(edge, QUIET, width=0.6, dashed=True) for edge in (low, high)]


def _block(block: Block, plane: _Plane) -> Path:
    left, right, foot, head = plane.x(block.from_x), plane.x(block.to_x), plane.y(0.0), plane.y(block.height)
    return Path(((left, foot), (left, head), (right, head), (right, foot)), BLUE, SHADE, 0.9, closed=True)


def _span(span: Span, plane: _Plane) -> Iterator[Part]:
    left, right, y = plane.x(span.from_x), plane.x(span.to_x), plane.top + 3.0
    yield Path(((left, y), (right, y)), INK, width=2.2)
    wide = right - left > LETTER * SMALL * len(span.words)
    if wide:
        yield Words((left + right) / 2, y + 10.0, span.words, SMALL, "middle")


def _axes(panel: Panel, plane: _Plane) -> Iterator[Part]:
    most = max(2, min(7, int((plane.bottom - plane.top) / _TICK_ROOM)))
    for value, words in round_ticks(*panel.y_range, most=most):
        yield plane.across(value, QUIET if value == 0.0 else HAIRLINE)
        yield Words(plane.left - 5.0, plane.y(value) + 2.6, words, SMALL, "end", QUIET)
    for value, words in panel.x_ticks if panel.x_ticks is not None else round_ticks(*panel.x_range, most=8):
        x = plane.x(value)
        yield Path(((x, plane.bottom), (x, plane.bottom + 3.5)), QUIET, width=0.6)
        # a long word at the right end must not go over the edge of the picture
        middle = min(x, plane.right + RIGHT - LETTER * SMALL * len(words) / 2)
        yield Words(middle, plane.bottom + 12.0, words, SMALL, "middle", QUIET)
    yield Path(plane.box(plane.top, plane.bottom), QUIET, width=0.8, closed=True)
    yield Words((plane.left + plane.right) / 2, plane.bottom + 24.0, panel.x_name, SMALL, "middle")
    yield Words(plane.edge + 11.0, (plane.top + plane.bottom) / 2, panel.y_name, SMALL, "middle", turned=True)


def _legend(panel: Panel, plane: _Plane, y: float) -> Iterator[Part]:
    x = plane.left + 3.0
    for series in panel.series if any(series.name for series in panel.series) else ():
        yield draw_mark(series.mark, x, y - 2.5, series.colour)
        yield Words(x + 6.0, y, series.name, SMALL, colour=INK)
        x += 20.0 + LETTER * SMALL * len(series.name)


def _mark_size(panel: Panel, plane: _Plane) -> float:
    """Return how large marks are: where they lie close beside each other so small that each is seen for itself."""
    places = sorted({round(plane.x(x), 3) for series in panel.series for x, _y in series.points})
    apart = sorted(after - before for before, after in pairwise(places))
    return min(LARGEST, max(LEAST, _PART * apart[len(apart) // 2])) if apart else LARGEST


def _points(series: Series, plane: _Plane, size: float) -> Iterator[Part]:
    points = [(x, y) for x, y in series.points if math.isfinite(y)]
    if series.joined and len(points) > 1:
        yield Path(tuple((plane.x(x), plane.y(y)) for x, y in points), series.colour, width=0.6)
    for (x, y), half in zip(series.points, series.bars, strict=False):
        if math.isfinite(y) and math.isfinite(half):
            yield from _bar(plane.x(x), plane.y(y - half), plane.y(y + half), series.colour)
    yield from (draw_mark(series.mark, plane.x(x), plane.y(y), series.colour, size) for x, y in points)


def _bar(x: float, low: float, high: float, colour: str) -> Iterator[Path]:
    yield Path(((x, low), (x, high)), colour, width=0.7)
    for y in (low, high):
        yield Path(((x - 2.0, y), (x + 2.0, y)), colour, width=0.7)
