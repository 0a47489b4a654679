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
    if time_s.size < 5:
        return None
    shape = find_shape(Course(time_s, height, 1, time_s.size - 1))
    if shape is None:
        return None
    up, down = _speeds(time_s, height, shape), _speeds(-time_s[::-1], height[::-1], shape)
    if up is None or down is None:
        return None
    high = time_s[height > PLATEAU_PART * height.max()]
    plateau_s = high[np.linspace(0, high.size - 1, _PLATES).astype(np.int64)]
    errors = [
        NINE_IN_TEN * _level_sd_mm(travel, at_s, part, plateau_s) / speed
        for at_s, part, speed in (
            (shape.start_s, LEAVES, up[0]),
            (shape.top_s, REACHES, up[1]),
            (shape.lowering_s, REACHES, down[1]),
            (shape.end_s, LEAVES, down[0]),
        )
    ]
    return Ascent(shape, (errors[0], errors[1], errors[2], errors[3]))


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
