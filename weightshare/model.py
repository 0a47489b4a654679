"""Frozen values that every part of weightshare shares. No files, no clock, no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import IntEnum, StrEnum
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Bools: TypeAlias = NDArray[np.bool_]

STANDARD_GRAVITY = 9.80665
"""m/s^2, the conventional value (3rd CGPM, 1901); it cancels in share and symmetry."""


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


@dataclass(frozen=True, slots=True)
class RoundTrip:
    """One PING and its ECHO: host times in ns of the monotonic clock, and the scale's tick in between."""

    sent_ns: int
    received_ns: int
    tick: int


Item: TypeAlias = Identity | Chunk | Condition | LinkUp | LinkDown | RoundTrip
"""What the pipeline is fed with; it takes what it needs and passes over the rest."""


class Sourced(NamedTuple):
    """An item and the source that it came from: 0, or 0 and 1 where two separate scales are one pair."""

    source: int
    item: Item


@dataclass(frozen=True, slots=True)
class ChannelCalibration:
    """Force = newton_per_count (counts - zero_counts) + newton_per_count2 (counts - zero_counts)^2."""

    index: int
    zero_counts: float
    newton_per_count: float
    newton_per_count2: float = 0.0
    standard_uncertainty_N: float | None = None
    range_N: float | None = None
    made_on: date | None = None
    """The day of an earlier calibration that it is of; None where it is of the calibration's own."""


@dataclass(frozen=True, slots=True)
class SideWorth:
    """What one side's force is worth: standard uncertainties, in N or as a part of the load (0.001 is 0.1 %)."""

    side: Side
    gain_part: float
    """Of the slope, as far as this side has it alone; part of the load."""
    repeatability_N: float
    """Standard deviation of a load that is put on again."""
    noise_N: float
    """Standard deviation of one reading, unfiltered, at `noise_rate_Hz`."""
    noise_rate_Hz: float
    hysteresis_N: float = 0.0
    creep_part: float = 0.0
    corner_part: float = 0.0
    """Of where on the plate the load lies; part of the load."""
    zero_drift_N: float = 0.0
    """Of how far the zero wanders within a session, after it was taken."""


@dataclass(frozen=True, slots=True)
class HeelWorth:
    """What the height of a heel is worth: standard uncertainties, of either side by itself."""

    height_mm: float
    """Of the sensor, mm."""
    place_part: float
    """Of where the foot stands over it; part of the height."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What the forces of a calibrated scale are worth.

    `common_part` is what both sides have together, of masses and gravity: a part of the load; in the share it cancels.
    `assumed` names the fields that were not measured here, but are the standard build's. `heel`: of its sensors of heel
    height; None where nobody measured them.
    """

    sides: tuple[SideWorth, ...]
    common_part: float = 0.0
    assumed: tuple[str, ...] = ()
    heel: HeelWorth | None = None


@dataclass(frozen=True, slots=True)
class Calibration:
    """An immutable, dated calibration of one scale's force channels, matched to it by `device_id`."""

    device_id: str
    made_on: date
    channels: tuple[ChannelCalibration, ...]
    valid_until: date | None = None
    gravity_m_s2: float = STANDARD_GRAVITY
    worth: Worth | None = None
    """None where the file says no more than each channel's standard uncertainty."""

    def made_on_of(self, channel: ChannelCalibration) -> date:
        """Return the day of a channel's own calibration: an earlier one where the other plate alone was calibrated."""
        return channel.made_on or self.made_on


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
