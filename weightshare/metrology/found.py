"""What a calibration found: the channels, and each metrological figure with its uncertainty."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.reading import Going, Spot
from weightshare.model import ChannelCalibration, Side, Worth

SLOPE = "slope"
CURVE = "curve"
NON_LINEARITY = "non-linearity"
HYSTERESIS = "hysteresis"
REPEATABILITY = "repeatability"
CORNER = "corner error"
CREEP = "creep"
RETURN = "return to zero"
DRIFT = "zero drift"
FIGURES = (SLOPE, CURVE, NON_LINEARITY, HYSTERESIS, REPEATABILITY, CORNER, CREEP, RETURN, DRIFT)


@dataclass(frozen=True, slots=True)
class Figure:
    """One metrological figure of one plate (of one channel, of one quarter, where it has one).

    `unit` is N, N/count, N/min or 1/N. `low` and `high` are the ends of its 95 % interval.
    """

    name: str
    side: Side
    estimate: Estimate
    unit: str
    low: float
    high: float
    channel: int | None = None
    spot: Spot | None = None
    about: str = ""
    """What exactly it is, in one line: at which load, after how long."""


@dataclass(frozen=True, slots=True)
class Residual:
    """What the fitted calibration leaves of one placement: reading minus load, N."""

    side: Side
    load_N: float
    residual_N: float
    spot: Spot
    going: Going
    run: int


@dataclass(frozen=True, slots=True)
class PlateFit:
    """The fit of one plate's force, over loads from 0 to `range_N`."""

    side: Side
    range_N: float
    degree: int
    residual_sd_N: float
    dof: int
    advice: str | None = None
    """Where another degree would do better, or the straight line does not do, in words."""


@dataclass(frozen=True, slots=True)
class Found:
    """All that came of one calibration on the bench."""

    channels: tuple[ChannelCalibration, ...]
    fits: tuple[PlateFit, ...]
    figures: tuple[Figure, ...]
    residuals: tuple[Residual, ...]
    worth: Worth
    cautions: tuple[str, ...] = ()
    """What is not as it should be, though it is usable: a corner far off, much creep."""
