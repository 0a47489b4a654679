"""What the live pipeline costs: 8 channels at 1 kHz, in chunks of 20 ms, as CPU seconds a second."""

from __future__ import annotations

import time
from datetime import date
from typing import Any, NamedTuple

import numpy as np

from weightshare.exercise import Ceiling, Exercise
from weightshare.model import Calibration, Channel, ChannelCalibration, Chunk, Identity, LinkUp, Quantity, Side
from weightshare.pipeline import Pipeline
from weightshare.task import Settings

RATE_HZ, TICK_HZ = 1000, 1_000_000
SECONDS, CHUNK_ROWS = 60, 20
ROUNDS = 3


def measure() -> list[dict[str, Any]]:
    """Return the least of some rounds; a snapshot is taken after each chunk, as a session does."""
    return [_measure("8 channels at 1 kHz", HOLD), _measure("8 channels at 1 kHz, heel raises", RAISES)]


def _measure(what: str, case: Case) -> dict[str, Any]:
    chunks = make_chunks(case)
    taken = min(_run(case, chunks) for _ in range(ROUNDS)) / SECONDS
    note = f"{SECONDS} s in {len(chunks)} chunks: {taken * CHUNK_ROWS:.2f} ms a chunk"
    name = f"the pipeline's CPU seconds a second, {what}"
    return {"name": name, "value": taken, "limit": 0.05, "direction": "at most", "note": note}


class Case(NamedTuple):
    """What is done, and on which channels: cells before and behind under each foot, heels where they are seen."""

    settings: Settings
    cells: int
    heels: bool

    @property
    def identity(self) -> Identity:
        """The scale."""
        places = [(0, y) for y in (140, -140) for _ in range(self.cells // 4)]
        channels = [Channel(Quantity.FORCE, side, *place) for side in (Side.LEFT, Side.RIGHT) for place in places]
        channels += [Channel(Quantity.HEEL_HEIGHT, side) for side in (Side.LEFT, Side.RIGHT) if self.heels]
        return Identity("0011223344556677", (1, 0, 0), 1, TICK_HZ, float(RATE_HZ), tuple(channels))


HOLD = Case(Settings(Side.LEFT, 75.0, exercise=Exercise.HOLD), 8, heels=False)
RAISES = Case(Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, ceiling=Ceiling(percent=90.0)), 4, heels=True)


def make_chunks(case: Case) -> list[Chunk]:
    """A minute: nobody for 2 s, then someone whose share wanders through the band, and whose heels go up and down."""
    rng = np.random.default_rng(11)
    count = SECONDS * RATE_HZ
    time_s = np.arange(count) / RATE_HZ
    share = np.where(time_s < 8.0, 0.5, 0.75 + 0.06 * np.sin(time_s))
    total = np.where(time_s < 2.0, 0.0, 700.0)
    sides = np.repeat(np.stack([total * share, total * (1.0 - share)]), case.cells // 2, axis=0) / (case.cells // 2)
    counts = np.rint(8000.0 + (sides + rng.normal(0.0, 0.2, sides.shape)) / 0.001)
    if case.heels:
        height_mm = np.where(time_s < 8.0, 0.0, 40.0 * (1.0 - np.cos(2.0 * np.pi * (time_s - 8.0) / 4.0)))
        counts = np.vstack((counts, 1000.0 * (height_mm + rng.normal(0.0, 0.3, (2, count)))))
    readings = counts.astype(np.int32).T.reshape(-1, 1, CHUNK_ROWS, counts.shape[0])
    return [_chunk(k, readings[k]) for k in range(len(readings))]


def _chunk(k: int, readings: np.ndarray[Any, np.dtype[np.int32]]) -> Chunk:
    tick = k * CHUNK_ROWS * TICK_HZ // RATE_HZ
    return Chunk(
        np.array([k % 2**16], dtype=np.uint16),
        np.array([tick % 2**32], dtype=np.uint32),
        np.array([TICK_HZ // RATE_HZ], dtype=np.uint32),
        np.array([tick * 1000], dtype=np.int64),
        readings,
    )


def _run(case: Case, chunks: list[Chunk]) -> float:
    channels = tuple(ChannelCalibration(i, 8000.0, 0.001, range_N=2000.0) for i in range(8))
    pipeline = Pipeline(case.settings, [Calibration("0011223344556677", date(2026, 11, 2), channels)])
    pipeline.push(LinkUp(0))
    pipeline.push(case.identity)
    begin = time.process_time()
    for chunk in chunks:
        pipeline.push(chunk)
        pipeline.snapshot()
    taken = time.process_time() - begin
    shown = pipeline.snapshot()
    if shown.time_in_band_s < 5.0 or len(shown.repetitions) < 10 * case.heels:
        raise RuntimeError("the pipeline did not see what it was fed with")
    return taken
