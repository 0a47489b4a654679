"""Repetitions as the counters give them out, made up for tests of what is made of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from weightshare.exercise import Basis, Repetition


def make_raise(start_s: float, lasts_s: float = 4.0, /, **more: Any) -> Repetition:
    """Return a raise of 80 mm by both heels, a quarter up, a quarter at the top, half of it down; 75 % in the lowering.

    `more` replaces whatever else is in it.
    """
    quarter_s = lasts_s / 4.0
    values: dict[str, Any] = {
        "basis": Basis.HEIGHT,
        "start_s": start_s,
        "top_s": start_s + quarter_s,
        "lowering_s": start_s + 2.0 * quarter_s,
        "end_s": start_s + lasts_s,
        "lowering_duration_s": 2.0 * quarter_s,
        "share_lowering_percent": 75.0,
        "lowering_in_band_percent": 90.0,
        "height_injured_mm": 80.0,
        "height_uninjured_mm": 80.0,
        "load_travel_injured_J": 24.0,
        "load_travel_uninjured_J": 32.0,
    }
    return Repetition(**(values | more))


def make_series(heights_mm: Sequence[float], every_s: float = 5.0, /, **more: Any) -> list[Repetition]:
    """Return one raise for each height of the injured heel, one every `every_s` seconds from 0 s on."""
    return [make_raise(every_s * place, height_injured_mm=height, **more) for place, height in enumerate(heights_mm)]
