"""Running sums that come out the same, bit for bit, however the stream is cut."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.block import Integers


class Window:
    """Running sums over the last `width` rows of a regular grid, those that were lost in a gap among them."""

    def __init__(self, width: int, columns: int) -> None:
        self.width, self._columns = width, columns
        self.reset()

    def reset(self) -> None:
        """Begin with no rows."""
        self._sums = np.zeros((self._columns, 1))
        self._lost = np.zeros(1, dtype=np.int64)
        self._regular = False

    def push(self, x: Floats, lost: Integers | None = None) -> Floats:
        """Return, for each row of `x` (columns, n), the sums over the window that ends with it, shape (columns, n).

        `lost` (n,) counts the grid's rows that are missing before each row (None: there are none); they add nothing.
        """
        count, held = x.shape[1], self._sums.shape[1]
        sums = np.empty((self._columns, held + count))
        sums[:, :held], sums[:, held:] = self._sums, x
        # added strictly one by one: the same sums, however the rows are grouped
        np.cumsum(sums[:, held - 1 :], axis=1, out=sums[:, held - 1 :])
        if self._regular and lost is None:
            self._sums = sums[:, count:].copy()
            return sums[:, held:] - sums[:, 1 : count + 1]
        before = self._look_back(np.zeros(count, dtype=np.int64) if lost is None else lost)
        self._sums = sums[:, before[-1] :].copy()
        return sums[:, held:] - sums[:, before]

    def _look_back(self, lost: Integers) -> Integers:
        """Return, for each new row, which sum lies right before its window; keep count of what is lost."""
        all_lost = np.concatenate((self._lost, lost))
        places = np.cumsum(all_lost + 1)
        before = np.maximum(places.searchsorted(places[self._lost.size :] - self.width, side="right") - 1, 0)
        self._lost = all_lost[before[-1] :].copy()
        self._regular = self._lost.size == self.width + 1 and not self._lost[1:].any()
        return before
