"""Running sums that come out the same, bit for bit, however the stream is cut."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats


def accumulate(start: float, x: Floats) -> Floats:
    """Return the running sum of `x` on top of `start`, shape (n,), added strictly one by one."""
    if not x.size:
        return x.copy()
    first = x.copy()
    first[0] += start
    return np.cumsum(first)


class Window:
    """The running sum over the last `width` samples."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.reset()

    def reset(self) -> None:
        """Begin with no samples."""
        self._sums = np.zeros(self.width + 1)

    def push(self, x: Floats) -> Floats:
        """Return, for each sample, the sum over it and those before it, `width` together; shape (n,)."""
        sums = np.concatenate((self._sums, accumulate(float(self._sums[-1]), x)))
        self._sums = sums[-(self.width + 1) :].copy()
        return sums[-x.size :] - sums[-x.size - self.width : -self.width] if x.size else x.copy()
