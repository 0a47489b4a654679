"""Who stands on the plates, with what body weight, and how much of it is on them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.block import FILLED, LEFT, MISSING_FROM, RIGHT, ROUNDING, Block, Integers, steps_s
from weightshare.pipeline.rolling import RollingMean

PRESENT_N = 50.0
PRESENT_PART = 0.2
TWO_LEG_PART = 0.8
FOOT_PART = 0.03
SUPPORTED_BELOW_PERCENT = 95.0

_WEIGH_S = 3.0
_WEIGH_SD_PART = 0.01
_WEIGH_READ_PART = 0.9
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
        self._plates = RollingMean(max(round(_PLATES_S / interval_s), 1))
        self.reset()

    def reset(self) -> None:
        """Forget the person."""
        self.body_weight_N = self._given_N
        self._recent = np.zeros((2, 0))
        self._plates.reset()
        self._last_s: float | None = None
        self._filled = False

    def push(self, block: Block) -> Standing:
        """Return the block's standing."""
        left, right = block.values[LEFT], block.values[RIGHT]
        total = left + right
        lost = self._lost(block)
        start = self._weigh(total, lost) if self.body_weight_N is None else 0
        present = total >= PRESENT_N * ROUNDING
        two_legged = present.copy()
        weight_N = self.body_weight_N
        if weight_N is not None:
            known = slice(start, None)
            limit_N = weight_N * ROUNDING
            present[known] &= total[known] >= PRESENT_PART * limit_N
            least = np.minimum(left[known], right[known])
            two_legged[known] = (total[known] >= TWO_LEG_PART * limit_N) & (least >= FOOT_PART * limit_N)
        plates = self._on_plates(total, present, lost)
        plates[:start] = np.nan
        return Standing(total, present, ~present & ~np.isnan(total), two_legged & present, plates, start)

    def _on_plates(self, total: Floats, present: Bools, lost: Integers | None) -> Floats:
        """Mean load over the last second, in percent of body weight and added weight; NaN where it cannot be had."""
        load_N = self._plates.push(total, present, lost)
        if self.body_weight_N is None:
            return np.full(total.size, np.nan)
        return load_N * (100.0 / (self.body_weight_N + self._added_N))

    def _lost(self, block: Block) -> Integers | None:
        """Return how many rows a gap has swallowed before each row; None where there was none."""
        last_s, after_filled = self._last_s, self._filled
        self._last_s, self._filled = float(block.time_s[-1]), bool(block.flags[-1] & FILLED)
        # every gap begins with a row that was filled in
        if not after_filled and not block.flags.any():
            return None
        steps = steps_s(block.time_s[0] if last_s is None else last_s, block.time_s) / self._interval_s
        return np.where(steps > MISSING_FROM, np.rint(steps) - 1, 0).astype(np.int64)

    def _weigh(self, total: Floats, lost: Integers | None) -> int:
        """Look for the first three seconds of still standing; return the sample from which body weight is known.

        A reading that is missing here and there is passed over; a gap begins the three seconds anew.
        """
        gap = np.zeros(total.size) if lost is None else lost > 0
        recent: Floats = np.concatenate((self._recent, np.stack((total, gap))), axis=1)
        size: int = recent.shape[1]
        fresh = max(size - total.size - self._width + 1, 0)
        self._recent = recent[:, -(self._width - 1) :].copy()
        for first in range(fresh, size - self._width + 1, self._width):
            found = self._still(recent[:, first : first + 2 * self._width - 1])
            if found is not None:
                stop = first + found + self._width
                # the added weight was carried while weighing; body weight is told apart from it
                self.body_weight_N = float(np.median(_read(recent[0, stop - self._width : stop]))) - self._added_N
                return stop - 1 - (size - total.size)
        return total.size

    def _still(self, rows: Floats) -> int | None:
        """Return where the first still window of full width begins; rows (2, n): total, and whether a gap is before."""
        for start in self._candidates(rows):
            read = _read(rows[0, start : start + self._width])
            if read.std() < _WEIGH_SD_PART * read.mean():
                return int(start)
        return None

    def _candidates(self, rows: Floats) -> Integers:
        """Windows that stay loaded and look still by running sums, whose rounding a margin makes harmless."""
        total = rows[0]
        loaded, missing = total > PRESENT_N, np.isnan(total)
        if total.size < self._width or not loaded.any():
            return np.zeros(0, dtype=np.int64)
        broken = ~(loaded | missing)
        broken[:-1] |= rows[1, 1:] > 0
        broken[2:] |= missing[2:] & missing[1:-1] & missing[:-2]
        level = float(total[np.argmax(loaded)])
        around = np.where(loaded, total - level, 0.0)
        count = np.maximum(_windowed(loaded, self._width), 1.0)
        mean = _windowed(around, self._width) / count
        spread = _windowed(around * around, self._width) / count - mean * mean
        limit = _WEIGH_SD_PART * (level + mean) * 1.01
        whole = (_windowed(broken, self._width) == 0) & (count >= _WEIGH_READ_PART * self._width)
        whole &= loaded[self._width - 1 :]
        return np.flatnonzero(whole & (spread < limit * limit + 1e-6))


def _read(window: Floats) -> Floats:
    return window[~np.isnan(window)]


def _windowed(x: Floats | Bools, width: int) -> Floats:
    """Return the sum of every window of `width` samples, shape (n - width + 1,)."""
    sums = np.concatenate(([0.0], np.cumsum(x, dtype=np.float64)))
    return sums[width:] - sums[:-width]
