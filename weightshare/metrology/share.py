"""What a share is worth: the uncertainty of the injured side's share, after the GUM, part by part."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from weightshare.model import Side, SideWorth, Worth

GAIN = "gain"
COMMON = "masses and gravity"
REPEATABILITY = "repeatability"
HYSTERESIS = "hysteresis"
ZERO = "zero"
CREEP = "creep"
CORNER = "place on the plate"
NOISE = "noise"
CLOCK = "clock alignment"
PARTS = (GAIN, COMMON, REPEATABILITY, HYSTERESIS, ZERO, CREEP, CORNER, NOISE, CLOCK)
"""The contributions, in the order in which they are listed."""

UNEVEN = "the two plates do not read alike, so what the figures are worth is not known"
APART = "a scale answered no PING, so how well the two scales agree in time is not known"
COVERAGE_FACTOR = 2.0
"""k: about 95 % of a normal distribution lie within U = k u (JCGM 100:2008, 6.3.3)."""
ZERO_MEAN_S = 1.0
"""The zero of a session is the mean of one still second."""
BUTTERWORTH_2 = math.pi / (2.0 * math.sqrt(2.0))
"""Equivalent noise bandwidth of a second-order Butterworth low-pass over its cut-off: the integral of 1 / (1 + x^4)
from 0 on."""


def filter_bandwidth_Hz(cutoff_Hz: float) -> float:
    """Return the equivalent noise bandwidth (Hz) of the live filter with this cut-off (Hz): 1.1107 fc."""
    return BUTTERWORTH_2 * cutoff_Hz


def mean_bandwidth_Hz(seconds: float) -> float:
    """Return the equivalent noise bandwidth (Hz) of a mean over so many seconds: 1 / (2 T)."""
    return math.inf if seconds <= 0.0 else 0.5 / seconds


def live_bandwidth_Hz(cutoff_Hz: float | None, rate_Hz: float) -> float:
    """Return the noise bandwidth (Hz) of the newest sample: the filter's, or half the rate where there is none."""
    return 0.5 * rate_Hz if cutoff_Hz is None else min(filter_bandwidth_Hz(cutoff_Hz), 0.5 * rate_Hz)


def noise_at(side: SideWorth, bandwidth_Hz: float) -> float:
    """Return the standard deviation (N) that white noise leaves within `bandwidth_Hz`.

    One reading has all of it from 0 to half its rate, so sd^2 = noise_N^2 bandwidth / (noise_rate_Hz / 2).
    """
    return side.noise_N * math.sqrt(2.0 * bandwidth_Hz / side.noise_rate_Hz)


def share_u(left_N: float, right_N: float, u_left_N: float, u_right_N: float, correlation: float = 0.0) -> float:
    """Return the standard uncertainty of L / (L + R), as a part (0.002 is 0.2 points); it is that of R / (L + R) too.

    correlation: of the two sides' errors, -1 to 1. u^2 = (R^2 uL^2 + L^2 uR^2 - 2 r L R uL uR) / (L + R)^4 (JCGM
    100:2008, 5.2.2, equation 16, with the derivatives R / (L + R)^2 and -L / (L + R)^2). Not a number without load.
    """
    total_N = left_N + right_N
    if not total_N > 0.0:
        return math.nan
    left, right = right_N * u_left_N, left_N * u_right_N
    # the same sum, written so that what cancels leaves no rounding
    return math.sqrt((left - right) ** 2 + 2.0 * (1.0 - correlation) * left * right) / total_N**2


@dataclass(frozen=True, slots=True)
class LoadDoubt:
    """What one side's force is worth: its parts as standard uncertainties, N, by their names in PARTS."""

    side: Side
    force_N: float
    parts: Mapping[str, float]

    @property
    def u_N(self) -> float:
        """The combined standard uncertainty, N."""
        return math.hypot(*self.parts.values())

    @property
    def part(self) -> float | None:
        """The standard uncertainty as a part of the force; None where there is no load."""
        return self.u_N / self.force_N if self.force_N > 0.0 else None

    @property
    def expanded_N(self) -> float:
        """U = k u, N."""
        return COVERAGE_FACTOR * self.u_N


