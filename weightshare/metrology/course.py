"""How one measure of one task went over the days, and which change is a real one.

A person's figures stray from day to day without anything having changed. The band of no real change about the first day
says by how much: two days differ by more than that in one case of twenty only.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

import numpy as np

from weightshare.metrology.estimate import coverage_factor
from weightshare.metrology.repeat import Repeat, day_to_day
from weightshare.metrology.trend import Trend, fit_trend

Key = TypeVar("Key", bound=Hashable)

LEAST_DAYS = 4
"""On fewer days than these there is no band: a line through three leaves one degree of freedom (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Day:
    """What one day came to: the mean of its `sessions`. `is_change`: whether it differs from the first day by more than
    people stray; None where that is not known, and of the first day."""

    day: date
    value: float
    sessions: int
    is_change: bool | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """The days in order. `band`: values from its lower to its upper edge are no real change from the first day; None:
    `reason` says why. `mdc`: how far it goes to either side, the minimal detectable change between two days, cut off
    where no values are; `sd`: from day to day.
    """

    days: tuple[Day, ...]
    sd: float | None
    mdc: float | None
    band: tuple[float, float] | None
    reason: str
    trend: Trend | None
    """None where there are too few days, or too near each other, to tell."""
    by_instrument: bool = False
    """Whether `mdc` is what the instrument leaves in doubt of a difference, since the days scatter by less."""

    @property
    def change(self) -> float:
        """From the first day to the newest, in the measure's unit."""
        return self.days[-1].value - self.days[0].value


@dataclass(frozen=True, slots=True)
class Extent:
    """What values there can be: none below `low` or above `high`, and no two that differ by less than `step`."""

    low: float = -math.inf
    high: float = math.inf
    step: float = 0.0


def extent_of(unit: str) -> Extent:
    """Return the extent of a figure of that unit: none is below nothing, no share above all, and counts are whole."""
    return Extent(0.0, 100.0 if unit == "%" else math.inf, 0.0 if unit else 1.0)


_ANY = Extent()


def courses_of(told: Iterable[tuple[Key, Repeat]], extent: Callable[[Key], Extent]) -> dict[Key, Course]:
    """Return how each measure went that was done on two days or more, by the key it is told by, in their order."""
    found: dict[Key, list[Repeat]] = defaultdict(list)
    for key, repeat in told:
        found[key].append(repeat)
    courses = ((key, course_of(repeats, extent(key))) for key, repeats in found.items())
    return {key: course for key, course in courses if course is not None and len(course.days) > 1}


def course_of(repeats: Sequence[Repeat], extent: Extent = _ANY) -> Course | None:
    """Return how a measure went; None where there is nothing. Values that are NaN are passed over.

    The band comes from the same repeats: s is their standard deviation about a straight line over the days, and
    MDC = t sqrt(2) s with Student's t for the line's degrees of freedom, in place of 1.96 sqrt(2) SEM (Weir, 2005, J
    Strength Cond Res 19:231, from memory). Progress that is no straight line makes the band wider, never narrower.
    However alike the days are, it is never narrower than what the instrument leaves in doubt of a difference, U =
    2 sqrt(2) u of the session that is worth least, nor than one step of what is counted. extent: what values there are.
    """
    by_day = defaultdict(list)
    for repeat in repeats:
        if math.isfinite(repeat.value):
            by_day[repeat.day].append(repeat.value)
    if not by_day:
        return None
    days = tuple(Day(day, math.fsum(found) / len(found), len(found)) for day, found in sorted(by_day.items()))
    trend = fit_trend(
        np.array([(one.day - days[0].day).days for one in days], dtype=np.float64),
        np.array([one.value for one in days]),
    )
    found = day_to_day(repeats, detrend=True) if len(days) >= LEAST_DAYS else None
    if found is None:
        count = f"{len(days)} day{'s' if len(days) > 1 else ''}"
        return Course(days, None, None, None, f"measured on {count} only: it takes {LEAST_DAYS} or more", trend)
    own, least = coverage_factor(found.mean.dof) * math.sqrt(2.0) * found.sd, _least(repeats)
    mdc = max(own, least, extent.step)
    first = days[0].value
    judged = (days[0], *(Day(one.day, one.value, one.sessions, abs(one.value - first) > mdc) for one in days[1:]))
    band = max(extent.low, first - mdc), min(extent.high, first + mdc)
    return Course(judged, found.sd, mdc, band, "", trend, least > max(own, extent.step))


def _least(repeats: Sequence[Repeat]) -> float:
    """Return what the instrument leaves in doubt of the difference of two sessions (k = 2), as far as that is known."""
    return 2.0 * math.sqrt(2.0) * max((one.u for one in repeats if math.isfinite(one.u)), default=0.0)
