"""One load on each plate in turn: what both sides read of it, where nobody can or may shift the load."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.metrology.balance import LIMIT_PERCENT, Balance, Blocks, Verdict, cut_blocks, probability_within
from weightshare.metrology.estimate import Estimate
from weightshare.model import STANDARD_GRAVITY, Floats, Side

ALONE_N, ALONE_PART = 60.0, 0.06
"""A plate bears a load alone from so much on, while the other bears no more than this part of it."""
LEAST_BLOCKS = 5
"""So many still blocks make a reading."""
STILL_PART = 0.004
FLOOR_PART = 0.0005
"""What putting the load on again, and where on the plate it lies, leave of a reading (the standard build's)."""
LEAKS_N, LEAKS_PART = 5.0, 0.006
"""An empty plate that reads more than this, and than this part of the other's load, is pushed by something."""


@dataclass(frozen=True, slots=True)
class Turns:
    """What each plate read of the load while it bore it alone, N (None: it never did, for long enough), and what the
    other read meanwhile."""

    left: Estimate | None
    right: Estimate | None
    left_empty_N: float = math.nan
    """What the left plate read while the right one bore the load."""
    right_empty_N: float = math.nan

    @property
    def leaks(self) -> bool:
        """Whether an empty plate was pushed, or lifted, while the other bore the load: they touch."""
        pairs = ((self.left, self.right_empty_N), (self.right, self.left_empty_N))
        return any(load and abs(empty) > max(LEAKS_N, LEAKS_PART * load.value) for load, empty in pairs)


def find_turns(time_s: Floats, left_N: Floats, right_N: Floats) -> Turns:
    """Return what each plate reads of a load that lies on it alone, from forces (N, (n,)) at rising times (s)."""
    blocks = cut_blocks(time_s, left_N, right_N)
    left, right_empty_N = _read_alone(blocks, blocks.share)
    right, left_empty_N = _read_alone(blocks, 1.0 - blocks.share)
    return Turns(left, right, left_empty_N, right_empty_N)


def _read_alone(blocks: Blocks, part: Floats) -> tuple[Estimate | None, float]:
    """Return the load where `part` (n,) of the total is nearly all of it, and what the other plate reads."""
    alone = (blocks.total_N >= ALONE_N) & (part >= 1.0 - ALONE_PART) & (blocks.unrest <= 3.0 * STILL_PART)
    if alone.sum() < LEAST_BLOCKS:
        return None, math.nan
    load_N = (blocks.total_N * part)[alone]
    still = np.abs(load_N - np.median(load_N)) <= STILL_PART * np.median(load_N)
    if still.sum() < LEAST_BLOCKS:
        return None, math.nan
    value = float(load_N[still].mean())
    u = math.hypot(float(load_N[still].std(ddof=1)) / math.sqrt(still.sum()), FLOOR_PART * value)
    return Estimate(value, u, float(still.sum() - 1)), float(np.median((blocks.total_N * (1.0 - part))[alone]))


def compare_turns(turns: Turns, limit_percent: float = LIMIT_PERCENT) -> Balance:
    """Return how much more the left side reads than the right, of the load that lay on each in turn."""
    left, right = turns.left, turns.right
    if left is None or right is None:
        missing = " and on ".join(f"the {side} plate" for side, one in zip(Side, (left, right), strict=True) if not one)
        return Balance(Verdict.UNTOLD, reason=f"the load never lay still, and alone, on {missing}")
    part = math.hypot(left.u / left.value, right.u / right.value)
    mismatch = Estimate(100.0 * (left.value / right.value - 1.0), 100.0 * part, min(left.dof, right.dof))
    inside = probability_within(mismatch, limit_percent)
    verdict = Verdict.EVEN if inside >= 0.95 else Verdict.UNEVEN if inside <= 0.05 else Verdict.UNDECIDED
    return Balance(verdict, mismatch, 0.0, 100.0)


def gains_of(
    turns: Turns, mass_kg: float, u_kg: float = 0.0, gravity_m_s2: float = STANDARD_GRAVITY
) -> dict[Side, Estimate]:
    """Return by how much each side reads too high (percent) of a load whose mass (kg) is known with `u_kg`."""
    gains = {}
    for side, load in ((Side.LEFT, turns.left), (Side.RIGHT, turns.right)):
        if load is not None:
            ratio = load.value / (mass_kg * gravity_m_s2)
            u = ratio * math.hypot(load.u / load.value, u_kg / mass_kg)
            gains[side] = Estimate(100.0 * (ratio - 1.0), 100.0 * u, load.dof)
    return gains


def is_off(gain: Estimate, limit_percent: float = LIMIT_PERCENT) -> bool:
    """Tell whether a side reads a known load wrongly: by more than the limit, and than its own uncertainty.

    The limit leaves room for a weight that was told by a scale for persons (common practice, no source).
    """
    return abs(gain.value) > max(limit_percent, gain.expanded())
