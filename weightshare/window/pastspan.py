"""When things happened in a saved session, as columns of numbers: a picture of a stretch asks all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Floats
from weightshare.practice.past.lane import Lane


class Lasting(Protocol):
    """What lasts from one time to another, s."""

    @property
    def from_s(self) -> float:
        """When it begins."""
        ...

    @property
    def to_s(self) -> float:
        """When it ends."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """From when to when each of several things lasted, in order of time: shape (k,) each, s."""

    from_s: Floats
    to_s: Floats

    def seen(self, span_s: tuple[float, float], least_s: float = 0.0) -> list[int]:
        """Return the places of those that are seen while `span_s` is shown, and last `least_s` or longer."""
        return np.flatnonzero(self._is_seen(span_s) & (self.to_s - self.from_s >= least_s)).tolist()

    def apart(self, span_s: tuple[float, float], width_px: float) -> NDArray[np.int64]:
        """Return the places of those that are seen; of what is narrower than a pixel one a column: more are not told
        apart."""
        found = np.flatnonzero(self._is_seen(span_s))
        scale = width_px / (span_s[1] - span_s[0])
        column = (scale * (self.from_s[found] - span_s[0])).astype(np.int64)
        is_new = np.diff(column, prepend=-1) != 0
        kept: NDArray[np.int64] = found[is_new | (scale * (self.to_s[found] - self.from_s[found]) >= 1.0)]
        return kept

    def _is_seen(self, span_s: tuple[float, float]) -> NDArray[np.bool_]:
        seen: NDArray[np.bool_] = (self.to_s >= span_s[0]) & (self.from_s <= span_s[1])
        return seen


def spans_of(things: Sequence[Lasting]) -> Spans:
    """Return when each of `things` was."""
    return Spans(np.array([one.from_s for one in things]), np.array([one.to_s for one in things]))


@lru_cache(maxsize=8)
def band_spans(lane: Lane) -> Spans:
    """Return when each stretch of a lane's band was; a lane is never changed."""
    return spans_of(lane.bands)
