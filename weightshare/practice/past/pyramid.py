"""Least and greatest values of ever longer blocks, so that a picture of any stretch costs the same."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats

BREAK_INTERVALS = 3.5
"""Between two blocks that are further apart than they are long by so many intervals lies a gap: no line is drawn."""


@dataclass(frozen=True, slots=True, eq=False)
class Envelope:
    """The blocks of a stretch, shape (m,) each: the time of each one's first row (s), its least, its greatest value.

    NaN where a block has no reading, and in a row put in where the line has to break. `rows` is a block's length.
    """

    time_s: Floats
    low: Floats
    high: Floats
    rows: int


class Pyramid:
    """Blocks of 1, 2, 4 ... rows of `values` (n,) at `time_s` (n,), n at least 1; NaN is a missing reading.

    Blocks begin at multiples of their length, so that what is drawn stands still while it is moved along.
    """

    def __init__(self, time_s: Floats, values: Floats, interval_s: float) -> None:
        self.time_s, self.interval_s = time_s, interval_s
        late_s = np.clip(np.diff(time_s) - interval_s, 0.0, None).sum()
        self._is_even = bool(late_s <= BREAK_INTERVALS * interval_s)
        """Whether no two blocks, however long, can be so far apart that a line breaks between them."""
        self._levels = [(values, values)]
        while self._levels[-1][0].size > 1:
            low, high = self._levels[-1]
            self._levels.append((_halve(low, np.fmin), _halve(high, np.fmax)))

    def extremes(self) -> Floats:
        """Return the least and the greatest value of all, shape (2,); NaN where there is none."""
        low, high = self._levels[-1]
        return np.array([low[0], high[0]])

    def extremes_within(self, from_s: Floats, to_s: Floats) -> Floats:
        """Return the same of what lies in any of the stretches from `from_s` to `to_s`, shape (k,) each."""
        edges = np.zeros(self.time_s.size + 1, dtype=np.int64)
        np.add.at(edges, np.searchsorted(self.time_s, from_s), 1)
        np.add.at(edges, np.searchsorted(self.time_s, to_s, side="right"), -1)
        inside = self._levels[0][0][np.cumsum(edges[:-1]) > 0]
        known = inside[np.isfinite(inside)]
        return np.array([known.min(), known.max()]) if known.size else np.full(2, np.nan)

    def stretches(self) -> tuple[Floats, Floats]:
        """Return the times (s) of the first and the last reading of each stretch with none missing, (k,) each."""
        known = np.isfinite(self._levels[0][0]).astype(np.int8)
        edges = np.flatnonzero(np.diff(known, prepend=0, append=0))
        return self.time_s[edges[::2]], self.time_s[edges[1::2] - 1]

    def value_at(self, time_s: float) -> float:
        """Return the reading nearest to `time_s`; NaN where none is within two intervals, or it is missing."""
        place = int(np.searchsorted(self.time_s, time_s))
        near = min(
            range(max(0, place - 1), min(self.time_s.size, place + 1)), key=lambda k: abs(self.time_s[k] - time_s)
        )
        far = abs(float(self.time_s[near]) - time_s) > 2.0 * self.interval_s
        return float("nan") if far else float(self._levels[0][0][near])

    def envelope(self, from_s: float, to_s: float, columns: int) -> Envelope:
        """Return the stretch from `from_s` to `to_s`, with a row more at each end, in blocks.

        There are at least `columns` of them, and hardly more than twice that; fewer where there are fewer rows.
        """
        first = max(0, int(np.searchsorted(self.time_s, from_s)) - 1)
        stop = min(self.time_s.size, int(np.searchsorted(self.time_s, to_s, side="right")) + 1)
        level = self._level(stop - first, columns)
        low, high = self._levels[level]
        blocks = slice(first >> level, -(-stop >> level))
        times = self.time_s[blocks.start << level : blocks.stop << level : 1 << level]
        return self._break(times, low[blocks], high[blocks], 1 << level)

    def _level(self, rows: int, columns: int) -> int:
        level = max(0, rows // max(1, columns)).bit_length() - 1
        return min(max(0, level), len(self._levels) - 1)

    def _break(self, time_s: Floats, low: Floats, high: Floats, rows: int) -> Envelope:
        if self._is_even:
            return Envelope(time_s, low, high, rows)
        far = np.flatnonzero(np.diff(time_s) > (rows + BREAK_INTERVALS) * self.interval_s) + 1
        if far.size:
            time_s = np.insert(time_s, far, time_s[far])
            low, high = np.insert(low, far, np.nan), np.insert(high, far, np.nan)
        return Envelope(time_s, low, high, rows)


def _halve(values: Floats, choose: np.ufunc) -> Floats:
    """Return the chosen one of each two neighbours, shape ((n + 1) // 2,); a last one alone stays; NaN gives way."""
    pairs = values.size // 2
    halved: Floats = choose(values[0 : 2 * pairs : 2], values[1 : 2 * pairs : 2])
    return np.append(halved, values[-1]) if values.size % 2 else halved
