"""The phase of a squat while it is under way, by the speed and the place of the centre of mass since its rest.

Both are integrals of the total force and drift: what is told from them is told late rather than wrongly.
"""

from __future__ import annotations

from enum import Enum

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.bend import add_up, fill_forward
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, PhaseNumbers
from weightshare.pipeline.tape import Tape

DOWN_M_S, UP_M_S = 0.05, 0.04
"""Who goes faster goes down, or comes up; ..."""
FAST_PART = 0.6
"""... or, who goes down slowly, comes up faster than this part of the greatest speed downwards."""
DEEP_M, DEEP_PART = 0.04, 0.6
"""Down there is who has come so deep, or this part of what is usual, ..."""
SLOW_PART = 0.3
"""... and is down to this part of the greatest speed."""
ON_M_S = 0.08
"""Who goes faster goes on down."""
UP_PART = 0.1
"""Who has come up by this part of the way is on the way up."""
BACK_PART = 0.35
"""Who is slow over this part of the way stands again."""
AGAIN_M, ON_M = 0.015, 0.03
"""Who goes down by so much again after standing, or on the way up, squats again."""
OVER_S = 1.0
"""Who has stood for so long is done."""
STILL_S, STILL_M_S = 1.0, 0.015
"""Whose speed stays this near for so long is at rest, unless on the way: the drift of the speed is taken off."""
TRIED_S, STUCK_S, LONGEST_S = 3.0, 2.5, 90.0
"""Who is not deep by then never went; who rests for so long on the way up came no further; nobody squats for longer."""
MOST_M, UNDER_M = 0.7, 0.15
"""No centre of mass goes deeper, or so far over its rest."""


class Event(Enum):
    """What ends a squat."""

    OVER = "stands again"
    AGAIN = "goes down again"
    NONE = "never went down"
    STUCK = "came up only in part"
    LOST = "the total force tells nothing"


