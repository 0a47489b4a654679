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
"""... and is down to this part of the greatest speed; up again is who is slow like that."""
ON_M_S = 0.08
"""Who goes faster goes on down."""
UP_PART = 0.1
"""Who has come up by this part of the way is on the way up."""
BACK_PART = 0.35
"""Who is slow over this part of the way stands again."""
AGAIN_M, ON_M = 0.015, 0.03
"""Who goes down by so much again after standing, or on the way up, squats again."""
OVER_S, UNSTILL_S = 1.0, 2.5
"""Who has stood for so long, and was still in it, is done; without that after the second."""
STILL_S, STILL_M_S = 0.35, 0.006
"""Whose speed stays this near for so long rests, unless on the way: the drift of the speed is taken off then."""
SLOW_M_S = 0.025
DRIFTS = 1.5
"""The speed has drifted to the place over the time, if it was wrong from the beginning, and to twice that, if the force
was: something between."""
NEAR_PART = 0.1
"""Who is still over this part of the way stands, whatever the speed has drifted to."""
FALSE_S, TRIED_S, STUCK_S, LONGEST_S = 0.8, 3.0, 6.0, 45.0
"""Who is still after the first and not deep, or not deep after the second, never went; who is still so long after the
way up began came no further; nobody squats for longer."""
MOST_M, UNDER_M = 0.7, 0.25
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
        """Take up a squat that began at `begin_s`, with times (n,), speed and place (2, n) up to the newest sample."""
        self.phase, self.since_s, self._begin_s = LOWERING, float(time_s[-1]), begin_s
        self._course = Tape(2)
        self._course.push(time_s, course)
        self._acceleration = self._quickest = 0.0
        self._fastest, self.high = float(course[0].max()), float(course[1].max())
        self._low, self.low_s = self.high, self.since_s
        self._moving_s = self.since_s
        self.rest_s: float | None = None
        """When who stands again was still."""

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
            turns[Event.NONE] = (high < DEEP_M) & (
                (lasts_s >= TRIED_S) | still & (lasts_s >= FALSE_S) & (np.abs(speed) <= SLOW_M_S)
            )
        elif self.phase == TOP:
            turns |= {RISE: up, LOWERING: speed >= ON_M_S, TOP: still}
        elif self.phase == RISE:
            quickest = np.minimum(np.minimum.accumulate(speed), self._quickest)
            slows = speed >= np.minimum(-slow, SLOW_PART * quickest)
            rests = still & (place < NEAR_PART * high) & (np.abs(self._take_off(time_s, speed, place)) <= UP_M_S)
            turns[BOTTOM] = slows & (place < BACK_PART * high) | rests
            turns[Event.AGAIN] = (speed >= DOWN_M_S) & (place - low >= ON_M)
            turns[Event.STUCK] = still & (lasts_s >= STUCK_S)
        else:
            speed = self._take_off(time_s, speed, place)
            turns[Event.AGAIN] = (speed >= np.minimum(DOWN_M_S, FAST_PART * fastest)) & (place - low >= AGAIN_M)
            turns[Event.OVER] = lasts_s >= (UNSTILL_S if self.rest_s is None else OVER_S)
            turns[BOTTOM] = still & (np.abs(speed) <= UP_M_S)
        return turns

    def _take_off(self, time_s: Floats, speed: Floats, place: Floats) -> Floats:
        """Return the speed of who stands, (n,), less what it has drifted to by the place that was come back to."""
        if self.rest_s is not None:
            return speed
        return speed - DRIFTS * place / (time_s - self._begin_s)

    def _enter(self, phase: int) -> None:
        now_s = self._moving_s = float(self._course.time_s[-1])
        if phase == self.phase:
            self._settle(now_s)
            return
        self._low, self.low_s = float(self._course.values[1, -1]), now_s
        self.phase, self.since_s = phase, now_s

    def _settle(self, now_s: float) -> None:
        """The body is at rest; where it stands, that is its place too."""
        speed, place = self._course.values[:, -1]
        self._course.values[0] -= speed
        if self.phase == BOTTOM:
            self._course.values[1] -= place
            self._low, self.low_s = min(self._low - float(place), 0.0), now_s
            self.rest_s = now_s - STILL_S / 2.0

    def _keep(self, time_s: Floats, speed: Floats, place: Floats) -> None:
        """Note the greatest speed, the deepest and the highest place so far, and when that was."""
        self._fastest, self._quickest = max(self._fastest, float(speed.max())), min(self._quickest, float(speed.min()))
        self.high = max(self.high, float(place.max()))
        if place.min() < self._low:
            self._low, self.low_s = float(place.min()), float(time_s[np.argmin(place)])
