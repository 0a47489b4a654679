"""A smooth course of one figure over time, made of moves: the rig's people never jump."""

from __future__ import annotations

from bisect import bisect_right
from typing import TypeAlias

import numpy as np

from weightshare.model import Floats

Segment: TypeAlias = tuple[float, float, tuple[float, ...]]
"""Start (s), duration (s), and the six coefficients of the polynomial in time since the start, lowest first."""

STILL = 1e-6
"""Speed (per s) and acceleration (per s^2) under which a move ends at rest: what rounding leaves over."""
HANDED_OVER_S = 1e-9
"""A move that begins so soon after the one before takes over its motion."""


class Path:
    """A figure that rests, and moves in quintic pieces of least jerk from one resting value to the next.

    A move that begins while another is under way takes over its value, speed and acceleration. Between rest and
    rest the piece is the least-jerk course of reaching movements (Flash and Hogan, 1985, equation 3). A move may end in
    motion; where no other takes over there, the figure stays at its value.
    """

    def __init__(self, value: float) -> None:
        self._starts: list[float] = [-np.inf]
        self._segments: list[Segment] = [(0.0, 0.0, (value, 0.0, 0.0, 0.0, 0.0, 0.0))]

    def move(
        self, start_s: float, duration_s: float, value: float, speed: float = 0.0, acceleration: float = 0.0
    ) -> None:
        """Move to `value` within `duration_s` (s, over 0) from `start_s` (s) on, instead of what was planned.

        `speed` (per s) and `acceleration` (per s^2) are those at its end. Raises ValueError where the duration is not
        over 0.
        """
        if not duration_s > 0:
            raise ValueError(f"a move takes time: {duration_s} s")
        while self._starts[-1] >= start_s:
            self._starts.pop()
            self._segments.pop()
        state = _state(self._segments[-1], start_s)
        self._starts.append(start_s)
        self._segments.append((start_s, duration_s, _quintic(state, duration_s, (value, speed, acceleration))))

    def at(self, time_s: Floats) -> tuple[Floats, Floats]:
        """Return value and acceleration (per s^2), both of shape (n,), at rising times of shape (n,)."""
        value, _, acceleration = self.course(time_s)
        return value, acceleration

    def course(self, time_s: Floats) -> tuple[Floats, Floats, Floats]:
        """Return value, speed (per s) and acceleration (per s^2), each of shape (n,), at rising times of shape (n,)."""
        parts = []
        begin = 0
        while begin < len(time_s):
            index = bisect_right(self._starts, time_s[begin]) - 1
            end = len(time_s)
            if index + 1 < len(self._starts) and time_s[-1] >= self._starts[index + 1]:
                end = int(np.searchsorted(time_s, self._starts[index + 1], side="left"))
            parts.append(_evaluate(self._segments[index], time_s[begin:end]))
            begin = end
        if len(parts) == 1:
            return parts[0]
        if not parts:
            return time_s, time_s, time_s
        values, speeds, accelerations = (np.concatenate(pieces) for pieces in zip(*parts, strict=True))
        return values, speeds, accelerations

    def state(self, time_s: float) -> float:
        """Return the value at `time_s` (s), as planned so far."""
        return _state(self._segments[bisect_right(self._starts, time_s) - 1], time_s)[0]


def _evaluate(segment: Segment, time_s: Floats) -> tuple[Floats, Floats, Floats]:
    start_s, duration_s, (c0, c1, c2, c3, c4, c5) = segment
    if duration_s == 0.0 or time_s[0] - start_s >= duration_s:
        rest = _state(segment, float(time_s[0]))
        return np.full(len(time_s), rest[0]), np.zeros(len(time_s)), np.zeros(len(time_s))
    tau = np.minimum(time_s - start_s, duration_s)
    value = c0 + tau * (c1 + tau * (c2 + tau * (c3 + tau * (c4 + tau * c5))))
    speed = c1 + tau * (2 * c2 + tau * (3 * c3 + tau * (4 * c4 + tau * 5 * c5)))
    acceleration = 2 * c2 + tau * (6 * c3 + tau * (12 * c4 + tau * 20 * c5))
    if tau[-1] == duration_s and (abs(speed[-1]) > STILL or abs(acceleration[-1]) > STILL):
        over = int(np.searchsorted(tau, duration_s, side="left"))
        speed[over:] = acceleration[over:] = 0.0
    return value, speed, acceleration


def _state(segment: Segment, time_s: float) -> tuple[float, float, float]:
    start_s, duration_s, (c0, c1, c2, c3, c4, c5) = segment
    if duration_s == 0.0:
        return c0, 0.0, 0.0
    tau = min(time_s - start_s, duration_s)
    value = c0 + tau * (c1 + tau * (c2 + tau * (c3 + tau * (c4 + tau * c5))))
    if tau == duration_s and time_s - start_s > duration_s + HANDED_OVER_S:
        return value, 0.0, 0.0
    speed = c1 + tau * (2 * c2 + tau * (3 * c3 + tau * (4 * c4 + tau * 5 * c5)))
    acceleration = 2 * c2 + tau * (6 * c3 + tau * (12 * c4 + tau * 20 * c5))
    if tau == duration_s and abs(speed) < STILL and abs(acceleration) < STILL:
        return value, 0.0, 0.0
    return value, speed, acceleration


def _quintic(
    state: tuple[float, float, float], duration_s: float, end: tuple[float, float, float]
) -> tuple[float, ...]:
    """Return the polynomial from `state` (value, speed, acceleration) to `end`, likewise."""
    start, speed, acceleration = state
    value, end_speed, end_acceleration = end
    T = duration_s
    rise = value - start - speed * T - acceleration * T * T / 2
    turn = (end_speed - speed - acceleration * T) * T
    bend = (end_acceleration - acceleration) * T * T
    return (
        start,
        speed,
        acceleration / 2,
        (10 * rise - 4 * turn + bend / 2) / T**3,
        (-15 * rise + 7 * turn - bend) / T**4,
        (6 * rise - 3 * turn + bend / 2) / T**5,
    )
