"""How one measure of one task went over the days, and which change is a real one.

A person's figures stray from day to day without anything having changed. The band of no real change about the first day
says by how much: two days differ by more than that in one case of twenty only.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
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
    `reason` says why. `mdc`: half of its width, the minimal detectable change between two days; `sd`: what it rests on.
    """

    days: tuple[Day, ...]
    sd: float | None
    mdc: float | None
    band: tuple[float, float] | None
    reason: str
    trend: Trend | None
    """None where there are too few days, or too near each other, to tell."""

    @property
    def change(self) -> float:
        """From the first day to the newest, in the measure's unit."""
        return self.days[-1].value - self.days[0].value


def courses_of(told: Iterable[tuple[Key, Repeat]]) -> dict[Key, Course]:
    """Return how each measure went that was done on two days or more, by the key it is told by, in their order."""
    found: dict[Key, list[Repeat]] = defaultdict(list)
    for key, repeat in told:
        found[key].append(repeat)
    courses = ((key, course_of(repeats)) for key, repeats in found.items())
    return {key: course for key, course in courses if course is not None and len(course.days) > 1}


def course_of(repeats: Sequence[Repeat]) -> Course | None:
    """Return how a measure went; None where there is nothing. Values that are NaN are passed over.

    The band comes from the same repeats: s is their standard deviation about a straight line over the days, and
    MDC = t sqrt(2) s with Student's t for the line's degrees of freedom, in place of 1.96 sqrt(2) SEM (Weir, 2005, J
    Strength Cond Res 19:231, from memory). Progress that is no straight line makes the band wider, never narrower.
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
    mdc = coverage_factor(found.mean.dof) * math.sqrt(2.0) * found.sd
    first = days[0].value
    judged = (days[0], *(Day(one.day, one.value, one.sessions, abs(one.value - first) > mdc) for one in days[1:]))
    return Course(judged, found.sd, mdc, (first - mdc, first + mdc), "", trend)
