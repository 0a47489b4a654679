"""Whether something creeps away over the months: a straight line through dated values, with its uncertainty."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.model import Floats

DAYS_PER_MONTH = 365.25 / 12.0
LEAST_VALUES, LEAST_DAYS = 5, 14.0
"""From so many values, over so many days, on a trend is told (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Trend:
    """How fast a value changes, per month, and over how many `values` and `days` that was seen."""

    per_month: Estimate
    values: int
    days: float

    @property
    def is_steady(self) -> bool:
        """Whether it goes one way, beyond doubt: the 95 % interval of the slope leaves 0 out."""
        low, high = self.per_month.interval()
        return low > 0.0 or high < 0.0


def fit_trend(day: Floats, value: Floats) -> Trend | None:
    """Return the trend of `value` over `day` (days), both of shape (n,); None where there are too few to tell.

    Least squares, with the standard error of the slope (Draper and Smith, Applied Regression Analysis, section 1.4,
    from memory). Values that are NaN are passed over.
    """
    known = np.isfinite(day) & np.isfinite(value)
    day, value = day[known], value[known]
    span = float(np.ptp(day)) if day.size else 0.0
    if day.size < LEAST_VALUES or span < LEAST_DAYS:
        return None
    off = (day - day.mean()) / DAYS_PER_MONTH
    spread = float(off @ off)
    slope = float(off @ value) / spread
    left = value - value.mean() - slope * off
    dof = day.size - 2
    u = math.sqrt(float(left @ left) / dof / spread)
    return Trend(Estimate(slope, u, float(dof)), int(day.size), span)
