"""How much a person differs from day to day: of one measure of one task, from their own repeated sessions."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.trend import DAYS_PER_MONTH, Trend
from weightshare.model import Floats

LEAST_DAYS = 3
"""On fewer days than these nothing is told of how days differ (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """What one session came to, and on which day it was. `u`: what the instrument leaves in doubt, standard uncertainty
    in the value's unit; 0 where that is nothing, or not known."""

    day: date
    value: float
    u: float = 0.0


@dataclass(frozen=True, slots=True)
class DayToDay:
    """What several days came to; several sessions on one day count as their mean.

    `mean`: over the days, with its standard error sd / sqrt(days) and days - 1 degrees of freedom; with the trend
    taken out: where the line is on the last day, and what that is worth. `sd`: from day to day, about mean or line.
    """

    mean: Estimate
    sd: float
    days: int
    sessions: int
    first: date
    last: date
    trend: Trend
    """How it went over the days, told but not taken out unless that was asked for."""
    detrended: bool = False

    @property
    def trends(self) -> bool:
        """Whether it goes one way, beyond doubt: then the mean is that of a person who was changing."""
        return self.trend.is_steady


def day_to_day(repeats: Sequence[Repeat], *, detrend: bool = False) -> DayToDay | None:
    """Return how a measure differs from day to day; None on fewer than three days.

    detrend: take a straight line over the days out first. Values that are NaN are passed over.
    """
    by_day = defaultdict(list)
    for repeat in repeats:
        if math.isfinite(repeat.value):
            by_day[repeat.day].append(repeat.value)
    if len(by_day) < LEAST_DAYS:
        return None
    days = sorted(by_day)
    means = np.array([math.fsum(by_day[day]) / len(by_day[day]) for day in days])
    months = np.array([(day - days[0]).days for day in days]) / DAYS_PER_MONTH
    line = _Line(months, means)
    sd = line.sd if detrend else float(means.std(ddof=1))
    mean = line.at_last() if detrend else Estimate(float(means.mean()), sd / math.sqrt(len(days)), len(days) - 1.0)
    sessions = sum(map(len, by_day.values()))
    return DayToDay(mean, sd, len(days), sessions, days[0], days[-1], line.trend(), detrend)


class _Line:
    """A straight line through values (n,) over months (n,), by least squares (JCGM 100:2008, H.3)."""

    def __init__(self, months: Floats, values: Floats) -> None:
        self._months, self._values = months, values
        self._off = months - months.mean()
        self._spread = float(self._off @ self._off)
        self._slope = float(self._off @ values) / self._spread
        left = values - values.mean() - self._slope * self._off
        self._dof = values.size - 2
        self.sd = math.sqrt(float(left @ left) / self._dof)

    def trend(self) -> Trend:
        slope = Estimate(self._slope, self.sd / math.sqrt(self._spread), float(self._dof))
        return Trend(slope, self._values.size, float(np.ptp(self._months)) * DAYS_PER_MONTH)

    def at_last(self) -> Estimate:
        off = float(self._off[-1])
        u = self.sd * math.sqrt(1.0 / self._values.size + off * off / self._spread)
        return Estimate(float(self._values.mean()) + self._slope * off, u, float(self._dof))
