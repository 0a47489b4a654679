"""Who sits, rises, stands and sits down again, by the part of the weight that is on the feet, sample by sample."""

from __future__ import annotations

from enum import IntEnum

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Bools, Floats
from weightshare.pipeline.bend import fill_forward
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP
from weightshare.pipeline.onset import OnsetFinder
from weightshare.pipeline.tape import Tape

SEATED_PART, SEATED_S = 0.65, 0.5
"""Who sits has less of the weight on the feet than the first, for so long."""
CLIMB_PART, BACK_PART = 0.06, 0.03
"""A rise begins where the load is so much over the least of the last moments, and is none where it comes back."""
LEAN_S = 3.0
"""Who leans forward for so long and does not leave the seat sits otherwise than before."""
RECENT_S = 2.0
STOOD_M_S = 0.05
"""Who comes up slows down by this much at least, and is up where the load then stays ..."""
LEVEL_S, LEVEL_PART = 0.5, 0.03
"""... for so long within so much, ..."""
LONG_S = 1.2
"""... or, where the slowing down was not seen, for so long."""
UP_PART = 0.75
"""Who stands has so much of the weight on the feet."""
AGAIN_S = 2.5
"""Who stands at one load for so long after beginning to go down did not sit down."""


class Posture(IntEnum):
    """What somebody does; the numbers of those that are phases are the phases'."""

    SITS = BOTTOM
    RISES = RISE
    STANDS = TOP
    SITS_DOWN = LOWERING


