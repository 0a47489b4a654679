"""The course of a session as strips of a chart: the share against its band, with holds and repetitions marked."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Floats, Side
from weightshare.report.account import Account
from weightshare.report.chart import LEFT, LETTER, RIGHT, SMALL, Panel, Ribbon, Span, draw_panels, padded, round_ticks
from weightshare.report.drawing import Drawing

COLUMNS = 440
"""A strip is no finer than this: of what lies in a column its least and its greatest value are drawn."""
STRIP_S, MOST_STRIPS = 60.0, 4
HEIGHT = 124.0
LOW = (1.0, 1.0, 1.0, 0.8, 0.72)
"""How high a strip is where so many stand under each other, in parts of what is usual."""
_NEAR_PART, _LOWEST = 0.05, 0.8


@dataclass(frozen=True, slots=True, eq=False)
class Signal:
    """What is drawn over the session: `value` and the edges of its band, each of shape (n,), NaN where there is none.

    `span`: what the values have, 0.5 s after stepping on and before stepping off left out.
    """

    name: str
    time_s: Floats
    value: Floats
    low: Floats
    high: Floats
    span: tuple[float, ...]
    least_reach: float
    most: float


def signal_of(account: Account) -> Signal:
    """Return the share of a session in percent, or in supported work the load on the injured side in kg."""
    results, settings = account.replayed.results, account.replayed.session.settings
    if settings.is_supported:
        load_kg = (results.left_N if settings.injured is Side.LEFT else results.right_N) / STANDARD_GRAVITY
        aim, tolerance = (settings.load_N or math.nan) / STANDARD_GRAVITY, settings.load_tolerance_N / STANDARD_GRAVITY
        low, high = np.full_like(load_kg, aim - tolerance), np.full_like(load_kg, aim + tolerance)
        greatest = float(np.nanmax(load_kg, initial=aim + tolerance)) if load_kg.size else 1.0
        if settings.one_sided:
            high = np.full_like(load_kg, greatest)
        name = f"load on the {settings.injured} side, kg"
        return Signal(name, results.time_s, load_kg, np.maximum(low, 0.0), high, (0.0, greatest), 10.0, math.inf)
    aim_percent, tolerance = results.aim_percent, settings.tolerance_percent
    high = np.full_like(aim_percent, 100.0) if settings.one_sided else np.minimum(aim_percent + tolerance, 100.0)
    name = f"share on the {settings.injured} side, %"
    low = np.maximum(aim_percent - tolerance, 0.0)
    share = account.appraisal.analysis.share_percent
    span = tuple(edge for edge in (share.min, share.max) if edge is not None)
    return Signal(name, results.time_s, results.share_percent, low, high, span, 30.0, 100.0)


def course_picture(account: Account, width: float = 480.0, most: int = MOST_STRIPS) -> Drawing:
    """Return the whole session as at most so many strips, one under the other; sets of repetitions have one each."""
    name = signal_of(account).name.partition(",")[0]
    return draw_panels(
        course_panels(account, most, width=width), f"Course of the {name} over the session", width, HEIGHT
    )


def course_drawings(
    account: Account, most: int = MOST_STRIPS, *, ends: bool = False, width: float = 480.0
) -> tuple[Drawing, ...]:
    """Return each strip as a drawing of its own: a page may end between two of them.

    ends: of more sets than so many the first and the last one, and lower.
    """
    panels = [_unnamed(panel) for panel in course_panels(account, most, ends=ends, width=width)]
    height = HEIGHT * (_LOWEST if ends else LOW[min(len(panels), MOST_STRIPS)])
    return tuple(draw_panels([panel], panel.title, width, height) for panel in panels)


def _unnamed(panel: Panel) -> Panel:
    """Return `panel` with its unit at the last tick, in place of a name below the axis."""
    *ticks, (last, words) = panel.x_ticks or ((panel.x_range[1], ""),)
    return replace(panel, x_name="", x_ticks=(*ticks, (last, f"{words} s")))


def course_panels(
    account: Account, most: int = MOST_STRIPS, *, ends: bool = False, width: float = 480.0
) -> list[Panel]:
    """Return those strips as panels, whoever draws them; width: of each, points."""
    signal = signal_of(account)
    panels = [_strip(account, signal, *window) for window in _windows(account, most, ends=ends)]
    return [replace(panel, marks_at=label(panel.marks_at, panel.x_range, width)) for panel in panels]


def _windows(account: Account, most: int, *, ends: bool) -> list[tuple[str, float, float]]:
    """Return the strips: their titles, and from when to when they go."""
    analysis = account.appraisal.analysis
    time_s = account.replayed.results.time_s
    first, last = (float(time_s[0]), float(time_s[-1])) if time_s.size > 1 else (0.0, 1.0)
    sets = analysis.sets
    if ends and len(sets) > most:
        sets = (sets[0], sets[-1])
    if 0 < len(sets) <= most:
        spans = [(one.number, one.from_s, one.to_s or last) for one in sets]
        return [(f"Set {number}", max(first, begin - 1.0), min(last, end + 2.0)) for number, begin, end in spans]
    count = min(most, max(1, math.ceil((last - first) / STRIP_S)))
    edges = np.linspace(first, last, count + 1).tolist()
    names = [f"From {begin:.0f} to {end:.0f} s" for begin, end in pairwise(edges)]
    return list(zip(names, edges, edges[1:], strict=False))


def _strip(account: Account, signal: Signal, title: str, begin_s: float, end_s: float) -> Panel:
    rows = slice(*np.searchsorted(signal.time_s, (begin_s, end_s)).tolist())
    low, high = _reach(signal)
    value = signal.value[rows]
    # what is left out of the range leaves the picture (stepping on and off), but noise about its ends does not
    near = _NEAR_PART * (high - low)
    inside = np.where((value >= low - near) & (value <= high + near), np.clip(value, low, high), np.nan)
    return Panel(
        f"{title}: {signal.name}",
        "time, s",
        "",
        (),
        (begin_s, max(end_s, begin_s + 1.0)),
        (low, high),
        marks_at=tuple(_marks(account, begin_s, end_s)),
        x_ticks=round_ticks(begin_s, end_s, most=10),
        ribbons=tuple(_ribbons(signal, rows)),
        curves=tuple(envelope(signal.time_s[rows], inside)),
        spans=tuple(_spans(account, begin_s, end_s)),
    )


def _reach(signal: Signal) -> tuple[float, float]:
    """Return the same range for all strips: everything that was measured and asked for."""
    known = [*signal.span, *(edge for row in (signal.low, signal.high) for edge in _ends(row))]
    low, high = padded(known, signal.least_reach, 0.08)
    return max(0.0, low), min(signal.most, high)


def _ends(row: Floats) -> tuple[float, ...]:
    known = row[np.isfinite(row)]
    return (float(known.min()), float(known.max())) if known.size else ()


def envelope(time_s: Floats, value: Floats, columns: int = COLUMNS) -> Iterator[tuple[tuple[float, float], ...]]:
    """Yield lines that are drawn like `value` over `time_s`, both (n,), with few points: none goes across NaN.

    In each column the first value, the least, the greatest and the last are kept, in their order.
    """
    bounds = np.flatnonzero(np.diff(np.isfinite(value).astype(np.int8), prepend=0, append=0)).tolist()
    span_s = float(time_s[-1] - time_s[0]) if time_s.size else 0.0
    for begin, end in zip(bounds[::2], bounds[1::2], strict=True):
        piece_s, piece = time_s[begin:end], value[begin:end]
        place = ((piece_s - time_s[0]) * (columns / span_s)).astype(np.int64) if span_s else np.zeros(end - begin, int)
        edges = [0, *(np.flatnonzero(np.diff(place)) + 1).tolist(), end - begin]
        kept = sorted({row for i, j in pairwise(edges) for row in _corners(piece, i, j)})
        if len(kept) > 1:
            yield tuple((float(piece_s[row]), float(piece[row])) for row in kept)


def _corners(value: Floats, begin: int, end: int) -> tuple[int, int, int, int]:
    part = value[begin:end]
    return begin, begin + int(part.argmin()), begin + int(part.argmax()), end - 1


def _ribbons(signal: Signal, rows: slice) -> Iterator[Ribbon]:
    time_s = signal.time_s[rows]
    lows = list(envelope(time_s, signal.low[rows]))
    highs = list(envelope(time_s, signal.high[rows]))
    for low, high in zip(lows, highs, strict=True):
        low_s, high_s = (np.array([x for x, _y in one]) for one in (low, high))
        all_s = np.union1d(low_s, high_s)
        edges = (np.interp(all_s, at_s, [y for _x, y in one]) for at_s, one in ((low_s, low), (high_s, high)))
        yield Ribbon(tuple(zip(all_s.tolist(), *(edge.tolist() for edge in edges), strict=True)))


def _spans(account: Account, begin_s: float, end_s: float) -> Iterator[Span]:
    analysis = account.appraisal.analysis
    for number, hold in enumerate(analysis.holds or (), 1):
        yield from _cut(Span(hold.start_s, hold.end_s, f"hold {number}"), begin_s, end_s)
    for number, one in zip(analysis.numbers, analysis.repetitions, strict=True):
        if one.start_s is not None and one.end_s is not None:
            yield from _cut(Span(one.start_s, one.end_s, str(number)), begin_s, end_s)


def _cut(span: Span, begin_s: float, end_s: float) -> Iterator[Span]:
    if span.to_x > begin_s and span.from_x < end_s:
        yield replace(span, from_x=max(span.from_x, begin_s), to_x=min(span.to_x, end_s))


def _marks(account: Account, begin_s: float, end_s: float) -> Iterator[tuple[float, str]]:
    analysis = account.appraisal.analysis
    told = [(one.start_s, f"not counted: {one.reason}") for one in analysis.rejected]
    told += [(event.start_s, "load not read" if event.unread else "over the limit") for event in analysis.ceiling or ()]
    yield from ((at_s, words) for at_s, words in sorted(told) if begin_s <= at_s <= end_s)


def label(
    marks: Sequence[tuple[float, str]], x_range: tuple[float, float], width: float
) -> tuple[tuple[float, str], ...]:
    """Return `marks`, which are in order, with the words of a kind once and how many there are of it.

    No words lie over others: where there is no room the next mark of that kind has them, and at last none.
    """
    counts = Counter(words for _x, words in marks)
    plane = width - LEFT - RIGHT
    points = plane / (x_range[1] - x_range[0])
    labelled, told, taken = [], set(), -math.inf
    for x, words in marks:
        said = words if counts[words] == 1 else f"{words}, {counts[words]} times"
        at, wide = (x - x_range[0]) * points, LETTER * SMALL * len(said) + 4.0
        # at the right end words stand before their line
        begin = at if at + wide < plane else at - wide
        has_room = words not in told and begin >= taken
        if has_room:
            told.add(words)
            taken = begin + wide
        labelled.append((x, said if has_room else ""))
    return tuple(labelled)
