"""The load cells and their converter: true newtons to raw counts, with what real cells add to them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from weightshare.model import (
    NO_READING,
    Calibration,
    Channel,
    ChannelCalibration,
    Floats,
    HeelWorth,
    Quantity,
    Side,
    SideWorth,
    Worth,
)
from weightshare.scales.rig.catalog import Fault
from weightshare.scales.rig.hidden import Hidden, HiddenCells, draw_hidden
from weightshare.scales.rig.sway import Sway
from weightshare.scales.rig.upset import Upset

PAIR_ID, LEFT_ID, RIGHT_ID = "5053000000000001", "5053000000000002", "5053000000000003"
"""The device ids of the scale with both sides, and of the two separate ones."""

CHANNELS = tuple(Channel(Quantity.FORCE, side, 0, y_mm) for side in Side for y_mm in (120, -120))
COLUMNS = {PAIR_ID: (0, 1, 2, 3), LEFT_ID: (0, 1), RIGHT_ID: (2, 3)}
"""Which of the four cells (left front, left rear, right front, right rear) each scale reads."""

RANGE_N = 2000.0
FULL_COUNTS = 2**23 - 1
"""Where a 24-bit converter stops."""
NOISE_N = 0.12
HEEL_MM = 0.4
"""What a height from the virtual sensors is worth: within 0.7 mm of the truth, a rectangular distribution."""
"""Standard deviation of one reading at 100 a second; it grows with the root of the rate."""
DRIFT_N = 0.08
DRIFT_BANDS = ((0.001, 0.01, 1.0),)
CREEP = 0.0003
CREEP_S = 30.0
READING_GONE_S = (3.0, 9.0)
LONGEST_GONE_S = 0.5


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell as it is: what a calibration found, and how far off that is."""

    newton_per_count: float
    zero_counts: float
    gain_error: float
    zero_error_N: float


CELLS = (
    Cell(0.001250, 8123.0, 2.0e-4, 0.4),
    Cell(0.001244, -3310.0, -1.1e-4, -0.6),
    Cell(0.001256, 12045.0, -1.4e-4, 0.5),
    Cell(0.001249, 650.0, 1.6e-4, -0.3),
)


def rig_worth(device_id: str = PAIR_ID) -> Worth:
    """Return what the forces of the virtual scale `device_id` are worth: true of CELLS, and of what they add.

    A side's gain is off by 0.5e-4 with the load in the middle, and by up to 2e-4 with all of it on one cell. Its drift
    is that of two cells since the zero was taken. Its heels stand in their place, unless it is told to be elsewhere.
    """
    under = [side for number, side in enumerate(Side) if {2 * number, 2 * number + 1} & set(COLUMNS[device_id])]
    noise_N, drift_N = math.sqrt(2.0) * NOISE_N, 2.0 * DRIFT_N
    sides = (
        SideWorth(
            side,
            gain_part=1.0e-4,
            repeatability_N=0.01,
            noise_N=noise_N,
            noise_rate_Hz=100.0,
            creep_part=CREEP / math.sqrt(3.0),
            corner_part=1.0e-4,
            zero_drift_N=drift_N,
        )
        for side in under
    )
    return Worth(tuple(sides), heel=HeelWorth(HEEL_MM, 0.0))


def rig_calibration(device_id: str = PAIR_ID) -> Calibration:
    """Return the calibration of the virtual scale `device_id`. Raises KeyError for any other scale."""
    channels = tuple(
        ChannelCalibration(index, CELLS[column].zero_counts, CELLS[column].newton_per_count, 0.0, 0.5, RANGE_N)
        for index, column in enumerate(COLUMNS[device_id])
    )
    return Calibration(device_id, date(2026, 1, 1), channels, worth=rig_worth(device_id))


def known_calibration(device_id: str) -> Calibration | None:
    """Return the calibration that the program itself knows: a virtual scale's, or None for a real one."""
    return rig_calibration(device_id) if device_id in COLUMNS else None


def hidden_cells(seed: int) -> Hidden:
    """Return the cells that `seed` draws, about the nominal ones."""
    nominal = np.array([(cell.newton_per_count, cell.zero_counts) for cell in CELLS])
    return draw_hidden(seed, nominal[:, 0], nominal[:, 1])