class ChairTracker:
    """Follows the part of the weight on the feet, (n,) of times (n,), from posture to posture. Times in s."""

    def __init__(self) -> None:
        self.begin(-np.inf)

    def begin(self, time_s: float) -> None:
        """Somebody is there from `time_s` on."""
        self.posture: Posture | None = None
        self.since_s = time_s
        self._tape = Tape(1)
        self._last = np.nan
        self.least = np.inf
        """The least load since somebody sits, in parts of the weight."""
        self.off_s: float | None = None
        """Where the seat was left."""
        self.under_s: float | None = None
        """Since when there is as little on the feet as while sitting; None where there is more."""
        self._onset: OnsetFinder | None = None

    @property
    def is_under_way(self) -> bool:
        """Whether a load was known since somebody is there."""
        return not np.isnan(self._last)

    def push(self, time_s: Floats, load: Floats) -> tuple[int, Posture | None]:
        """Take in samples (n,), n at least 1; return for how many the posture lasts, and which comes with the last of
        them; None where it lasts on. What is left over has to be pushed again."""
        load = fill_forward(load, self._last)
        old = self._tape.time_s.size
        self._tape.push(time_s, load[None])
        turns = self._find_turns(time_s, load, old)
        places = {what: int(np.argmax(found)) for what, found in turns.items() if found.any()}
        what = min(places, key=lambda key: places[key]) if places else None
        stop = time_s.size if what is None else places[what] + 1
        self._tape.time_s, self._tape.values = self._tape.time_s[: old + stop], self._tape.values[:, : old + stop]
        self._keep(time_s[:stop], load[:stop])
        if what is not None:
            self._enter(what, float(time_s[stop - 1]))
        self._last = float(load[stop - 1])
        needed_s = self.since_s if self.posture is Posture.RISES else np.inf
        self._tape.let_go(min(float(time_s[stop - 1]) - LEAN_S - RECENT_S, needed_s))
        return stop, what

    def _find_turns(self, time_s: Floats, load: Floats, old: int) -> dict[Posture, Bools]:
        """Return what may come, each with where it would, shape (n,)."""
        seated = self._find_seated(time_s, load)
        if self.posture is None:
            return {Posture.SITS: seated, Posture.STANDS: self._find_level(old, LEVEL_S) & (load >= UP_PART)}
        if self.posture is Posture.SITS:
            first = self._tape.time_s.searchsorted(np.maximum(time_s - RECENT_S, self.since_s))
            first = np.minimum(first, old + np.arange(time_s.size))
            start = int(first[0])
            least = window_min(self._tape.values[0, start:], first - start, old - start)
            return {Posture.RISES: (load - least >= CLIMB_PART) | (load >= SEATED_PART)}
        if self.posture is Posture.RISES:
            return self._find_up(time_s, load, old, seated)
        if self.posture is Posture.STANDS:
            return {Posture.SITS: seated, Posture.SITS_DOWN: self._find_down(time_s, load)}
        stands = self._find_level(old, AGAIN_S) & (load >= UP_PART)
        return {Posture.SITS: seated, Posture.STANDS: stands}

    def _find_up(self, time_s: Floats, load: Floats, old: int, seated: Bools) -> dict[Posture, Bools]:
        left = np.logical_or.accumulate((load >= SEATED_PART) | (self.off_s is not None))
        back = ~left & ((load <= self.least + BACK_PART) | (time_s - self.since_s >= LEAN_S))
        up = self._find_level(old, LEVEL_S) & left & (load >= UP_PART)
        up &= self._find_slowed(old) | self._find_level(old, LONG_S)
        return {Posture.SITS: back | (seated & left), Posture.STANDS: up}

    def _find_slowed(self, old: int) -> Bools:
        """Return where somebody who comes up has slowed down since the greatest speed, shape (n,)."""
        time_s, load = self._tape.time_s, self._tape.values[0]
        begin = int(time_s.searchsorted(self.since_s))
        steps = 0.5 * np.diff(time_s[begin:], prepend=time_s[begin])
        excess = np.where(load[begin:] >= UP_PART, STANDARD_GRAVITY * (load[begin:] - 1.0), 0.0)
        speed = np.cumsum(steps * (excess + np.concatenate(([0.0], excess[:-1]))))
        slowed: Bools = np.maximum.accumulate(speed) - speed >= STOOD_M_S
        return slowed[old - begin :]

    def _find_seated(self, time_s: Floats, load: Floats) -> Bools:
        """Return where there has been little on the feet for long enough, shape (n,)."""
        under_s = self._under_since(time_s, load)
        seated: Bools = time_s - under_s >= SEATED_S
        return seated

    def _under_since(self, time_s: Floats, load: Floats) -> Floats:
        """Return since when there is as little on the feet as while sitting, (n,); infinity where there is more."""
        under = load < SEATED_PART
        over_at = np.maximum.accumulate(np.where(under, -1, np.arange(load.size)))
        first = np.minimum(over_at + 1, load.size - 1)
        before_s = float(time_s[0]) if self.under_s is None else self.under_s
        since_s = np.where(over_at < 0, before_s, time_s[first])
        return np.where(under, since_s, np.inf)

    def _find_level(self, old: int, for_s: float) -> Bools:
        """Return where the load has stayed within little for so long, within the posture, shape (n,)."""
        time_s, load = self._tape.time_s, self._tape.values[0]
        first = time_s.searchsorted(time_s[old:] - for_s)
        start = int(first[0])
        low = window_min(load[start:], first - start, old - start)
        high = -window_min(-load[start:], first - start, old - start)
        level: Bools = (high - low <= LEVEL_PART) & (time_s[old:] - for_s >= max(self.since_s, float(time_s[0])))
        return level

    def _find_down(self, time_s: Floats, load: Floats) -> Bools:
        """Return where somebody who stands begins to go down, shape (n,)."""
        assert self._onset is not None
        onset = self._onset.push(time_s, STANDARD_GRAVITY * (1.0 - load))
        down: Bools = np.zeros(time_s.size, dtype=np.bool_)
        if onset is not None:
            down[onset.place] = True
        return down | (load < SEATED_PART)

    def _keep(self, time_s: Floats, load: Floats) -> None:
        under_s = float(self._under_since(time_s, load)[-1])
        self.under_s = under_s if np.isfinite(under_s) else None
        if self.posture is Posture.SITS:
            recent = self._tape.values[0, self._tape.time_s >= max(float(time_s[-1]) - RECENT_S, self.since_s)]
            self.least = float(recent.min())
        left = np.flatnonzero(load >= SEATED_PART)
        if self.posture is Posture.RISES and self.off_s is None and left.size:
            self.off_s = float(time_s[left[0]])

    def _enter(self, what: Posture, now_s: float) -> None:
        if what is Posture.RISES:
            self.off_s = now_s if self._tape.values[0, -1] >= SEATED_PART else None
        if what is Posture.STANDS:
            self._onset = OnsetFinder(now_s - LEVEL_S)
            seen = self._tape.time_s >= now_s - LEVEL_S
            self._onset.push(self._tape.time_s[seen], STANDARD_GRAVITY * (1.0 - self._tape.values[0, seen]))
        self.posture, self.since_s = what, now_s
