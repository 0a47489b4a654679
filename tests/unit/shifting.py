"""Forces of somebody who shifts the load slowly, made without the rig: its parts are chosen one by one."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats


def shift_forces(
    mismatch: float = 0.0,
    *,
    low: float = 0.35,
    high: float = 0.65,
    seconds: float = 40.0,
    period_s: float = 16.0,
    weight_N: float = 700.0,
    rate_Hz: float = 100.0,
    noise: float = 0.001,
    seed: int = 1,
) -> tuple[Floats, Floats, Floats]:
    """Times (s), and left and right forces (N): the left side reads `mismatch` too high, as a part."""
    rng = np.random.default_rng(seed)
    time_s = np.arange(round(seconds * rate_Hz)) / rate_Hz
    share = 0.5 * (low + high) + 0.5 * (high - low) * np.sin(2.0 * np.pi * time_s / period_s)
    total_N = weight_N * (1.0 + noise * rng.standard_normal(time_s.size))
    return time_s, total_N * share * (1.0 + mismatch), total_N * (1.0 - share)