class Cells:
    """The cells of one scale. `read` takes block after block, in time order; the seed settles the noise.

    `hidden`: not those that the rig's own calibration is of, but cells that the seed draws.
    """

    def __init__(self, columns: Sequence[int], seed: int, fault: Fault, *, hidden: bool = False) -> None:
        self._columns = list(columns)
        self._hidden = HiddenCells(hidden_cells(seed), self._columns) if hidden else None
        cells = [CELLS[column] for column in columns]
        self._scale = np.array([(1 + cell.gain_error) / cell.newton_per_count for cell in cells])
        self._zero_N = np.array([cell.zero_error_N for cell in cells])
        self._zero_counts = np.array([cell.zero_counts for cell in cells])
        self._noise = np.random.default_rng([seed, 3, *columns])
        self._drift = Sway(np.random.default_rng([seed, 4, *columns]), [DRIFT_BANDS] * len(cells))
        self._creep_N = np.zeros(len(cells))
        self._fault, self._upset = fault, Upset(fault)
        self._holes = Holes(np.random.default_rng([seed, 5, *columns]), len(cells), fault.missing)
        self.overloaded = False
        """Whether a reading was cut off at the converter's end since this was last set to False."""
        self.silent = False
        """Whether a cell does not answer."""

    def read(
        self, time_s: Floats, force_N: Floats, interval_s: float, x_part: Floats | None = None
    ) -> NDArray[np.int32]:
        """Return raw counts, int32 of shape (n, cells), for true forces (N) of shape (n, 4) at `time_s`, shape (n,).

        x_part: shape (n, 2), how far right of the middle of its plate each side's load lies, -1 to 1 from support to
        support; None: in the middle. Hidden cells alone feel it.
        """
        load_N = self._upset.apply(force_N)[:, self._columns]
        if self._fault.bag_N and 0 in self._columns:
            load_N = load_N + self._bag(time_s)
        noise_N = self._noise.standard_normal(load_N.shape) * NOISE_N * np.sqrt(0.01 / interval_s)
        if self._hidden is not None:
            counts = np.rint(self._hidden.counts(time_s, load_N, noise_N, x_part))
        else:
            # drift takes minutes, so one look a block is enough
            slow_N = self._zero_N + self._creep(load_N, interval_s) + DRIFT_N * self._drift.at(time_s[:1])
            counts = np.rint((load_N + slow_N + noise_N) * self._scale + self._zero_counts)
        self._press(counts, time_s)
        if self._fault.stuck and 0 in self._columns:
            counts[:, 0] = FULL_COUNTS
        if max(counts.max(), -counts.min()) >= FULL_COUNTS:
            self.overloaded = True
            counts = np.clip(counts, -FULL_COUNTS - 1, FULL_COUNTS)
        readings: NDArray[np.int32] = counts.astype(np.int32)
        if self._fault.missing:
            readings[self._holes.find(time_s)] = NO_READING
        if self._fault.dead_after_s is not None and 0 in self._columns:
            dead = time_s >= self._fault.dead_after_s
            readings[dead, 0] = NO_READING
            self.silent = bool(dead[-1])
        return readings

    def _bag(self, time_s: Floats) -> Floats:
        """A bag on the left plate, slid away within 0.1 s before anybody steps on."""
        weight_N = self._fault.bag_N * np.clip((2.6 - time_s) / 0.1, 0.0, 1.0)
        parts = np.zeros((len(time_s), len(self._columns)))
        parts[:, :2] = np.multiply.outer(weight_N, (0.6, 0.4))
        return parts

    def _creep(self, load_N: Floats, interval_s: float) -> Floats:
        """Creep follows the load with a time constant of many blocks, so one step a block is enough."""
        part = np.exp(-len(load_N) * interval_s / CREEP_S)
        self._creep_N = part * self._creep_N + (1 - part) * CREEP / len(load_N) * load_N.sum(axis=0)
        return self._creep_N

    def _press(self, counts: Floats, time_s: Floats) -> None:
        for begin_s, end_s in self._fault.overload_s:
            counts[(time_s >= begin_s) & (time_s < end_s), 0] = FULL_COUNTS


class Holes:
    """Which readings are missing: single ones at random, and now and then a whole channel for a while."""

    def __init__(self, rng: np.random.Generator, cells: int, part: float) -> None:
        self._rng, self._cells, self._part = rng, cells, part
        self._begin_s = self._end_s = 0.0
        self._column = 0
        self._draw()

    def find(self, time_s: Floats) -> NDArray[np.bool_]:
        """Return where readings are missing, shape (n, cells)."""
        missing = self._rng.random((len(time_s), self._cells)) < self._part
        while self._end_s < time_s[0]:
            self._draw()
        missing[(time_s >= self._begin_s) & (time_s < self._end_s), self._column] = True
        return np.asarray(missing, np.bool_)

    def _draw(self) -> None:
        self._begin_s = self._end_s + self._rng.uniform(*READING_GONE_S)
        self._end_s = self._begin_s + self._rng.uniform(0.1, LONGEST_GONE_S)
        self._column = int(self._rng.integers(self._cells))
