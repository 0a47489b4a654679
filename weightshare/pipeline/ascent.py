"""What the travel of the centre of mass tells of one raise: its instants, and which of them cannot be told."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.course import HALF_PART, LEAVES, PLATEAU_PART, REACHES, Course, Shape, find_shape
from weightshare.pipeline.portion import Instants
from weightshare.pipeline.repetition import first_up
from weightshare.pipeline.travel import Travel

NINE_IN_TEN = 1.645
"""Standard errors within which nine errors in ten lie, where they are normal."""
SURE = 2.0
"""Standard errors that are taken off the travel before it is called one."""
NEAR_S = 3.0
"""Of a plateau that lasts longer than twice this, what is near is asked: the travel drifts on the way."""
_SLOWER = 0.67
"""Speed at 10 % and 90 % of the way over the mean speed from there to half-way: 1.14 / 1.71 in a move of least jerk."""
_PLATES = 16
"""The plateau's mean is taken at so many of its instants."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """Errors (s) that nine in ten have to be expected to stay under, for an instant to be told."""

    start_s: float = 0.25
    top_s: float = 0.4
    lowering_s: float = 0.8
    end_s: float = 0.25


@dataclass(frozen=True, slots=True)
class Ascent:
    """One raise by the centre of mass: `shape` on samples' time, and the error (s) that nine in ten of each of its
    four instants stay under."""

    shape: Shape
    errors_s: tuple[float, float, float, float]

    def tell(self, allowed: Allowed) -> Instants:
        """Return the instants; None where one cannot be told."""
        shape = self.shape
        start, top, lowering, end = self.errors_s
        return Instants(
            start_s=shape.start_s if start <= allowed.start_s else None,
            top_s=shape.top_s if top <= allowed.top_s else None,
            lowering_s=shape.lowering_s if lowering <= allowed.lowering_s else None,
            end_s=shape.end_s if end <= allowed.end_s else None,
            errors_s=self.errors_s,
        )


def sure_lift_mm(travel: Travel) -> float:
    """Return how far the centre of mass surely went up: the travel's most, its error taken off, mm."""
    return float((travel.height_mm - SURE * travel.sd_mm(travel.time_s)).max())


def possible_lift_mm(travel: Travel, errors: float = SURE) -> float:
    """Return how far the centre of mass may have gone up, mm: the travel's most, with so many standard errors."""
    return float((travel.height_mm + errors * travel.sd_mm(travel.time_s)).max())


def find_ascent(travel: Travel) -> Ascent | None:
    """Return the instants of a raise and their errors; None where the travel is none that goes up and comes down."""
    time_s, height = travel.time_s, travel.height_mm
    if time_s.size < 5 or height.max() <= 0.0:
        return None
    high_s = time_s[height > PLATEAU_PART * height.max()]
    first, last = high_s[high_s <= high_s[0] + NEAR_S], high_s[high_s >= high_s[-1] - NEAR_S]
    if high_s[-1] - high_s[0] > 2.0 * NEAR_S:
        height = _flatten(time_s, height, first, last)
    shape = find_shape(Course(time_s, height, 1, time_s.size - 1))
    if shape is None:
        return None
    up, down = _speeds(time_s, height, shape), _speeds(-time_s[::-1], height[::-1], shape)
    if up is None or down is None:
        return None
    near = min(shape.lowering_s, shape.top_s + NEAR_S), max(shape.top_s, shape.lowering_s - NEAR_S)
    first, last = np.linspace(shape.top_s, near[0], _PLATES), np.linspace(near[1], shape.lowering_s, _PLATES)
    errors = [
        _error_s(travel, shape, Instant(part, at_s, speed), near_s)
        for part, at_s, near_s, speed in (
            (LEAVES, shape.start_s, first, up[0]),
            (REACHES, shape.top_s, first, up[1]),
            (REACHES, shape.lowering_s, last, down[1]),
            (LEAVES, shape.end_s, last, down[0]),
        )
    ]
    return Ascent(shape, (errors[0], errors[1], errors[2], errors[3]))


def _flatten(time_s: Floats, height: Floats, first_s: Floats, last_s: Floats) -> Floats:
    """Return the height with the drift of a long plateau taken off: between its first (k,) and last (m,) times."""
    inside = [(time_s >= part_s[0]) & (time_s <= part_s[-1]) for part_s in (first_s, last_s)]
    levels = [float(np.median(height[part])) for part in inside]
    course = np.interp(time_s, [first_s[-1], last_s[0]], levels)
    flat: Floats = height * (levels[0] / course)
    return flat


@dataclass(frozen=True, slots=True)
class Instant:
    """When (s) the height is at a part of the plateau, and with what speed (mm/s) it goes there."""

    part: float
    at_s: float
    speed: float


def _error_s(travel: Travel, shape: Shape, instant: Instant, plateau_s: Floats) -> float:
    """Return the error (s) of an instant against the plateau at times (n,).

    Where the error of the height may reach from there to the plateau, the instant may be anywhere on it.
    """
    error_mm = NINE_IN_TEN * _level_sd_mm(travel, instant.at_s, instant.part, plateau_s)
    return error_mm / instant.speed if error_mm < (1.0 - instant.part) * shape.height_mm else np.inf


def _speeds(time_s: Floats, height: Floats, shape: Shape) -> tuple[float, float] | None:
    """Return the speeds (mm/s) at 10 % and 90 % of the way up, by the mean ones from there to half-way."""
    way = shape.height_mm
    nine = first_up(height, REACHES * way, 0)
    if nine is None:
        return None
    under = [np.flatnonzero(height[:nine] < part * way) for part in (LEAVES, HALF_PART)]
    if not under[0].size or not under[1].size:
        return None
    one, half = int(under[0][-1]), int(under[1][-1])
    if not one < half < nine:
        return None
    slower = _SLOWER * (HALF_PART - LEAVES) * way
    return slower / float(time_s[half] - time_s[one]), slower / float(time_s[nine] - time_s[half])


def _level_sd_mm(travel: Travel, at_s: float, part: float, plateau_s: Floats) -> float:
    """Return the standard error of the height at an instant against a part of the plateau, mm."""
    times = np.concatenate(([at_s], plateau_s))
    weights = np.concatenate(([1.0], np.full(plateau_s.size, -part / plateau_s.size)))
    covariance = travel.covariance_mm2(times, times)
    return float(np.sqrt((covariance * np.multiply.outer(weights, weights)).sum()))
