"""Two separate scales on one grid of times, however their streams are cut and in whatever order they come."""

from __future__ import annotations

import numpy as np

from weightshare.model import Bools, Chunk, Floats, Item, LinkDown, LinkUp, RoundTrip
from weightshare.pipeline.align import Aligned, Aligner
from weightshare.pipeline.block import MISSING_FROM
from weightshare.pipeline.clock import Integers, Timed

WAIT_NS = 300_000_000
"""A side is waited for so long, by stamps of arrival."""
KEPT_S = 10.0
"""While one scale has not begun, samples of the other are kept for so long."""

_NEVER = np.iinfo(np.int64).max
_BLOCK = 32_768
"""Rows handed on at a time: small enough to stay in the cache."""


class Track:
    """One scale's samples in host time that grid times may still need."""

    def __init__(self) -> None:
        self._parts: list[Aligned] = []
        self.begun: tuple[float, int] | None = None
        """Host time of the first sample, s, and when it was known, ns."""
        self.interval_s = 0.0
        self.host_s: Floats = np.empty(0)
        self.values: Floats = np.empty((0, 0))
        """Readings, and below them the doubt of the time, s."""
        self._known_ns: Integers = np.empty(0, dtype=np.int64)
        self._reach_s: Floats = np.empty(0)
        """The longest step from the sample before that no sample is missing in."""

    def push(self, aligned: Aligned) -> None:
        """Take in samples."""
        if not aligned.host_s.size:
            return
        if self.begun is None:
            self.begun = float(aligned.host_s[0]), int(aligned.known_ns[0])
            self.interval_s = aligned.interval_s
        self._parts.append(aligned)

    def gather(self) -> None:
        """Join what was taken in."""
        if not self._parts:
            return
        parts, self._parts = self._parts, []
        reaches = [np.full(part.host_s.size, MISSING_FROM * part.interval_s) for part in parts]
        for part, reach_s in zip(parts, reaches, strict=True):
            reach_s[0] = 0.0 if part.fresh else reach_s[0]
        values = [np.vstack((part.readings, part.doubt_s)) for part in parts]
        self.values = np.concatenate([self.values, *values] if self.values.size else values, axis=1)
        self.host_s = np.concatenate([self.host_s, *(part.host_s for part in parts)])
        self._known_ns = np.concatenate([self._known_ns, *(part.known_ns for part in parts)])
        self._reach_s = np.concatenate([self._reach_s, *reaches])

    def known_ns(self, grid_s: Floats) -> Integers:
        """Return when a sample at each grid time or after it was known, ns; `_NEVER` where none has come."""
        places = np.searchsorted(self.host_s, grid_s)
        return np.append(self._known_ns, _NEVER)[places]

    def interpolate(self, grid_s: Floats, may: Bools) -> tuple[Floats, Bools]:
        """Return values (k, n) at grid times, NaN in holes and where they may not be had, and where there are any."""
        after = np.minimum(np.searchsorted(self.host_s, grid_s), self.host_s.size - 1)
        before = np.maximum(after - 1, 0)
        step_s = self.host_s[after] - self.host_s[before]
        exact = self.host_s[after] == grid_s
        there = may & (exact | ((step_s > 0.0) & (step_s <= self._reach_s[after])))
        part = np.divide(grid_s - self.host_s[before], step_s, out=np.ones_like(step_s), where=step_s > 0.0)
        left, right = self.values[:, before], self.values[:, after]
        values = np.where(exact, right, left + part * (right - left))
        return np.where(there, values, np.nan), there

    def forget(self, before_s: float) -> None:
        """Drop what no grid time from `before_s` on can need."""
        first = max(int(np.searchsorted(self.host_s, before_s)) - 1, 0)
        if first:
            self.host_s, self.values = self.host_s[first:], self.values[:, first:]
            self._known_ns, self._reach_s = self._known_ns[first:], self._reach_s[first:]