class DipTracker:
    """Parts a squat into phases, sample by sample: LOWERING, TOP while down there, RISE, BOTTOM once standing again.

    Times in s; speeds in m/s and places in m, downwards.
    """

    def __init__(self) -> None:
        self.usual_m = 0.0
        """How deep squats were so far."""
        self.begin(0.0, np.zeros(1), np.zeros((2, 1)))

    def begin(self, begin_s: float, time_s: Floats, course: Floats) -> None:
        """Take up a squat that began at `begin_s`, with times (n,) and speed and place (2, n) up to the newest sample."""
        self.phase, self.since_s, self._begin_s = LOWERING, float(time_s[-1]), begin_s
        self._course = Tape(2)
        self._course.push(time_s, course)
        self._acceleration = 0.0
        self._fastest, self.high = float(course[0].max()), float(course[1].max())
        self._low, self.low_s = self.high, self.since_s
        self._moving_s = self.since_s

    def push(self, time_s: Floats, acceleration: Floats) -> tuple[PhaseNumbers, Event | None]:
        """Return the phase of each sample (n,), n at least 1, up to the one that ends the squat, and how it ends; None
        where it goes on. `acceleration` (n,) is downwards, m/s^2; where it is not known the last one is taken."""
        acceleration = fill_forward(acceleration, self._acceleration)
        phases = np.empty(time_s.size, dtype=np.int8)
        start, event = 0, None
        while start < time_s.size and event is None:
            stop, what = self._run(time_s[start:], acceleration[start:])
            phases[start : start + stop] = self.phase
            start += stop
            if isinstance(what, Event):
                event = what
            elif what is not None:
                self._enter(what)
                phases[start - 1] = self.phase
        return phases[:start], event

    def go_on(self) -> None:
        """Who went down again was not up before: the same squat goes on."""
        self._enter(LOWERING)

    def _run(self, time_s: Floats, acceleration: Floats) -> tuple[int, int | Event | None]:
        """Go on in the phase under way; return for how many samples, the turning one with them, and what comes then."""
        old = self._course.time_s.size
        known = np.concatenate(([self._acceleration], acceleration))
        steps = np.diff(time_s, prepend=self._course.time_s[-1]) * 0.5
        before = self._course.values[:, -1]
        speed = add_up(before[0], steps * (known[1:] + known[:-1]))
        place = add_up(before[1], steps * (speed + np.concatenate((before[:1], speed[:-1]))))
        self._course.push(time_s, np.stack((speed, place)))
        turns = self._find_turns(time_s, speed, place, self._find_still(old))
        places = {what: int(np.argmax(found)) for what, found in turns.items() if found.any()}
        what = min(places, key=lambda key: places[key]) if places else None
        stop = time_s.size if what is None else places[what] + 1
        self._keep(time_s[:stop], speed[:stop], place[:stop])
        self._course.time_s, self._course.values = (
            self._course.time_s[: old + stop],
            self._course.values[:, : old + stop],
        )
        self._course.let_go(float(time_s[stop - 1]) - STILL_S - 0.1)
        self._acceleration = float(acceleration[stop - 1])
        return stop, what

    def _find_still(self, old: int) -> Bools:
        """Return where the speed has hardly changed for a while, all within the phase, shape (n,)."""
        time_s, speed = self._course.time_s, self._course.values[0]
        begin_s = time_s[old:] - STILL_S
        first = time_s.searchsorted(begin_s)
        start = int(first[0])
        low = window_min(speed[start:], first - start, old - start)
        high = -window_min(-speed[start:], first - start, old - start)
        still: Bools = (high - low <= STILL_M_S) & (begin_s >= self._moving_s)
        return still

    def _find_turns(self, time_s: Floats, speed: Floats, place: Floats, still: Bools) -> dict[int | Event, Bools]:
        """Return what may come after the phase under way, each with where it would, shape (n,), in order of rank."""
        high = np.maximum(np.maximum.accumulate(place), self.high)
        low = np.minimum(np.minimum.accumulate(place), self._low)
        lasts_s = time_s - self.since_s
        deep = high >= max(DEEP_M, DEEP_PART * self.usual_m)
        turns: dict[int | Event, Bools] = {
            Event.LOST: (place > MOST_M) | (place < -UNDER_M) | (time_s - self._begin_s > LONGEST_S)
        }
        fastest = np.maximum(np.maximum.accumulate(speed), self._fastest)
        slow = np.minimum(UP_M_S, FAST_PART * fastest)
        up = (speed <= -slow) & (place <= (1.0 - UP_PART) * high) & (high >= DEEP_M)
        if self.phase == LOWERING:
            turns |= {RISE: up, TOP: deep & (speed <= SLOW_PART * fastest)}
            turns[Event.NONE] = (lasts_s >= TRIED_S) & (high < DEEP_M)
        elif self.phase == TOP:
            turns |= {RISE: up, LOWERING: speed >= ON_M_S, TOP: still}
        elif self.phase == RISE:
            turns[BOTTOM] = (speed >= -slow) & (place < BACK_PART * high)
            turns[Event.AGAIN] = (speed >= DOWN_M_S) & (place - low >= ON_M)
            turns[Event.STUCK] = still & (lasts_s >= STUCK_S)
        else:
            turns[Event.AGAIN] = (speed >= DOWN_M_S) & (place - low >= AGAIN_M)
            turns[Event.OVER] = lasts_s >= OVER_S
        return turns

    def _enter(self, phase: int) -> None:
        now_s = self._moving_s = float(self._course.time_s[-1])
        if phase == self.phase == TOP:
            self._course.values[0] -= self._course.values[0, -1]
            return
        self._low, self.low_s = float(self._course.values[1, -1]), now_s
        self.phase, self.since_s = phase, now_s

    def _keep(self, time_s: Floats, speed: Floats, place: Floats) -> None:
        """Note the greatest speed, the deepest and the highest place so far, and when that was."""
        self._fastest = max(self._fastest, float(speed.max()))
        self.high = max(self.high, float(place.max()))
        if place.min() < self._low:
            self._low, self.low_s = float(place.min()), float(time_s[np.argmin(place)])
