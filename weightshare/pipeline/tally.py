"""What the stages counted and averaged over all that came."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.exercise import Basis, CeilingEvent, Rejected, Repetition, SetSpan
from weightshare.pipeline.stand import Stood
from weightshare.state import Hold


@dataclass(frozen=True, slots=True)
class Tally:
    """What the stages counted and averaged: times in s, forces in N, shares in percent; None without samples."""

    duration_s: float
    samples: int
    rate_Hz: float
    body_weight_N: float | None
    on_plates_percent: float | None
    share_mean: float | None
    share_sd: float | None
    share_min: float | None
    share_max: float | None
    injured_N: float | None
    uninjured_N: float | None
    holds: tuple[Hold, ...]
    time_in_band_s: float
    time_present_s: float
    gaps: tuple[tuple[float, float], ...]
    warnings: tuple[str, ...]
    basis: Basis | None = None
    repetitions: tuple[Repetition, ...] = ()
    rejected: tuple[Rejected, ...] = ()
    spans: tuple[SetSpan, ...] = ()
    faults_s: tuple[float, ...] = ()
    """Sample times at which a fault was marked."""
    heels_seen: bool = False
    """Whether the heights that the exercise needs were measured."""
    ceiling_events: tuple[CeilingEvent, ...] | None = None
    """None: no ceiling was set."""
    stood: Stood | None = None
    """The warm-up stand; None where there was none, or it was not over."""
