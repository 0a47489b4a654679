"""A value with its standard uncertainty and the degrees of freedom behind that."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its standard uncertainty u, both in the value's unit; `dof` is infinite where u is taken as known."""

    value: float
    u: float
    dof: float = math.inf

    def expanded(self, level: float = 0.95) -> float:
        """Return the half width of the interval that covers the value with probability `level`: k u.

        k is Student's t for `dof` (GUM, JCGM 100:2008, G.3.4); the normal quantile where `dof` is infinite.
        """
        return coverage_factor(self.dof, level) * self.u

    def interval(self, level: float = 0.95) -> tuple[float, float]:
        """Return the ends of that interval."""
        half = self.expanded(level)
        return self.value - half, self.value + half


def coverage_factor(dof: float, level: float = 0.95) -> float:
    """Return the two-sided quantile of Student's t for `dof` degrees of freedom; not a number where there are none."""
    from scipy.special import ndtri, stdtrit

    part = 0.5 * (1.0 + level)
    if math.isinf(dof):
        return float(ndtri(part))
    return float(stdtrit(dof, part)) if dof > 0.0 else math.nan
