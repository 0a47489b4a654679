"""When the centre of mass begins to move up, or down: by the speed that it gained in the last moments."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.forefoot import Stay, Turn
from weightshare.pipeline.tape import Tape

GAIN_S = 2.0
"""The speed gained in this time is looked at."""
WEIGH_S = 5.0
"""The force that carries the weight is the mean over so long before that ..."""
WEIGH_LEAST_S = 1.5
"""... or at least over so long; until then it is what was told."""


class GainFinder:
    """Finds the first sample from `from_s` (s) on at which a body of `mass_kg` has gained `gain_m_s` (m/s).

    Under 0 that is downwards. `level_N` carried the weight at rest; None where it has to be seen first. What it finds
    does not depend on how samples are pushed. What began goes on for good: another one looks for its end.
    """

    def __init__(self, from_s: float, gain_m_s: float, mass_kg: float, level_N: float | None) -> None:
        self._from_s, self._gain_m_s, self._mass_kg, self._level_N = from_s, gain_m_s, mass_kg, level_N
        self._tape = Tape(2)
        """The impulse so far (N s), and the time read (s)."""
        self._last: tuple[float, float] | None = None
        self._begun = False

    def push(self, time_s: Floats, total_N: Floats) -> list[Turn]:
        """Take in samples (n,), NaN where there is none; return the turn with which it begins, if it is among them."""
        first = int(time_s.searchsorted(self._from_s))
        if self._begun or first == time_s.size:
            return []
        time_s, total_N = time_s[first:], total_N[first:]
        self._add(time_s, total_N)
        gains = self._gains(time_s)
        found = np.flatnonzero(gains * np.sign(self._gain_m_s) >= abs(self._gain_m_s))
        self._tape.let_go(float(time_s[-1]) - GAIN_S - WEIGH_S - 0.5)
        if not found.size:
            return []
        self._begun = True
        at = float(time_s[found[0]])
        return [Turn(first + int(found[0]), Stay(at, 0.0, 0.0), begins=True)]

    def _add(self, time_s: Floats, total_N: Floats) -> None:
        """Add samples to the running sums, one by one, so that their grouping does not matter."""
        before_s, before_N = self._last or (float(time_s[0]), float(total_N[0]))
        steps = np.diff(time_s, prepend=before_s)
        means = 0.5 * (total_N + np.concatenate(([before_N], total_N[:-1])))
        read = ~np.isnan(means)
        sums = np.stack((np.where(read, means * steps, 0.0), np.where(read, steps, 0.0)))
        start = self._tape.values[:, -1:] if self._tape.time_s.size else np.zeros((2, 1))
        self._tape.push(time_s, np.cumsum(np.concatenate((start, sums), axis=1), axis=1)[:, 1:])
        self._last = float(time_s[-1]), float(total_N[-1])

    def _gains(self, time_s: Floats) -> Floats:
        """Return the speed gained up to each time (n,), m/s; NaN where the level is not known."""
        since_s = np.maximum(time_s - GAIN_S, self._from_s)
        from_s = np.maximum(since_s - WEIGH_S, self._from_s)
        now, since, start = (self._sums(at) for at in (time_s, since_s, from_s))
        read_s = since[1] - start[1]
        told = np.nan if self._level_N is None else self._level_N
        seen = np.divide(since[0] - start[0], read_s, out=np.full(time_s.size, told), where=read_s >= WEIGH_LEAST_S)
        gains: Floats = ((now[0] - since[0]) - seen * (now[1] - since[1])) / self._mass_kg
        return gains

    def _sums(self, time_s: Floats) -> Floats:
        """Return the sums at times (n,) of samples, or between them, shape (2, n)."""
        return np.stack([np.interp(time_s, self._tape.time_s, row) for row in self._tape.values])
