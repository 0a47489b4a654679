"""What a practice session shows of itself: one frozen value, taken at the display's rate."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from weightshare.model import Floats, Side
from weightshare.practice.coach import Sets
from weightshare.practice.gauge import Gauge
from weightshare.state import Snapshot

if TYPE_CHECKING:
    # what finds it is loaded with a session, not with the screens
    from weightshare.practice.checkup import CheckupView


class LinkState(StrEnum):
    """Where the link to a scale stands."""

    CONNECTING = "connecting"
    SAMPLING = "sampling"
    LOST = "lost"
    REFUSED = "refused"
    """The scale answers, but cannot be used (no calibration, another protocol version); the words say why."""
    ENDED = "ended"
    """A played-back record came to its end, or the session was closed."""


@dataclass(frozen=True, slots=True)
class LinkView:
    """One link, in words that a patient can act on."""

    source: str
    state: LinkState
    words: str
    scale_name: str = ""
    battery_mV: int = 0
    side: Side | None = None
    """Which foot it is under; None where it reads both, or that is not known yet."""
    faults: int = 0
    """What the scale said last is wrong with it, bit by bit, as Condition has them."""
    in_trouble: bool = False
    """Whether something keeps it from sampling that a person can help: not where it only waits for the other one."""


@dataclass(frozen=True, slots=True, eq=False)
class LiveView:
    """The newest of everything. `age_s` is how long ago the newest samples arrived, on the host's monotonic clock: with
    two scales, those of the side that has been silent for longer."""

    snapshot: Snapshot = field(default_factory=Snapshot)
    links: tuple[LinkView, ...] = ()
    age_s: float = float("inf")
    trail_time_s: Floats = field(default_factory=lambda: np.empty(0))
    """Sample times of the last 12 s, shape (n,); the filter's delay is not taken off."""
    trail_share_percent: Floats = field(default_factory=lambda: np.empty(0))
    """Share at those times, shape (n,); NaN where there was none."""
    recording: str = ""
    """Empty while all is written; else what is being lost, in words."""
    messages: tuple[str, ...] = ()
    """Warnings of this session so far, oldest first."""
    trail_aim_percent: Floats = field(default_factory=lambda: np.empty(0))
    """The middle of the band at those times, shape (n,); NaN without a target. Empty: it has always stood there."""
    sets: Sets = field(default_factory=Sets)
    """The sets of repetitions that were begun so far."""

    gauge: Gauge | None = None
    """What the scale is worth; None before it is known."""

    checkup: CheckupView | None = None
    """What the check of the plates has found; None before the scale is known."""

    heard_s: float | None = None
    """How long ago samples of either of two scales arrived, s; None: as `age_s`."""

    STALE_AFTER_S = 0.3

    @property
    def now_s(self) -> float | None:
        """The sample time that it is now, s: the newest sample's and its age; None before the first."""
        time_s, ago_s = self.snapshot.time_s, self.age_s if self.heard_s is None else self.heard_s
        return None if time_s is None or ago_s == float("inf") else time_s + ago_s

    @property
    def stale(self) -> bool:
        """Whether the numbers are too old to be shown at all."""
        return self.age_s > self.STALE_AFTER_S
