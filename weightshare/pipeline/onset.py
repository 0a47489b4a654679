"""Where somebody who stands at rest begins to go down: the total force falls short of what it was, for long enough."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.bend import add_up, fill_forward
from weightshare.pipeline.block import Integers
from weightshare.pipeline.tape import Tape

DOWN_M_S = 0.05
"""Going down begins with this speed. Shifting a quarter of the load within a second moves the body at 40 mm/s."""
WINDOWS_S = (0.4, 0.8, 1.4, 2.2)
"""It is reached within one of these times, ..."""
SLOW_S, SLOW_M_S, SLOW_M = 4.0, 0.03, 0.05
"""... or within this one a lower speed, and so far down, ..."""
SLOW_LEVEL_S = 3.0
"""... where the force of standing was seen for so long."""
LEVEL_S = 5.0
LEAST_S = 0.4
"""The force of standing is the mean over so long before, and not less, ..."""
STILL_M_S2 = 0.15
"""... if it varies by no more: standard deviation."""
_ROWS = _SUM, _SQUARES, _PLACE = 0, 1, 2
"""Of the tape: the integrals of the acceleration, of its square, and of the first."""


@dataclass(frozen=True, slots=True)
class Onset:
    """With the sample at `place` of what was pushed somebody goes down; at `rest_s` (s) that had not begun yet.

    Standing came to `level_m_s2`.
    """

    place: int
    rest_s: float
    level_m_s2: float


class OnsetFinder:
    """Looks for the beginning of a way down, from rest at `from_s` (s) on. How samples are pushed does not matter."""

    def __init__(self, from_s: float, level_m_s2: float | None = None) -> None:
        """`level_m_s2` is the acceleration that standing comes to by what was before `from_s`, if anything tells."""
        self.from_s = from_s
        self._level_m_s2, self._level_s = (0.0, 0.0) if level_m_s2 is None else (level_m_s2, LEVEL_S)
        self._tape = Tape(len(_ROWS))
        self._last = np.nan

    def push(self, time_s: Floats, acceleration: Floats) -> Onset | None:
        """Take in samples (n,): the acceleration downwards (m/s^2), NaN where it is not known; return the first onset.

        Once one was found the finder is done.
        """
        known = fill_forward(acceleration, self._last)
        start = int(np.argmax(~np.isnan(known) & (time_s >= self.from_s)))
        if np.isnan(known[start]) or time_s[start] < self.from_s:
            return None
        time_s, known, old = time_s[start:], known[start:], self._tape.time_s.size
        if old:
            before_s, before = float(self._tape.time_s[-1]), self._tape.values[:, -1]
        else:
            before_s, before, self._last = float(time_s[0]), np.zeros(len(_ROWS)), float(known[0])
        earlier, step_s = np.concatenate(([self._last], known[:-1])), 0.5 * np.diff(time_s, prepend=before_s)
        speed = add_up(before[_SUM], step_s * (known + earlier))
        squares = add_up(before[_SQUARES], step_s * (known**2 + earlier**2))
        place = add_up(before[_PLACE], step_s * (speed + np.concatenate((before[:1], speed[:-1]))))
        self._tape.push(time_s, np.stack((speed, squares, place)))
        self._last = float(known[-1])
        onset = self._look(old)
        self._tape.let_go(float(time_s[-1]) - LEVEL_S - SLOW_S - 0.1)
        return None if onset is None else replace(onset, place=start + onset.place)

    def _look(self, old: int) -> Onset | None:
        found = [(self._falls(old, window_s), window_s) for window_s in (*WINDOWS_S, SLOW_S)]
        places = [int(np.argmax(falls)) for falls, _ in found if falls.any()]
        if not places:
            return None
        place = min(places)
        window_s = next(window_s for falls, window_s in found if falls[place])
        now_s = float(self._tape.time_s[old + place])
        level = self._find_level(self._tape.time_s.searchsorted([now_s - window_s]))[0]
        return Onset(place, max(now_s - 1.2 * window_s - 0.2, float(self._tape.time_s[0])), float(level[0]))

    def _find_level(self, begin: Integers) -> tuple[Floats, Floats, Bools]:
        """Return the acceleration of standing before the samples `begin` (k,), for how long it was seen, and whether
        somebody stood there, shape (k,) each."""
        time_s, sums = self._tape.time_s, self._tape.values
        first = time_s.searchsorted(time_s[begin] - LEVEL_S)
        seen_s, seen = time_s[begin] - time_s[first], sums[:, begin] - sums[:, first]
        level_s = seen_s + self._level_s
        level = np.divide(seen[_SUM] + self._level_m_s2 * self._level_s, level_s, where=level_s > 0.0, out=seen_s * 0.0)
        stands = level_s >= LEAST_S
        if not self._level_s:
            stands &= seen[_SQUARES] * seen_s - seen[_SUM] ** 2 <= (STILL_M_S2 * seen_s) ** 2
        return level, level_s, stands

    def _falls(self, old: int, window_s: float) -> Bools:
        """Return for each new sample whether somebody has come to go down within `window_s`, shape (n,)."""
        time_s, sums = self._tape.time_s, self._tape.values
        begin = time_s.searchsorted(time_s[old:] - window_s)
        level, level_s, stands = self._find_level(begin)
        lasts_s, before = time_s[old:] - time_s[begin], sums[_SUM, begin]
        speed = sums[_SUM, old:] - before - level * lasts_s
        if window_s < SLOW_S:
            soon: Bools = stands & (speed >= DOWN_M_S)
            return soon
        place = sums[_PLACE, old:] - sums[_PLACE, begin] - before * lasts_s - level * lasts_s**2 / 2.0
        falls: Bools = (level_s >= SLOW_LEVEL_S) & stands & (speed >= SLOW_M_S) & (place >= SLOW_M)
        return falls
