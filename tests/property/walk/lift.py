"""Lifts of a heel, from reading to reading, and the four instants of each. Part of the walk."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tests.property.walk.row import GAP, NAN

LIFT_MM = 15.0
LOOK_BACK_S = 2.0
LOOK_ON_S = 1.0
SLACK_S = 1e-6
"""For the rounding of times far from 0: a reading just two seconds old is within the last two seconds."""


@dataclass
class Reading:
    """One reading of a heel's height, filtered."""

    time_s: float
    height: float
    after_gap: bool = False


@dataclass
class Lift:
    """From the first reading at least 15 mm over the lowest to the first back within 15 mm of it: their places."""

    first: int
    last: int
    lowest: float
    """The lowest height of the two seconds before it."""
    start_s: float
    end_s: float
    cut_off: bool = False
    ahead: int = 0
    """Where the next lift begins: nothing from there on belongs to this one."""


@dataclass
class Instants:
    """When its phases begin and end, on the time of the filtered readings, and the heights that tell."""

    start_s: float
    top_s: float
    lowering_s: float
    end_s: float
    plateau: float
    before: float
    """The lowest height of the two seconds before the lift."""
    after: float
    """The lowest height of the second after the lift."""

    @property
    def height(self) -> float:
        return self.plateau - self.before


def readings_of(times: Sequence[float], heights: Sequence[float], interval_s: float) -> list[Reading]:
    """Return the readings that there are."""
    found: list[Reading] = []
    for time_s, height in zip(times, heights, strict=True):
        if height == height:  # noqa: PLR0124 - not NaN
            parted = bool(found) and time_s - found[-1].time_s > GAP * interval_s
            found.append(Reading(time_s, height, parted))
    return found


def find_lifts(course: Sequence[Reading]) -> list[Lift]:
    """Walk from reading to reading; return every lift, the low and the short ones too."""
    lifts: list[Lift] = []
    heights = [reading.height for reading in course]
    since, k = 0, 0
    while k < len(course):
        while course[since].time_s < course[k].time_s - LOOK_BACK_S - SLACK_S:
            since += 1
        lowest = min(heights[since : k + 1])
        if heights[k] - lowest >= LIFT_MM:
            lifts.append(_follow(course, k, lowest))
            since = k = lifts[-1].last
        k += 1
    for lift, following in pairwise(lifts):
        lift.ahead = following.first
    return lifts


def _follow(course: Sequence[Reading], first: int, lowest: float) -> Lift:
    """Follow a lift to where it is over."""
    level = lowest + LIFT_MM
    start_s = meet(course[first - 1], course[first], level)
    peak = course[first].height
    for k in range(first + 1, len(course)):
        peak = max(peak, course[k].height)
        if course[k].height <= level:
            return Lift(first, k, lowest, start_s, meet(course[k - 1], course[k], level), ahead=len(course))
        rest = _rest(course, first, k, lowest + 0.5 * (peak - lowest))
        if rest is not None:
            return Lift(first, rest, lowest, start_s, course[rest].time_s, ahead=len(course))
    end = len(course) - 1
    return Lift(first, end, lowest, start_s, course[end].time_s, cut_off=True, ahead=len(course))


def _rest(course: Sequence[Reading], first: int, k: int, half: float) -> int | None:
    """Return the last reading at least two seconds back, if the heel has been resting since, below half of the lift."""
    low = high = course[k].height
    for place in range(k, first - 1, -1):
        low, high = min(low, course[place].height), max(high, course[place].height)
        if high >= half or high - low > LIFT_MM:
            return None
        if course[k].time_s - course[place].time_s >= LOOK_BACK_S - SLACK_S:
            return place
        if course[place].after_gap:
            return None
    return None


def meet(a: Reading, b: Reading, level: float) -> float:
    """Return when the straight line between two readings meets a level."""
    return a.time_s + (level - a.height) / (b.height - a.height) * (b.time_s - a.time_s)


def find_instants(course: Sequence[Reading], lift: Lift, parted: int) -> Instants:
    """Return the four instants of a lift that ended; `parted` is where the lift before it did."""
    bottom = min(before(course, lift, parted), key=lambda k: (course[k].height, -k))
    within = range(lift.first, lift.last + 1)
    limit_s = course[lift.last].time_s + LOOK_ON_S + SLACK_S
    after = [k for k in range(lift.last, lift.ahead) if course[k].time_s <= limit_s]
    down = min(after, key=lambda k: course[k].height)
    peak = max(within, key=lambda k: course[k].height)
    low, plateau = course[bottom].height, plateau_over(course, within, course[bottom].height)
    height, way = plateau - low, plateau - course[down].height
    top = _crossing(course, range(bottom + 1, peak + 1), low + 0.9 * height, up=True)
    start = _crossing(course, range(top.place, bottom, -1), low + 0.1 * height, up=True)
    lowering = _crossing(course, range(down, peak, -1), plateau - 0.1 * way, up=False)
    end = _crossing(course, range(max(lowering.place, 1), down + 1), plateau - 0.9 * way, up=False)
    times = start.time_s, top.time_s, lowering.time_s, end.time_s
    return Instants(*times, plateau, low, course[down].height)


def before(course: Sequence[Reading], lift: Lift, parted: int) -> list[int]:
    """Return the readings of the two seconds before a lift."""
    since_s = course[lift.first].time_s - LOOK_BACK_S - SLACK_S
    return [k for k in range(parted, lift.first) if course[k].time_s >= since_s]


def plateau_over(course: Sequence[Reading], within: Sequence[int], low: float) -> float:
    """Return the median height above three quarters of the way from `low` to the peak; `low` where nothing is."""
    heights = [course[k].height for k in within]
    if max(heights) <= low:
        return low
    return statistics.median(height for height in heights if height > low + 0.75 * (max(heights) - low))


@dataclass
class Crossing:
    """Between the reading at `place` and the one before it."""

    place: int = 0
    time_s: float = NAN


def _crossing(course: Sequence[Reading], places: Iterable[int], level: float, *, up: bool) -> Crossing:
    """Return the first crossing of a level in the order of the places; its time is NaN where there is none."""
    for k in places:
        a, b = course[k - 1].height, course[k].height
        if (a < level <= b) if up else (a >= level > b):
            return Crossing(k, meet(course[k - 1], course[k], level))
    return Crossing()
