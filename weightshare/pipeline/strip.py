"""Where one scale's clock lies against this computer's: between what cannot be later and what cannot be earlier."""

from __future__ import annotations

from collections import deque
from typing import NamedTuple

import numpy as np

from weightshare.model import Floats

BUCKET_S = 1.0
"""Of the arrivals in so long only the earliest is kept."""
WINDOW = 120
"""Seconds of arrivals that the drift is found from, and answered PINGs that bound the offset."""
PRIOR_PPM = 50.0
"""Standard deviation of how far two crystals are apart, before anything is known: common practice, no source."""
WANDER_PPM = 2.0
"""How far a crystal's rate may wander within the window; with temperature, common practice, no source."""
CARRIED_PPM = 10.0
"""Standard deviation of a drift, after a lost link or a restart, about what it was before."""

_GRID = 1e-6 * np.arange(-240.0, 240.5, 3.0)
_STEP_SD = 3e-6 / 12.0**0.5
_LEAST_LATE_S = 5e-5
_FIRST_LATE_S, _FIRST_WEIGHT = 4e-3, 2.0
_STRETCH_S = 15.0
_COVERAGE = 2.0


class Line(NamedTuple):
    """Host time = scale time + offset: `offset_s` at scale time `at_s`, and from there `drift` a second."""

    at_s: float
    offset_s: float
    drift: float
    drift_u: float
    half_s: float | None
    """The offset is right to within this much, however unlike the two ways are; None where no PING was answered."""


class Strip:
    """Bounds on one scale's offset theta (host time = scale time + theta), and the line through the middle of them.

    A PING sent at a and answered at b with the scale's time s in between says a - s <= theta <= b - s; a sample that
    was taken at s and arrives at b says theta <= b - s. Each bound was right when it came, and is loosened by its age
    times twice the doubt of the drift; the middle of the tightest is the offset (Marzullo and Owicki, 1983, for clocks
    that answer with an interval). The drift is the slope of lines under the earliest arrivals (Moon, Skelly and
    Towsley, 1999) and over the lower bounds, weighed as in `_find_drift`.
    """

    def __init__(self, drift: float = 0.0, drift_u: float = 1e-6 * PRIOR_PPM) -> None:
        self._prior, self._prior_u = drift, drift_u
        self._earliest: deque[tuple[float, float]] = deque(maxlen=WINDOW)
        self._bounds: deque[tuple[float, float, float]] = deque(maxlen=WINDOW)
        self.round_trips = 0

    def add_earliest(self, scale_s: float, upper_s: float) -> None:
        """Add the earliest arrival of a second: the sample's scale time, and the bound that it sets, s."""
        self._earliest.append((scale_s, upper_s))

    def add_round_trip(self, scale_s: float, lower_s: float, upper_s: float) -> None:
        """Add a PING that was answered: the scale time in the ECHO and the two bounds, s."""
        self._bounds.append((scale_s, lower_s, upper_s))
        self.round_trips += 1

    def forget_arrivals(self) -> None:
        """The link was opened anew, and may take another time for what it carries; what the drift was stays known."""
        if len(self._earliest) > 1:
            drift, drift_u = self._find_drift(*self._points())
            self._prior, self._prior_u = drift, float(np.hypot(drift_u, 1e-6 * CARRIED_PPM))
        self._earliest.clear()

    def _points(self) -> tuple[Floats, Floats, Floats]:
        """Return the earliest arrivals, and round trips' upper and lower bounds: scale time and offset, (n, 2)."""
        bounds = np.array(self._bounds).reshape(-1, 3)
        return np.array(self._earliest).reshape(-1, 2), bounds[:, ::2], bounds[:, :2]

    def solve(self, at_s: float) -> Line | None:
        """Return the line as seen from scale time `at_s`; None where nothing has been added."""
        earliest, uppers, lowers = self._points()
        if not len(earliest) and not len(uppers):
            return None
        drift, drift_u = self._find_drift(earliest, uppers, lowers)
        loosened = _COVERAGE * float(np.hypot(drift_u, 1e-6 * WANDER_PPM))
        upper = _carry(np.vstack((earliest, uppers)), at_s, drift, loosened).min()
        if not len(lowers):
            return Line(at_s, float(upper), drift, drift_u, None)
        lower = _carry(lowers, at_s, drift, -loosened).max()
        return Line(at_s, float(upper + lower) / 2.0, drift, drift_u, max(float(upper - lower) / 2.0, 0.0))

    def _find_drift(self, earliest: Floats, uppers: Floats, lowers: Floats) -> tuple[float, float]:
        """Return the drift and its standard uncertainty: mean and spread over a grid of slopes, each with its weight.

        A slope is as likely as two crystals make it; less so where no line of it lies between the bounds; and the less,
        the later the bounds are on the mean beside the line of that slope that they all support, with lateness as an
        exponential distribution has it. PINGs go out at instants that vary. Arrivals do not: a radio and a scale that
        both send at regular instants meet early and late by turns, so a stretch of arrivals counts once.
        """
        if len(earliest) + len(lowers) < 2:
            return self._prior, self._prior_u
        at_s = float(np.mean(np.concatenate((earliest[:, 0], lowers[:, 0]))))
        logarithm = -0.5 * ((_GRID - self._prior) / self._prior_u) ** 2
        upper, late_s = _support(np.vstack((earliest, uppers)), at_s, len(earliest))
        logarithm -= len(earliest) / _STRETCH_S * late_s / np.maximum(_scale_s(late_s, len(earliest)), _FIRST_LATE_S)
        if len(lowers):
            lower, late_s = _support(lowers * (1.0, -1.0), at_s, len(lowers), -1.0)
            logarithm -= len(lowers) * late_s / _scale_s(late_s, len(lowers))
            logarithm -= np.maximum(-lower - upper, 0.0) / _LEAST_LATE_S
        weight = np.exp(logarithm - logarithm.max())
        weight /= weight.sum()
        drift = float(weight @ _GRID)
        return drift, float(np.sqrt(weight @ (_GRID - drift) ** 2 + _STEP_SD**2))


def _support(points: Floats, at_s: float, count: int, sign: float = 1.0) -> tuple[Floats, Floats]:
    """Return for every slope of the grid where its line under all points is at `at_s`, and how far the first `count`
    are over it on the mean; points (n, 2). `sign` -1: the points' offsets, and so the slopes, are turned over."""
    over = points[:, 1] - sign * _GRID[:, None] * (points[:, 0] - at_s)
    lowest: Floats = over.min(axis=1)
    return lowest, over[:, :count].mean(axis=1) - lowest if count else np.zeros_like(lowest)


def _scale_s(late_s: Floats, count: int) -> float:
    """Return the mean lateness to reckon with, s: of the best slope, at first as if it were _FIRST_LATE_S."""
    return float(count * late_s.min() + _FIRST_WEIGHT * _FIRST_LATE_S) / (count + _FIRST_WEIGHT) + _LEAST_LATE_S


def _carry(bounds: Floats, at_s: float, drift: float, loosened: float) -> Floats:
    """Return bounds (n, 2) of scale time and offset as they hold at `at_s`, loosened by so much a second of age."""
    age_s = at_s - bounds[:, 0]
    carried: Floats = bounds[:, 1] + drift * age_s + loosened * np.abs(age_s)
    return carried
