"""Where all lies on the picture of a saved session: lanes under each other, one axis of time, the whole below."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QRectF

from weightshare.model import Floats
from weightshare.practice.past.lane import Lane
from weightshare.window import lettering

LANE_PARTS = (5.0, 3.0, 3.0)
"""How high the lanes are beside each other."""
GUTTER = "00000"
"""As wide are the numbers left of the lanes."""


@dataclass(frozen=True, slots=True)
class Places:
    """Rectangles in px. `ribbon` has what happened, `axis` the numbers of the time, `whole` the whole session."""

    plane: QRectF
    """All lanes and the ribbon: where times lie."""
    sets: QRectF
    ribbon: QRectF
    limits: QRectF
    lanes: tuple[QRectF, ...]
    axis: QRectF
    whole: QRectF
    text_px: int

    def x_of(self, time_s: float, span_s: tuple[float, float]) -> float:
        """Return where `time_s` lies while `span_s` is shown (px)."""
        return self.plane.left() + self.plane.width() * (time_s - span_s[0]) / (span_s[1] - span_s[0])

    def xs_of(self, time_s: Floats, span_s: tuple[float, float]) -> Floats:
        """Return where times (n,) lie."""
        scale = self.plane.width() / (span_s[1] - span_s[0])
        placed: Floats = self.plane.left() + scale * (time_s - span_s[0])
        return placed

    def time_at(self, x: float, span_s: tuple[float, float]) -> float:
        """Return the time (s) at `x`."""
        return span_s[0] + (x - self.plane.left()) / self.plane.width() * (span_s[1] - span_s[0])


def y_of(room: QRectF, lane: Lane, value: float) -> float:
    """Return where `value` lies in the lane's room (px)."""
    return room.bottom() - room.height() * (value - lane.low) / (lane.high - lane.low)


def ys_of(room: QRectF, lane: Lane, values: Floats) -> Floats:
    """Return where values (n,) lie; kept near the room, whatever they are."""
    placed: Floats = room.bottom() - room.height() * (values - lane.low) / (lane.high - lane.low)
    return np.clip(placed, room.top() - 4.0, room.bottom() + 4.0)


def make_places(size: QRectF, text_px: int, lanes: int) -> Places:
    """Return the places within `size` for so many lanes."""
    left = lettering.width_of(GUTTER, text_px)
    right = lettering.width_of("right ", text_px) + 4
    row = round(text_px * 1.5)
    plane = size.adjusted(left, 0, -right, 0)
    sets = QRectF(plane.left(), plane.top(), plane.width(), row)
    ribbon = QRectF(plane.left(), sets.bottom(), plane.width(), row * 1.3)
    limits = QRectF(plane.left(), ribbon.bottom() + 2, plane.width(), row * 0.6)
    whole = QRectF(plane.left(), size.bottom() - row * 2.2, plane.width(), row * 2.2)
    axis = QRectF(plane.left(), whole.top() - row * 1.3, plane.width(), row)
    top, free = limits.bottom() + 2, axis.top() - limits.bottom() - 2
    parts = LANE_PARTS[:lanes]
    rooms = []
    for part in parts:
        high = free * part / sum(parts)
        rooms.append(QRectF(plane.left(), round(top + row), plane.width(), round(high - row - text_px * 0.4)))
        top += high
    reach = QRectF(plane.left(), plane.top(), plane.width(), axis.top() - plane.top())
    return Places(reach, sets, ribbon, limits, tuple(rooms), axis, whole, text_px)
