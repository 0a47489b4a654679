"""Running sums that come out the same, bit for bit, however the stream is cut."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Floats

Integers: TypeAlias = NDArray[np.int64]


def accumulate(start: Floats, x: Floats) -> Floats:
    """Return the running sums of `x` (k, n) along its rows on top of `start` (k, 1), added strictly one by one."""
    first = x.copy()
    first[:, :1] += start
    return np.cumsum(first, axis=1)


class Window:
    """Running sums over the last `width` rows of a regular grid, those that were lost in a gap among them."""

    def __init__(self, width: int, columns: int) -> None:
        self.width, self._columns = width, columns
        self.reset()

    def reset(self) -> None:
        """Begin with no rows."""
        self._sums = np.zeros((self._columns, 1))
        self._places = np.zeros(1, dtype=np.int64)

    def push(self, x: Floats, lost: Integers) -> Floats:
        """Return, for each row of `x` (columns, n), the sums over the window that ends with it, shape (columns, n).

        `lost` (n,) counts the grid's rows that are missing before each row; they add nothing.
        """
        held = self._places.size
        sums = np.concatenate((self._sums, accumulate(self._sums[:, -1:], x)), axis=1)
        places = np.concatenate((self._places, self._places[-1] + np.cumsum(lost + 1)))
        regular = places[-1] - places[0] == places.size - 1
        if regular and held == self.width + 1:
            before = sums[:, 1 : 1 + x.shape[1]]
            keep = sums.shape[1] - self.width - 1
        else:
            ends = places[held:] - self.width
            found = np.maximum(places.searchsorted(ends, side="right") - 1, 0)
            before, keep = sums[:, found], int(found[-1]) if found.size else 0
        self._sums, self._places = sums[:, keep:].copy(), places[keep:].copy()
        return sums[:, held:] - before
