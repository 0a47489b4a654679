"""Sway without end: band-limited random courses that are plain functions of time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from weightshare.model import Floats

Bands: TypeAlias = Sequence[tuple[float, float, float]]
"""From Hz, to Hz, and the weight of what lies between."""

TONES_PER_BAND = 8
LONG, ROW = 1024, 64
"""From so many even times on they are summed in rows of that length."""

SHARE_BANDS: Bands = (
    (0.02, 0.1, 0.60),
    (0.1, 0.3, 0.70),
    (0.3, 1.0, 0.60),
    (1.0, 3.0, 0.20),
    (3.0, 6.0, 0.08),
    (6.0, 12.0, 0.03),
)
"""Load wanders between two feet slowly: most of it under 1 Hz."""

TOTAL_BANDS: Bands = ((0.1, 1.0, 0.14), (1.0, 3.0, 0.27), (3.0, 6.0, 0.67), (6.0, 12.0, 0.68))
"""The total moves with the heart's beat rather than with sway: most of it lies at 3 to 12 Hz."""

TREMOR_BANDS: Bands = ((4.0, 8.0, 1.0),)
"""Muscles that tire shake at 4 to 8 Hz."""

FOOT_BANDS: Bands = ((0.05, 0.3, 0.8), (0.3, 1.0, 0.6))
"""Forwards and backwards on one foot, and the pull of a hand."""

HEEL_BANDS: Bands = ((0.3, 0.8, 0.8), (0.8, 1.8, 0.45))
"""Heels that are held up rise and sink a little with the balance."""

SHAKE_BANDS: Bands = ((4.0, 7.0, 1.0),)


class Sway:
    """Independent sums of sines of random frequencies and phases, each of standard deviation 1 in the long run."""

    def __init__(self, rng: np.random.Generator, lanes: Sequence[Bands]) -> None:
        low, high, weight = (
            np.repeat([band[part] for lane in lanes for band in lane], TONES_PER_BAND) for part in range(3)
        )
        place = (np.tile(np.arange(TONES_PER_BAND), low.size // TONES_PER_BAND) + rng.random(low.size)) / TONES_PER_BAND
        self._omega = 2 * np.pi * low * (high / low) ** place
        self._phase = rng.uniform(0, 2 * np.pi, low.size)
        self._amplitude = np.zeros((low.size, len(lanes)))
        begin = 0
        for column, lane in enumerate(lanes):
            tones = slice(begin, begin + TONES_PER_BAND * len(lane))
            whole = np.sqrt(sum(band[2] ** 2 for band in lane))
            self._amplitude[tones, column] = weight[tones] / whole * np.sqrt(2 / TONES_PER_BAND)
            begin = tones.stop

    def at(self, time_s: Floats) -> Floats:
        """Return the courses at times of shape (n,), in units of their standard deviation, shape (n, lanes)."""
        if _is_long_and_even(time_s):
            return self._sum_evenly(time_s, 0)
        tones = np.sin(np.multiply.outer(time_s, self._omega) + self._phase)
        courses: Floats = tones @ self._amplitude
        return courses

    def course(self, time_s: Floats) -> tuple[Floats, Floats, Floats]:
        """Return the courses as `at` does, and their first and second derivatives (per s, per s^2)."""
        if _is_long_and_even(time_s):
            return self._sum_evenly(time_s, 0), self._sum_evenly(time_s, 1), self._sum_evenly(time_s, 2)
        angle = np.multiply.outer(time_s, self._omega) + self._phase
        sine, cosine = np.sin(angle), np.cos(angle)
        slope = self._amplitude * self._omega[:, None]
        bend = slope * self._omega[:, None]
        return sine @ self._amplitude, cosine @ slope, -(sine @ bend)

    def _sum_evenly(self, time_s: Floats, order: int) -> Floats:
        """Return the derivative of `order` at many even times, by sin(a + b) = sin a cos b + cos a sin b."""
        count, step_s = len(time_s), (time_s[-1] - time_s[0]) / (len(time_s) - 1)
        rows = -(-count // ROW)
        coarse = np.multiply.outer(time_s[0] + ROW * step_s * np.arange(rows), self._omega)
        coarse += self._phase + order * np.pi / 2
        fine = np.multiply.outer(step_s * np.arange(ROW), self._omega)
        weights = self._amplitude * (self._omega**order)[:, None]
        sine, cosine, fine_sine, fine_cosine = np.sin(coarse), np.cos(coarse), np.sin(fine).T, np.cos(fine).T
        courses = np.empty((count, weights.shape[1]))
        for lane in range(weights.shape[1]):
            mine = np.flatnonzero(weights[:, lane])
            sums = (sine[:, mine] * weights[mine, lane]) @ fine_cosine[mine]
            sums += (cosine[:, mine] * weights[mine, lane]) @ fine_sine[mine]
            courses[:, lane] = sums.reshape(-1)[:count]
        return courses


def _is_long_and_even(time_s: Floats) -> bool:
    """Return whether the shorter way of summing pays, and is right to better than 1e-8 standard deviations."""
    if len(time_s) < LONG:
        return False
    even = np.linspace(time_s[0], time_s[-1], len(time_s))
    return bool(np.abs(time_s - even).max() < 1e-10)
