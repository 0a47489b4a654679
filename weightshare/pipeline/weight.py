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

WEIGH_S = 3.0
"""Body weight is taken of so long a stretch of still standing."""
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
    loaded: Bools
    """Enough of the body is on the plates, by whichever foot (true while body weight is not known)."""
    on_plates_percent: Floats
    weight_from: int


class Weight:
    """Finds body weight by the first three still seconds, unless it is given; `body_weight_N` is None until then."""

    def __init__(
        self, body_weight_N: float | None, added_weight_N: float, interval_s: float, *, supported: bool = False
    ) -> None:
        """`supported`: a part of the weight is elsewhere. Nobody is weighed then, and any load is somebody."""
        self._supported = supported
        self._given_N = body_weight_N
        self._added_N = added_weight_N
        self._width = max(round(WEIGH_S / interval_s) + 1, 2)
        self._interval_s = interval_s
        self._plates = RollingMean(max(round(_PLATES_S / interval_s), 1))
        self.reset()

    def reset(self) -> None:
        """Forget the person."""
        self.body_weight_N = self._given_N
        self._recent = np.zeros(0)
        self._plates.reset()
        self._last_s: float | None = None
        self._filled = False

    def push(self, block: Block) -> Standing:
        """Return the block's standing."""
        left, right = block.values[LEFT], block.values[RIGHT]
        total = left + right
        lost = self._lost(block)
        weighs = self.body_weight_N is None and not self._supported
        start = self._weigh(total, lost) if weighs else total.size if self.body_weight_N is None else 0
        present = total >= PRESENT_N * ROUNDING
        two_legged, loaded = present.copy(), present.copy()
        weight_N = self.body_weight_N
        if weight_N is not None and not self._supported:
            known = slice(start, None)
            limit_N = weight_N * ROUNDING
            present[known] &= total[known] >= PRESENT_PART * limit_N
            least = np.minimum(left[known], right[known])
            loaded[known] = total[known] >= TWO_LEG_PART * limit_N
            two_legged[known] = loaded[known] & (least >= FOOT_PART * limit_N)
        plates = self._on_plates(total, present, lost)
        plates[:start] = np.nan
        away = ~present & ~np.isnan(total)
        return Standing(total, present, away, two_legged & present, loaded & present, plates, start)

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

        Readings that are missing are passed over, as long as nine in ten are there.
        """
        rows, place = _spread_out(total, lost, self._width)
        recent = np.concatenate((self._recent, rows))
        fresh = max(recent.size - rows.size - self._width + 1, 0)
        self._recent = recent[-(self._width - 1) :].copy()
        for first in range(fresh, recent.size - self._width + 1, self._width):
            found = self._still(recent[first : first + 2 * self._width - 1])
            if found is not None:
                stop = first + found + self._width
                # the added weight was carried while weighing; body weight is told apart from it
                self.body_weight_N = float(np.median(_read(recent[stop - self._width : stop]))) - self._added_N
                return int(place.searchsorted(stop - 1 - (recent.size - rows.size)))
        return total.size

    def _still(self, total: Floats) -> int | None:
        """Return where in `total` the first still window of full width begins."""
        for start in self._candidates(total):
            read = _read(total[start : start + self._width])
            if read.std() < _WEIGH_SD_PART * read.mean():
                return int(start)
        return None

    def _candidates(self, total: Floats) -> Integers:
        """Windows that stay loaded and look still by running sums, whose rounding a margin makes harmless."""
        loaded = total > PRESENT_N
        if total.size < self._width or not loaded.any():
            return np.zeros(0, dtype=np.int64)
        light = ~loaded & ~np.isnan(total)
        level = float(total[np.argmax(loaded)])
        around = np.where(loaded, total - level, 0.0)
        count = np.maximum(_windowed(loaded, self._width), 1.0)
        mean = _windowed(around, self._width) / count
        spread = _windowed(around * around, self._width) / count - mean * mean
        limit = _WEIGH_SD_PART * (level + mean) * 1.01
        whole = (_windowed(light, self._width) == 0) & (count >= _WEIGH_READ_PART * self._width)
        # a window ends with a reading: what is missing after it brings nothing new
        whole &= loaded[self._width - 1 :]
        return np.flatnonzero(whole & (spread < limit * limit + 1e-6))


def _spread_out(total: Floats, lost: Integers | None, most: int) -> tuple[Floats, Integers]:
    """Return `total` with NaN for each row that a gap has swallowed, `most` at the most in one gap, and the place of
    each row of `total` in it, shape (n,)."""
    rows = np.arange(total.size)
    if lost is None:
        return total, rows
    lost = np.minimum(lost, most)
    return np.insert(total, np.repeat(rows, lost), np.nan), rows + np.cumsum(lost)


def _read(window: Floats) -> Floats:
    return window[~np.isnan(window)]


def _windowed(x: Floats | Bools, width: int) -> Floats:
    """Return the sum of every window of `width` samples, shape (n - width + 1,)."""
    sums = np.concatenate(([0.0], np.cumsum(x, dtype=np.float64)))
    return sums[width:] - sums[:-width]
