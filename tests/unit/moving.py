"""Samples as those see them who look for repetitions, made up for their tests."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from weightshare.model import Floats, Side
from weightshare.pipeline.motion import Motion


def make_motion(
    time_s: Floats,
    left_N: ArrayLike,
    right_N: ArrayLike,
    plates_percent: ArrayLike = 100.0,
    injured: Side = Side.LEFT,
) -> Motion:
    """Return samples of a person of 700 N; single numbers hold for all times (n,), NaN is a missing reading."""
    left, right, plates = (
        np.broadcast_to(np.asarray(values, dtype=np.float64), time_s.shape)
        for values in (left_N, right_N, plates_percent)
    )
    total = left + right
    missing, present = np.isnan(total), total >= 140.0
    mine = left if injured is Side.LEFT else right
    share = np.divide(100.0 * mine, total, out=np.full(total.shape, np.nan), where=present)
    return Motion(time_s, left, right, share, plates, np.full(total.shape, 700.0), present, missing)


def cut_motion(motion: Motion, start: int, stop: int) -> Motion:
    """Return the samples from `start` up to `stop`; heights and parts are left out."""
    names = ("time_s", "left_N", "right_N", "share_percent", "on_plates_percent", "body_weight_N", "present", "missing")
    return Motion(*(getattr(motion, name)[start:stop] for name in names))
