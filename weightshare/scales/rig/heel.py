"""The sensors of heel height: true millimetres to raw micrometres, with what real sensors add."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from weightshare.model import NO_READING, Channel, Floats, Quantity, Side
from weightshare.scales.rig.body import HEEL_Y_MM, seen_part
from weightshare.scales.rig.catalog import Fault
from weightshare.scales.rig.cell import DRIFT_BANDS, LEFT_ID, PAIR_ID, RIGHT_ID, Holes
from weightshare.scales.rig.sway import Sway

HEEL_CHANNELS = tuple(Channel(Quantity.HEEL_HEIGHT, side, 0, round(HEEL_Y_MM)) for side in Side)
HEELS_OF = {PAIR_ID: (0, 1), LEFT_ID: (0,), RIGHT_ID: (1,)}
"""Which of the two heels each scale sees."""

NOISE_MM = 0.3
"""Standard deviation of one reading at 100 a second; it grows with the root of the rate."""
DRIFT_MM = 0.3
OFFSET_MM = (1.4, -0.9)
"""What the sensors say of heels that stand on the plates: they are not glued on to the micrometre."""
RANGE_MM = (-60.0, 200.0)
"""Beyond it there is no reading: the heel is not over its plate."""


@dataclass(frozen=True, slots=True)
class HeelBuild:
    """How the height sensors are built in and worn; `fitted` is False for scales without them."""

    fitted: bool = True
    placement_mm: float = 0.0
    """How far forward of the heel they are worn: they see less of its height."""


class HeelSensors:
    """The height sensors of one scale. `read` takes block after block, in time order; the seed settles the noise."""

    def __init__(self, heels: Sequence[int], seed: int, fault: Fault, placement_mm: float, stature_m: float) -> None:
        self._heels = list(heels)
        self._seen = seen_part(placement_mm, stature_m)
        self._offset_mm = np.array([OFFSET_MM[heel] for heel in heels])
        self._noise = np.random.default_rng([seed, 11, *heels])
        self._drift = Sway(np.random.default_rng([seed, 12, *heels]), [DRIFT_BANDS] * len(heels))
        self._missing = fault.missing
        self._holes = Holes(np.random.default_rng([seed, 13, *heels]), len(heels), fault.missing)

    def read(self, time_s: Floats, height_mm: Floats, interval_s: float) -> NDArray[np.int32]:
        """Return raw micrometres, int32 of shape (n, heels), for true heights (mm) of shape (n, 2) at `time_s` (n,)."""
        true_mm = height_mm[:, self._heels]
        noise_mm = self._noise.standard_normal(true_mm.shape) * NOISE_MM * np.sqrt(0.01 / interval_s)
        # drift takes minutes, so one look a block is enough
        slow_mm = self._offset_mm + DRIFT_MM * self._drift.at(time_s[:1])
        seen_mm = np.clip(true_mm, *RANGE_MM) * self._seen + slow_mm + noise_mm
        readings: NDArray[np.int32] = np.rint(1000.0 * seen_mm).astype(np.int32)
        readings[is_away(true_mm)] = NO_READING
        if self._missing:
            readings[self._holes.find(time_s)] = NO_READING
        return readings


def is_away(height_mm: Floats) -> NDArray[np.bool_]:
    """Return where a heel is not over its plate, given its true height (mm), any shape."""
    return np.asarray((height_mm < RANGE_MM[0]) | (height_mm > RANGE_MM[1]), dtype=np.bool_)
