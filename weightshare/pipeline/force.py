"""Heel raises by the forces alone: the load stands on the forefoot, and the centre of mass goes up and comes down."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats, Side
from weightshare.pipeline.follow import Follower
from weightshare.pipeline.footing import AROUND_S, HALF_PART, ForceRows, Low, Raised
from weightshare.pipeline.forefoot import StayFinder
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.pulse import Pace
from weightshare.pipeline.verdict import ON_TOES, Verdicts

LEAST_PART = 0.05
"""Of a foot that carries less of the body weight the front part is not asked."""
BACK_PART = 0.8
"""The load has come back a little from the forefoot under this part of its way there."""
CLEAR_PART, CLEAR_WAY = 0.25, 0.6
"""The heels were down, although the load stayed on the forefoot, where the centre of mass came back under this part of
its way, and that way was at least this part of what is expected."""
SEEN_S = 0.5


class ForceCounter(Follower):
    """Finds heel raises in the front share of the load and the total force; a Counter.

    The heels are up somewhere in a stay of the load on the forefoot, and the centre of mass rests at one level before
    and after it. Certifies no height: the centre of mass goes up by some three quarters of the heel's way.
    """

    def __init__(self, ground: Ground) -> None:
        super().__init__(ground, Verdicts(ground), Pace())

    def _find_signal(self, motion: Motion) -> Floats:
        """Return the front part of the load (0 to 1), (n,); NaN where nobody stands, or the weight is not known."""
        assert motion.parts_N is not None, "whoever has no parts has another counter"
        parts = motion.parts_N
        if self._single:
            parts = parts[:2] if self._working is Side.LEFT else parts[2:]
        whole = parts.sum(axis=0)
        told = motion.present & (whole > LEAST_PART * motion.body_weight_N)
        front = np.full(whole.size, np.nan)
        np.divide(parts[::2].sum(axis=0), whole, out=front, where=told)
        return front

    def _is_back(self, raised: Raised, low: Low, now_s: float) -> bool:
        """Heels that touch the ground let the load come back a little; without that, the way has to be clear."""
        front = self._see_front(low.turn_s - AROUND_S, now_s)
        if low.part >= HALF_PART or (front.size and front.min() < self._front_at(raised, BACK_PART)):
            return low.part < HALF_PART
        expected_mm = self._verdicts.expected_mm or 2.0 * self._verdicts.least_mm
        return low.part < CLEAR_PART and 1000.0 * low.high_m >= CLEAR_WAY * expected_mm

    def _may_stay(self, raised: Raised, now_s: float) -> bool:
        """Who has the load where it was with the heels up has not come down, nor who has it where they must be up."""
        front, most = self._see_front(now_s - SEEN_S, now_s), ON_TOES
        if self._tracker.rose:
            most = self._front_at(raised, BACK_PART)
        return front.size > 0 and float(np.median(front)) < most

    def _may_rest(self, raised: Raised, until_s: float) -> bool:
        """Who has the load where it is with the heels up has left the rest, even if the speed tells so later."""
        front = self._see_front(raised.first_s, until_s)
        return front.size > 0 and float(np.median(front)) < self._front_at(raised, BACK_PART)

    def _see_front(self, from_s: float, to_s: float) -> Floats:
        front = self._tape.between(from_s, to_s)[1][ForceRows.SIGNAL]
        return np.asarray(front[~np.isnan(front)], dtype=np.float64)

    @staticmethod
    def _front_at(raised: Raised, part: float) -> float:
        """Return the front share at a part of its way to the forefoot."""
        return raised.stay.level + part * (raised.stay.peak - raised.stay.level)

    def _make_finder(self, from_s: float) -> StayFinder:
        return StayFinder(from_s)
