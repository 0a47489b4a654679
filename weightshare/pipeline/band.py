"""When share is in the band: its crossings, interpolated between samples."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Bools, Floats

Integers: TypeAlias = NDArray[np.int64]


_ROUNDING_POINTS = 1e-9
"""The filter's rounding must not push a share that lies right on an edge out of the band."""


@dataclass(frozen=True, slots=True)
class Band:
    """Target and tolerance in percent of the load and percentage points; the edges are inside."""

    target_percent: float
    tolerance_percent: float

    @property
    def low(self) -> float:
        """The lower edge, percent."""
        return self.target_percent - self.tolerance_percent - _ROUNDING_POINTS

    @property
    def high(self) -> float:
        """The upper edge, percent."""
        return self.target_percent + self.tolerance_percent + _ROUNDING_POINTS

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
    """Return when `share` is in the band between successive eligible samples.

    Time between a sample that is eligible and one that is not (missing, one foot off, nobody) is outside. Between two
    eligible ones share is taken as a straight line, so that a line through the whole band counts where it is inside.
    """
    before, after = share[:-1], share[1:]
    touches = (np.minimum(before, after) <= band.high) & (np.maximum(before, after) >= band.low)
    k = np.flatnonzero(eligible[1:] & eligible[:-1] & touches)
    a, b, t, dt = before[k], after[k], time_s[k], time_s[k + 1] - time_s[k]
    a_in, b_in = np.clip(a, band.low, band.high), np.clip(b, band.low, band.high)
    slope = np.where(a == b, 1.0, b - a)
    enter = np.where(a_in == a, t, t + (a_in - a) / slope * dt)
    leave = np.where(b_in == b, time_s[k + 1], t + (b_in - a) / slope * dt)
    apart = ~((k[1:] == k[:-1] + 1) & (b_in == b)[:-1] & (a_in == a)[1:])
    first, last = np.append(True, apart)[: k.size], np.append(apart, True)[: k.size]
    return Visits(enter[first], leave[last], k[first], k[last] + 1)
