"""Cells of which nobody was told what they are like: slope, curve, hysteresis, creep, tilt and drift, by the seed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats

SLOPE_SPREAD = 0.01
CURVE_PER_N = 4.0e-6
"""Standard deviation of the curve: some 0.3 N off a straight line half-way to 600 N."""
HYSTERESIS_PER_N = (1.0e-6, 5.0e-6)
CREEP_PART = (3.0e-4, 1.2e-3)
CREEP_S = (25.0, 60.0)
TILT = 0.003
BAD_TILT = (0.01, 0.02)
"""One pair of cells on each scale is that far from equal."""
DRIFT_N_PER_MIN = 0.03
ZERO_COUNTS = 200.0


@dataclass(frozen=True, slots=True)
class Hidden:
    """What the four cells (left front, left rear, right front, right rear) are really like; arrays of shape (4,).

    A cell that bears x newtons gives counts c for which slope c + curve (slope c)^2 = x + tilt x_part x + 4 hysteresis
    x (m - x) + what has crept + drift t. Here m is the greatest load since the cell was last unloaded, x_part is how
    far right of the middle the plate's load lies, as a part of the way to the supports; what has crept follows creep x
    with the time constant creep_s.
    """

    newton_per_count: Floats
    zero_counts: Floats
    curve_per_N: Floats
    """The same for both cells of a plate."""
    hysteresis_per_N: Floats
    creep: Floats
    creep_s: Floats
    tilt: Floats
    drift_N_per_s: Floats


def draw_hidden(seed: int, newton_per_count: Floats, zero_counts: Floats) -> Hidden:
    """Return the cells of the seed, about those whose slopes (N per count) and zeros are given, each shape (4,)."""
    rng = np.random.default_rng([seed, 41])

    def plates(values: Floats) -> Floats:
        return np.repeat(values, 2)

    tilt = TILT * rng.standard_normal(4)
    tilt[rng.integers(4)] = rng.choice((-1.0, 1.0)) * rng.uniform(*BAD_TILT)
    return Hidden(
        newton_per_count * (1.0 + SLOPE_SPREAD * rng.standard_normal(4)),
        zero_counts + ZERO_COUNTS * rng.standard_normal(4),
        plates(CURVE_PER_N * rng.standard_normal(2)),
        plates(rng.uniform(*HYSTERESIS_PER_N, 2)),
        plates(rng.uniform(*CREEP_PART, 2)),
        plates(rng.uniform(*CREEP_S, 2)),
        tilt,
        # two cells of a plate drift together
        plates(0.5 * DRIFT_N_PER_MIN / 60.0 * rng.standard_normal(2)),
    )


def hidden_id(device_id: str, seed: int) -> str:
    """Return the id of the virtual scale `device_id` with the cells of the seed: no other's calibration is its own."""
    return f"505e{seed & 0xFFFFFFFF:08x}{device_id[-4:]}"


class HiddenCells:
    """What the hidden cells of one scale add to their load, block after block in time order."""

    def __init__(self, hidden: Hidden, columns: list[int]) -> None:
        self._hidden, self._columns = hidden, columns
        self._greatest_N = np.zeros(len(columns))
        self._crept_N = np.zeros(len(columns))

    def counts(self, time_s: Floats, load_N: Floats, noise_N: Floats, x_part: Floats | None) -> Floats:
        """Return counts, shape (n, cells), of loads and noise of that shape; x_part: shape (n, 2), of left and right.

        time_s: shape (n,), evenly spaced.
        """
        hidden, columns = self._hidden, self._columns
        seen_N = load_N + noise_N + np.multiply.outer(time_s, hidden.drift_N_per_s[columns])
        if x_part is not None:
            sides = [column // 2 for column in columns]
            seen_N = seen_N + load_N * hidden.tilt[columns] * x_part[:, sides]
        seen_N = seen_N + self._lag(load_N) + self._creep(time_s, load_N)
        curve = hidden.curve_per_N[columns]
        straight_N = 2.0 * seen_N / (1.0 + np.sqrt(1.0 + 4.0 * curve * seen_N))
        counts: Floats = straight_N / hidden.newton_per_count[columns] + hidden.zero_counts[columns]
        return counts

    def _lag(self, load_N: Floats) -> Floats:
        """Return how much more the cells show on the way down; a loop of two parabolas, as Rayleigh's law has it."""
        peak_N = np.maximum(load_N.max(axis=0), 0.0)
        unloaded = load_N.min(axis=0) < 0.02 * self._greatest_N
        self._greatest_N = np.where(unloaded, peak_N, np.maximum(self._greatest_N, peak_N))
        below_N = np.maximum(self._greatest_N - load_N, 0.0)
        return 4.0 * self._hidden.hysteresis_per_N[self._columns] * np.maximum(load_N, 0.0) * below_N

    def _creep(self, time_s: Floats, load_N: Floats) -> Floats:
        """Return what has crept, sample by sample, as under the block's mean load: creep takes many blocks."""
        step_s = float(time_s[1] - time_s[0]) if len(time_s) > 1 else 0.01
        gone_s = step_s * np.arange(1.0, len(time_s) + 1.0)
        left = np.exp(-np.divide.outer(gone_s, self._hidden.creep_s[self._columns]))
        course: Floats = left * self._crept_N + (1.0 - left) * self._hidden.creep[self._columns] * load_N.mean(axis=0)
        self._crept_N = course[-1]
        return course
