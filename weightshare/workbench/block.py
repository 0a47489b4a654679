"""Readings in blocks of a fifth of a second, which do not depend on how the stream is cut."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.metrology.reading import Window
from weightshare.model import Bools, Floats

BLOCK_S = 0.2


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """The samples of one fifth of a second. mean, sd: counts, shape (channels,), of the readings that are there.

    NaN where a channel lacks more than half of them.

    time_s: the mean of their times.
    """

    number: int
    time_s: float
    samples: int
    mean: Floats
    sd: Floats
    clipped: Bools
    """Which channels stood at the converter's end, shape (channels,)."""

    @property
    def end_s(self) -> float:
        """Where the block ends, s."""
        return (self.number + 1) * BLOCK_S


CONVERTER_ENDS = (2**23 - 1, -(2**23), 2**31 - 1)
"""Where converters of 24 bit, and the protocol's own numbers, stop."""


class Blocks:
    """Cuts a stream into blocks; a block is given out with the first sample after it."""

    def __init__(self) -> None:
        self._time_s: list[Floats] = []
        self._readings: list[Floats] = []

    def push(self, time_s: Floats, readings: Floats) -> Iterator[Block]:
        """Take samples, time_s shape (n,), readings (counts) shape (channels, n); yield every block that is whole."""
        if not time_s.size:
            return
        self._time_s.append(time_s)
        self._readings.append(readings)
        if _number(float(time_s[-1])) == _number(float(self._time_s[0][0])):
            return
        times, values = np.concatenate(self._time_s), np.concatenate(self._readings, axis=1)
        numbers = np.floor(times / BLOCK_S + 1e-9).astype(np.int64)
        edges = [0, *(np.flatnonzero(np.diff(numbers)) + 1).tolist()]
        self._time_s, self._readings = [times[edges[-1] :]], [values[:, edges[-1] :]]
        for begin, end in pairwise(edges):
            yield _block(int(numbers[begin]), times[begin:end], values[:, begin:end])


def _number(time_s: float) -> int:
    return math.floor(time_s / BLOCK_S + 1e-9)


def _block(number: int, time_s: Floats, values: Floats) -> Block:
    there = np.isfinite(values)
    count = there.sum(axis=1)
    total = np.where(there, values, 0.0).sum(axis=1)
    mean = np.where(2 * count >= time_s.size, total / np.maximum(count, 1), np.nan)
    square = (np.where(there, values - mean[:, None], 0.0) ** 2).sum(axis=1)
    sd = np.sqrt(square / np.maximum(count - 1, 1))
    clipped: Bools = np.asarray(np.isin(values, CONVERTER_ENDS).any(axis=1), np.bool_)
    return Block(number, float(time_s.mean()), int(time_s.size), mean, sd, clipped)


def pool(blocks: list[Block]) -> Block:
    """Return several blocks, at least one, as if they were one; `number` is the last one's."""
    samples = np.array([block.samples for block in blocks], dtype=np.float64)
    means = np.array([block.mean for block in blocks])
    total = float(samples.sum())
    mean = samples @ means / total
    within = (samples - 1.0) @ np.array([block.sd**2 for block in blocks])
    between = samples @ (means - mean) ** 2
    sd: Floats = np.sqrt((within + between) / max(total - 1.0, 1.0))
    time_s = float(samples @ np.array([block.time_s for block in blocks])) / total
    clipped: Bools = np.asarray([block.clipped for block in blocks], np.bool_).max(axis=0)
    return Block(blocks[-1].number, time_s, int(total), mean, sd, clipped)


def to_window(placement: int, block: Block, rows: Iterable[int]) -> Window:
    """Return the block as a window of the placement of that number, of the channels `rows` alone."""
    chosen = list(rows)
    mean, sd = block.mean[chosen].tolist(), block.sd[chosen].tolist()
    return Window(placement, block.time_s, block.samples, tuple(mean), tuple(sd))
