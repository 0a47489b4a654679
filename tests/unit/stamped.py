"""A visit on two virtual scales whose readings tell the true instant at which they were taken, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Calibration, ChannelCalibration, Chunk, Floats, Identity, Item, Side, Sourced
from weightshare.pipeline.chain import Pipeline
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID
from weightshare.scales.rig.duet import Duet, play_duet
from weightshare.scales.rig.oscillator import Oscillator
from weightshare.state import Alignment
from weightshare.task import Settings

SIDES = (Side.LEFT, Side.RIGHT)
WRAP = 2**32
OFFSET_US = 60_000_000
"""Added to each reading: so much is no zero that anybody believes, so that the calibration's own zero stands."""
PLAIN = Settings(Side.LEFT)


@dataclass(frozen=True, eq=False)
class Told:
    """What came out of the pipeline: times (n,), and the true instants that each side's readings tell (s, (n,))."""

    time_s: Floats
    left_s: Floats
    right_s: Floats
    alignment: Alignment

    @property
    def apart_ms(self) -> Floats:
        """How much later the left side was truly taken than the right, which is shown beside it; NaN where unknown."""
        return 1e3 * (self.left_s - self.right_s)

    def worst_ms(self, from_s: float, to_s: float = np.inf) -> float:
        """The 95th percentile of how far apart both sides are within a stretch of time."""
        within = (self.time_s >= from_s) & (self.time_s < to_s) & np.isfinite(self.apart_ms)
        assert within.sum() > 500, "that much was seen"
        return float(np.percentile(np.abs(self.apart_ms[within]), 95.0))


def tell_instants(spec: str, seconds: float) -> Told:
    """Play a visit, put the true instant in place of each reading, and pass it through the pipeline at once."""
    duet = play_duet(f"quiet,heels=none,separate=yes,{spec}", seconds)
    pipeline = Pipeline(PLAIN, [_plain(LEFT_ID), _plain(RIGHT_ID)], keep_trace=True, sides=SIDES)
    pipeline.push_all(list(_stamp(duet)))
    pipeline.finish()
    trace, alignment = pipeline.trace(), pipeline.alignment
    assert alignment is not None
    return Told(trace.time_s, trace.columns["left_N"], trace.columns["right_N"], alignment)


def _plain(device_id: str) -> Calibration:
    """A newton is a second: of both cells of a side together."""
    channels = tuple(ChannelCalibration(index, 0.0, 0.5e-6, 0.0, 0.1, 1e9) for index in (0, 1))
    return Calibration(device_id, date(2026, 1, 1), channels)


def _stamp(duet: Duet) -> list[Sourced]:
    stamps = [_Stamp(duet, side) for side in SIDES]
    return [Sourced(source, stamps[source].put(item)) for source, item in duet.items]


class _Stamp:
    """Follows one scale's ticks over wraps and restarts, by what truly happened to its oscillator."""

    def __init__(self, duet: Duet, side: Side) -> None:
        self._boots = {boot.boot_count: boot.oscillator for boot in duet.scene.boots if boot.side is side}
        self._oscillator = self._boots[1]
        self._start_ns = duet.scene.start_ns

    def put(self, item: Item) -> Item:
        if isinstance(item, Identity):
            self._oscillator = self._boots[item.boot_count]
        if not isinstance(item, Chunk):
            return item
        rows = np.arange(item.readings.shape[1])
        ticks = item.tick.astype(np.int64)[:, None] + rows * item.step.astype(np.int64)[:, None]
        instants = np.vectorize(self._instant_us)(ticks, item.arrival_ns[:, None])
        readings: NDArray[np.int32] = np.repeat(instants[:, :, None], item.readings.shape[2], axis=2).astype(np.int32)
        return replace(item, readings=readings)

    def _instant_us(self, tick: int, arrival_ns: int) -> int:
        """The true instant of a tick, of which the wraps are told by when it arrived."""
        own: Oscillator = self._oscillator
        wraps = round((own.tick_at(int(arrival_ns)) - int(tick)) / WRAP)
        return (own.instant_at(int(tick) + wraps * WRAP) - self._start_ns) // 1000 + OFFSET_US
