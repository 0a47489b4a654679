"""What the load on the feet tells of one rise from a chair: where it begins to climb, when the body is up, how far."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.course import PLATEAU_PART, REACHES
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.travel import integrate_twice

CLIMB_PART = 0.02
"""The load climbs where it is over the least of sitting by this part of the weight."""
UNDER_M = 0.03
"""A stop further down than so much under the highest is none up there."""
FREE_PART = 0.97
"""The seat carries nothing from where there is so much of the weight on the feet, to where there is for the last time,
..."""
SEAT_S = 0.3
"""... or but so long more, where the body is thrown."""
LEAST = 5
"""Nothing is told by fewer samples."""
HELD_PART = 0.06
"""Who stands with a part of the weight that differs from all of it by less holds on to nothing."""
WINDOW_S = 12.0
"""The body is up so soon after it left the seat: the speed drifts."""
STILL_S, STILL_M_S = 0.3, 0.008
"""Up there the speed changes by no more for so long, where there is a stop at all."""
NEAR_M_S = 0.03
"""So well the speed up there is known from the way back to the seat."""


@dataclass(frozen=True, slots=True, eq=False)
class Bout:
    """One bout of standing, with `level`, the part of the weight that was on the feet."""

    level: float
    travel_mm: float = 0.0
    """How far the body came up; 0 where that cannot be told, nor what follows."""
    top_s: float | None = None
    """When it has come nine tenths of its way up."""
    lowering_s: float | None = None
    """When it has left a tenth of it."""
    time_s: Floats = field(default_factory=lambda: np.zeros(1))
    height_mm: Floats = field(default_factory=lambda: np.zeros(1))
    """How high it is at times, shape (m,) each; 0 up there."""


def find_climb_s(time_s: Floats, load: Floats) -> float:
    """Return when the load (n,), in parts of the weight, begins to climb to its last value, which is past sitting."""
    known = ~np.isnan(load)
    time_s, load = time_s[known], load[known]
    under = np.flatnonzero(load <= float(load.min()) + CLIMB_PART)
    return float(time_s[under[-1]])


def find_bout(time_s: Floats, load: Floats) -> Bout:
    """Return the standing between leaving the seat and sitting down again, by the load (n,) in parts of the weight.

    The body is where it was when it sits again, so that the speed in between is 0 on the whole; up there it is 0.
    """
    known = ~np.isnan(load)
    time_s, load = time_s[known], load[known]
    if time_s.size < LEAST:
        return Bout(float(np.median(load)) if load.size else 0.0)
    full = time_s[load >= FREE_PART * np.median(load)]
    free = (time_s >= min(full[0], time_s[0] + SEAT_S)) & (time_s <= max(full[-1], time_s[-1] - SEAT_S))
    time_s, load = time_s[free], load[free]
    level = float(np.median(load))
    level = 1.0 if abs(level - 1.0) <= HELD_PART else level
    if time_s.size < LEAST:
        return Bout(level)
    early, late = time_s <= time_s[0] + WINDOW_S, time_s >= time_s[-1] - WINDOW_S
    short = bool(early.all())
    up = _find_way(time_s[early], load[early], level, closed=short, begins=True)
    down = _find_way(time_s[late], load[late], level, closed=short, begins=False)
    travel_mm = -min(float(up[1][0]), float(down[1][-1]))
    low = np.flatnonzero(up[1][: up[0]] < _find_plateau(up[1], travel_mm))
    gone = down[0] + np.flatnonzero(down[1][down[0] :] < _find_plateau(down[1], travel_mm))
    if travel_mm <= 0.0 or not low.size or not gone.size:
        return Bout(level)
    top_s, lowering_s = float(time_s[early][low[-1]]), float(time_s[late][gone[0]])
    if lowering_s < top_s:
        top_s = lowering_s = 0.5 * (top_s + lowering_s)
    return Bout(level, travel_mm, top_s, lowering_s, time_s[late], down[1])


def _find_plateau(height: Floats, travel_mm: float) -> float:
    """Return the height (mm, 0 up there) at nine tenths of the way to the plateau: the median of what is high."""
    over = height + travel_mm
    high = over > PLATEAU_PART * travel_mm
    return REACHES * float(np.median(over[high])) - travel_mm if high.any() else -travel_mm


def _find_way(time_s: Floats, load: Floats, level: float, *, closed: bool, begins: bool) -> tuple[int, Floats]:
    """Return the sample at which the body is at rest up there, and the height (mm) over that, (n,).

    `closed`: it comes from the seat and goes back to it; else it `begins` there and goes on standing, or ends there.
    """
    speed, _ = integrate_twice(time_s, STANDARD_GRAVITY * (load - level))
    if closed:
        rest = float(np.trapezoid(speed, time_s)) / float(time_s[-1] - time_s[0])
    else:
        half = time_s >= time_s[0] + WINDOW_S / 2.0
        rest = float(np.median(speed[half if begins else ~half]))
    at = _find_rest(time_s, speed, rest)
    speed = speed - speed[at]
    place = _integrate(time_s, speed)
    return at, 1000.0 * (place - place[at])


def _find_rest(time_s: Floats, speed: Floats, rest: float) -> int:
    """Return the sample at which the body is highest, where there is a stop if there is one, and `rest` is no speed."""
    first = time_s.searchsorted(time_s - STILL_S)
    spread = -window_min(-speed, first, 0) - window_min(speed, first, 0)
    middle = time_s.searchsorted(time_s - STILL_S / 2.0)
    place = _integrate(time_s, speed - rest)[middle]
    whole = time_s - time_s[0] >= STILL_S
    still = whole & (spread <= STILL_M_S) & (np.abs(speed[middle] - rest) <= NEAR_M_S)
    # who stops half-way up is not up yet
    still &= place >= place[whole].max() - UNDER_M
    return int(middle[np.argmax(np.where(still if still.any() else whole, place, -np.inf))])


def _integrate(time_s: Floats, speed: Floats) -> Floats:
    return np.concatenate(([0.0], np.cumsum(0.5 * np.diff(time_s) * (speed[1:] + speed[:-1]))))
