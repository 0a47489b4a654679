"""Who stands on the plates, with what body weight, and how much of it is on them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.block import LEFT, MISSING_FROM, RIGHT, ROUNDING, Block
from weightshare.pipeline.rolling import Integers, Window

PRESENT_N = 50.0
PRESENT_PART = 0.2
TWO_LEG_PART = 0.8
FOOT_PART = 0.03
SUPPORTED_BELOW_PERCENT = 95.0

_WEIGH_S = 3.0
_WEIGH_SD_PART = 0.01
_PLATES_S = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """What the load says, sample by sample; shape (n,) each.

    `weight_from` is the first sample with body weight known, n where it is not.
    """

    total_N: Floats
    present: Bools
    """Someone stands."""
    away: Bools
    """There is a reading, and nobody stands."""
    two_legged: Bools
    """Both feet carry, and enough of the body is on the plates (true while body weight is not known)."""
    on_plates_percent: Floats
    weight_from: int


class Weight:
    """Finds body weight by the first three still seconds, unless it is given; `body_weight_N` is None until then."""

    def __init__(self, body_weight_N: float | None, added_weight_N: float, interval_s: float) -> None:
        self._given_N = body_weight_N
        self._added_N = added_weight_N
        self._width = max(round(_WEIGH_S / interval_s) + 1, 2)
        self._interval_s = interval_s
        self._plates = Window(max(round(_PLATES_S / interval_s), 1), 2)
        self.reset()

    def reset(self) -> None:
        """Forget the person."""
        self.body_weight_N = self._given_N
        self._recent = np.zeros(0)
        self._plates.reset()
        self._last_s: float | None = None

    def push(self, block: Block) -> Standing:
        """Return the block's standing."""
        left, right = block.values[LEFT], block.values[RIGHT]
        total = left + right
        start = self._weigh(total) if self.body_weight_N is None else 0
        present = total >= PRESENT_N * ROUNDING
        two_legged = present.copy()
        weight_N = self.body_weight_N
        if weight_N is not None:
            known = slice(start, None)
            limit_N = weight_N * ROUNDING
            present[known] &= total[known] >= PRESENT_PART * limit_N
            least = np.minimum(left[known], right[known])
            two_legged[known] = (total[known] >= TWO_LEG_PART * limit_N) & (least >= FOOT_PART * limit_N)
        plates = self._on_plates(block.time_s, total, present)
        plates[:start] = np.nan
        return Standing(total, present, ~present & ~np.isnan(total), two_legged & present, plates, start)

    def _on_plates(self, time_s: Floats, total: Floats, present: Bools) -> Floats:
        """Mean load over the last second, in percent of body weight and added weight; NaN where it cannot be had."""
        lost = self._lost(time_s)
        load, count = self._plates.push(np.stack((np.where(present, total, 0.0), present)), lost)
        percent = np.full(total.size, np.nan)
        if self.body_weight_N is not None:
            np.divide(load, count, out=percent, where=present)
            percent *= 100.0 / (self.body_weight_N + self._added_N)
        return percent

    def _lost(self, time_s: Floats) -> Integers:
        """Return how many rows a gap has swallowed before each row."""
        steps = np.diff(time_s, prepend=time_s[0] if self._last_s is None else self._last_s) / self._interval_s
        self._last_s = float(time_s[-1])
        return np.where(steps > MISSING_FROM, np.rint(steps) - 1, 0).astype(np.int64)

    def _weigh(self, total: Floats) -> int:
        """Look for the first three seconds of still standing; return the sample from which body weight is known."""
        recent = np.concatenate((self._recent, total))
        fresh = max(recent.size - total.size - self._width + 1, 0)
        self._recent = recent[-(self._width - 1) :].copy()
        for first in range(fresh, recent.size - self._width + 1, self._width):
            found = self._still(recent[first : first + 2 * self._width - 1])
            if found is not None:
                stop = first + found + self._width
                # the added weight was carried while weighing; body weight is told apart from it
                self.body_weight_N = float(np.median(recent[stop - self._width : stop])) - self._added_N
                return stop - 1 - (recent.size - total.size)
        return total.size

    def _still(self, total: Floats) -> int | None:
        """Return where in `total` the first still window of full width begins."""
        for start in self._candidates(total):
            window = total[start : start + self._width]
            if window.std() < _WEIGH_SD_PART * window.mean():
                return int(start)
        return None

    def _candidates(self, total: Floats) -> Integers:
        """Windows that stay loaded and look still by running sums, whose rounding a margin makes harmless."""
        if total.size < self._width:
            return np.zeros(0, dtype=np.int64)
        loaded = total > PRESENT_N
        level = float(total[np.argmax(loaded)])
        around = np.where(loaded, total - level, 0.0)
        light = _windowed(~loaded, self._width)
        mean = _windowed(around, self._width) / self._width
        spread = _windowed(around * around, self._width) / self._width - mean * mean
        limit = _WEIGH_SD_PART * (level + mean) * 1.01
        return np.flatnonzero((light == 0) & (spread < limit * limit + 1e-6))


def _windowed(x: Floats | Bools, width: int) -> Floats:
    """Return the sum of every window of `width` samples, shape (n - width + 1,)."""
    sums = np.concatenate(([0.0], np.cumsum(x, dtype=np.float64)))
    return sums[width:] - sums[:-width]
