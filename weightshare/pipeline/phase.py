"""The phase of a repetition while it is under way: by what came up to the sample, and so provisional."""

from __future__ import annotations

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.motion import LOWERING, RISE, TOP, PhaseNumbers
from weightshare.pipeline.tape import Tape

TOP_PART = 0.9
"""The top is reached at this part of the height that is expected ..."""
STALL_PART = 0.7
"""... or where the heel comes to a stand above this part of it."""
STALL_S = 0.15
STALL_MM_PER_S = 25.0
STALL_FROM_MM = 30.0
"""Where no height is expected yet."""
FALL_PART = 0.85
"""The lowering has begun under this part of the lift's peak."""
AGAIN_MM = 15.0
"""Who comes up so far again in the lowering is on the rise again."""


class PhaseTracker:
    """Parts a lift into rise, top and lowering, sample by sample."""

    def __init__(self) -> None:
        self._recent = Tape(1)
        self.reset()

    def reset(self) -> None:
        """Forget the lift under way."""
        self._phase = RISE
        self._base_mm = self._extreme_mm = 0.0
        self._expected_mm: float | None = None

    def begin(self, base_mm: float, expected_mm: float | None) -> None:
        """A lift begins at `base_mm`; `expected_mm` is how high it should go, None where nothing tells."""
        self._phase, self._base_mm, self._expected_mm = RISE, base_mm, expected_mm
        self._extreme_mm = -np.inf

    def push(self, time_s: Floats, height_mm: Floats) -> PhaseNumbers:
        """Return the phase of each sample of the lift under way, shape (n,), n at least 1. NaN changes nothing."""
        self.watch(time_s, height_mm)
        slow = self._find_stalls(time_s, height_mm)
        phases = np.empty(time_s.size, dtype=np.int8)
        start = 0
        while start < time_s.size:
            turn, phase = self._turn(height_mm[start:], slow[start:])
            phases[start : start + turn] = self._phase
            start += turn
            if phase is not None:
                self._phase, self._extreme_mm = phase, float(height_mm[start])
                phases[start] = phase
                start += 1
        return phases

    def watch(self, time_s: Floats, height_mm: Floats) -> None:
        """Keep samples to tell the heel's speed from, before a lift as well."""
        known = ~np.isnan(height_mm)
        self._recent.push(time_s[known], height_mm[None, known])
        if self._recent.time_s.size:
            self._recent.let_go(float(time_s[0]) - 4.0 * STALL_S)

    def _find_stalls(self, time_s: Floats, height_mm: Floats) -> Bools:
        """Return where the heel has moved up by next to nothing in the last moments."""
        times, heights = self._recent.time_s, self._recent.values[0]
        if not times.size:
            return np.zeros(time_s.size, dtype=np.bool_)
        place = np.maximum(times.searchsorted(time_s - STALL_S, side="right") - 1, 0)
        span_s = time_s - times[place]
        slow: Bools = (height_mm - heights[place] < STALL_MM_PER_S * span_s) & (span_s >= STALL_S)
        return slow

    def _turn(self, height_mm: Floats, slow: Bools) -> tuple[int, int | None]:
        """Return how many samples the phase still lasts, and which comes then; None where it lasts to the end."""
        known = ~np.isnan(height_mm)
        if self._phase == LOWERING:
            low = np.minimum.accumulate(np.concatenate(([self._extreme_mm], np.where(known, height_mm, np.inf))))[1:]
            turns = {RISE: known & (height_mm - low >= AGAIN_MM)}
            extreme = low
        else:
            high = np.maximum.accumulate(np.concatenate(([self._extreme_mm], np.where(known, height_mm, -np.inf))))[1:]
            turns = {LOWERING: known & (height_mm - self._base_mm < FALL_PART * (high - self._base_mm))}
            if self._phase == RISE:
                turns[TOP] = known & self._is_up(height_mm, slow)
            extreme = high
        places = {phase: int(np.argmax(found)) for phase, found in turns.items() if found.any()}
        if not places:
            self._extreme_mm = float(extreme[-1])
            return height_mm.size, None
        phase = min(places, key=lambda key: (places[key], key))
        return places[phase], phase

    def _is_up(self, height_mm: Floats, slow: Bools) -> Bools:
        rise_mm = height_mm - self._base_mm
        if self._expected_mm is None:
            return slow & (rise_mm >= STALL_FROM_MM)
        return (rise_mm >= TOP_PART * self._expected_mm) | (slow & (rise_mm >= STALL_PART * self._expected_mm))
