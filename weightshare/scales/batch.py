"""Many frames read at once: a pass of numpy over all of them instead of a step of Python for each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Chunk
from weightshare.scales.body import CONDITION, ECHO, SAMPLES, read_conditions, read_echoes
from weightshare.scales.bulk import Frames
from weightshare.scales.frame import CRC_BYTES, Kind, Message
from weightshare.scales.sequence import SequenceWatch
from weightshare.scales.stream import Counts

_OVERHEAD = SAMPLES.size + CRC_BYTES
_USUAL_BYTES = np.zeros(256, np.int64)
_USUAL_BYTES[[Kind.CONDITION, Kind.ECHO]] = CONDITION.size + CRC_BYTES, ECHO.size + CRC_BYTES
_DROPPED = 0
_FIRST_SAMPLES = 0x100
"""Keys from here on are of SAMPLES: this, times their row count. Those below are kinds."""


@dataclass(slots=True)
class Batch:
    """Frames that follow each other: their bytes; and of each, shape (n,), its start in them, size, kind, arrival."""

    data: bytes
    starts: NDArray[np.int64]
    sizes: NDArray[np.int64]
    kinds: NDArray[np.uint8]
    arrival_ns: NDArray[np.int64]

    def part(self, which: slice | NDArray[np.bool_]) -> Batch:
        """Some of the frames, in the same order."""
        return Batch(self.data, self.starts[which], self.sizes[which], self.kinds[which], self.arrival_ns[which])

    def frame(self, number: int) -> bytes:
        """One of the frames, whole."""
        start = int(self.starts[number])
        return self.data[start : start + int(self.sizes[number])]

    def find_rare(self) -> list[int]:
        """Return which frames are neither SAMPLES with readings nor a whole CONDITION or ECHO."""
        samples = (self.kinds == Kind.SAMPLES) & (self.sizes > _OVERHEAD)
        return np.flatnonzero(~samples & (self.sizes != _USUAL_BYTES[self.kinds])).tolist()


def make_batch(frames: Frames, arrival_ns: NDArray[np.int64]) -> Batch:
    """Return the batch of `frames`; `arrival_ns` has one instant for each."""
    kinds = np.frombuffer(frames.data, np.uint8)[frames.starts]
    return Batch(frames.data, frames.starts, frames.sizes, kinds, arrival_ns)


def read_usual(batch: Batch, channels: int, counts: Counts, watch: SequenceWatch) -> list[Message]:
    """Return what a batch without rare frames says; `channels` is 0 where no IDENTITY has been seen."""
    keys = _find_keys(batch, channels, counts)
    kept = keys != _DROPPED
    if not kept.all():
        batch, keys = batch.part(kept), keys[kept]
    if not len(keys):
        return []
    samples = keys >= _FIRST_SAMPLES
    watch.watch(_see(batch.data, 0)["sequence"][batch.starts[samples]])
    borders = np.flatnonzero(~samples[1:] | (keys[1:] != keys[:-1])) + 1
    return _read_runs(batch, keys, np.concatenate([[0], borders, [len(keys)]]), channels, counts)


def _find_keys(batch: Batch, channels: int, counts: Counts) -> NDArray[np.int64]:
    """One key per frame, shape (n,): _DROPPED for those that are of no use, and counted as such."""
    keys = batch.kinds.astype(np.int64)
    chosen = np.flatnonzero(batch.kinds == Kind.SAMPLES)
    if not channels:
        counts.before_identity += len(chosen)
        keys[chosen] = _DROPPED
        return keys
    starts, heads = batch.starts[chosen], _see(batch.data, 0)
    rows = heads["rows"][starts].astype(np.int64)
    fits = batch.sizes[chosen] == _OVERHEAD + 4 * channels * rows
    steady = (heads["step"][starts] > 0) | (rows == 1)
    right = fits & steady
    keys[chosen] = np.where(right, rows * _FIRST_SAMPLES, _DROPPED)
    samples, fitting = int(np.count_nonzero(right)), int(np.count_nonzero(fits))
    counts.samples += samples
    counts.wrong_length += len(chosen) - fitting
    counts.wrong_content += fitting - samples
    return keys


def _read_runs(
    batch: Batch, keys: NDArray[np.int64], borders: NDArray[np.int64], channels: int, counts: Counts
) -> list[Message]:
    """Read each run of equal keys between two `borders`, all runs of a key at once."""
    firsts = keys[borders[:-1]]
    order = firsts.tolist()
    sources: dict[int, Iterator[Message]] = {}
    for key in set(order):
        chosen = keys == key
        if key == Kind.CONDITION:
            sources[key] = iter(read_conditions(batch.data, batch.starts[chosen].tolist()))
            counts.condition += order.count(key)
        elif key == Kind.ECHO:
            starts, arrivals_ns = batch.starts[chosen].tolist(), batch.arrival_ns[chosen].tolist()
            sources[key] = iter(read_echoes(batch.data, starts, arrivals_ns))
            counts.echo += order.count(key)
        else:
            lengths = np.diff(borders)[firsts == key]
            sources[key] = iter(_read_samples(batch, chosen, lengths, key // _FIRST_SAMPLES, channels))
    return [next(sources[key]) for key in order]


def _read_samples(
    batch: Batch, chosen: NDArray[np.bool_], lengths: NDArray[np.int64], rows: int, channels: int
) -> list[Chunk]:
    """Return one chunk for each run of the `chosen` frames; `lengths` are those of the runs."""
    starts = batch.starts[chosen]
    records = _see(batch.data, rows * channels)
    fields = (
        records["sequence"][starts].astype(np.uint16, copy=False),
        records["tick"][starts].astype(np.uint32, copy=False),
        records["step"][starts].astype(np.uint32, copy=False),
        batch.arrival_ns[chosen],
        records["readings"][starts].astype(np.int32, copy=False).reshape(-1, rows, channels),
    )
    runs = [slice(start, stop) for start, stop in pairwise([0, *np.cumsum(lengths).tolist()])]
    return list(map(Chunk, *([field[run] for run in runs] for field in fields)))


def _see(data: bytes, readings: int) -> NDArray[np.void]:
    """One SAMPLES record for every byte that it may start at, overlapping the next: only those asked for are copied."""
    layout = _layout(readings)
    return np.ndarray((max(0, len(data) - layout.itemsize + 1),), layout, data, strides=(1,))


@lru_cache(maxsize=64)
def _layout(readings: int) -> np.dtype[np.void]:
    return np.dtype(
        [
            ("kind", "u1"),
            ("sequence", "<u2"),
            ("tick", "<u4"),
            ("step", "<u4"),
            ("rows", "u1"),
            ("readings", "<i4", (readings,)),
        ]
    )


def merge_chunks(chunks: list[Chunk]) -> Chunk:
    """Join chunks of one shape, in order."""
    if len(chunks) == 1:
        return chunks[0]
    return Chunk(
        np.concatenate([chunk.sequence for chunk in chunks]),
        np.concatenate([chunk.tick for chunk in chunks]),
        np.concatenate([chunk.step for chunk in chunks]),
        np.concatenate([chunk.arrival_ns for chunk in chunks]),
        np.concatenate([chunk.readings for chunk in chunks]),
    )
