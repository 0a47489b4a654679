"""When share is in the band: its crossings, interpolated between samples."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.block import Integers
from weightshare.task import Settings

_ROUNDING_POINTS = 1e-9
"""The filter's rounding must not push a share that lies right on an edge out of the band."""


@dataclass(frozen=True, slots=True)
class Band:
    """Target and tolerance in percent of the load and percentage points; the edges are inside.

    In supported work both are of the injured side's load, in N.
    """

    target_percent: float
    tolerance_percent: float
    one_sided: bool = False
    """It has no upper edge."""

    @classmethod
    def of(cls, settings: Settings) -> Band:
        """Return the band that `settings` ask for; they have one."""
        if settings.load_N is not None:
            return cls(settings.load_N, settings.load_tolerance_N, settings.one_sided)
        assert settings.target_percent is not None
        return cls(settings.target_percent, settings.tolerance_percent, settings.one_sided)

    @property
    def low(self) -> float:
        """The lower edge, percent."""
        return self.target_percent - self.tolerance_percent - _ROUNDING_POINTS

    @property
    def high(self) -> float:
        """The upper edge, percent."""
        return math.inf if self.one_sided else self.target_percent + self.tolerance_percent + _ROUNDING_POINTS

    def holds(self, share_percent: Floats) -> Bools:
        """Return whether each share is in the band; NaN is not."""
        return (share_percent >= self.low) & (share_percent <= self.high)


@dataclass(frozen=True, slots=True, eq=False)
class Visits:
    """Stretches of time in the band, in order; shape (n,) each.

    `first` and `last` are the samples around a stretch: it lies between time_s[first] and time_s[last].
    """

    enter_s: Floats
    leave_s: Floats
    first: Integers
    last: Integers


def find_visits(band: Band, time_s: Floats, share: Floats, eligible: Bools) -> Visits:
    """Return when `share` is in the band between successive eligible samples; an eligible one has a share.

    Time between a sample that is eligible and one that is not (missing, one foot off, nobody) is outside. Between two
    eligible ones share is taken as a straight line, so that a line through the whole band counts where it is inside.
    """
    low, high = share < band.low, share > band.high
    inside = eligible & ~low & ~high  # who is eligible has a share
    if inside.size > 1 and inside.all():
        ends = np.array([0, inside.size - 1])
        return Visits(time_s[:1], time_s[-1:], ends[:1], ends[1:])
    through = (low[:-1] & high[1:]) | (high[:-1] & low[1:])
    touches = eligible[:-1] & eligible[1:] & (inside[:-1] | inside[1:] | through)
    joined = touches[:-1] & touches[1:] & inside[1:-1]
    begins, ends = touches.copy(), touches.copy()
    begins[1:] &= ~joined
    ends[:-1] &= ~joined
    first, last = np.flatnonzero(begins), np.flatnonzero(ends) + 1
    enter_s = _cross(band, time_s, share, first, first + 1)
    return Visits(enter_s, _cross(band, time_s, share, last, last - 1), first, last)


def _cross(band: Band, time_s: Floats, share: Floats, at: Integers, towards: Integers) -> Floats:
    """Return when the line from the samples `at` to those `towards` first is in the band."""
    start, end = share[at], share[towards]
    edge = np.clip(start, band.low, band.high)
    part = (edge - start) / np.where(start == end, 1.0, end - start)
    return np.where(edge == start, time_s[at], time_s[at] + part * (time_s[towards] - time_s[at]))
