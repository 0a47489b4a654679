"""Time means over all the time in which someone stood."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.block import steps_s
from weightshare.pipeline.summary import Sums
from weightshare.pipeline.weight import Standing

_SUMMED = ("s", "off s", "off^2 s", "injured N s", "total N s")


@dataclass(frozen=True, slots=True)
class MeanFigures:
    """Shares in percent, forces in N; None where nobody stood. `weighed_N` is the mean total since body weight was
    known."""

    share: float | None
    share_sd: float | None
    injured_N: float | None
    uninjured_N: float | None
    weighed_N: float | None
    present_s: float


class Means:
    """Adds up what means are made of: each sample stands for the interval that ends with it.

    Shares are summed as distances from the first one: squares of large numbers would leave a spread where none is.
    """

    def __init__(self) -> None:
        self._unweighed, self._weighed = Sums(len(_SUMMED)), Sums(len(_SUMMED))
        self._about = np.nan
        self._last_s: float | None = None
        self._stood = False
        self._entered_s = 0.0

    def push(self, interval_s: float, time_s: Floats, share: Floats, injured_N: Floats, standing: Standing) -> None:
        """Take in samples, at least one; arrays have shape (n,)."""
        present, total_N, known = standing.present, standing.total_N, standing.weight_from
        before = np.concatenate(([self._stood], present[:-1]))
        weight_s = steps_s(time_s[0] - interval_s if self._last_s is None else self._last_s, time_s)
        self._last_s, self._stood = float(time_s[-1]), bool(present[-1])
        if np.isnan(self._about) and present.any():
            self._about = float(share[np.argmax(present)])
        entered = np.flatnonzero(present & ~before)
        weight_s[entered] = interval_s
        for _ in entered:
            self._entered_s += interval_s
        rows = np.empty((len(_SUMMED), present.size))
        rows[0], off = weight_s, share - self._about
        np.multiply(weight_s, off, out=rows[1])
        np.multiply(rows[1], off, out=rows[2])
        np.multiply(weight_s, injured_N, out=rows[3])
        np.multiply(weight_s, total_N, out=rows[4])
        rows[:, np.flatnonzero(~present)] = 0.0
        self._unweighed.push(rows[:, :known])
        self._weighed.push(rows[:, known:])

    def figures(self) -> MeanFigures:
        """Return the means so far."""
        since = self._weighed.totals()
        weight_s, off, square, injured, total = (self._unweighed.totals() + since).tolist()
        weighed_N = float(since[4] / since[0]) if since[0] else None
        if not weight_s:
            return MeanFigures(None, None, None, None, weighed_N, 0.0)
        off /= weight_s
        return MeanFigures(
            share=self._about + off,
            share_sd=max(square / weight_s - off * off, 0.0) ** 0.5,
            injured_N=injured / weight_s,
            uninjured_N=(total - injured) / weight_s,
            weighed_N=weighed_N,
            present_s=max(weight_s - self._entered_s, 0.0),
        )
