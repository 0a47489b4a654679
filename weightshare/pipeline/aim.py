"""Where the middle of the band is: it follows the phase where the exercise asks for another share on the way down."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from weightshare.exercise import Tempo
from weightshare.model import Floats
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, UNKNOWN, PhaseNumbers
from weightshare.task import Settings

EVEN_PERCENT = 50.0
BEND_S = (0.3, 1.0)
"""The bend to the target takes the time at the top, but no less and no more than this, s."""
BACK_S = 0.5
"""How long the way back to even takes at the bottom, s."""


def bend_s(tempo: Tempo | None) -> float:
    """Return how long the bend from even to the target takes at the top, s."""
    shortest, longest = BEND_S
    return longest if tempo is None else min(max(tempo.top_s, shortest), longest)


def aim_in(settings: Settings, phase: int, since_s: Floats, from_percent: float) -> Floats:
    """Return the aim (percent) at times `since_s` (s, shape (n,)) after the phase began.

    `from_percent` is the aim at the moment before. Without a target NaN; where the exercise does not turn, the target.
    """
    target = settings.target_percent
    if target is None:
        return np.full(since_s.shape, np.nan)
    if settings.exercise is None or not settings.exercise.turns or phase == LOWERING:
        return np.full(since_s.shape, target)
    if phase == TOP:
        return from_percent + (target - from_percent) * smooth(since_s / bend_s(settings.tempo))
    if phase == BOTTOM:
        return from_percent + (EVEN_PERCENT - from_percent) * smooth(since_s / BACK_S)
    return np.full(since_s.shape, EVEN_PERCENT)


def smooth(part: Floats) -> Floats:
    """Return the smooth step 3 x^2 - 2 x^3 of `part` (n,), held at 0 below 0 and at 1 above 1."""
    x = np.clip(part, 0.0, 1.0)
    step: Floats = x * x * (3.0 - 2.0 * x)
    return step


class Aim:
    """Follows the samples' phases with the middle of the band. A phase that cannot be told leaves all as it is."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self.phase, self.since_s = BOTTOM, -np.inf
        """The newest sample's phase (as in PHASES), and the time of its first sample."""
        self.percent = float(aim_in(settings, RISE, np.zeros(1), EVEN_PERCENT)[0])
        """The newest sample's aim; NaN without a target."""
        self._from_percent = self.percent

    def push(self, time_s: Floats, phases: PhaseNumbers) -> Floats:
        """Return the aim (percent) at each sample, shape (n,), n at least 1."""
        aims = np.empty(time_s.shape)
        known = np.flatnonzero(phases != UNKNOWN)
        told = phases[known]
        turns = known[np.flatnonzero(np.diff(told, prepend=self.phase))]
        edges = [0, *turns.tolist(), time_s.size]
        for begin, end in pairwise(edges):
            if begin < end:
                if phases[begin] not in (UNKNOWN, self.phase):
                    self.phase, self.since_s, self._from_percent = (
                        int(phases[begin]),
                        float(time_s[begin]),
                        self.percent,
                    )
                aims[begin:end] = aim_in(
                    self._settings, self.phase, time_s[begin:end] - self.since_s, self._from_percent
                )
                self.percent = float(aims[end - 1])
        return aims
