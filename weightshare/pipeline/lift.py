"""Lifts of a heel: where its height leaves the level of the last two seconds, and where it comes back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.block import GAP_INTERVALS, Integers
from weightshare.pipeline.tape import Tape

LIFT_MM = 15.0
CLOSED_S = 1e-6
"""Windows are closed: a sample right at their end is in, however the times are rounded."""
LOOK_BACK_S = 2.0 + CLOSED_S
SETTLED_S = 2.0
"""Whoever keeps the heel low and still for so long stands at another level: the lift is over."""
SETTLED_MM = 15.0
LOW_PART = 0.5
"""Low is under this part of the lift's rise."""
_ROWS = _HEIGHT, _SINCE = 0, 1
"""Of the tape: the height, and since when readings came without a gap."""


@dataclass(slots=True)
class Lift:
    """A lift, by the times of its samples (s). Heights in mm."""

    first_s: float
    base_mm: float
    """The lowest height of the two seconds before, not reaching into another lift."""
    before_s: float
    """From where on that was looked for."""
    last_s: float | None = None
    """The sample with which it is over; None while it lasts."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A lift begins or is over with the sample at `place` of what was pushed."""

    place: int
    lift: Lift
    begins: bool


class LiftFinder:
    """Finds lifts in a heel's height. Only readings decide, and how they are pushed makes no difference."""

    def __init__(self, interval_s: float) -> None:
        self.interval_s = interval_s
        self._forget()

    def _forget(self) -> None:
        self._tape = Tape(len(_ROWS))
        self._rest_from_s = -np.inf
        self._lift: Lift | None = None
        self._peak_mm = -np.inf

    @property
    def lift(self) -> Lift | None:
        """The lift under way."""
        return self._lift

    def push(self, time_s: Floats, height_mm: Floats) -> list[Turn]:
        """Take in samples (n,), NaN where there is none; return what turned with them, in order."""
        read = np.flatnonzero(~np.isnan(height_mm))
        if not read.size:
            return []
        old = self._tape.time_s.size
        self._tape.push(time_s[read], np.stack((height_mm[read], self._unbroken_from(time_s[read]))))
        turns: list[Turn] = []
        cursor = old
        while cursor < self._tape.time_s.size:
            turn = self._find_begin(cursor) if self._lift is None else self._find_end(cursor)
            if turn is None:
                break
            cursor = turn.place + 1
            turns.append(Turn(int(read[turn.place - old]), turn.lift, turn.begins))
        self._tape.let_go(float(self._tape.time_s[-1]) - LOOK_BACK_S - 0.1)
        return turns

    def _unbroken_from(self, time_s: Floats) -> Floats:
        """Return for each reading since when readings came without a gap, s, shape (n,)."""
        last_s, since_s = (
            (float(self._tape.time_s[-1]), float(self._tape.values[_SINCE, -1]))
            if self._tape.time_s.size
            else (-np.inf, -np.inf)
        )
        broken = np.diff(time_s, prepend=last_s) > GAP_INTERVALS * self.interval_s
        since: Floats = np.maximum.accumulate(np.where(broken, time_s, since_s))
        return since

    def start_anew(self, time_s: float) -> None:
        """Forget what was before `time_s`: another heel is followed from there on."""
        self._forget()
        self._rest_from_s = time_s

    def _find_begin(self, cursor: int) -> Turn | None:
        time_s, height = self._tape.time_s, self._tape.values[_HEIGHT]
        first = time_s.searchsorted(np.maximum(time_s[cursor:] - LOOK_BACK_S, self._rest_from_s))
        start = int(first[0])
        if height[cursor:].max() - height[start:].min() < LIFT_MM:
            return None
        lowest = window_min(height[start:], first - start, cursor - start)
        over = np.flatnonzero(height[cursor:] - lowest >= LIFT_MM)
        if not over.size:
            return None
        place = cursor + int(over[0])
        before_s = max(float(time_s[place]) - LOOK_BACK_S, self._rest_from_s)
        self._lift = Lift(float(time_s[place]), float(lowest[over[0]]), before_s)
        self._peak_mm = float(height[place])
        return Turn(place, self._lift, begins=True)

    def _find_end(self, cursor: int) -> Turn | None:
        assert self._lift is not None
        time_s, height = self._tape.time_s, self._tape.values[_HEIGHT]
        back = np.flatnonzero(height[cursor:] <= self._lift.base_mm + LIFT_MM)
        stop = cursor + int(back[0]) if back.size else time_s.size
        settled = self._find_settled(cursor, stop)
        if settled is not None:
            place, since = settled
            return self._end(place, float(time_s[since]))
        return self._end(stop, float(time_s[stop])) if back.size else None

    def _find_settled(self, cursor: int, stop: int) -> tuple[int, int] | None:
        """Return where, before `stop`, the heel has been low and still for long enough, and since where."""
        assert self._lift is not None
        time_s, height = self._tape.time_s, self._tape.values[_HEIGHT]
        peaks = np.maximum.accumulate(np.concatenate(([self._peak_mm], height[cursor:stop])))
        self._peak_mm, peaks = float(peaks[-1]), peaks[1:]
        since_s = np.maximum(self._tape.values[_SINCE, cursor:stop], self._lift.first_s)
        # the shortest stretch up to each reading that is long enough
        first = time_s.searchsorted(time_s[cursor:stop] - SETTLED_S + CLOSED_S, side="right") - 1
        long = (first >= 0) & (time_s[np.maximum(first, 0)] >= since_s)
        if not long.any():
            return None
        first = np.maximum(first, 0)
        start = int(first[0])
        low = window_min(height[start:stop], first - start, cursor - start)
        high = -window_min(-height[start:stop], first - start, cursor - start)
        base = self._lift.base_mm
        still = (high - low <= SETTLED_MM) & (high < base + LOW_PART * (peaks - base))
        places = np.flatnonzero(still & long)
        return (cursor + int(places[0]), int(first[places[0]])) if places.size else None

    def _end(self, place: int, last_s: float) -> Turn:
        assert self._lift is not None
        lift, self._lift = self._lift, None
        lift.last_s = self._rest_from_s = last_s
        return Turn(place, lift, begins=False)


def window_min(x: Floats, first: Integers, start: int) -> Floats:
    """Return the least of x[first[k]] to x[start + k], both ends in, for each k, shape of `first`. NaN is passed over.

    By a table of the least over each power of two (Bender and Farach-Colton, 2000, section 3; from memory).
    """
    level = np.where(np.isnan(x), np.inf, x)
    last = start + np.arange(first.size)
    width = last - first + 1
    power = np.floor(np.log2(width)).astype(np.int64)
    least: Floats = np.empty(first.size)
    for exponent in range(int(power.max()) + 1):
        if exponent:
            half = 2 ** (exponent - 1)
            level = np.minimum(level[:-half], level[half:])
        mine = np.flatnonzero(power == exponent)
        least[mine] = np.minimum(level[first[mine]], level[last[mine] - 2**exponent + 1])
    return least
