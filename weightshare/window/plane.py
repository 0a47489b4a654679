"""Where on the path's picture a share and an instant lie, in whole pixels. No Qt."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Bools, Floats
from weightshare.practice.screen import Path

AHEAD_PART = 0.46
"""The part of the height that lies ahead of now."""
BEHIND_S = 12.0
AHEAD_S = 4.0
"""How much of the coming time is seen at least where the corridor bends, s: enough to see the turn before it comes."""
MOUTH_PX = 6
"""So far above and below the now-line a bending corridor is straight: it is the band of now, to the pixel."""
TRAIL_POINTS = 120
"""The trail is thinned to this many points: wider lines through thousands of points are slow to paint."""


@dataclass(frozen=True, slots=True)
class Plane:
    """The picture of the path: across it the right foot's share, down it the time. All in px, from the top left."""

    width: int
    height: int
    reach_points: float
    margin: int = 0
    bends: bool = False
    """The corridor has a course of its own ahead; else it stands, and more of what is behind is shown."""

    @property
    def now_row(self) -> int:
        """The row of the now-line."""
        return round(self.height * AHEAD_PART)

    @property
    def px_per_s(self) -> int:
        """How fast time flows downwards; whole pixels, so that one tile paints every second."""
        if self.bends:
            return max(1, int(self.now_row / AHEAD_S))
        return max(1, int((self.height - self.now_row) / BEHIND_S))

    @property
    def px_per_point(self) -> float:
        """How far one point of share moves the puck."""
        return (self.width - 2 * self.margin) / (2 * self.reach_points)

    def x(self, place: float) -> float:
        """Return where the right foot's share `place` (percent) lies across the picture."""
        return self.width / 2 + (place - 50.0) * self.px_per_point

    def y(self, time_s: float, now_s: float) -> float:
        """Return the row of an instant; what is behind lies lower."""
        return self.now_row + (now_s - time_s) * self.px_per_s

    def corridor(self, low: float, high: float) -> tuple[int, int]:
        """Return the first and the last column of the band from `low` to `high` (percent); both are in it."""
        return math.floor(self.x(low)), math.floor(self.x(high))

    def puck_column(self, path: Path) -> int | None:
        """Return the puck's column; None where there is no puck.

        It lies within the corridor's columns exactly where the share is in the band: where rounding to whole pixels
        says otherwise, the column gives way. A puck beyond the picture stays at its rim.
        """
        if path.place is None:
            return None
        column = min(max(math.floor(self.x(path.place)), self.margin), self.width - 1 - self.margin)
        if path.low is None or path.high is None:
            return column
        first, last = self.corridor(path.low, path.high)
        if path.inside:
            return min(max(column, first), last)
        if first <= column <= last:
            return first - 1 if path.place < (path.low + path.high) / 2 else last + 1
        return column


def keep(path: Path) -> NDArray[np.intp]:
    """Return which of the trail's samples are drawn: about TRAIL_POINTS, shape (m,).

    One sample is taken from each fixed piece of sample time, so that the picture does not shimmer as it flows.
    """
    time_s = path.trail_time_s
    if len(time_s) <= TRAIL_POINTS:
        return np.arange(len(time_s))
    piece = np.floor(time_s * (TRAIL_POINTS / BEHIND_S))
    return np.append(np.flatnonzero(piece[1:] != piece[:-1]) + 1, len(time_s) - 1)


def thin(path: Path) -> tuple[Floats, Floats, Bools]:
    """Return the times (s), places and whether inside of the trail's samples that are drawn; each shape (m,)."""
    kept = keep(path)
    return path.trail_time_s[kept], path.trail_place[kept], path.trail_inside[kept]


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The edges of a corridor that bends, from the top of the picture down; shape (k,) each, px."""

    row: Floats
    left: Floats
    right: Floats

    def between(self, top: float, bottom: float) -> Course:
        """Return the part from row `top` to row `bottom`."""
        inner = self.row[(self.row > top) & (self.row < bottom)]
        row = np.concatenate(([top], inner, [bottom]))
        return Course(row, np.interp(row, self.row, self.left), np.interp(row, self.row, self.right))


def course(path: Path, plane: Plane) -> Course | None:
    """Return the corridor's edges over the whole picture; None where no band is set.

    At the now-line they are the very edges that are measured against. Behind it the band is as it was.
    """
    if path.low is None or path.high is None:
        return None
    ahead, kept = path.ahead, keep(path)
    mouth_s = MOUTH_PX / plane.px_per_s
    times, lows, highs = [mouth_s, -mouth_s], [path.low] * 2, [path.high] * 2
    if ahead is not None and len(ahead.from_now_s):
        later = ahead.from_now_s > mouth_s
        times = [*ahead.from_now_s[later][::-1], *times]
        lows, highs = [*ahead.low[later][::-1], *lows], [*ahead.high[later][::-1], *highs]
    if path.now_s is not None and len(path.trail_low) == len(path.trail_time_s):
        since_s, low, high = path.trail_time_s[kept] - path.now_s, path.trail_low[kept], path.trail_high[kept]
        known = np.isfinite(low) & np.isfinite(high) & (since_s < -mouth_s)
        times = [*times, *since_s[known][::-1]]
        lows, highs = [*lows, *low[known][::-1]], [*highs, *high[known][::-1]]
    half, scale = plane.width / 2 - 50.0 * plane.px_per_point, plane.px_per_point
    row = plane.now_row - np.array(times) * plane.px_per_s
    made = Course(row, half + np.array(lows) * scale, half + np.array(highs) * scale)
    return made.between(0.0, float(plane.height))