class Pairing:
    """Two scales' items in; rows out, with the first's channels and then the second's, at the higher nominal rate.

    Time is 0 at the first instant at which both sampled. Which rows there are and what is in them depends on the
    stamps of arrival alone. Where a scale's sample after a grid time is not known within WAIT_NS of the other's, or
    samples are missing about it, its readings are NaN; where both miss, there is no row.
    """

    def __init__(self) -> None:
        self.aligners = (Aligner(), Aligner())
        self._tracks = (Track(), Track())
        self._newest_ns = -1
        self._origin_s = 0.0
        self._from_ns = 0
        self.interval_s = 0.0
        """Of the grid; 0 before both have begun."""
        self._next = 0

    def push(self, source: int, item: Item) -> None:
        """Take in an item of one scale."""
        self._newest_ns = max(self._newest_ns, _stamp_ns(item))
        for aligned in self.aligners[source].push(item):
            self._tracks[source].push(aligned)

    def settle(self) -> list[tuple[Timed, Floats]]:
        """Return the rows that are decided at the newest stamp, and both scales' doubt of their times, s, (2, n)."""
        for track in self._tracks:
            track.gather()
        if not self.interval_s and not self._start():
            return []
        numbers = self._candidates()
        grid_s: Floats = self._origin_s + numbers.astype(np.float64) * self.interval_s
        known_ns = np.stack([track.known_ns(grid_s) for track in self._tracks])
        until_ns = np.maximum(known_ns.min(axis=0), self._from_ns) + WAIT_NS
        decided = (known_ns.max(axis=0) < _NEVER) | (self._newest_ns > until_ns)
        count = int(decided.size if decided.all() else np.argmin(decided))
        parts = [slice(start, min(start + _BLOCK, count)) for start in range(0, count, _BLOCK)]
        made = [self._make(numbers[part], grid_s[part], known_ns[:, part] <= until_ns[part]) for part in parts]
        if count:
            self._next = int(numbers[count - 1]) + 1
            for track in self._tracks:
                track.forget(float(grid_s[count - 1]))
        return [rows for rows in made if rows is not None]

    def finish(self) -> list[tuple[Timed, Floats]]:
        """Both streams end here; return the rows that were still waiting. Where one ends sooner, so do they."""
        for aligner, track in zip(self.aligners, self._tracks, strict=True):
            for aligned in aligner.finish(self._newest_ns):
                track.push(aligned)
        return self.settle()

    def _start(self) -> bool:
        """Begin the grid where both have begun; until then keep the newest samples only."""
        first, second = (track.begun for track in self._tracks)
        if first is None or second is None:
            for track in self._tracks:
                track.forget(self._newest_ns / 1e9 - KEPT_S)
            return False
        self._origin_s, self._from_ns = max(first[0], second[0]), max(first[1], second[1])
        self.interval_s = min(track.interval_s for track in self._tracks)
        return True

    def _candidates(self) -> Integers:
        """Return the numbers of the grid times that one of the scales has come past."""
        last_s = max(float(track.host_s[-1]) for track in self._tracks)
        count = int((last_s - self._origin_s) / self.interval_s) + 1
        return np.arange(self._next, max(count, self._next), dtype=np.int64)

    def _make(self, numbers: Integers, grid_s: Floats, may: Bools) -> tuple[Timed, Floats] | None:
        (first, there), (second, too) = (
            track.interpolate(grid_s, allowed) for track, allowed in zip(self._tracks, may, strict=True)
        )
        kept = there | too
        if not kept.any():
            return None
        readings = np.concatenate((first[:-1], second[:-1]))[:, kept]
        doubts_s = np.stack((first[-1], second[-1]))[:, kept]
        time_s: Floats = numbers[kept].astype(np.float64) * self.interval_s
        return Timed(self.interval_s, time_s, readings), doubts_s


def _stamp_ns(item: Item) -> int:
    if isinstance(item, Chunk):
        return int(item.arrival_ns[-1])
    if isinstance(item, RoundTrip):
        return item.received_ns
    return item.arrival_ns if isinstance(item, LinkUp | LinkDown) else -1
