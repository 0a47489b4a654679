"""Means, spread and extremes over all the time in which someone stood."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from weightshare.model import Bools, Floats

TRIM_S = 0.5
"""Least and greatest leave out this much after stepping on and before stepping off."""
_SETTLED_S = TRIM_S - 1e-6
"""Times far from 0 are rounded: a sample that lies right on the limit counts wherever time starts."""


class Sums:
    """Sums of several columns that come out the same, bit for bit, however the stream is cut.

    They are taken over blocks that begin at fixed sample numbers, and the blocks are added in order.
    """

    _BLOCK = 1024

    def __init__(self, columns: int) -> None:
        self._sums = np.zeros(columns)
        self._rest = np.zeros((columns, self._BLOCK))
        self._filled = 0

    def push(self, rows: Floats) -> None:
        """Add samples, shape (columns, n)."""
        rows = np.ascontiguousarray(rows)  # numpy adds in another order along other strides
        done, count = 0, rows.shape[1]
        if self._filled:
            done = min(self._BLOCK - self._filled, count)
            self._keep(rows[:, :done])
            if self._filled == self._BLOCK:
                self._sums += self._rest.sum(axis=1)
                self._filled = 0
        blocks = (count - done) // self._BLOCK
        whole = rows[:, done : done + blocks * self._BLOCK].reshape(len(rows), blocks, self._BLOCK)
        for block in whole.sum(axis=2).T:
            self._sums += block
        self._keep(rows[:, done + blocks * self._BLOCK :])

    def _keep(self, rows: Floats) -> None:
        begin, self._filled = self._filled, self._filled + rows.shape[1]
        self._rest[:, begin : self._filled] = rows

    def totals(self) -> Floats:
        """Return the sums so far, shape (columns,)."""
        totals: Floats = self._sums + self._rest[:, : self._filled].sum(axis=1)
        return totals


class Extremes:
    """Least and greatest value, leaving out half a second after stepping on and before stepping off."""

    def __init__(self) -> None:
        self.reset()

    def reset(self) -> None:
        """Begin with no samples."""
        self.low, self.high = np.inf, -np.inf
        self._on_s = -np.inf
        self._away = False
        self._late_s, self._late = np.zeros(0), np.zeros(0)

    def push(self, time_s: Floats, values: Floats, away: Bools) -> None:
        """Add samples (n,); NaN is passed over, `away` says where nobody stands."""
        turns = np.flatnonzero(away[1:] != away[:-1]) + 1
        for begin, end in pairwise((0, *turns.tolist(), away.size)):
            if away[begin]:
                self._step_off(float(time_s[begin]))
            else:
                self._add(time_s[begin:end], values[begin:end])

    def _step_off(self, off_s: float) -> None:
        waited = int(self._late_s.searchsorted(off_s - _SETTLED_S, side="right"))
        self._take(self._late[:waited])
        self._late_s, self._late = np.zeros(0), np.zeros(0)
        self._away = True

    def _add(self, time_s: Floats, values: Floats) -> None:
        """Take what is settled and more than half a second old; the rest waits, should the person step off."""
        if self._away:
            present = np.flatnonzero(~np.isnan(values))
            if not present.size:
                return
            self._away, self._on_s = False, float(time_s[present[0]])
        settled = int(time_s.searchsorted(self._on_s + _SETTLED_S))
        safe = max(int(time_s.searchsorted(time_s[-1] - _SETTLED_S, side="right")), settled)
        waited = int(self._late_s.searchsorted(time_s[-1] - _SETTLED_S, side="right"))
        self._take(self._late[:waited])
        self._take(values[settled:safe])
        self._late_s = np.concatenate((self._late_s[waited:], time_s[safe:]))
        self._late = np.concatenate((self._late[waited:], values[safe:]))

    def _take(self, values: Floats) -> None:
        """NaN is passed over."""
        if values.size:
            low, high = values.min(), values.max()
            if np.isnan(low):
                low, high = np.fmin.reduce(values), np.fmax.reduce(values)
            self.low, self.high = min(self.low, float(low)), max(self.high, float(high))

    def finish(self) -> None:
        """The stream ends here, without a step off: what waited counts."""
        self._take(self._late)
        self._late_s, self._late = np.zeros(0), np.zeros(0)