@dataclass(frozen=True, slots=True)
class ShareDoubt:
    """What a share is worth: its parts as standard uncertainties, in points, by their names in PARTS.

    `correlation` is that of the two forces' errors; `assumed` names what was not measured on this scale.
    """

    left: LoadDoubt
    right: LoadDoubt
    parts: Mapping[str, float]
    u_points: float
    correlation: float
    assumed: tuple[str, ...] = ()

    @property
    def expanded_points(self) -> float:
        """U = k u, in points of share."""
        return COVERAGE_FACTOR * self.u_points

    def load(self, side: Side) -> LoadDoubt:
        """Return what that side's force is worth."""
        return self.left if side is Side.LEFT else self.right


def side_doubt(worth: Worth, side: Side, force_N: float, bandwidth_Hz: float) -> LoadDoubt:
    """Return what the force of `side` (N) is worth, with noise up to `bandwidth_Hz`. Raises KeyError for no such side.

    Everything but noise is the same however long is averaged (JCGM 100:2008, 4.3 and F.1.2.4: what does not change
    from one reading to the next gets no smaller in their mean).
    """
    one, size_N = worth_of_side(worth, side), abs(force_N)
    parts = {
        GAIN: one.gain_part * size_N,
        COMMON: worth.common_part * size_N,
        REPEATABILITY: one.repeatability_N,
        HYSTERESIS: one.hysteresis_N,
        ZERO: math.hypot(one.zero_drift_N, noise_at(one, mean_bandwidth_Hz(ZERO_MEAN_S))),
        CREEP: one.creep_part * size_N,
        CORNER: one.corner_part * size_N,
        NOISE: noise_at(one, bandwidth_Hz),
    }
    return LoadDoubt(side, force_N, parts)


def worth_of_side(worth: Worth, side: Side) -> SideWorth:
    """Return what is known of `side`. Raises KeyError where nothing is."""
    for one in worth.sides:
        if one.side is side:
            return one
    raise KeyError(side)


def share_doubt(
    worth: Worth, left_N: float, right_N: float, bandwidth_Hz: float, *, clock_points: float = 0.0
) -> ShareDoubt | None:
    """Return what the share of two forces (N) is worth, or None where there is no load to have a share of.

    bandwidth_Hz: up to where noise is in them. clock_points: standard uncertainty of two clocks' alignment (s) times
    the rate of change of share (points a second); 0 where one board reads both plates. For a mean over an interval the
    forces are its means: as share (1 - share) bends downwards, that never makes a part of the load smaller than it is.

    The sides have masses and gravity together: that part is fully correlated, and cancels. All others are taken as
    independent. Raises KeyError where a side is missing in `worth`.
    """
    total_N = left_N + right_N
    if not total_N > 0.0:
        return None
    left = side_doubt(worth, Side.LEFT, left_N, bandwidth_Hz)
    right = side_doubt(worth, Side.RIGHT, right_N, bandwidth_Hz)
    correlation = _correlation(left, right)
    parts = {name: 100.0 * share_u(left_N, right_N, left.parts[name], right.parts[name]) for name in PARTS[:-1]}
    parts[COMMON] = 100.0 * share_u(left_N, right_N, left.parts[COMMON], right.parts[COMMON], _sign(left_N * right_N))
    parts[CLOCK] = clock_points
    u = 100.0 * share_u(left_N, right_N, left.u_N, right.u_N, correlation)
    return ShareDoubt(left, right, parts, math.hypot(u, clock_points), correlation, worth.assumed)


def _correlation(left: LoadDoubt, right: LoadDoubt) -> float:
    """Return the correlation that the common part makes (JCGM 100:2008, F.1.2.3)."""
    both = left.u_N * right.u_N
    together = left.parts[COMMON] * right.parts[COMMON] * _sign(left.force_N * right.force_N)
    return together / both if both > 0.0 else 0.0


def _sign(number: float) -> float:
    return math.copysign(1.0, number)
