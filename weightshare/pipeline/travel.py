"""How far the centre of mass goes up between two instants at which it is at rest at one level, by the total force.

Acceleration is force over mass; its noise, integrated twice, wanders ever further. Tied to rest at both ends, the most
likely travel is the integral less a cubic, which is a linear correction of the force: it takes off an error of body
weight and its drift as well. What error is left is that of Brownian motion integrated once and tied at both ends,
whose covariance is the deflection of a beam clamped at both ends (Green's function of the biharmonic equation in one
dimension; derived anew, and a test holds it against simulated noise).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Floats

NOISE_M2_S3 = 6e-6
"""Spectral density (both sides) of quiet standing's vertical acceleration under 1 Hz, m^2/s^3.

Source: 3 to 8 x 10^-6 over stretches of 4 to 12 s of the two stands in dos Santos and others (2017), PeerJ 5:e3626.
"""


@dataclass(frozen=True, slots=True, eq=False)
class Travel:
    """Height above the rest at both ends (mm) over times (s), shape (n,) each."""

    time_s: Floats
    height_mm: Floats

    @property
    def duration_s(self) -> float:
        """From rest to rest, s."""
        return float(self.time_s[-1] - self.time_s[0])

    def covariance_mm2(self, first_s: Floats, second_s: Floats) -> Floats:
        """Return the covariance (mm^2) of the heights' errors at times (k,) with those at times (m,), shape (k, m)."""
        x = np.minimum.outer(first_s, second_s) - self.time_s[0]
        y = np.maximum.outer(first_s, second_s) - self.time_s[0]
        whole = self.duration_s
        x, y = np.clip(x, 0.0, whole), np.clip(y, 0.0, whole)
        bent = x**2 * (whole - y) ** 2 * ((y - x) * whole + 2.0 * (whole - x) * y) / (6.0 * whole**3)
        covariance: Floats = NOISE_M2_S3 * 1e6 * bent
        return covariance

    def sd_mm(self, time_s: Floats) -> Floats:
        """Return the height's standard error at times (k,), mm, shape (k,)."""
        t = np.clip(time_s - self.time_s[0], 0.0, self.duration_s)
        sd: Floats = 1000.0 * np.sqrt(NOISE_M2_S3 * (t * (self.duration_s - t) / self.duration_s) ** 3 / 3.0)
        return sd


def find_travel(time_s: Floats, total_N: Floats, weight_N: float) -> Travel:
    """Return the travel over times (n,), n at least 3, under forces (n,) on a body of `weight_N`.

    At both ends it is taken to be at rest at one level. NaN is passed over.
    """
    known = ~np.isnan(total_N)
    time_s, total_N = time_s[known], total_N[known]
    height_m = tie(time_s, integrate_twice(time_s, STANDARD_GRAVITY * (total_N / weight_N - 1.0)))
    return Travel(time_s, 1000.0 * height_m)


def integrate_twice(time_s: Floats, acceleration: Floats) -> tuple[Floats, Floats]:
    """Return speed and place, from rest at 0, under an acceleration (n,) over times (n,), by trapezoids."""
    speed = _integrate(time_s, acceleration)
    return speed, _integrate(time_s, speed)


def tie(time_s: Floats, course: tuple[Floats, Floats]) -> Floats:
    """Return the place (n,) of a course of speed and place less the cubic that brings it to rest at 0 at its end."""
    speed, place = course
    t, whole = time_s - time_s[0], time_s[-1] - time_s[0]
    # the cubic whose value and slope at the end are those of the course, and 0 at the beginning
    part = t / whole
    end, slope = place[-1], speed[-1] * whole
    tied: Floats = place - part**2 * ((3.0 * end - slope) + (slope - 2.0 * end) * part)
    return tied


def _integrate(time_s: Floats, values: Floats) -> Floats:
    steps = np.diff(time_s) * 0.5 * (values[1:] + values[:-1])
    return np.concatenate(([0.0], np.cumsum(steps)))
