"""A counter run over a trace, however it is cut: what it is fed with, made of the trace, and what it makes of that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.exercise import Rejected, Repetition, SetSpan
from weightshare.model import PART_COLUMNS, SIDE_COLUMNS, Trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.lowpass import LowPass, delay_s
from weightshare.pipeline.motion import Counter, Ground, Motion, PhaseNumbers
from weightshare.pipeline.share import find_share
from weightshare.pipeline.weight import Weight
from weightshare.task import DEFAULT_FILTER_HZ, Settings


@dataclass(frozen=True)
class Run:
    """What a counter made of a motion."""

    phases: PhaseNumbers
    repetitions: list[Repetition]
    rejected: list[Rejected]
    warnings: list[str]


def make_ground(trace: Trace, settings: Settings) -> Ground:
    """Return what stays the same for all samples of a trace."""
    return Ground(settings, float(np.median(np.diff(trace.time_s))), delay_s(DEFAULT_FILTER_HZ))


def trace_motion(trace: Trace, settings: Settings) -> Motion:
    """Return the filtered samples of a trace with parts, NaN where readings are missing."""
    ground, columns = make_ground(trace, settings), SIDE_COLUMNS + PART_COLUMNS
    values = np.stack([trace.columns[name] for name in columns])
    flags = np.zeros(trace.time_s.size, dtype=np.uint8)
    low_pass = LowPass(DEFAULT_FILTER_HZ)
    block = low_pass.push(Block(ground.interval_s, columns, trace.time_s, values, flags))
    weight = Weight(settings.body_weight_N, settings.added_weight_N, ground.interval_s)
    standing = weight.push(block)
    weight_N = np.full(block.time_s.size, np.nan)
    weight_N[standing.weight_from :] = np.nan if weight.body_weight_N is None else weight.body_weight_N
    return Motion(
        block.time_s,
        block.values[0],
        block.values[1],
        find_share(block, standing, settings.injured),
        standing.on_plates_percent,
        weight_N,
        standing.present,
        np.isnan(standing.total_N),
        block.values[2:],
    )


def run(counter: Counter, motion: Motion, cuts: Iterable[int] = (), spans: Iterable[SetSpan] = ()) -> Run:
    """Push a motion into a counter, cut before the samples that `cuts` names; sets begin beforehand."""
    for span in spans:
        counter.begin_set(span)
    edges = sorted({0, motion.time_s.size, *(cut for cut in cuts if cut < motion.time_s.size)})
    phases = [counter.push(motion.cut(start, stop)) for start, stop in pairwise(edges)]
    counter.finish()
    told = list(counter.repetitions), list(counter.rejected), list(counter.warnings)
    return Run(np.concatenate(phases), *told)
