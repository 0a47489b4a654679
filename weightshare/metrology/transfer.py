"""From counts to newtons, as a calibration file has it, and what the newtons are worth."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.errors import InputError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.fit import Fit, fit_polynomial
from weightshare.metrology.point import MASS, Points
from weightshare.metrology.standard import AIR_LIFT_PART
from weightshare.model import ChannelCalibration, Floats

GREATEST_WRITTEN_DEGREE = 2
"""A calibration file has a slope and a curve."""
SCATTER, CURVE, CORNER, MASSES, GRAVITY, AIR = "scatter", "curve", "corner", "masses", "gravity", "air"
WORDS = {
    SCATTER: "scatter of one reading",
    CURVE: "of the fitted curve",
    CORNER: "of where on the plate it lies",
    MASSES: "of the masses",
    GRAVITY: "of gravity",
    AIR: "air bears a little of each mass",
}


@dataclass(frozen=True, slots=True, eq=False)
class Transfer:
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


def fit_transfer(points: Points, gravity_m_s2: float, degree: int) -> Transfer | None:
    """Return the fit of load at counts, of degree 2 at most; None where the columns are x and y.

    Here the load is what scatters, since the force is what is to be right: counts that scatter by a part r of their
    range flatten the slope by r^2, far less than its own uncertainty. Raises InputError as fit_polynomial does, and
    where the curve turns between the points.
    """
    force_N = points.force_N(gravity_m_s2)
    if force_N is None:
        return None
    middle = points.in_middle
    if not np.ptp(points.y[middle]) > 0.0:
        raise InputError("the counts are all the same, whatever the load: nothing was read")
    fit = fit_polynomial(points.y[middle], force_N[middle], min(degree, GREATEST_WRITTEN_DEGREE))
    if not fit.rises_or_falls:
        raise InputError("the fitted curve turns between the points, so a reading does not tell the load")
    zero = _zero(fit)
    return Transfer(fit, zero, float(fit.slope(zero)), fit.coefficients[2] if fit.degree > 1 else 0.0)


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


def budget_N(
    transfer: Transfer, points: Points, gravity: Estimate, mass_part: float | None, corner: float
) -> dict[str, float]:
    """Return the standard uncertainty of a force at the greatest load, part by part, N (JCGM 100:2008, 5.1.2).

    mass_part: of the masses, as a part of the load; None where it is not known. corner: the greatest corner error, as a
    part of the load; what is not corrected lies anywhere from nothing to its full size (4.3.7), as does the lift of the
    air. Gravity and air count where the points hold masses.
    """
    load_N = points.force_N(gravity.value)
    assert load_N is not None
    greatest_N = float(load_N.max())
    counts = float(points.y[int(np.argmax(load_N))])
    even = greatest_N / math.sqrt(3.0)
    parts = {SCATTER: transfer.fit.residual_sd, CURVE: float(transfer.fit.predict(counts).u)}
    if corner:
        parts[CORNER] = corner * even
    if mass_part is not None:
        parts[MASSES] = mass_part * greatest_N
    if points.x_name == MASS:
        parts[GRAVITY] = gravity.u / gravity.value * greatest_N
        parts[AIR] = AIR_LIFT_PART * even
    return parts
