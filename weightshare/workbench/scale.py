"""What a scale's plates read now, in kilograms as far as they can be told, while it is being calibrated."""

from __future__ import annotations

import math

import numpy as np

from weightshare.metrology.reading import PlateLayout
from weightshare.model import Calibration, Floats, Identity, Quantity, Side
from weightshare.workbench.block import Block

STILL_BLOCKS = 5
STILL_KG, CHANGE_KG = 0.03, 0.6
"""A still load moves by less, and one that was touched by more, kg; where kilograms can be told."""
STILL_PART = 0.0005
OWN, OTHERS, NONE = "own", "other", "none"


def layouts(identity: Identity) -> tuple[PlateLayout, ...]:
    """Return the plates of a scale with the channels under each, left first; no plate without channels."""
    found = []
    for side in Side:
        under = [
            (index, channel)
            for index, channel in enumerate(identity.channels)
            if channel.quantity is Quantity.FORCE and channel.side is side
        ]
        if under:
            places = tuple((float(channel.x_mm), float(channel.y_mm)) for _index, channel in under)
            found.append(PlateLayout(side, tuple(index for index, _channel in under), places))
    return tuple(found)


class PlateReading:
    """One plate: its reading is the sum over its channels, in newtons by an earlier calibration, else in counts."""

    def __init__(self, layout: PlateLayout, earlier: Calibration | None) -> None:
        self.layout = layout
        self.rows = list(layout.channels)
        known = {channel.index: channel for channel in earlier.channels} if earlier else {}
        whole = all(row in known for row in self.rows)
        self._weights = np.array([known[row].newton_per_count if whole else 1.0 for row in self.rows])
        told = [self._weights[k] * known[row].zero_counts for k, row in enumerate(self.rows)] if whole else []
        self.told_kg = 1.0 / earlier.gravity_m_s2 if earlier is not None and whole else None
        """Kilograms per unit of the reading, by the earlier calibration."""
        self.zero: float | None = float(sum(told)) if whole else None
        """The reading with nothing on; by the earlier calibration until it was measured."""
        self.zero_measured = False
        self.own_kg: float | None = None
        """Kilograms per unit, by the steps so far."""
        self._own_load_kg = 0.0
        self.noise = math.inf
        """Standard deviation of one sample, the least that was seen over a second."""
        self.recent: list[Block] = []

    def value(self, block: Block) -> float:
        """Return the reading in a block; not a number where a channel is missing."""
        return float(self._weights @ block.mean[self.rows])

    def take(self, block: Block) -> None:
        """Take the newest block."""
        self.recent = [*self.recent[-(STILL_BLOCKS - 1) :], block]
        if len(self.recent) == STILL_BLOCKS:
            spread = np.array([self._weights * one.sd[self.rows] for one in self.recent])
            noise = float(np.sqrt((spread**2).sum(axis=1).mean()))
            if math.isfinite(noise):
                self.noise = min(self.noise, max(noise, float(np.abs(self._weights).max())))

    @property
    def now(self) -> float:
        """Return the mean reading of the last second, of the blocks that have one."""
        values = [value for block in self.recent if math.isfinite(value := self.value(block))]
        return float(np.mean(values)) if values else math.nan

    def scatter(self) -> float:
        """Return the standard deviation of one block's mean."""
        samples = self.recent[-1].samples if self.recent else 1
        return self.noise / math.sqrt(max(samples, 1))

    def slope(self, other: PlateReading | None = None) -> tuple[float | None, str]:
        """Return kilograms per unit, and whence: its own steps, an earlier calibration or the other plate, or none."""
        if self.own_kg is not None:
            return self.own_kg, OWN
        if self.told_kg is not None:
            return self.told_kg, OTHERS
        if other is not None and other.own_kg is not None:
            return other.own_kg, OTHERS
        return None, NONE

    def units(self, kg: float, other: PlateReading | None) -> float:
        """Return how many units of the reading `kg` make; 0 where it cannot be told."""
        slope, _whence = self.slope(other)
        return abs(kg / slope) if slope else 0.0

    def load_kg(self, value: float, other: PlateReading | None) -> float | None:
        """Return about what lies there; None while that cannot be told."""
        slope, _whence = self.slope(other)
        known = slope is not None and self.zero is not None and math.isfinite(value)
        return slope * (value - self.zero) if known and slope is not None and self.zero is not None else None

    def is_still(self, other: PlateReading | None) -> bool:
        """Return whether the last second's blocks follow one another without a gap, and read the same."""
        if len(self.recent) < STILL_BLOCKS:
            return False
        if self.recent[-1].number - self.recent[0].number != STILL_BLOCKS - 1:
            return False
        values: Floats = np.array([self.value(block) for block in self.recent])
        slack = max(7.0 * self.scatter(), self.units(STILL_KG, other))
        return bool(np.ptp(values) < slack)

    def learn(self, value: float, load_kg: float) -> None:
        """Note what was measured under a load, kg: the zero with nothing on, or the slope by the greatest load."""
        if not load_kg:
            self.zero, self.zero_measured = value, True
        elif self.zero_measured and self.zero is not None and value != self.zero and load_kg >= self._own_load_kg:
            self.own_kg, self._own_load_kg = load_kg / (value - self.zero), load_kg
