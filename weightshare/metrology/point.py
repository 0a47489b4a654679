"""Points of a calibration that were taken elsewhere: loads, counts, and what is known of each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import InputError
from weightshare.metrology.advice import advise, odd_points
from weightshare.metrology.fit import Fit, fit_polynomial
from weightshare.model import STANDARD_GRAVITY, Bools, ChannelCalibration, Floats

LOAD, MASS, COUNTS, X, Y = "load_N", "mass_kg", "counts", "x", "y"
GREATEST_WRITTEN_DEGREE = 2
"""A calibration file has a slope and a curve."""
NEAR_MM = 1.0
"""A load within so much of the plate's middle lies in the middle."""
_STRANGE_KG = 300.0
_STRANGE_N = 4_000.0
_SMALL_N = 150.0
_ROUND_KG = 0.5
_AGREE = 0.1
_FACTORS = {
    STANDARD_GRAVITY: "9.81 (kilograms taken for newtons?)",
    1.0 / STANDARD_GRAVITY: "1/9.81 (newtons taken for kilograms?)",
    1000.0: "1000 (grams taken for kilograms?)",
    1e-3: "1/1000 (kilograms taken for grams?)",
    1000.0 / STANDARD_GRAVITY: "1000/9.81 (grams taken for newtons?)",
    1000.0 * STANDARD_GRAVITY: "9810 (grams and newtons exchanged?)",
}


@dataclass(frozen=True, slots=True, eq=False)
class Points:
    """Points of one channel, in the order of the file, shape (n,) each; x and y in the file's own units."""

    x: Floats
    y: Floats
    x_name: str
    y_name: str
    line: NDArray[np.int64]
    """Where each stands in the file; the header is line 1."""
    channel: int | None = None
    run: NDArray[np.int64] | None = None
    going: NDArray[np.int8] | None = None
    """1 up, -1 down, 0 not said."""
    place_mm: Floats | None = None
    """Shape (n, 2): where on the plate the load lay, x right and y forward."""

    @property
    def in_middle(self) -> Bools:
        """Which of them were taken in the middle of the plate, bool, shape (n,): those that the fit is made of.

        All of them where no place is told, or none is the middle.
        """
        everywhere = np.ones(self.x.size, dtype=np.bool_)
        if self.place_mm is None:
            return everywhere
        near = np.hypot(*np.nan_to_num(self.place_mm).T) <= NEAR_MM
        return near if near.any() else everywhere

    def force_N(self, gravity_m_s2: float = STANDARD_GRAVITY) -> Floats | None:
        """Return the loads in newtons, shape (n,); None where the columns are x and y, of which nothing is known."""
        if self.x_name == X:
            return None
        return self.x * gravity_m_s2 if self.x_name == MASS else self.x

    def fit(self, degree: int) -> Fit:
        """Return y fitted at x, in the file's own units. Raises InputError as fit_polynomial does."""
        return fit_polynomial(self.x[self.in_middle], self.y[self.in_middle], degree)

    def advice(self, degree: int) -> str | None:
        """Return what is wrong with that fit, in words."""
        return advise(self.x[self.in_middle], self.y[self.in_middle], degree)

    def odd_lines(self, degree: int) -> list[int]:
        """Return the lines of the points that do not fit the others."""
        middle = self.in_middle
        odd: list[int] = self.line[middle][odd_points(self.x[middle], self.y[middle], self.fit(degree))].tolist()
        return odd


@dataclass(frozen=True, slots=True, eq=False)
class ForceFit:
    """Load fitted at counts, as a calibration file has it: a (counts - zero) + b (counts - zero)^2, N."""

    fit: Fit
    zero_counts: float
    newton_per_count: float
    newton_per_count2: float

    def force_N(self, counts: Floats) -> Floats:
        """Return the force at `counts`, N, of the same shape."""
        return self.fit.value(counts)

    def channel(self, index: int, uncertainty_N: float, range_N: float) -> ChannelCalibration:
        """Return it as a channel of a calibration."""
        return ChannelCalibration(
            index, self.zero_counts, self.newton_per_count, self.newton_per_count2, uncertainty_N, range_N
        )


