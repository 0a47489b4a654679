"""Shifting the load slowly from side to side, as the check of the two sides asks everybody to."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from weightshare.model import Side
from weightshare.scales.rig.plan import Lane, Move, Phase

STAY_S = 1.5
"""How long somebody stays at each end of a shift (invented, as all of the rig's manners are)."""
POINTS_PER_S = 4.0
"""How fast the load goes, on the whole."""
MISS_POINTS = 1.5
"""Standard deviation of how far from an end somebody stops short of it, or goes past it."""


@dataclass(frozen=True, slots=True)
class Shift:
    """How far to shift: the left side's share at both ends, percent. The left is gone to first, `passes` in all.

    `exact`: all of it, as who steps from one plate to the other; else as people do, who miss by a little. `stay_s` is
    how long each end is stayed at.
    """

    low_percent: float = 35.0
    high_percent: float = 65.0
    passes: int = 3
    stay_s: float = STAY_S
    exact: bool = False


def plan_shift(
    wish: Shift, injured: Side, start_s: float, back_percent: float, rng: np.random.Generator
) -> tuple[list[Move], float]:
    """Return the moves of `wish` from `start_s` (s) on, and when they are over; `back_percent` is returned to.

    Shares of moves are the injured side's, as is `back_percent`.
    """
    moves, now_s, from_percent = [], start_s + rng.uniform(0.4, 0.9), back_percent
    for k in range(wish.passes):
        left = wish.low_percent if k % 2 else wish.high_percent
        left += 0.0 if wish.exact else float(np.clip(rng.normal(), -2.0, 2.0)) * MISS_POINTS
        to_percent = left if injured is Side.LEFT else 100.0 - left
        duration_s = max(abs(to_percent - from_percent) / POINTS_PER_S, 2.0) * rng.uniform(0.85, 1.25)
        moves.append(Move(Lane.SHARE, now_s, duration_s, to_percent))
        now_s, from_percent = now_s + duration_s + wish.stay_s * rng.uniform(0.8, 1.3), to_percent
    moves.append(Move(Lane.SHARE, now_s, 4.0, back_percent))
    return moves, now_s + 4.0


def put_off(phase: Phase, late_s: float) -> Phase:
    """Return `phase` as it is where everything comes `late_s` later."""
    if not late_s:
        return phase
    moves = tuple(replace(move, start_s=move.start_s + late_s) for move in phase.moves)
    deed = phase.deed
    if deed is not None:
        deed = replace(deed, from_s=deed.from_s + late_s, to_s=deed.to_s + late_s)
    return Phase(phase.end_s + late_s, moves, phase.event, phase.event_s + late_s, deed)
