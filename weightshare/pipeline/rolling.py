"""A mean over the last rows that comes out the same, bit for bit, however the stream is cut."""

from __future__ import annotations

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.block import Integers


class RollingMean:
    """The mean over the last `width` rows of a regular grid, of those that count; rows lost in a gap do not."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.reset()

    def reset(self) -> None:
        """Begin with no rows."""
        self._sums = np.zeros(1)
        self._counts = np.zeros(1, dtype=np.bool_)
        self._lost = np.zeros(1, dtype=np.int64)
        self._regular = False

    def push(self, x: Floats, counts: Bools, lost: Integers | None = None) -> Floats:
        """Return, for each row of `x` (n,), the mean over those that count in the window that ends with it; else NaN.

        `lost` (n,) is how many of the grid's rows are missing before each row; None where there are none.
        """
        held, absent = self._sums.size, np.flatnonzero(~counts)
        sums, all_counts = np.concatenate((self._sums, x)), np.concatenate((self._counts, counts))
        sums[held + absent] = 0.0
        # added strictly one by one: the same sums, however the rows are grouped
        np.cumsum(sums[held - 1 :], out=sums[held - 1 :])
        if self._regular and lost is None:
            before, keep = sums[1 : x.size + 1], x.size
            number = self._count(all_counts, slice(1, x.size + 1))
        else:
            look_back = self._look_back(np.zeros(x.size, dtype=np.int64) if lost is None else lost)
            before, keep = sums[look_back], int(look_back[-1])
            number = self._count(all_counts, look_back)
        self._sums, self._counts = sums[keep:].copy(), all_counts[keep:].copy()
        means: Floats = (sums[held:] - before) / number
        means[absent] = np.nan
        return means

    def _count(self, counts: Bools, before: Integers | slice) -> Integers | int:
        """Return how many rows count in each window; the one right before it has the place `before`."""
        if isinstance(before, slice) and counts[1:].all():
            return self.width
        counted = np.cumsum(counts)
        number: Integers = np.maximum(counted[self._counts.size :] - counted[before], 1)
        return number

    def _look_back(self, lost: Integers) -> Integers:
        """Return, for each new row, the place right before its window, be rows lost or the window not yet full."""
        all_lost = np.concatenate((self._lost, lost))
        places = np.cumsum(all_lost + 1)
        before = np.maximum(places.searchsorted(places[self._lost.size :] - self.width, side="right") - 1, 0)
        self._lost = all_lost[before[-1] :].copy()
        self._regular = self._lost.size == self.width + 1 and not self._lost[1:].any()
        return before