def fit_force(points: Points, gravity_m_s2: float, degree: int) -> ForceFit | None:
    """Return the fit of load at counts, of degree 2 at most; None where the columns are x and y.

    Here the load is what scatters, since the force is what is to be right: counts that scatter by a part r of their
    range flatten the slope by r^2, far less than its own uncertainty. Raises InputError as fit_polynomial does, and
    where the curve turns between the points.
    """
    force_N = points.force_N(gravity_m_s2)
    if force_N is None:
        return None
    middle = points.in_middle
    fit = fit_polynomial(points.y[middle], force_N[middle], min(degree, GREATEST_WRITTEN_DEGREE))
    if not fit.rises_or_falls:
        raise InputError("the fitted curve turns between the points, so a reading does not tell the load")
    zero = _zero(fit)
    return ForceFit(fit, zero, float(fit.slope(zero)), fit.coefficients[2] if fit.degree > 1 else 0.0)


def _zero(fit: Fit) -> float:
    """Return the counts without load, by Newton's steps from the point with the least load."""
    ends = np.array([fit.low, fit.high])
    zero = float(ends[np.argmin(np.abs(fit.value(ends)))])
    for _ in range(50):
        slope = float(fit.slope(zero))
        zero -= float(fit.value(zero)) / slope if slope else 0.0
    if not np.isfinite(zero) or abs(float(fit.value(zero))) > 1e-6 * float(np.abs(fit.value(ends)).max()):
        raise InputError("the fitted curve has no zero: take points with nothing on as well")
    return zero


def doubts(points: Points, force_fit: ForceFit, expected_N_per_count: float | None = None) -> list[str]:
    """Return what speaks against the unit of the loads, or the sign of the slope, in words.

    With an expected slope that decides; without, loads that no scale for persons is given.
    """
    slope = force_fit.newton_per_count
    if expected_N_per_count is not None:
        return _against_expected(slope / expected_N_per_count)
    words = [*_strange_loads(points)]
    if slope < 0.0:
        words.append(
            "the counts fall as the load grows: the cell hangs the other way round, its signal wires are exchanged, or"
            " the column counts has the wrong sign"
        )
    return words


def _against_expected(ratio: float) -> list[str]:
    if abs(ratio - 1.0) <= _AGREE:
        return []
    if ratio < 0.0:
        return ["the slope has the other sign than expected: signal wires exchanged, or a cell upside down"]
    for factor, words in _FACTORS.items():
        if abs(ratio / factor - 1.0) <= _AGREE:
            return [f"the slope is {ratio:.4g} times what is expected, close to {words}"]
    return [f"the slope is {ratio:.4g} times what is expected"]


def _strange_loads(points: Points) -> list[str]:
    most = float(np.abs(points.x).max())
    if points.x_name == MASS and most > _STRANGE_KG:
        if _are_round(points.x / STANDARD_GRAVITY):
            return [f"the greatest mass is {most:g} kg, and all are round over 9.81: newtons belong in column {LOAD}"]
        return [f"the greatest mass is {most:g} kg: were they grams (over 1000), or newtons (column {LOAD})?"]
    if points.x_name == LOAD and most > _STRANGE_N:
        kg = most / STANDARD_GRAVITY
        return [f"the greatest load is {most:g} N ({kg:.0f} kg): were they grams? Over 1000, in column {MASS}"]
    if points.x_name == LOAD and 0.0 < most <= _SMALL_N and _are_round(points.x):
        kg = most / STANDARD_GRAVITY
        return [f"the greatest load is {most:g} N ({kg:.1f} kg): were they kilograms (a factor of 9.81)? Column {MASS}"]
    return []


def _are_round(kg: Floats) -> bool:
    return bool(np.all(np.abs(kg - _ROUND_KG * np.round(kg / _ROUND_KG)) <= 2e-3 * np.maximum(np.abs(kg), 1e-9)))
