"""The course of a heel's height over one lift: its plateau, and the instants that part its phases."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.lift import CLOSED_S, window_min
from weightshare.pipeline.repetition import cross_before, first_up, last_up

PLATEAU_PART = 0.75
LEAVES, REACHES = 0.1, 0.9
"""Parts of the way at which a phase begins and ends."""
HALF_PART = 0.5
PAUSE_S = 0.4
PAUSE_MM = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """Readings of one heel around a lift, those that are missing left out: times (n,), heights (n,).

    The lift goes from sample `first` to sample `last`; what was before and after it reaches into no other one.
    """

    time_s: Floats
    height_mm: Floats
    first: int
    last: int

    @classmethod
    def cut(cls, time_s: Floats, height_mm: Floats, first_s: float, last_s: float) -> Course | None:
        """Return the course of a lift from `first_s` to `last_s`; None where the heel was not read in it."""
        known = ~np.isnan(height_mm)
        time_s, height_mm = time_s[known], height_mm[known]
        first = int(time_s.searchsorted(first_s))
        last = int(time_s.searchsorted(last_s, side="right")) - 1
        return cls(time_s, height_mm, first, last) if 0 < first <= last else None

    def longest_step_s(self, start_s: float, end_s: float) -> float:
        """Return the longest time without a reading from the lift, or `start_s`, to its end, or `end_s`."""
        begin = min(int(self.time_s.searchsorted(start_s, side="right")) - 1, self.first)
        stop = max(int(self.time_s.searchsorted(end_s)), self.last)
        return float(np.diff(self.time_s[max(begin, 0) : stop + 1]).max(initial=0.0))

    def pauses_above(self, level_mm: float) -> bool:
        """Return whether the heel stood still for a while over `level_mm` within the lift."""
        time_s, height = self.time_s[self.first : self.last + 1], self.height_mm[self.first : self.last + 1]
        begin = time_s.searchsorted(time_s - PAUSE_S + CLOSED_S, side="right") - 1
        long = begin >= 0
        begin = np.maximum(begin, 0)
        low, high = window_min(height, begin, 0), -window_min(-height, begin, 0)
        return bool((long & (high - low <= PAUSE_MM) & (low >= level_mm)).any())


def rise_of(course: Course) -> tuple[float, float]:
    """Return the level before the lift, and the plateau above it: the median of what lies above 75 % of the way up."""
    before = float(course.height_mm[: course.first].min())
    lifted = course.height_mm[course.first : course.last + 1]
    high = lifted > before + PLATEAU_PART * (lifted.max() - before)
    return before, float(np.median(lifted[high])) if high.any() else float(lifted.max())


@dataclass(frozen=True, slots=True)
class Shape:
    """What the course comes to: heights in mm, instants in s, without the filter's delay taken off."""

    before_mm: float
    plateau_mm: float
    after_mm: float
    start_s: float
    top_s: float
    lowering_s: float
    end_s: float
    incomplete_return: bool

    @property
    def height_mm(self) -> float:
        """The plateau over the level before."""
        return self.plateau_mm - self.before_mm

    def level_after(self, part: float) -> float:
        """Return the height at `part` of the way from the level after to the plateau, mm."""
        return self.after_mm + part * (self.plateau_mm - self.after_mm)


def find_shape(course: Course) -> Shape | None:
    """Return plateau and instants; None where the heel did not come down far enough to tell them."""
    time_s, height = course.time_s, course.height_mm
    before, plateau = rise_of(course)
    bottom = course.last + int(np.argmin(height[course.last :]))
    after = float(height[bottom])
    way, back = plateau - before, plateau - after
    if way <= 0.0 or back <= 0.0:
        return None
    lowest = int(np.argmin(height[: course.first]))
    top = first_up(height, before + REACHES * way, lowest)
    start_s = None if top is None else last_up(time_s, height, before + LEAVES * way, top)
    if top is None or start_s is None:
        return None
    # what comes after the lowest place is the next rise
    high = top + np.flatnonzero(height[top:bottom] >= after + REACHES * back)
    if not high.size:
        return None
    leaves = int(high[-1]) + 1
    low = leaves + int(np.argmax(height[leaves : bottom + 1] <= after + LEAVES * back))
    return Shape(
        before_mm=before,
        plateau_mm=plateau,
        after_mm=after,
        start_s=start_s,
        top_s=cross_before(time_s, height, before + REACHES * way, top),
        lowering_s=cross_before(time_s, height, after + REACHES * back, leaves),
        end_s=cross_before(time_s, height, after + LEAVES * back, low),
        incomplete_return=_returns(height[top : course.last + 1], before, way),
    )


def _returns(height: Floats, before: float, way: float) -> bool:
    """Return whether a height falls under half of the way, and comes up again to the plateau's part of it."""
    low = np.flatnonzero(height < before + HALF_PART * way)
    return bool(low.size and (height[low[0] :] > before + PLATEAU_PART * way).any())
