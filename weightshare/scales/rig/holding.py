"""Holds with the heels up: up evenly, the load to where it is asked, held, back, down."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.scales.rig.plan import FRONTS, HEELS, Lane, Move, rest_percent
from weightshare.scales.rig.raising import LANDING_S, Doing, Raiser
from weightshare.scales.rig.stroke import Cycle, length_s, make_stroke, moves_of

LONGER_S = 1.5
"""A hold goes on so long after its goal: nobody stops at the very instant."""
REST_S = (2.0, 3.5)
SAG_PART = 0.05
"""The part of the height that is lost over a hold, when fresh; three times as much at a set's end."""


class Holder(Raiser):
    """Holds the share with both heels up."""

    def repeat(self, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> Doing:
        """Return one hold, from the heels' leaving the plates to their coming back."""
        up = make_stroke(self.manner, cycle.rise_s, self.rng, up=True)
        down = make_stroke(self.manner, cycle.lowering_s, self.rng, up=False)
        top_s = start_s + length_s(up)
        there_s = top_s + 0.2 + self.rng.uniform(*self.profile.move_s)
        back_s = there_s + self.task.hold_goal_s + LONGER_S
        low_s = back_s + 0.9
        end_s = low_s + length_s(down)
        moves = [*self._balance(start_s, top_s, low_s, end_s), *self._shares(top_s + 0.2, there_s, back_s, tired)]
        height_mm = self.draw_height(0.5 * tired)
        for place, lane in enumerate(HEELS):
            size = height_mm * (self.manner.good_part if place else 1.0)
            sagged = size * (1.0 - SAG_PART * (1.0 + 2.0 * min(tired, 1.0)))
            moves += moves_of(lane, up, start_s, (self.base_mm, self.base_mm + size))
            moves.append(Move(lane, top_s + 0.3, low_s - top_s - 0.3, self.base_mm + sagged))
            moves += moves_of(lane, down, low_s, (self.base_mm + sagged, self.base_mm))
        ready_s = end_s + self.rng.uniform(*REST_S)
        return Doing(sorted(moves, key=lambda move: move.start_s), start_s, end_s, ready_s)

    def _balance(self, start_s: float, top_s: float, low_s: float, end_s: float) -> Iterator[Move]:
        lead_s = self.rng.uniform(*self.manner.lead_s)
        for lane in FRONTS:
            front = self.manner.front_part + self.rng.uniform(-0.02, 0.02)
            yield Move(lane, start_s - lead_s, lead_s + min(0.12 * (top_s - start_s), 0.2), front)
            yield Move(lane, end_s - 0.15, LANDING_S, self.low_front)
        yield Move(Lane.WOBBLE, start_s + 0.25 * (top_s - start_s), 0.5 * (top_s - start_s), 1.0)
        yield Move(Lane.WOBBLE, low_s + 0.45 * (end_s - low_s), 0.4 * (end_s - low_s), 0.0)

    def _shares(self, from_s: float, there_s: float, back_s: float, tired: float) -> Iterator[Move]:
        low, high = self.profile.tremor_points
        yield Move(Lane.TREMOR, from_s, there_s - from_s, low)
        yield Move(Lane.TREMOR, there_s, back_s - there_s, high)
        yield Move(Lane.TREMOR, back_s, 0.5, 0.0)
        if self.profile.steered:
            return
        yield Move(Lane.SHARE, from_s, there_s - from_s, self._aim(tired, 1.0))
        now_s = there_s + self.rng.uniform(0.8, 2.2)
        while now_s + 0.5 < back_s:
            yield Move(Lane.SHARE, now_s, 0.5, self._aim(tired, 0.6))
            now_s += 0.5 + self.rng.uniform(0.8, 2.2)
        yield Move(Lane.SHARE, back_s, 0.8, rest_percent(self.task))
