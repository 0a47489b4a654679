"""What the newest samples say: states, holds, snapshots, results. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from weightshare.exercise import Basis, CeilingEvent, Phase, Rejected, Repetition
from weightshare.model import Bools, Floats, Side


class State(StrEnum):
    """What the newest sample says, in the words that a person reads."""

    WAITING = "waiting for the scales"
    ZEROING = "taking zero"
    NOBODY = "nobody on the scales"
    WEIGHING = "weighing"
    IN_BAND = "in the band"
    TOO_LITTLE = "too little"
    TOO_MUCH = "too much"
    STANDING = "standing"
    AT_BOTTOM = "at the bottom"
    """A repetition may begin; nothing is asked of the share until then."""
    HEELS_DOWN = "heels are down"
    """A raise is to be held, and the heels are not up."""
    ONE_FOOT_OFF = "one foot is off"
    ELSEWHERE = "too little on the plates"
    NO_READING = "no reading"
    OVERLOAD = "overload"


@dataclass(frozen=True, slots=True)
class Hold:
    """One hold: from entering the band to leaving it for good (s, sample time, filter delay taken off)."""

    start_s: float
    end_s: float
    held_s: float
    supported: bool | None
    """Whether part of the weight was elsewhere; None where body weight was not known."""


@dataclass(frozen=True, slots=True)
class Snapshot:
    """The newest state of the pipeline. A number that cannot be had is None, never an old one."""

    state: State = State.WAITING
    time_s: float | None = None
    samples: int = 0
    left_N: float | None = None
    right_N: float | None = None
    share_percent: float | None = None
    injured_N: float | None = None
    body_weight_N: float | None = None
    on_plates_percent: float | None = None
    supported: bool = False
    """On the plates is known and under 95 %: part of the weight is elsewhere, now."""
    in_band: bool = False
    """Counts as in the band now: share within it, and the load where it should be."""
    holding: bool = False
    """A hold is under way (grace time included)."""
    held_s: float = 0.0
    """Held seconds of the hold under way; 0 where there is none."""
    held_each_s: tuple[float, ...] = ()
    """Held seconds of each hold listed so far, the one under way not among them."""
    time_in_band_s: float = 0.0
    zero_load_N: float | None = None
    """The newest total while the zero is being taken, by the calibration's own zero."""
    zero_taken: bool | None = None
    """None while the zero is being taken; False where it was not believed and the calibration's stands."""
    warnings: tuple[str, ...] = field(default=())
    aim_percent: float | None = None
    """The middle of the band now: it follows the phase. None without a target."""
    phase: Phase | None = None
    """Provisional; None where repetitions are not looked for, or nothing can be told."""
    phase_since_s: float | None = None
    """Sample time since which the phase lasts."""
    basis: Basis | None = None
    """What repetitions rest on here; None where they are not looked for."""
    left_height_mm: float | None = None
    """The heel's height above the plate; None where it is not measured or not read."""
    right_height_mm: float | None = None
    heels_seen: bool = False
    """Whether the heights that the exercise needs are measured."""
    repetitions: tuple[Repetition, ...] = ()
    rejected: tuple[Rejected, ...] = ()
    ceiling_N: float | None = None
    """The ceiling's limit; None where none is set, or body weight is still needed for it."""
    over_ceiling: bool = False
    ceiling_unread: bool = False
    """A ceiling is set and the load under it cannot be read now."""
    ceiling_events: tuple[CeilingEvent, ...] = ()
    clock_points: float | None = 0.0
    """What the clocks of two separate scales do to the share now, points (standard uncertainty); None where a scale
    answered no PING."""
    stand_left_s: float = 0.0
    """How long the warm-up stand still takes, s; 0: it is over, or none is asked for."""
    stand_percent: float | None = None
    """The injured side's share in it, unsteered; None: it is not over, or there was none."""

    def holds_done(self, goal_s: float) -> int:
        """How many holds reached `goal_s` seconds, the one under way among them."""
        done = sum(held >= goal_s for held in self.held_each_s)
        return done + (1 if self.holding and self.held_s >= goal_s else 0)

    def longest_hold_s(self) -> float:
        """The longest held seconds so far, the hold under way among them."""
        return max((*self.held_each_s, self.held_s), default=0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Results:
    """What one push brought, sample by sample; all arrays have shape (n,). NaN where a figure cannot be had.

    Times are s of sample time; forces (N) and what is made of them (percent) are filtered, not delay-corrected.
    """

    time_s: Floats
    left_N: Floats
    right_N: Floats
    share_percent: Floats
    on_plates_percent: Floats
    counts: Bools
    """In the band, with the load where it should be: what holds are made of."""
    aim_percent: Floats
    """The middle of the band, which follows the phase; NaN without a target."""


@dataclass(frozen=True, slots=True)
class ScaleClock:
    """What is known of one scale's clock against this computer's."""

    device_id: str
    side: Side
    drift_ppm: float | None
    """How much faster it runs than this computer's, parts in a million; None before samples came."""
    drift_doubt_ppm: float | None
    """Standard uncertainty of that."""
    offset_doubt_ms: float | None
    """Its times are right to within this much either way, now, however unlike the two ways are; None where the scale
    answered no PING."""
    round_trips: int
    """PINGs that were answered."""
    restarts: int


@dataclass(frozen=True, slots=True)
class Alignment:
    """How well the clocks of two separate scales agree, and what that does to the share."""

    doubt_ms: float | None
    """Standard uncertainty of the left sample's time against the right's, over all rows with both; None where a scale
    answered no PING, or there are none."""
    share_rate_points_s: float | None
    """How fast the share moved, root mean square, points a second; None where there is none."""
    share_doubt_points: float | None
    """What the one does to the other: their product, a standard uncertainty of the share in points."""
    scales: tuple[ScaleClock, ScaleClock]
    """In the order of the sources."""
