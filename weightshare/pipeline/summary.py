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
        self._rest = np.zeros((columns, 0))

    def push(self, rows: Floats) -> None:
        """Add samples, shape (columns, n)."""
        data = np.concatenate((self._rest, rows), axis=1)
        blocks = data.shape[1] // self._BLOCK
        whole = np.ascontiguousarray(data[:, : blocks * self._BLOCK])
        for block in whole.reshape(len(data), blocks, self._BLOCK).sum(axis=2).T:
            self._sums += block
        self._rest = data[:, blocks * self._BLOCK :].copy()

    def totals(self) -> Floats:
        """Return the sums so far, shape (columns,)."""
        totals: Floats = self._sums + self._rest.sum(axis=1)
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
        next_off_s = np.append(offs_s, np.inf)[offs_s.searchsorted(times)]
        safe = np.minimum(next_off_s, time_s[-1]) - times >= _SETTLED_S
        if safe.any():
            self.low, self.high = min(self.low, float(late[safe].min())), max(self.high, float(late[safe].max()))
        waits = ~safe & np.isinf(next_off_s)
        self._late_s, self._late = times[waits], late[waits]

    def finish(self) -> None:
        """The stream ends here, without a step off: what waited counts."""
        if self._late.size:
            self.low, self.high = min(self.low, float(self._late.min())), max(self.high, float(self._late.max()))
        self._late_s, self._late = np.zeros(0), np.zeros(0)

    def _stepped_on(self, time_s: Floats, present: Bools, away: Bools) -> Floats:
        """Return, for each sample, when the person was last seen to step on; minus infinity: stood from the start."""
        seen = np.flatnonzero(present | away)
        was_away = np.concatenate(([self._away], away[seen[:-1]]))[: seen.size]
        ons = seen[was_away & present[seen]]
        self._away = bool(away[seen[-1]]) if seen.size else self._away
        times = np.concatenate(([self._on_s], time_s[ons]))
        self._on_s = float(times[-1])
        return times[np.searchsorted(ons, np.arange(time_s.size), side="right")]
