"""Means, spread and extremes over all the time in which someone stood."""

from __future__ import annotations

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
        present = ~np.isnan(values)
        on_s = self._stepped_on(time_s, present, away)
        settled = present & (time_s >= on_s + _SETTLED_S)
        times = np.concatenate((self._late_s, time_s[settled]))
        late = np.concatenate((self._late, values[settled]))
        offs_s = time_s[away]
        next_off_s = np.append(offs_s, np.inf)[offs_s.searchsorted(times)] if offs_s.size else np.inf
        safe = np.minimum(next_off_s, time_s[-1]) - times >= _SETTLED_S
        self._take(late[safe])
        waits = ~safe & np.isinf(next_off_s)
        self._late_s, self._late = times[waits], late[waits]

    def _take(self, values: Floats) -> None:
        if values.size:
            self.low, self.high = min(self.low, float(values.min())), max(self.high, float(values.max()))

    def finish(self) -> None:
        """The stream ends here, without a step off: what waited counts."""
        self._take(self._late)
        self._late_s, self._late = np.zeros(0), np.zeros(0)

    def _stepped_on(self, time_s: Floats, present: Bools, away: Bools) -> Floats | float:
        """Return, for each sample, when the person was last seen to step on; minus infinity: stood from the start."""
        if not self._away and not away.any():
            return self._on_s
        seen = np.flatnonzero(present | away)
        was_away = np.concatenate(([self._away], away[seen[:-1]]))[: seen.size]
        ons = seen[was_away & present[seen]]
        self._away = bool(away[seen[-1]]) if seen.size else self._away
        times = np.concatenate(([self._on_s], time_s[ons]))
        self._on_s = float(times[-1])
        return times[np.searchsorted(ons, np.arange(time_s.size), side="right")]
