"""Creep and zero drift of one plate, from the stretches in which nothing was touched."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.model import Floats

FASTEST_S = 3.0
"""Creep that is faster than this is over before a step is measured."""
FEWEST = 12
"""A load has to be left on for so long before creep is looked for, s; so many windows before drift is."""


@dataclass(frozen=True, slots=True)
class Loading:
    """What lay on a plate: from `since_s` on (s, shape (k,), rising) the load was `load_N`, shape (k,)."""

    since_s: Floats
    load_N: Floats

    def crept_N(self, time_s: Floats, constant_s: float) -> Floats:
        """Return the load as creep follows it with a time constant: sum of steps (1 - exp(-t / constant)), in N."""
        steps_N = np.diff(self.load_N, prepend=0.0)
        age_s = np.maximum(time_s[:, None] - self.since_s, 0.0)
        followed: Floats = -np.expm1(-age_s / constant_s) @ steps_N
        return followed


@dataclass(frozen=True, slots=True)
class Settling:
    """How a plate's reading goes on without a change of load: creep as a part of the load, and drift in N per second.

    `covariance`, shape (3, 3), is of part, time constant and drift. Without a load that was left on, creep is 0 and
    not known (`creeps` False); without anything left alone, neither is the drift.
    """

    part: float = 0.0
    constant_s: float = math.inf
    drift_N_per_s: float = 0.0
    covariance: Floats | None = None
    dof: int = 0
    creeps: bool = False

    def off_N(self, loading: Loading, time_s: Floats) -> Floats:
        """Return what creep and drift add to the readings at `time_s` (s, shape (n,)), N."""
        crept = self.part * loading.crept_N(time_s, self.constant_s) if self.creeps else 0.0
        off: Floats = crept + self.drift_N_per_s * time_s
        return off

    def change_N(self, load_N: float, from_s: float, to_s: float) -> Estimate:
        """Return how far creep takes the reading from `from_s` to `to_s` after a load was put on a rested cell, N."""
        times = np.array([from_s, to_s])
        follow, slower = _follow(Loading(np.zeros(1), np.array([load_N])), times, self.constant_s)
        gradient = np.array([follow[1] - follow[0], self.part * (slower[1] - slower[0]), 0.0])
        assert self.covariance is not None
        u_N = math.sqrt(max(gradient @ self.covariance @ gradient, 0.0))
        return Estimate(float(self.part * gradient[0]), u_N, self.dof)

    @property
    def drift_N_per_min(self) -> Estimate:
        """The zero's drift, N per minute."""
        assert self.covariance is not None
        return Estimate(60.0 * self.drift_N_per_s, 60.0 * math.sqrt(self.covariance[2, 2]), self.dof)


def find_settling(loading: Loading, stretches: Sequence[tuple[Floats, Floats]], held_s: float) -> Settling:
    """Return creep and drift from stretches in which nothing was touched.

    Each is its instants (s) and readings (N), of shape (n,), n > 0. `held_s` is how long a load was left on (s), 0 for
    not at all. One level for each stretch, one drift for all; creep has one time constant. Least squares.
    """
    if held_s < FEWEST:
        return _drift_alone(stretches)
    time_s, seen_N = (np.concatenate(rows) for rows in zip(*stretches, strict=True))
    levels = _levels(stretches)
    longest_s = 3.0 * held_s

    def design(constant_s: float) -> Floats:
        return np.stack([loading.crept_N(time_s, constant_s), time_s - time_s.mean(), *levels], axis=1)

    def cost(log_s: float) -> float:
        return _solve(design(math.exp(log_s)), seen_N)[1]

    constant_s = math.exp(_least(cost, math.log(FASTEST_S), math.log(longest_s)))
    solution, squares = _solve(design(constant_s), seen_N)
    slower = float(solution[0]) * _follow(loading, time_s, constant_s)[1]
    jacobian = np.insert(design(constant_s), 1, slower, axis=1)
    dof = max(time_s.size - jacobian.shape[1], 1)
    covariance = np.linalg.pinv(jacobian.T @ jacobian)[:3, :3] * squares / dof
    return Settling(float(solution[0]), constant_s, float(solution[1]), covariance, dof, creeps=True)


def _drift_alone(stretches: Sequence[tuple[Floats, Floats]]) -> Settling:
    if sum(time_s.size for time_s, _seen_N in stretches) < FEWEST:
        return Settling()
    time_s, seen_N = (np.concatenate(rows) for rows in zip(*stretches, strict=True))
    design = np.stack([time_s - time_s.mean(), *_levels(stretches)], axis=1)
    solution, squares = _solve(design, seen_N)
    dof = design.shape[0] - design.shape[1]
    covariance = np.zeros((3, 3))
    covariance[2, 2] = squares / dof * np.linalg.pinv(design.T @ design)[0, 0]
    return Settling(drift_N_per_s=float(solution[0]), covariance=covariance, dof=dof)


def _levels(stretches: Sequence[tuple[Floats, Floats]]) -> list[Floats]:
    """Return 1 in each stretch, 0 in the others."""
    which = np.concatenate([np.full(time_s.size, i) for i, (time_s, _seen_N) in enumerate(stretches)])
    return [(which == i).astype(np.float64) for i in range(len(stretches))]


def _solve(design: Floats, seen: Floats) -> tuple[Floats, float]:
    """Return the least-squares solution and the sum of squares that it leaves."""
    scale = np.linalg.norm(design, axis=0)
    scale[scale == 0.0] = 1.0
    solution = np.linalg.lstsq(design / scale, seen, rcond=None)[0] / scale
    left = seen - design @ solution
    return solution, float(left @ left)


def _follow(loading: Loading, time_s: Floats, constant_s: float) -> tuple[Floats, Floats]:
    """Return what creep follows, N, and how that changes with the time constant, N per s."""
    step_s = 1e-4 * constant_s
    above, below = (loading.crept_N(time_s, constant_s + sign * step_s) for sign in (1.0, -1.0))
    return loading.crept_N(time_s, constant_s), (above - below) / (2.0 * step_s)


def _least(cost: Callable[[float], float], low: float, high: float) -> float:
    """Return where `cost` is least between `low` and `high`: a coarse look, then a fine one."""
    from scipy.optimize import minimize_scalar

    coarse = np.linspace(low, high, 40)
    values = [cost(float(at)) for at in coarse]
    best = int(np.argmin(values))
    bounds = float(coarse[max(best - 1, 0)]), float(coarse[min(best + 1, 39)])
    return float(minimize_scalar(lambda at: cost(float(at)), bounds=bounds, method="bounded").x)
