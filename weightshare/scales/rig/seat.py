"""Squats, and standing up from a seat: the moves of one repetition, by knees and hips, with the heels down."""

from __future__ import annotations

import numpy as np

from weightshare.exercise import Exercise
from weightshare.scales.rig.plan import FRONTS, STANDING_FRONT, Lane, Move, Task
from weightshare.scales.rig.profile import Profile
from weightshare.scales.rig.raising import LIMITS_PERCENT, Doing
from weightshare.scales.rig.stroke import Cycle, Knot, length_s, make_stroke, moves_of

SQUAT_PART, SEAT_PART = 0.13, 0.16
"""How far the centre of mass goes down, in parts of the stature."""
SQUAT_FRONT, SEATED_FRONT, RISING_FRONT = 0.52, 0.40, 0.58
LEAN_S, THRUST_S = 0.4, 0.3
"""Seated, the trunk swings forward first; then the seat is left within the second time."""
LEANING_PART = 0.12
"""What the swing adds to the load on the feet, in parts of body weight."""
SIT_DOWN_S, SITTING_DOWN = 1.6, "sitting down"
SLOWED = 0.3
"""The whole body's weight evens out what would stop a heel."""


class Squatter:
    """Squats: down first, a stop at the bottom, up, a stop standing."""

    def __init__(self, profile: Profile, task: Task, rng: np.random.Generator) -> None:
        self.profile, self.manner, self.task, self.rng = profile, profile.manner, task, rng
        self.depth_mm = 1000.0 * (SQUAT_PART if task.exercise is Exercise.SQUAT else SEAT_PART) * profile.stature_m
        self.free = 1.0 - profile.rail_fraction

    def prepare(self, begin_s: float) -> Doing:
        """Return how a set begins: the share goes to where it is asked."""
        return Doing(self._share(begin_s, 0.9, 0.0), begin_s, begin_s + 1.2)

    def finish(self, begin_s: float) -> Doing:
        """Return how a set ends: the load is even again."""
        moves = [] if self.profile.steered else [Move(Lane.SHARE, begin_s + 0.3, 0.9, 50.0)]
        return Doing(moves, begin_s, begin_s + 1.2)

    def repeat(self, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> Doing:
        """Return one squat; `cycle`'s rise is the way down."""
        depth_mm = self._draw_depth(tired)
        down, up = self._stroke(cycle.rise_s, up=False), self._stroke(cycle.lowering_s, up=True)
        low_s = start_s + length_s(down)
        rise_s = low_s + cycle.top_s * self._scatter()
        end_s = rise_s + length_s(up)
        moves = [
            *moves_of(Lane.BODY, down, start_s, (0.0, -depth_mm)),
            *moves_of(Lane.BODY, up, rise_s, (-depth_mm, 0.0)),
            *(Move(lane, start_s, low_s - start_s, SQUAT_FRONT) for lane in FRONTS),
            *(Move(lane, rise_s, end_s - rise_s, STANDING_FRONT) for lane in FRONTS),
            *self._share(start_s, 0.4, tired),
            *self._share(low_s, 0.4, tired + 0.5),
            *self._share(rise_s + 0.2, 0.4, tired),
        ]
        return Doing(_in_order(moves), start_s, end_s)

    def _stroke(self, duration_s: float, *, up: bool) -> list[Knot]:
        return make_stroke(self.manner, duration_s * self._scatter(), self.rng, up=up, slowed=SLOWED)

    def _draw_depth(self, tired: float) -> float:
        part = 1.0 - self.manner.tired_height * tired + 0.03 * float(np.clip(self.rng.normal(), -2.0, 2.0))
        return self.depth_mm * part

    def _scatter(self) -> float:
        return float(np.exp(np.clip(self.rng.normal(), -2.5, 2.5) * self.manner.tempo_spread))

    def _share(self, start_s: float, duration_s: float, tired: float) -> list[Move]:
        if self.profile.steered:
            return []
        target, manner = self.task.target_percent, self.manner
        away = np.sign(target - 50.0) * (manner.short_points + manner.tired_points * tired) + manner.rise_points * tired
        aim = target - away + self.rng.normal(0.0, self.profile.aim_points)
        return [Move(Lane.SHARE, start_s, duration_s, float(np.clip(aim, *LIMITS_PERCENT)))]


class Sitter(Squatter):
    """Stands up from a seat and sits down again. What the seat carries is not on the plates."""

    seated = False

    def prepare(self, begin_s: float) -> Doing:
        """Return how a set begins: seated; whoever stands sits down first."""
        moves, ready_s, what = self._share(begin_s, 0.9, 0.0), begin_s + 1.2, ""
        if not self.seated:
            moves += self._sit(ready_s, SIT_DOWN_S, self.depth_mm)
            ready_s += SIT_DOWN_S + 1.5
            what = SITTING_DOWN
        self.seated = True
        return Doing(_in_order(moves), begin_s, ready_s, what=what)

    def repeat(self, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> Doing:
        """Return swinging forward, standing up, standing and sitting down."""
        up = self._stroke(cycle.rise_s, up=True)
        rise_s = start_s + LEAN_S
        top_s = rise_s + length_s(up)
        low_s = top_s + cycle.top_s * self._scatter()
        lowering_s = cycle.lowering_s * self._scatter()
        moves = [
            Move(Lane.PRESENCE, start_s, LEAN_S, self.manner.seat_part + LEANING_PART),
            Move(Lane.PRESENCE, rise_s, THRUST_S, self.free),
            *moves_of(Lane.BODY, up, rise_s, (-self.depth_mm, 0.0)),
            *(Move(lane, start_s, LEAN_S + THRUST_S, RISING_FRONT) for lane in FRONTS),
            *(Move(lane, rise_s + THRUST_S, length_s(up) - THRUST_S / 2, STANDING_FRONT) for lane in FRONTS),
            *self._share(rise_s, 0.4, tired + 0.5),
            *self._share(top_s, 0.4, tired),
            *self._sit(low_s, lowering_s, self.depth_mm),
        ]
        return Doing(_in_order(moves), start_s, low_s + lowering_s + 0.2)

    def _sit(self, start_s: float, duration_s: float, depth_mm: float) -> list[Move]:
        """The body comes down softly, and the seat takes its part over the last of the way."""
        down = make_stroke(self.manner, duration_s, self.rng, up=False, slowed=SLOWED)
        return [
            *moves_of(Lane.BODY, down, start_s, (0.0, -depth_mm)),
            *(Move(lane, start_s, 0.6 * duration_s, STANDING_FRONT - 0.06) for lane in FRONTS),
            Move(Lane.PRESENCE, start_s + 0.85 * duration_s, 0.15 * duration_s + 0.2, self.manner.seat_part),
            *(Move(lane, start_s + 0.85 * duration_s, 0.4, SEATED_FRONT) for lane in FRONTS),
        ]


def _in_order(moves: list[Move]) -> list[Move]:
    return sorted(moves, key=lambda move: move.start_s)
