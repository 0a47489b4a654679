"""The whole analysis once more, sample by sample in plain Python, written from the definitions of the measures alone.

Slow and simple on purpose. It shares no line with the package; `test_reference.py` compares the two, and the bench
takes its time as that of a plain loop.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tests.property.walk.hold import Held, find_holds
from tests.property.walk.row import GAP, LowPass, Row, Sample, Task, filter_rows, judge, weigh

TRIM_S = 0.5 - 1e-6
"""Half a second, and something for the rounding of times far from 0."""


@dataclass
class Report:
    """What the reference finds, as the analysis names it."""

    body_weight_N: float | None
    weight_margin: float
    """How far any three seconds were from just being still enough, in parts of the limit; small is undecided."""
    on_plates_percent: float | None
    mean: float | None
    sd: float | None
    low: float | None
    high: float | None
    injured_N: float | None
    uninjured_N: float | None
    time_in_band_s: float
    time_present_s: float
    holds: list[Held]
    gaps: list[tuple[float, float]]


def analyse(table: Sequence[Row], task: Task, low_pass: LowPass) -> Report:
    """Return the report on a trace."""
    interval_s = statistics.median(b[0] - a[0] for a, b in pairwise(table))
    samples = filter_rows(table, interval_s, task, low_pass)
    weight_N, margin = weigh(samples, interval_s, task)
    judge(samples, interval_s, weight_N, task)
    time_in_band_s, holds = find_holds(samples, task)
    means = _means(samples, interval_s, weight_N)
    low, high = _extremes(samples)
    return Report(
        weight_N,
        margin,
        *means,
        low,
        high,
        *_forces(samples, interval_s, task),
        time_in_band_s,
        sum(b.time_s - a.time_s for a, b in _pairs(samples) if a.present and b.present),
        [hold for hold in holds if hold.held_s >= 1.0],
        _gaps(table, interval_s),
    )


def _pairs(samples: list[Sample]) -> list[tuple[Sample, Sample]]:
    """Neighbours that no gap parts."""
    return [(a, b) for a, b in pairwise(samples) if b.follows]


def _weighted(samples: list[Sample], interval_s: float) -> list[tuple[float, Sample]]:
    """Each sample of someone standing with the interval that ends with it."""
    weighted = []
    for i, sample in enumerate(samples):
        if sample.present:
            goes_on = sample.follows and samples[i - 1].present
            weighted.append((sample.time_s - samples[i - 1].time_s if goes_on else interval_s, sample))
    return weighted


def _means(
    samples: list[Sample], interval_s: float, weight_N: float | None
) -> tuple[float | None, float | None, float | None]:
    """Return on the plates, mean share and its spread."""
    weighted = _weighted(samples, interval_s)
    whole = math.fsum(step for step, _ in weighted)
    if not weighted:
        return None, None, None
    mean = math.fsum(step * sample.share for step, sample in weighted) / whole
    variance = math.fsum(step * (sample.share - mean) ** 2 for step, sample in weighted) / whole
    known = [(step, sample) for step, sample in weighted if sample.weighed]
    if not known or weight_N is None:
        return None, mean, math.sqrt(variance)
    load = math.fsum(step * sample.total for step, sample in known) / math.fsum(step for step, _ in known)
    return 100.0 * load / weight_N, mean, math.sqrt(variance)


def _forces(samples: list[Sample], interval_s: float, task: Task) -> tuple[float | None, float | None]:
    weighted = _weighted(samples, interval_s)
    if not weighted:
        return None, None
    whole = math.fsum(step for step, _ in weighted)
    left = math.fsum(step * sample.left for step, sample in weighted) / whole
    right = math.fsum(step * sample.right for step, sample in weighted) / whole
    return (left, right) if task.injured == "left" else (right, left)


def _extremes(samples: list[Sample]) -> tuple[float | None, float | None]:
    """Return least and greatest share, without the half second after stepping on and before stepping off."""
    on_s, away, kept = -math.inf, False, list[Sample]()
    shares: list[float] = []
    for sample in samples:
        if sample.present:
            on_s = sample.time_s if away else on_s
            away = False
            if sample.time_s - on_s >= TRIM_S:
                kept.append(sample)
        elif sample.away:
            shares += [other.share for other in kept if sample.time_s - other.time_s >= TRIM_S]
            kept, away = [], True
    shares += [sample.share for sample in kept]
    return (min(shares), max(shares)) if shares else (None, None)


def _gaps(table: Sequence[Row], interval_s: float) -> list[tuple[float, float]]:
    """From the last reading of both sides to the first after it; the stream's ends count as its borders."""
    read = [t for t, a, b in table if not math.isnan(a + b)]
    marks = [table[0][0], *read, table[-1][0]]
    return [(a, b) for a, b in pairwise(marks) if b - a > GAP * interval_s]
