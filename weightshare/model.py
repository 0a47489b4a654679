"""Frozen values that every part of weightshare shares. No files, no clock, no Qt."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import date
from enum import IntEnum, StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import OptionError

Floats: TypeAlias = NDArray[np.float64]
Bools: TypeAlias = NDArray[np.bool_]

STANDARD_GRAVITY = 9.80665
"""m/s^2, the conventional value (3rd CGPM, 1901); it cancels in share and symmetry."""

DEFAULT_FILTER_HZ = 6.0
"""The live low-pass's cut-off where none is asked for."""

NO_READING = -(2**31)
"""The raw reading that means `there was none`."""


class Side(StrEnum):
    """A side of the body, seen by the user."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Side:
        """The opposite side."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


class Quantity(IntEnum):
    """What a channel measures, as numbered by the wire protocol."""

    FORCE = 1
    HEEL_HEIGHT = 2
    TEMPERATURE = 3


@dataclass(frozen=True, slots=True)
class Channel:
    """One channel of a scale: what it measures, under which foot, and where (mm, x right, y forward)."""

    quantity: Quantity
    side: Side | None
    x_mm: int = 0
    y_mm: int = 0


@dataclass(frozen=True, slots=True)
class Identity:
    """What a scale says of itself."""

    device_id: str
    """16 lower-case hexadecimal digits."""
    firmware: tuple[int, int, int]
    boot_count: int
    tick_rate_Hz: int
    rate_Hz: float
    channels: tuple[Channel, ...]
    name: str = ""
    protocol: int = 1


@dataclass(frozen=True, slots=True, eq=False)
class Chunk:
    """One or more SAMPLES frames of one shape, in the order in which they came.

    sequence: uint16, shape (frames,). tick: uint32, shape (frames,), of each frame's first sample.
    step: uint32, shape (frames,), ticks from sample to sample. arrival_ns: int64, shape (frames,), the host's
    monotonic clock. readings: int32, shape (frames, samples, channels); NO_READING where there was none.
    """

    sequence: NDArray[np.uint16]
    tick: NDArray[np.uint32]
    step: NDArray[np.uint32]
    arrival_ns: NDArray[np.int64]
    readings: NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Condition:
    """The state of a scale, once a second while it samples."""

    tick: int
    battery_mV: int
    """0 where it does not run on a battery."""
    temperature_degC: float | None
    lost_samples: int
    faults: int

    CELL_SILENT = 1
    OVERLOAD = 2
    BATTERY_LOW = 4
    BUFFER_OVERRAN = 8


@dataclass(frozen=True, slots=True)
class LinkUp:
    """The link was opened; what comes next starts a new byte stream."""

    arrival_ns: int


@dataclass(frozen=True, slots=True)
class LinkDown:
    """The link was lost or closed."""

    arrival_ns: int
    reason: str = ""


Item: TypeAlias = Identity | Chunk | Condition | LinkUp | LinkDown
"""What the pipeline is fed with; it takes what it needs and passes over the rest."""


@dataclass(frozen=True, slots=True)
class ChannelCalibration:
    """Force = newton_per_count (counts - zero_counts) + newton_per_count2 (counts - zero_counts)^2."""

    index: int
    zero_counts: float
    newton_per_count: float
    newton_per_count2: float = 0.0
    standard_uncertainty_N: float | None = None
    range_N: float | None = None


@dataclass(frozen=True, slots=True)
class Calibration:
    """An immutable, dated calibration of one scale's force channels, matched to it by `device_id`."""

    device_id: str
    made_on: date
    channels: tuple[ChannelCalibration, ...]
    valid_until: date | None = None
    gravity_m_s2: float = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Settings:
    """What is measured against: the injured side and the band.

    Raises OptionError, which names the option, where a value is out of its range.
    """

    injured: Side
    target_percent: float | None = None
    tolerance_percent: float = 5.0
    grace_s: float = 1.0
    filter_Hz: float | None = DEFAULT_FILTER_HZ
    body_weight_N: float | None = None
    added_weight_N: float = 0.0
    counting_from_s: float | None = None
    """Holds count from this sample time on (a session's practice begins after its checks); None: from the start."""

    def __post_init__(self) -> None:
        check_range("--target", self.target_percent, 0.0, 100.0, "percent")
        check_range("--tolerance", self.tolerance_percent, 0.1, 50.0, "points")
        check_range("--grace", self.grace_s, 0.0, 60.0, "s")
        check_range("--filter", self.filter_Hz, 0.1, 1000.0, "Hz, or none")
        check_range("--body-weight-N", self.body_weight_N, 50.0, 4000.0, "N")
        check_range("--added-weight-N", self.added_weight_N, 0.0, 4000.0, "N")

    @property
    def band_percent(self) -> tuple[float, float] | None:
        """The band's edges as a person is told them, percent of the load, cut at 0 and 100; None without a target."""
        if self.target_percent is None:
            return None
        low, high = self.target_percent - self.tolerance_percent, self.target_percent + self.tolerance_percent
        return max(0.0, low), min(100.0, high)


def check_range(option: str, value: float | None, low: float, high: float, unit: str) -> None:
    """Raise OptionError where `value` is given and is not a finite number from `low` to `high`."""
    if value is not None and not (math.isfinite(value) and low <= value <= high):
        raise OptionError(f"{option} {value:g} is out of range: it may be {low:g} to {high:g} {unit}")


@dataclass(frozen=True, slots=True)
class Goal:
    """What is asked of the patient: `holds` holds of `hold_s` seconds each."""

    hold_s: float = 30.0
    holds: int = 3

    def __post_init__(self) -> None:
        check_range("--hold-goal", self.hold_s, 1.0, 3600.0, "s")
        check_range("--holds", self.holds, 1, 100, "holds")


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


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """Forces and heights over time, unfiltered and zeroed, all float64 of shape (n,); NaN is a missing reading.

    `time_s` increases strictly. `columns` holds the rest by name, in N or mm: SIDE_COLUMNS always (unless n is 0),
    PART_COLUMNS and HEIGHT_COLUMNS where they were measured.
    """

    time_s: Floats
    columns: dict[str, Floats]


SIDE_COLUMNS = ("left_N", "right_N")
PART_COLUMNS = ("left_front_N", "left_rear_N", "right_front_N", "right_rear_N")
HEIGHT_COLUMNS = ("left_heel_height_mm", "right_heel_height_mm")
TRACE_COLUMNS = SIDE_COLUMNS + PART_COLUMNS + HEIGHT_COLUMNS
