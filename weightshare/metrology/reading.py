"""What is gathered while a scale is calibrated on the bench: masses, where they lay, and what the channels read."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from weightshare.model import Side


class Spot(StrEnum):
    """Where on a plate a load lies, seen by somebody who stands on it."""

    MIDDLE = "middle"
    FRONT_LEFT = "front left"
    FRONT_RIGHT = "front right"
    REAR_LEFT = "rear left"
    REAR_RIGHT = "rear right"

    @property
    def x_sign(self) -> int:
        """-1 left of the middle, 1 right of it, 0 there."""
        return 0 if self is Spot.MIDDLE else (1 if self.value.endswith("right") else -1)

    @property
    def y_sign(self) -> int:
        """-1 behind the middle, 1 in front of it, 0 there."""
        return 0 if self is Spot.MIDDLE else (1 if self.value.startswith("front") else -1)


QUARTERS = (Spot.FRONT_LEFT, Spot.FRONT_RIGHT, Spot.REAR_LEFT, Spot.REAR_RIGHT)


class Kind(StrEnum):
    """What a step of the calibration is for."""

    DRIFT = "drift"
    """Nothing on, long enough to see the zero wander."""
    SERIES = "series"
    """One of the steps up or down, in the middle; nothing on begins and ends each run."""
    CORNER = "corner"
    """A load in one quarter, or in the middle to compare with."""
    CREEP = "creep"
    """The greatest load, left on."""
    RETURN = "return"
    """Nothing on, after the creep."""


class Going(StrEnum):
    """Whether a step of a series was reached by putting on or by taking off."""

    UP = "up"
    DOWN = "down"


@dataclass(frozen=True, slots=True)
class Mass:
    """One known mass, kg, with its standard uncertainty, kg; `name` is what is written on it."""

    name: str
    kg: float
    u_kg: float


@dataclass(frozen=True, slots=True)
class Placement:
    """What lies on one plate, unchanged from one step to the next.

    `masses` are places in the list of masses. Each placement has its own `number`, in the order of time, over all
    plates.
    """

    number: int
    side: Side
    kind: Kind
    masses: tuple[int, ...] = ()
    spot: Spot = Spot.MIDDLE
    going: Going = Going.UP
    run: int = 1


@dataclass(frozen=True, slots=True)
class Window:
    """The mean of a stretch of still samples: `counts` (and their standard deviations) of each of the plate's channels.

    time_s: its middle, sample time. A placement that is left on has many, one a second; others have one.
    """

    placement: int
    time_s: float
    samples: int
    counts: tuple[float, ...]
    sd_counts: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PlateLayout:
    """Which of the scale's channels are under one plate, and where (mm, x right, y forward), in one order."""

    side: Side
    channels: tuple[int, ...]
    places_mm: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class BenchRecord:
    """All that a calibration on the bench rests on.

    `changed_s` has the sample time at which each placement (by number) was complete: the load was there and still.
    """

    device_id: str
    plates: tuple[PlateLayout, ...]
    masses: tuple[Mass, ...]
    placements: tuple[Placement, ...]
    changed_s: tuple[float, ...]
    windows: tuple[Window, ...]
    rate_Hz: float
    gravity_m_s2: float
    u_gravity_m_s2: float = 0.0
    temperature_degC: float | None = None
