"""True holds with the heels up: time with the share in the band and both heels over half of a full raise."""

from __future__ import annotations

from typing import Any

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.tally import Course

HALF = 0.5
SHORTEST_S = 1.0
TWO_LEGS, ONE_FOOT = 0.8, 0.03
"""Two-leg work counts only with these parts of body weight on the plates, and under each foot."""


def tell_holds(course: Course, task: Task, body_weight_N: float, full_mm: float) -> dict[str, Any]:
    """Return `band`, `holds`, `longest_hold_s` and `total_held_s` as JSON values; `full_mm` is a full raise's height.

    The course is taken as it is, unfiltered: what is between two of its instants counts where both are inside.
    """
    total_N, injured_N = course.total_N, course.injured_N
    share = 100.0 * injured_N / np.maximum(total_N, 1e-9)
    stands = total_N >= TWO_LEGS * body_weight_N
    stands &= np.minimum(injured_N, total_N - injured_N) >= ONE_FOOT * body_weight_N
    in_band = stands & (np.abs(share - task.target_percent) <= task.tolerance_percent)
    up = course.height_mm.min(axis=1) >= HALF * full_mm
    holds = _join(course.time_s, in_band & up, total_N > 50.0, task.grace_s)
    listed = [hold for hold in holds if hold["held_s"] >= SHORTEST_S]
    steps = np.diff(course.time_s)
    inside = in_band[1:] & in_band[:-1]
    return {
        "band": {
            "target_percent": task.target_percent,
            "tolerance_percent": task.tolerance_percent,
            "grace_s": task.grace_s,
            "time_in_band_s": round(float(steps[inside].sum()), 6),
            "time_in_band_heels_up_s": round(float(steps[inside & up[1:] & up[:-1]].sum()), 6),
        },
        "holds": listed,
        "longest_hold_s": max((hold["held_s"] for hold in listed), default=0.0),
        "total_held_s": round(sum(hold["held_s"] for hold in listed), 6),
    }


def _join(time_s: Floats, inside: Bools, stands: Bools, grace_s: float) -> list[dict[str, float]]:
    """Return the runs that are inside, joined over times outside of up to the grace time in which somebody stands."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], inside.astype(np.int8), [0]))))
    holds: list[dict[str, float]] = []
    for begin, stop in zip(edges[::2], edges[1::2] - 1, strict=True):
        start_s, end_s = float(time_s[begin]), float(time_s[stop])
        stayed = holds and stands[np.searchsorted(time_s, holds[-1]["end_s"]) : begin].all()
        if stayed and start_s - holds[-1]["end_s"] <= grace_s:
            holds[-1]["end_s"] = end_s
            holds[-1]["held_s"] += end_s - start_s
        else:
            holds.append({"start_s": start_s, "end_s": end_s, "held_s": end_s - start_s})
    return [{key: round(value, 6) for key, value in hold.items()} for hold in holds]
