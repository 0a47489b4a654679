"""What the pipeline shows of a person of 700 N whose right foot is injured: for tests of screens and of the window."""

from __future__ import annotations

from typing import Any

from weightshare.state import Snapshot, State

AGREED_WORDS = {
    "nobody on the scales",
    "taking zero",
    "weighing",
    "in the band",
    "too little",
    "too much",
    "one foot is off",
    "part of your weight is elsewhere",
    "link lost",
}
"""The states that a patient meets, in the words that were agreed on."""


def snapshot(state: State = State.IN_BAND, share: float | None = 74.3, **more: Any) -> Snapshot:
    """Return a snapshot with `share` (percent) on the right foot; `more` replaces whatever else is in it."""
    right_N = None if share is None else 7.0 * share
    values: dict[str, Any] = {
        "state": state,
        "time_s": 40.0,
        "samples": 3200,
        "left_N": None if right_N is None else 700.0 - right_N,
        "right_N": right_N,
        "share_percent": share,
        "injured_N": right_N,
        "body_weight_N": 700.0,
        "on_plates_percent": 100.0,
        "in_band": state is State.IN_BAND,
        "zero_taken": True,
    }
    return Snapshot(**(values | more))
