"""When the load stands on the front of the foot: where its front share leaves the level of standing and comes back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.tape import Tape

FORWARD = 0.12
"""The load goes forward where its front share is so much over the lowest of the last seconds."""
LOOK_BACK_S = 3.0
BACK_PART = 0.5
"""It is back under this part of the way from that level to the peak."""


@dataclass(slots=True)
class Stay:
    """The load's stay on the front of the foot, by the times of samples (s); `level` is the front share before it."""

    first_s: float
    level: float
    peak: float
    """The most of the front share so far."""
    last_s: float | None = None
    """The sample with which it is back; None while it lasts."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A stay begins or is over with the sample at `place` of what was pushed."""

    place: int
    stay: Stay
    begins: bool


class StayFinder:
    """Finds stays in the front share (0 to 1), from `from_s` (s) on. How samples are pushed does not matter."""

    def __init__(self, from_s: float = -np.inf) -> None:
        self._tape = Tape(1)
        self._rest_from_s = from_s
        self._stay: Stay | None = None

    def push(self, time_s: Floats, front: Floats) -> list[Turn]:
        """Take in samples (n,), NaN where there is none; return what turned with them, in order."""
        old = self._tape.time_s.size
        self._tape.push(time_s, front[None])
        turns: list[Turn] = []
        cursor = old
        while cursor < self._tape.time_s.size:
            turn = self._find_begin(cursor) if self._stay is None else self._find_end(cursor)
            if turn is None:
                break
            cursor = turn.place + 1
            turns.append(Turn(turn.place - old, turn.stay, turn.begins))
        if self._tape.time_s.size:
            self._tape.let_go(float(self._tape.time_s[-1]) - LOOK_BACK_S - 0.1)
        return turns

    def _find_begin(self, cursor: int) -> Turn | None:
        time_s, front = self._tape.time_s, self._tape.values[0]
        first = time_s.searchsorted(np.maximum(time_s[cursor:] - LOOK_BACK_S, self._rest_from_s))
        first = np.minimum(first, np.arange(cursor, time_s.size))
        start = int(first[0])
        lowest = window_min(front[start:], first - start, cursor - start)
        over = np.flatnonzero(front[cursor:] - lowest >= FORWARD)
        if not over.size:
            return None
        place = cursor + int(over[0])
        self._stay = Stay(float(time_s[place]), float(lowest[over[0]]), float(front[place]))
        return Turn(place, self._stay, begins=True)

    def _find_end(self, cursor: int) -> Turn | None:
        assert self._stay is not None
        stay, front = self._stay, self._tape.values[0, cursor:]
        known = np.where(np.isnan(front), -np.inf, front)
        peaks = np.maximum(np.maximum.accumulate(known), stay.peak)
        back = np.flatnonzero(front < stay.level + BACK_PART * (peaks - stay.level))
        stay.peak = float(peaks[back[0]] if back.size else peaks[-1])
        if not back.size:
            return None
        place = cursor + int(back[0])
        self._stay = None
        stay.last_s = self._rest_from_s = float(self._tape.time_s[place])
        return Turn(place, stay, begins=False)
