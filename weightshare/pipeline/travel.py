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

from weightshare.model import Floats

NOISE_M2_S3 = 6e-6
"""Spectral density (both sides) of quiet standing's vertical acceleration under 1 Hz, m^2/s^3.

Source: 3 to 8 x 10^-6 over stretches of 4 to 12 s of the two stands in dos Santos and others (2017), PeerJ 5:e3626.
"""
LIKELY = 9.0
"""Noise leaves a misfit of so many times its expectation once in e^9 cases: a larger one is not this noise's doing."""
WEIGHED_S = 5.0
"""The force that carries the weight was averaged over so long, or longer."""


@dataclass(frozen=True, slots=True, eq=False)
class Travel:
    """Height above the rest at both ends (mm) over times (s), shape (n,) each; the density of its noise (m^2/s^3)."""

    time_s: Floats
    height_mm: Floats
    noise: float = NOISE_M2_S3

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
        covariance: Floats = self.noise * 1e6 * bent
        return covariance

    def sd_mm(self, time_s: Floats) -> Floats:
        """Return the height's standard error at times (k,), mm, shape (k,)."""
        t = np.clip(time_s - self.time_s[0], 0.0, self.duration_s)
        sd: Floats = 1000.0 * np.sqrt(self.noise * (t * (self.duration_s - t) / self.duration_s) ** 3 / 3.0)
        return sd


def tie(time_s: Floats, speed: Floats, place: Floats) -> Travel:
    """Return the travel of a course from rest at 0, in m/s and m over times (n,), at rest at 0 at its end too.

    Where the course ends much further from that than quiet standing's noise takes it, the noise is taken to be larger.
    """
    part, whole_s = (time_s - time_s[0]) / (time_s[-1] - time_s[0]), float(time_s[-1] - time_s[0])
    # the cubic whose value and slope at the end are those of the course, and 0 at the beginning
    end, slope = float(place[-1]), float(speed[-1]) * whole_s
    tied = place - part**2 * ((3.0 * end - slope) + (slope - 2.0 * end) * part)
    noise = NOISE_M2_S3 * max(misfit(whole_s, float(speed[-1]), end) / LIKELY, 1.0)
    return Travel(time_s, 1000.0 * tied, noise)


def misfit(whole_s: float, speed: float, place: float) -> float:
    """Return how far a course ends from rest at 0, as the mean square of its two misses in standard errors.

    The errors are those of white noise integrated once and twice, and of the weight that was averaged before.
    """
    T = whole_s
    places = T**3 / 3.0 + T**4 / (4.0 * WEIGHED_S)
    both = T**2 / 2.0 + T**3 / (2.0 * WEIGHED_S)
    speeds = T + T**2 / WEIGHED_S
    squares = speeds * place**2 - 2.0 * both * place * speed + places * speed**2
    return squares / (places * speeds - both**2) / (2.0 * NOISE_M2_S3)


def integrate_twice(time_s: Floats, acceleration: Floats) -> tuple[Floats, Floats]:
    """Return speed and place, from rest at 0, under an acceleration (n,) over times (n,), by trapezoids."""
    speed = _integrate(time_s, acceleration)
    return speed, _integrate(time_s, speed)


def _integrate(time_s: Floats, values: Floats) -> Floats:
    steps = np.diff(time_s) * 0.5 * (values[1:] + values[:-1])
    return np.concatenate(([0.0], np.cumsum(steps)))
