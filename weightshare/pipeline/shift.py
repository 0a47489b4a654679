"""How the centre of mass moves up or down as the load is shifted from one leg to the other, learnt from the person.

While the heels are down the centre of mass should stay at its level. What it goes up then in proportion to the share
that the injured side takes is the person's way to shift the load; at the top it would be mistaken for a rise.
"""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.travel import integrate_twice

LEAST_S = 0.5
"""From less time with the heels down nothing is learnt."""
DOUBT_S = 1e-4
"""What has to be seen against an expectation of no movement: 1 mm that is none, over 0.1 m for all of the load, s."""
MOST_M = 0.2
AROUND_S = 0.05
"""How fast the share changes is seen over so long before and after."""


class Shift:
    """Learns how far (m) the centre of mass goes up as the injured side takes all of the load: `rise_m`, 0 at first."""

    def __init__(self) -> None:
        self._along = self._squares = 0.0

    @property
    def rise_m(self) -> float:
        """How far it goes up as the injured side takes all of the load, m."""
        return float(np.clip(self._along / (self._squares + DOUBT_S), -MOST_M, MOST_M))

    def learn(self, time_s: Floats, acceleration: Floats, share: Floats) -> None:
        """Take in a stretch with the heels down: acceleration (m/s^2) and the injured side's share (0 to 1), (n,)."""
        known = ~np.isnan(acceleration) & ~np.isnan(share)
        time_s, acceleration, share = time_s[known], acceleration[known], share[known]
        if time_s.size < 8 or time_s[-1] - time_s[0] < LEAST_S:
            return
        place, share = (_bend(time_s, values) for values in (integrate_twice(time_s, acceleration)[1], share))
        step_s = float(time_s[-1] - time_s[0]) / time_s.size
        self._along += step_s * float((place * share).sum())
        self._squares += step_s * float((share * share).sum())

    def speed_m_s(self, around_s: Floats, around: Floats, at_s: float) -> float:
        """Return the speed (m/s) that the shift makes at an instant; `around` (m,) is the share at times `around_s`."""
        return self.rise_m * _slope(around_s, around, at_s) if around_s.size else 0.0

    def course(self, time_s: Floats, around_s: Floats, around: Floats) -> tuple[Floats, Floats]:
        """Return speed and place (n,) at times (n,) that the shift alone makes, from rest at 0 on.

        `around` (m,) is the share at times `around_s` (m,), which reach beyond both ends where they can.
        """
        begin, end = (_slope(around_s, around, float(at)) for at in (time_s[0], time_s[-1]))
        share = np.interp(time_s, around_s, around)
        place: Floats = self.rise_m * (share - share[0] - begin * (time_s - time_s[0]))
        speed = np.zeros(time_s.size)
        speed[-1] = self.rise_m * (end - begin)
        return speed, place


def _bend(time_s: Floats, values: Floats) -> Floats:
    """Return what is left of `values` (n,) beside a parabola over their times: the weight's error makes one."""
    x = 2.0 * (time_s - time_s[0]) / (time_s[-1] - time_s[0]) - 1.0
    left = values
    bases: list[Floats] = []
    for power in range(3):
        base = x**power
        for other in bases:
            base = base - other * ((base * other).sum() / (other * other).sum())
        bases.append(base)
        left = left - base * ((left * base).sum() / (base * base).sum())
    return left


def _slope(time_s: Floats, values: Floats, at_s: float) -> float:
    """Return how fast `values` (n,) change about an instant, per s."""
    ends = np.clip((at_s - AROUND_S, at_s + AROUND_S), time_s[0], time_s[-1])
    low, high = np.interp(ends, time_s, values)
    return float((high - low) / (ends[1] - ends[0])) if ends[1] > ends[0] else 0.0
