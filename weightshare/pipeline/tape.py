"""The newest samples of several figures, and what is integrated over a stretch of them."""

from __future__ import annotations

import numpy as np

from weightshare.model import Bools, Floats


class Tape:
    """Keeps samples until they are let go; what is read from it does not depend on how they were pushed."""

    def __init__(self, rows: int) -> None:
        self.time_s: Floats = np.empty(0)
        self.values: Floats = np.empty((rows, 0))

    def push(self, time_s: Floats, values: Floats) -> None:
        """Add samples: times (n,) after all others, values (rows, n)."""
        self.time_s = np.concatenate((self.time_s, time_s))
        self.values = np.concatenate((self.values, values), axis=1)

    def let_go(self, before_s: float) -> None:
        """Forget samples before `before_s`, but for the last one of them."""
        start = max(int(self.time_s.searchsorted(before_s, side="right")) - 1, 0)
        if start > 1024 or start > self.time_s.size // 2:
            self.time_s, self.values = self.time_s[start:].copy(), self.values[:, start:].copy()

    def between(self, start_s: float, end_s: float) -> tuple[Floats, Floats]:
        """Return times (m,) and values (rows, m) from `start_s` to `end_s`, both ends put in by straight lines.

        Where the stretch reaches beyond what is kept, it ends there. NaN beside an end stays NaN at it.
        """
        time_s = self.time_s
        start_s, end_s = max(start_s, float(time_s[0])), min(end_s, float(time_s[-1]))
        first = int(time_s.searchsorted(start_s, side="right"))
        last = int(time_s.searchsorted(end_s, side="left"))
        times = np.concatenate(([start_s], time_s[first:last], [end_s]))
        inner = self.values[:, first:last]
        return times, np.concatenate((self._at(start_s), inner, self._at(end_s)), axis=1)

    def _at(self, time_s: float) -> Floats:
        """Return the values at an instant, shape (rows, 1)."""
        after = int(self.time_s.searchsorted(time_s, side="left"))
        if self.time_s[after] == time_s:
            return self.values[:, after : after + 1]
        step = self.time_s[after] - self.time_s[after - 1]
        part = (time_s - self.time_s[after - 1]) / step
        left, right = self.values[:, after - 1 : after], self.values[:, after : after + 1]
        between: Floats = left + part * (right - left)
        return between


def integrate(time_s: Floats, values: Floats) -> tuple[Floats, float]:
    """Return the integral of each row (k, m) over times (m,), by trapezoids, shape (k,), and the time read, s.

    An interval in which any row has no reading is left out of all of them.
    """
    steps = np.diff(time_s)
    read: Bools = ~np.asarray(np.isnan(values).any(axis=0), dtype=np.bool_)
    whole = read[1:] & read[:-1]
    means = 0.5 * (values[:, 1:] + values[:, :-1])[:, whole]
    sums: Floats = (means * steps[whole]).sum(axis=1)
    return sums, float(steps[whole].sum())
