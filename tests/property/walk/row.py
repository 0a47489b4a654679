"""One row of a trace, the low-pass, and what is said of every row by itself. Part of the walk."""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

NAN = math.nan
Row: TypeAlias = tuple[float, float, float]
"""Time, left and right; NaN is a missing reading."""
LowPass: TypeAlias = Callable[[Sequence[float], float, float], Sequence[float]]
"""(values of one gap-free stretch, cut-off in Hz, samples a second) to filtered values."""

GAP = 3.5
"""Nominal intervals between two readings beyond which they are parted by a gap: three, and half a one for jitter."""
ROW_MISSING = 1.75
"""Nominal intervals between two rows from which on one must be missing between them."""


@dataclass
class Task:
    """What is asked: side, band (none without a target), grace, filter, body weight where it is known."""

    injured: str
    target: float | None = None
    tolerance: float = 5.0
    grace_s: float = 1.0
    filter_Hz: float | None = 6.0
    body_weight_N: float | None = None


@dataclass
class Sample:
    """One row after the filter, and what is said of it."""

    time_s: float
    left: float
    right: float
    follows: bool
    """No gap parts it from the row before."""
    total: float = NAN
    present: bool = False
    two_legs: bool = False
    share: float = NAN
    plates: float = NAN
    weighed: bool = False
    in_band: bool = False

    @property
    def missing(self) -> bool:
        return math.isnan(self.total)

    @property
    def away(self) -> bool:
        return not self.missing and not self.present


def loop_low_pass(values: Sequence[float], cutoff_Hz: float, rate_Hz: float) -> list[float]:
    """Second-order Butterworth low-pass (bilinear, prewarped), from its steady state, as a plain loop."""
    k = math.tan(math.pi * cutoff_Hz / rate_Hz)
    norm = 1.0 + math.sqrt(2.0) * k + k * k
    b0, a1, a2 = k * k / norm, 2.0 * (k * k - 1.0) / norm, (1.0 - math.sqrt(2.0) * k + k * k) / norm
    first = values[0]
    s1, s2 = first * (1.0 - b0), first * (b0 - a2)
    out = []
    for x in values:
        y = b0 * x + s1
        s1 = 2.0 * b0 * x - a1 * y + s2
        s2 = b0 * x - a2 * y
        out.append(y)
    return out


def filter_rows(table: Sequence[Row], interval_s: float, task: Task, low_pass: LowPass) -> list[Sample]:
    """Put in the rows that short runs have lost, and filter each side."""
    rows: list[Row] = []
    for row in table:
        if rows:
            step = (row[0] - rows[-1][0]) / interval_s
            if ROW_MISSING <= step <= GAP:
                before = rows[-1][0]
                lost = round(step) - 1
                rows += [(before + (row[0] - before) * (k + 1) / (lost + 1), NAN, NAN) for k in range(lost)]
        rows.append(row)
    times = [row[0] for row in rows]
    sides = [_channel(times, [row[side] for row in rows], interval_s, task, low_pass) for side in (1, 2)]
    follows = [False] + [b - a <= GAP * interval_s for a, b in pairwise(times)]
    return [Sample(*parts) for parts in zip(times, *sides, follows, strict=True)]


def _channel(
    times: Sequence[float], values: Sequence[float], interval_s: float, task: Task, low_pass: LowPass
) -> list[float]:
    """Filter one channel, each stretch without a gap by itself; short missing runs are bridged for the filter only."""
    if task.filter_Hz is None:
        return list(values)
    out = [NAN] * len(values)
    stretch: list[int] = []
    for i in [i for i, value in enumerate(values) if not math.isnan(value)] + [-1]:
        if stretch and (i < 0 or times[i] - times[stretch[-1]] > GAP * interval_s):
            bridged = _bridge(times, values, stretch)
            filtered = low_pass(bridged, task.filter_Hz, 1.0 / interval_s)
            for k in stretch:
                out[k] = float(filtered[k - stretch[0]])
            stretch = []
        stretch.append(i)
    return out


def _bridge(times: Sequence[float], values: Sequence[float], known: Sequence[int]) -> list[float]:
    bridged = [values[known[0]]]
    for a, b in pairwise(known):
        for k in range(a + 1, b + 1):
            bridged.append(values[a] + (values[b] - values[a]) * (times[k] - times[a]) / (times[b] - times[a]))
    return bridged


def weigh(samples: list[Sample], interval_s: float, task: Task) -> tuple[float | None, float]:
    """Find the first still 3 s; say from which sample on body weight is known."""
    for sample in samples:
        sample.total = sample.left + sample.right
        sample.weighed = task.body_weight_N is not None
    if task.body_weight_N is not None:
        return task.body_weight_N, math.inf
    margin = math.inf
    loaded: list[float] = []
    width = round(3.0 / interval_s) + 1
    for i, sample in enumerate(samples):
        if i and not sample.follows:
            loaded += [NAN] * (round((sample.time_s - samples[i - 1].time_s) / interval_s) - 1)
        loaded = [] if sample.total <= 50.0 else [*loaded[1 - width :], sample.total]
        if math.isnan(sample.total):
            continue
        window = [total for total in loaded[-width:] if not math.isnan(total)]
        if len(loaded) >= width and len(window) >= 0.9 * width:
            part = statistics.pstdev(window) / (0.01 * statistics.fmean(window))
            margin = min(margin, abs(part - 1.0))
            if part < 1.0:
                for later in samples[i:]:
                    later.weighed = True
                return statistics.median(window), margin
    return None, margin


def judge(samples: list[Sample], interval_s: float, weight_N: float | None, task: Task) -> None:
    second = (round(1.0 / interval_s) - 0.5) * interval_s
    first, load, count = 0, 0.0, 0
    for sample in samples:
        _stand(sample, weight_N)
        if sample.present:
            load, count = load + sample.total, count + 1
            injured = sample.left if task.injured == "left" else sample.right
            sample.share = 100.0 * injured / sample.total
        while samples[first].time_s < sample.time_s - second:
            if samples[first].present:
                load, count = load - samples[first].total, count - 1
            first += 1
        if sample.present and sample.weighed and weight_N is not None:
            sample.plates = 100.0 * load / count / weight_N
        if task.target is not None:
            sample.in_band = sample.two_legs and abs(sample.share - task.target) <= task.tolerance


def _stand(sample: Sample, weight_N: float | None) -> None:
    sample.present = sample.two_legs = sample.total >= 50.0
    if sample.weighed and weight_N is not None:
        sample.present = sample.present and sample.total >= 0.2 * weight_N
        feet = min(sample.left, sample.right) >= 0.03 * weight_N
        sample.two_legs = sample.present and feet and sample.total >= 0.8 * weight_N
