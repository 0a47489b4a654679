"""Forces on two plates, made up for tests of the stages."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from weightshare.model import SIDE_COLUMNS, Floats, Side, Trace
from weightshare.pipeline import Analysis, analyse_trace
from weightshare.pipeline.block import Block
from weightshare.task import Settings

Stretch: TypeAlias = tuple[float, float, float]
"""Seconds, left and right force in N."""


def make_block(time_s: ArrayLike, left: ArrayLike, right: ArrayLike, rate_Hz: float = 100.0) -> Block:
    """Return a block of two forces; single numbers hold for all of its times."""
    times = np.asarray(time_s, dtype=np.float64)
    values = np.stack([np.broadcast_to(np.asarray(side, dtype=np.float64), times.shape) for side in (left, right)])
    return Block(1.0 / rate_Hz, SIDE_COLUMNS, times, values, np.zeros(times.size, dtype=np.uint8))


def seconds(begin_s: float, end_s: float, rate_Hz: float = 100.0) -> Floats:
    """Return the sample times from `begin_s` up to `end_s`, which is not among them."""
    return np.arange(round(begin_s * rate_Hz), round(end_s * rate_Hz), dtype=np.float64) / rate_Hz


def make_trace(stretches: Sequence[Stretch], rate_Hz: float = 100.0) -> Trace:
    """Return a trace of stretches of steady forces, one after the other, from 0 s."""
    left = np.concatenate([np.full(round(length * rate_Hz), force) for length, force, _ in stretches])
    right = np.concatenate([np.full(round(length * rate_Hz), force) for length, _, force in stretches])
    return Trace(np.arange(left.size, dtype=np.float64) / rate_Hz, {"left_N": left, "right_N": right})


def lose(trace: Trace, begin_s: float, end_s: float, *columns: str) -> Trace:
    """Return the trace without the readings from `begin_s` up to `end_s` (of both sides unless columns are named)."""
    rows = (trace.time_s >= begin_s - 1e-9) & (trace.time_s < end_s - 1e-9)
    kept = {name: np.where(rows, np.nan, values) for name, values in trace.columns.items()}
    return Trace(
        trace.time_s, {name: kept[name] if name in (columns or kept) else trace.columns[name] for name in kept}
    )


def drop(trace: Trace, begin_s: float, end_s: float) -> Trace:
    """Return the trace without its rows from `begin_s` up to `end_s`."""
    rows = (trace.time_s < begin_s - 1e-9) | (trace.time_s >= end_s - 1e-9)
    return Trace(trace.time_s[rows], {name: values[rows] for name, values in trace.columns.items()})


def analyse(  # noqa: PLR0917 - short calls read better
    stretches: Sequence[Stretch] | Trace,
    target: float | None = 75.0,
    tolerance: float = 5.0,
    grace_s: float = 1.0,
    filter_Hz: float | None = None,
    body_weight_N: float | None = None,
) -> Analysis:
    """Return the analysis of a trace (or of the stretches of one); the left side is the injured one."""
    trace = stretches if isinstance(stretches, Trace) else make_trace(stretches)
    return analyse_trace(trace, Settings(Side.LEFT, target, tolerance, grace_s, filter_Hz, body_weight_N))
