"""What the standard build is worth where nobody measured it, and what a calibration without more says."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from weightshare.model import Calibration, Channel, ChannelCalibration, Quantity, Side, SideWorth, Worth

_ROOT3 = math.sqrt(3.0)
"""A limit that is all that is known is divided by it: a rectangular distribution (JCGM 100:2008, 4.3.7)."""
MASSES_PART = 5.0e-5 / _ROOT3
"""Of M1 masses: 50 mg/kg (OIML R 111-1:2004, table 1: 20 kg +-1 g) and a rectangular distribution."""
GRAVITY_PART = 2.0e-5
"""Of gravity by latitude and height, where it was not measured: local anomalies, common practice, no source."""
COMMON_PART = math.hypot(MASSES_PART, GRAVITY_PART)

_TOLD = ("gain_part", "repeatability_N", "hysteresis_N")
"""What a channel's standard uncertainty stands for."""
_REST = ("noise_N", "creep_part", "corner_part", "zero_drift_N")

_NAMES = {
    "common_part": "masses and gravity",
    "gain_part": "slope",
    "repeatability_N": "repeatability",
    "noise_N": "noise",
    "hysteresis_N": "hysteresis",
    "creep_part": "creep",
    "corner_part": "place on the plate",
    "zero_drift_N": "zero drift",
}
"""What is assumed, in words that need no file beside them."""


def standard_side(side: Side) -> SideWorth:
    """Return one plate of the standard build: 2 kN, a 24-bit converter, calibrated with M1 masses.

    The limits are those that data sheets of such cells usually give (from memory): 0.02 % of range in all, 0.02 % of
    load creep, 0.02 % of range a 10 K for the zero.
    """
    return SideWorth(
        side,
        gain_part=2.0e-4,
        repeatability_N=0.10,
        noise_N=0.17,
        noise_rate_Hz=100.0,
        # up to half of the range, where a body weight is
        hysteresis_N=2.0e-4 * 1000.0 / _ROOT3,
        creep_part=2.0e-4 / _ROOT3,
        # on each quarter of the plate within 0.1 % of the load, once the feet are set
        corner_part=1.0e-3 / _ROOT3,
        # 5 K in a session
        zero_drift_N=0.5 * 2.0e-4 * 2000.0 / _ROOT3,
    )


def standard_worth() -> Worth:
    """Return the standard build's worth; all of it is assumed."""
    return Worth(tuple(standard_side(side) for side in Side), COMMON_PART, ("common_part", *_TOLD, *_REST))


def worth_of(calibration: Calibration, channels: Sequence[Channel] | None = None) -> Worth:
    """Return what the forces of a scale with this calibration are worth, and which of that is assumed.

    Where the calibration says no more than each channel's standard uncertainty, that is taken for slope, repeatability
    and hysteresis together, and the rest is the standard build's. channels: the scale's, to know which are under which
    foot; without them each side is given all of them, which is never too little.
    """
    if calibration.worth is not None:
        return calibration.worth
    told = {side: _told_u(_under(calibration, channels, side)) for side in Side}
    sides = tuple(_side_of(side, u) for side, u in told.items())
    assumed = _REST if None not in told.values() else (*_TOLD, *_REST)
    return Worth(sides, COMMON_PART, ("common_part", *assumed))


def _side_of(side: Side, u_N: float | None) -> SideWorth:
    standard = standard_side(side)
    return standard if u_N is None else replace(standard, gain_part=0.0, repeatability_N=u_N, hysteresis_N=0.0)


def _told_u(channels: Sequence[ChannelCalibration]) -> float | None:
    """Return the standard uncertainty (N) that the calibration gives a side; None where it does not."""
    known = [one.standard_uncertainty_N for one in channels if one.standard_uncertainty_N is not None]
    return math.hypot(*known) if known and len(known) == len(channels) else None


def _under(calibration: Calibration, channels: Sequence[Channel] | None, side: Side) -> tuple[ChannelCalibration, ...]:
    if channels is None:
        return calibration.channels
    here = {i for i, one in enumerate(channels) if one.quantity is Quantity.FORCE and one.side is side}
    return tuple(one for one in calibration.channels if one.index in here)


def say_assumed(assumed: Sequence[str]) -> str:
    """Return in words what is assumed, by the names that `Worth.assumed` has."""
    return ", ".join(_NAMES.get(name, name) for name in assumed)
