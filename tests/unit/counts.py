"""A virtual scale's identity, calibration and raw readings, made up for tests of the first stages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from weightshare.model import Calibration, Channel, ChannelCalibration, Chunk, Floats, Identity, Quantity, Side
from weightshare.pipeline.clock import Timed

DEVICE = "0011223344556677"
TICK_HZ, RATE_HZ = 1_000_000, 80.0
STEP = 12_500
TWO = (Channel(Quantity.FORCE, Side.LEFT), Channel(Quantity.FORCE, Side.RIGHT))
FOUR = tuple(Channel(Quantity.FORCE, side, 0, y) for side in (Side.LEFT, Side.RIGHT) for y in (140, -140))


def make_identity(channels: Sequence[Channel] = TWO, boot: int = 1, tick_rate_Hz: int = TICK_HZ) -> Identity:
    return Identity(DEVICE, (1, 0, 0), boot, tick_rate_Hz, RATE_HZ, tuple(channels))


def make_calibration(count: int = 2, newton_per_count: float = 0.01, range_N: float | None = None) -> Calibration:
    """Return a calibration whose channel i has its zero at 1000 + 100 i counts."""
    first = ChannelCalibration(0, 1000.0, newton_per_count, range_N=range_N)
    channels = tuple(replace(first, index=i, zero_counts=1000.0 + 100 * i) for i in range(count))
    return Calibration(DEVICE, date(2026, 11, 2), channels)


def make_timed(readings: ArrayLike, begin_s: float = 0.0, rate_Hz: float = RATE_HZ) -> Timed:
    """Return raw readings (channels, n) with the times of a steady rate."""
    rows: Floats = np.asarray(readings, dtype=np.float64)
    return Timed(1.0 / rate_Hz, begin_s + np.arange(rows.shape[1]) / rate_Hz, rows)


def make_chunk(
    ticks: Sequence[int],
    rows: int = 4,
    step: int = STEP,
    arrivals_s: Sequence[float] | None = None,
    readings: NDArray[np.int32] | None = None,
) -> Chunk:
    """Return frames of `rows` rows that begin at `ticks`; they arrive when their last sample was taken."""
    arrivals = [(tick + (rows - 1) * step) / TICK_HZ for tick in ticks] if arrivals_s is None else arrivals_s
    numbers = np.zeros((len(ticks), rows, 2), dtype=np.int32) if readings is None else readings
    return Chunk(
        np.arange(len(ticks), dtype=np.uint16),
        np.array([tick % 2**32 for tick in ticks], dtype=np.uint32),
        np.full(len(ticks), step, dtype=np.uint32),
        np.array([round(arrival * 1e9) for arrival in arrivals], dtype=np.int64),
        numbers,
    )
