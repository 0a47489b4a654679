"""What the repetitions leave in doubt of two sides' figures, and of anything that is made of both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats

FEW = 2
"""Fewer values have no spread."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """The standard errors of two figures, each in its unit, and their degrees of freedom; `correlation` is 0 where the
    sides did not work in the same repetitions."""

    u: tuple[float, float]
    dof: tuple[float, float]
    correlation: float = 0.0
    together: bool = False

    def left_in(self, slopes: tuple[float, float]) -> tuple[float, float]:
        """Return what it leaves in a figure that changes by `slopes` for each unit of the two, and the degrees of
        freedom: of pairs those of one mean, else after Welch and Satterthwaite (JCGM 100:2008, 5.2.2 and G.4.1)."""
        first, second = (slope * u for slope, u in zip(slopes, self.u, strict=True))
        variance = max(0.0, first**2 + second**2 + 2.0 * self.correlation * first * second)
        if self.together or variance == 0.0:
            return math.sqrt(variance), self.dof[0]
        below = sum(part**4 / dof for part, dof in zip((first, second), self.dof, strict=True))
        return math.sqrt(variance), variance**2 / below if below > 0.0 else math.inf


def scatter_of(first: Sequence[float], second: Sequence[float], *, together: bool, summed: bool = False) -> Scatter:
    """Return the scatter of the means of `first` and `second` (JCGM 100:2008, 4.2.3), or of their sums.

    together: value by value they are of the same repetition, so that what moves both cancels where they are compared.
    A side with a single value has NaN. Raises ValueError for a side without any.
    """
    if not first or not second or (together and len(first) != len(second)):
        raise ValueError("each side has to have values, and pairs as many")
    both = [np.asarray(values, dtype=np.float64) for values in (first, second)]
    u = [standard_error(values) * (values.size if summed else 1.0) for values in both]
    moved = together and min(len(first), len(second)) >= FEW and min(u) > 0.0
    correlation = float(np.corrcoef(both[0], both[1])[0, 1]) if moved else 0.0
    return Scatter((u[0], u[1]), (len(first) - 1.0, len(second) - 1.0), correlation, together)


def standard_error(values: Floats) -> float:
    """Return the standard error of the mean of `values` (n,) (JCGM 100:2008, 4.2.3); NaN of fewer than two."""
    return math.nan if values.size < FEW else float(values.std(ddof=1)) / math.sqrt(values.size)
