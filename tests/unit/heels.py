"""Traces with heels, for tests of repetitions by height: a scene's heights, measured or not, beside its forces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tests.unit.raises import Scene
from weightshare.model import Floats, Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.pipeline.result import Analysis
from weightshare.task import Settings

PLAIN = Settings(Side.LEFT, 75.0, body_weight_N=700.0)


def heeled(scene: Scene, rate_Hz: float = 100.0, noise_mm: float = 0.0, other_mm: float = 0.0) -> Trace:
    """Return the scene's trace without noise of the load, with the left heel's height and the right one's above it."""
    trace = scene.trace(rate_Hz, noise_percent=0.0)
    height = scene.heel.at(trace.time_s)
    noise = noise_mm * np.random.default_rng(7).normal(size=(2, height.size))
    heights = {"left_heel_height_mm": height + noise[0], "right_heel_height_mm": height + other_mm + noise[1]}
    return replace(trace, columns=trace.columns | heights)


def with_column(trace: Trace, name: str, values: Floats) -> Trace:
    """Return the trace with another column."""
    return replace(trace, columns=trace.columns | {name: values})


def analyse(trace: Trace, settings: Settings = PLAIN) -> Analysis:
    """Return the analysis of a trace."""
    return analyse_trace(trace, settings)
