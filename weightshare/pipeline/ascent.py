"""What the travel of the centre of mass tells of one raise: its instants, and which of them cannot be told."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.course import HALF_PART, PLATEAU_PART, REACHES, Course, Shape, find_shape
from weightshare.pipeline.repetition import first_up
from weightshare.pipeline.travel import Travel

NINE_IN_TEN = 1.645
"""Standard errors within which nine errors in ten lie, where they are normal."""
TOP_ERROR_S = 0.4
LOWERING_ERROR_S = 0.8
"""An instant is told where nine errors in ten are expected to be under this."""
SURE = 2.0
"""Standard errors that are taken off the travel before it is called one."""
_SLOWER = 0.67
"""Speed at 90 % of the way over the mean speed from 50 to 90 %: 1.14 / 1.71 in a movement of least jerk."""
_PLATES = 16
"""The plateau's mean is taken at so many of its instants."""


@dataclass(frozen=True, slots=True)
class Ascent:
    """One raise by the centre of mass. The instants in `shape` are on samples' time; where an error (s) that nine in
    ten of its kind stay under is too large, the instant is not to be told."""

    shape: Shape
    top_error_s: float
    lowering_error_s: float

    @property
    def top_s(self) -> float | None:
        """Where the top begins; None where that cannot be told."""
        return self.shape.top_s if self.top_error_s <= TOP_ERROR_S else None

    @property
    def lowering_s(self) -> float | None:
        """Where the lowering begins; None where that cannot be told."""
        return self.shape.lowering_s if self.lowering_error_s <= LOWERING_ERROR_S else None


def sure_lift_mm(travel: Travel) -> float:
    """Return how far the centre of mass surely went up: the travel's most, its error taken off, mm."""
    return float((travel.height_mm - SURE * travel.sd_mm(travel.time_s)).max())


def find_ascent(travel: Travel) -> Ascent | None:
    """Return the instants of a raise and their errors; None where the travel is none that goes up and comes down."""
    time_s, height = travel.time_s, travel.height_mm
    if time_s.size < 5:
        return None
    shape = find_shape(Course(time_s, height, 1, time_s.size - 1))
    if shape is None:
        return None
    up = _speed(time_s, height, shape)
    down = _speed(-time_s[::-1], height[::-1], shape)
    if up is None or down is None:
        return None
    high = time_s[height > PLATEAU_PART * height.max()]
    plateau_s = high[np.linspace(0, high.size - 1, _PLATES).astype(np.int64)]
    errors = (
        NINE_IN_TEN * _level_sd_mm(travel, at, plateau_s) / speed
        for at, speed in ((shape.top_s, up), (shape.lowering_s, down))
    )
    return Ascent(shape, *errors)


def _speed(time_s: Floats, height: Floats, shape: Shape) -> float | None:
    """Return the speed with which the height reaches 90 % of its way, by that from half-way on, mm/s."""
    way = shape.height_mm
    half, nine = first_up(height, HALF_PART * way, 0), first_up(height, REACHES * way, 0)
    if half is None or nine is None or nine <= half:
        return None
    return _SLOWER * (REACHES - HALF_PART) * way / float(time_s[nine] - time_s[half])


def _level_sd_mm(travel: Travel, at_s: float, plateau_s: Floats) -> float:
    """Return the standard error of the height at an instant against 90 % of the plateau, mm."""
    times = np.concatenate(([at_s], plateau_s))
    weights = np.concatenate(([1.0], np.full(plateau_s.size, -REACHES / plateau_s.size)))
    covariance = travel.covariance_mm2(times, times)
    return float(np.sqrt((covariance * np.multiply.outer(weights, weights)).sum()))
