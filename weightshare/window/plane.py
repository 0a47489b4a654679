"""Where on the path's picture a share and an instant lie, in whole pixels. No Qt."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.practice.screen import Path

AHEAD_PART = 0.40
"""The part of the height that lies ahead of now."""
BEHIND_S = 12.0
TRAIL_POINTS = 120
"""The trail is thinned to this many points: wider lines through thousands of points are slow to paint."""


@dataclass(frozen=True, slots=True)
class Plane:
    """The picture of the path: across it the right foot's share, down it the time. All in px, from the top left."""

    width: int
    height: int
    reach_points: float
    margin: int = 0

    @property
    def now_row(self) -> int:
        """The row of the now-line."""
        return round(self.height * AHEAD_PART)

    @property
    def px_per_s(self) -> int:
        """How fast time flows downwards; whole pixels, so that one tile paints every second."""
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


def thin(path: Path) -> tuple[Floats, Floats, Bools]:
    """Return the trail's times (s), places and whether inside, thinned to about TRAIL_POINTS; each shape (m,).

    One sample is taken from each fixed piece of sample time, so that the picture does not shimmer as it flows.
    """
    time_s, place, inside = path.trail_time_s, path.trail_place, path.trail_inside
    if len(time_s) <= TRAIL_POINTS:
        return time_s, place, inside
    piece = np.floor(time_s * (TRAIL_POINTS / BEHIND_S))
    keep = np.append(np.flatnonzero(piece[1:] != piece[:-1]) + 1, len(time_s) - 1)
    return time_s[keep], place[keep], inside[keep]
