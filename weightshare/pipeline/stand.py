"""The warm-up stand: somebody stands on both feet, unsteered, while being weighed, and for longer where it is asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypedDict

import numpy as np

from weightshare.model import Bools, Floats, Side
from weightshare.pipeline.weight import WEIGH_S, Standing


@dataclass(frozen=True, slots=True)
class Stood:
    """When it was, s of sample time, and the left side's impulse share in it, percent."""

    from_s: float
    to_s: float
    left_percent: float

    def share_percent(self, injured: Side) -> float:
        """Return the injured side's share."""
        return self.left_percent if injured is Side.LEFT else 100.0 - self.left_percent


class StandAsked(TypedDict):
    """How long it is to be, s (None: as long as weighing takes), and whether body weight is given."""

    stand_s: float | None
    given: bool


class Stand:
    """Finds the first stretch of `stand_s` on both feet: it begins with the still seconds that body weight is taken of.

    Who lifts a foot, or steps off, begins anew. Where body weight is given nobody is weighed, and without a `stand_s`
    no stand is asked for. The same rows are summed however the stream is cut.
    """

    def __init__(self) -> None:
        self.stood: Stood | None = None
        self._time_s, self._left_N, self._total_N = np.empty(0), np.empty(0), np.empty(0)
        self._feet: Bools = np.empty(0, dtype=np.bool_)
        """Whether both feet carry in each row that is kept; a missing reading breaks nothing."""
        self._known = False

    def left_s(self, stand_s: float | None, *, given: bool) -> float:
        """Return how long it still takes, s; 0: it is over, or none is asked for."""
        if self.stood is not None or (given and stand_s is None):
            return 0.0
        need_s = _need_s(stand_s, given=given)
        if not self._known or not self._time_s.size:
            return need_s
        return max(0.0, float(self._time_s[0] + need_s - self._time_s[-1]))

    def push(
        self,
        time_s: Floats,
        left_N: Floats,
        standing: Standing,
        interval_s: float,
        *,
        stand_s: float | None = None,
        given: bool = False,
    ) -> None:
        """Take in samples (shape (n,)) with what `standing` says of them. `given`: body weight is."""
        if self.stood is not None or (given and stand_s is None):
            return
        before = self._time_s.size
        self._time_s = np.concatenate((self._time_s, time_s))
        self._left_N = np.concatenate((self._left_N, left_N))
        self._total_N = np.concatenate((self._total_N, standing.total_N))
        self._feet = np.concatenate((self._feet, standing.two_legged | np.isnan(standing.total_N)))
        if not self._known:
            if standing.weight_from >= time_s.size:
                self._drop(np.searchsorted(self._time_s, self._time_s[-1] - WEIGH_S - interval_s))
                return
            self._known = True
            weighed_s = self._time_s[before + standing.weight_from] - (0.0 if given else WEIGH_S)
            self._drop(np.searchsorted(self._time_s, weighed_s - 0.5 * interval_s))
        self._look(_need_s(stand_s, given=given) - 0.5 * interval_s)

    def _drop(self, count: np.intp) -> None:
        """Forget the first rows."""
        self._time_s, self._feet = self._time_s[count:], self._feet[count:]
        self._left_N, self._total_N = self._left_N[count:], self._total_N[count:]

    def _look(self, need_s: float) -> None:
        """Look for the first stretch that is long enough; what can be none any more is forgotten."""
        while self._time_s.size:
            if not self._feet[0]:
                self._drop(np.intp(self._feet.argmax()) if self._feet.any() else np.intp(self._feet.size))
                continue
            last = int(np.searchsorted(self._time_s, self._time_s[0] + need_s))
            lifted = np.flatnonzero(~self._feet[: last + 1])
            if lifted.size:
                self._drop(lifted[0])
                continue
            if last < self._time_s.size:
                self._take(slice(0, last + 1))
            return

    def _take(self, rows: slice) -> None:
        read = ~np.isnan(self._total_N[rows])
        total_N = float(self._total_N[rows][read].sum())
        if total_N > 0.0:
            share = 100.0 * float(self._left_N[rows][read].sum()) / total_N
            self.stood = Stood(float(self._time_s[0]), float(self._time_s[rows][-1]), share)
        self._drop(np.intp(self._time_s.size))


def _need_s(stand_s: float | None, *, given: bool) -> float:
    """Return how long the stand is; never shorter than the weighing that is a part of it."""
    return max(stand_s or 0.0, 0.0 if given else WEIGH_S)
