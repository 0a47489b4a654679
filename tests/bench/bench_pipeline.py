"""What the live pipeline costs: 8 channels at 1 kHz, in chunks of 20 ms, as CPU seconds a second."""

from __future__ import annotations

import time
from datetime import date
from typing import Any

import numpy as np

from weightshare.model import Calibration, Channel, ChannelCalibration, Chunk, Identity, LinkUp, Quantity, Side
from weightshare.pipeline import Pipeline
from weightshare.task import Settings

RATE_HZ, TICK_HZ = 1000, 1_000_000
SECONDS, CHUNK_ROWS = 60, 20
ROUNDS = 3


def measure() -> list[dict[str, Any]]:
    """Return the least of some rounds; a snapshot is taken after each chunk, as a session does."""
    chunks = make_chunks()
    taken = min(_run(chunks) for _ in range(ROUNDS)) / SECONDS
    note = f"{SECONDS} s in {len(chunks)} chunks: {taken * CHUNK_ROWS:.2f} ms a chunk"
    name = "the pipeline's CPU seconds a second, 8 channels at 1 kHz"
    return [{"name": name, "value": taken, "limit": 0.05, "direction": "at most", "note": note}]


def make_identity() -> Identity:
    """Two cells before and two behind under each foot."""
    places = [(x, y) for y in (140, -140) for x in (-60, 60)]
    channels = [Channel(Quantity.FORCE, side, x, y) for side in (Side.LEFT, Side.RIGHT) for x, y in places]
    return Identity("0011223344556677", (1, 0, 0), 1, TICK_HZ, float(RATE_HZ), tuple(channels))


def make_chunks() -> list[Chunk]:
    """A minute: nobody for 2 s, then someone whose share wanders through the band."""
    rng = np.random.default_rng(11)
    count = SECONDS * RATE_HZ
    time_s = np.arange(count) / RATE_HZ
    share = np.where(time_s < 8.0, 0.5, 0.75 + 0.06 * np.sin(time_s))
    total = np.where(time_s < 2.0, 0.0, 700.0)
    sides = np.repeat(np.stack([total * share, total * (1.0 - share)]) / 4.0, 4, axis=0)
    counts = np.rint(8000.0 + (sides + rng.normal(0.0, 0.2, sides.shape)) / 0.001).astype(np.int32)
    readings = counts.T.reshape(-1, 1, CHUNK_ROWS, 8)
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


def _run(chunks: list[Chunk]) -> float:
    channels = tuple(ChannelCalibration(i, 8000.0, 0.001, range_N=2000.0) for i in range(8))
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [Calibration("0011223344556677", date(2026, 11, 2), channels)])
    pipeline.push(LinkUp(0))
    pipeline.push(make_identity())
    begin = time.process_time()
    for chunk in chunks:
        pipeline.push(chunk)
        pipeline.snapshot()
    taken = time.process_time() - begin
    if pipeline.snapshot().time_in_band_s < 10.0:
        raise RuntimeError("the pipeline did not see what it was fed with")
    return taken
