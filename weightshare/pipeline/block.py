"""What passes from stage to stage once readings have become newtons."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Floats

Integers: TypeAlias = NDArray[np.int64]

LEFT, RIGHT = 0, 1
"""Rows of `Block.values`; what else was measured follows."""

FILLED = 1
"""Flag: a row that was not measured, put in where readings are missing."""
OVERLOAD = 2
"""Flag: a force beyond the range of its calibration."""

MISSING_FROM = 1.75
"""Nominal intervals between two rows from which on at least one is missing; less is jitter."""
GAP_INTERVALS = 3.5
"""A gap is more than three nominal intervals without a reading; half an interval is left for jitter of the times."""

ROUNDING = 1.0 - 1e-9
"""Factor on a least load: the filter's rounding must not push what lies right on a limit below it."""


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Some samples in time order: times (n,), values (k, n) row by row as named by `columns`, flags (n,).

    Rows 0 and 1 are the left and the right force (N); NaN is a missing reading.
    """

    interval_s: float
    columns: tuple[str, ...]
    time_s: Floats
    values: Floats
    flags: NDArray[np.uint8]

    def cut(self, start: int, stop: int | None = None) -> Block:
        """Return the samples from `start` up to `stop`, as views."""
        window = slice(start, stop)
        return Block(self.interval_s, self.columns, self.time_s[window], self.values[:, window], self.flags[window])


def join(first: Block | None, second: Block) -> Block:
    """Return both blocks as one; the second's interval and columns hold."""
    if first is None or not first.time_s.size:
        return second
    return Block(
        second.interval_s,
        second.columns,
        np.concatenate((first.time_s, second.time_s)),
        np.concatenate((first.values, second.values), axis=1),
        np.concatenate((first.flags, second.flags)),
    )


def steps_s(before_s: float, time_s: Floats) -> Floats:
    """Return the time from each sample's predecessor to it, shape (n,); that of the first is at `before_s`."""
    steps = np.empty_like(time_s)
    steps[0] = time_s[0] - before_s
    np.subtract(time_s[1:], time_s[:-1], out=steps[1:])
    return steps


def find_runs(places: Integers) -> tuple[Integers, Integers]:
    """Return where the runs of neighbours among ascending places begin, and where they are over."""
    if not places.size:
        return places, places
    parted = np.flatnonzero(places[1:] - places[:-1] > 1)
    first, last = np.concatenate(([0], parted + 1)), np.concatenate((parted, [-1]))
    return places[first], places[last] + 1
