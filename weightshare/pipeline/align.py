"""One scale's samples in this computer's time: a fit that looks back only, and never changes what was given out."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.model import Chunk, Floats, Item, LinkUp, RoundTrip
from weightshare.pipeline.clock import Clock, Integers, Timed, cut_chunk
from weightshare.pipeline.strip import BUCKET_S, CARRIED_PPM, PRIOR_PPM, Line, Strip

ENOUGH_ROUND_TRIPS = 3
SOON_NS, LATE_NS = 750_000_000, 2_000_000_000
"""The first samples wait for so many round trips and so long; not for longer than this."""
STALE_NS = 5_000_000_000
"""Of the samples that waited those are left out that came longer before."""
SLEW = 0.01
"""A correction is spread so that time runs at most so much too fast or too slow."""
IMPOSSIBLE_S = 0.25
"""A bound that contradicts all earlier ones by so much says that one of the clocks was set anew."""


@dataclass(frozen=True, slots=True, eq=False)
class Aligned:
    """Samples of one scale: host_s (n,) by this computer's clock, readings (channels, n).

    interval_s: the nominal one. known_ns: when each sample's time was known, by stamps of arrival, (n,). doubt_s: how
    far it may be off either way, (n,), NaN where that is not known. fresh: whether a fit begins with it.
    """

    interval_s: float
    host_s: Floats
    readings: Floats
    known_ns: Integers
    doubt_s: Floats
    fresh: bool


class Aligner:
    """Puts one scale's samples on this computer's clock.

    Its own ticks time the samples (`Clock`); a line from them to host time is found anew each second (`Strip`), and
    followed smoothly. After a restart the samples wait for a fit of their own, and time goes on.
    """

    def __init__(self) -> None:
        self.clock = Clock()
        self.restarts = 0
        """Fits that had to begin anew."""
        self.round_trips = 0
        self.line: Line | None = None
        """The newest fit; None while samples wait for the first."""
        self._strip = Strip()
        self._run = 0
        self._open: list[RoundTrip] = []
        """Round trips whose tick only the next frame can place."""
        self._last_s = -np.inf
        self._begin()

    def _begin(self) -> None:
        """Begin a fit: samples wait for it."""
        drift, drift_u = (self.line.drift, self.line.drift_u) if self.line else (0.0, 1e-6 * PRIOR_PPM)
        self._strip = Strip(drift, float(np.hypot(drift_u, 1e-6 * CARRIED_PPM)) if self.line else drift_u)
        self._held: list[Timed] = []
        self._first_ns: int | None = None
        self._bucket: int | None = None
        self._early = (0.0, np.inf)
        self._frame_s = 0.0
        self._fitting, self._fresh = True, True
        self._late_s = 0.0
        """By how much the line given out is over the newest fit, where that begins."""

    def push(self, item: Item) -> list[Aligned]:
        """Return the samples whose time became known."""
        if isinstance(item, RoundTrip):
            self._open.append(item)
            return self._bound()
        if isinstance(item, LinkUp):
            self._strip.forget_arrivals()
        if isinstance(item, Chunk) and self._open and len(item.tick) > 1:
            # the first frame alone places what is open
            return self._push(cut_chunk(item, 0, 1)) + self._push(cut_chunk(item, 1, len(item.tick)))
        return self._push(item)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What spoils the times, in words."""
        often = "once" if self.restarts == 1 else f"{self.restarts} times"
        said = [f"the scale's clock began anew {often}; its times go on by this computer's clock"]
        dropped = self.clock.dropped_frames
        left_out = [f"frames of the scale that would turn time back were left out ({dropped})"] if dropped else []
        return (*(said if self.restarts else []), *left_out, *self.clock.rate_words)

    def _push(self, item: Item) -> list[Aligned]:
        return [aligned for timed in self.clock.push(item) for aligned in self._take(timed)]

    # --- round trips ---------------------------------------------------------------------------------------------

    def _bound(self) -> list[Aligned]:
        """Take in the round trips that can be placed."""
        found: list[Aligned] = []
        while self._open and (scale_s := self.clock.second_of(self._open[0].tick)) is not None:
            trip = self._open.pop(0)
            self.round_trips += 1
            lower_s, upper_s = trip.sent_ns / 1e9 - scale_s, trip.received_ns / 1e9 - scale_s
            if self._is_impossible(scale_s, lower_s, upper_s):
                self._start_anew()
            self._strip.add_round_trip(scale_s, lower_s, upper_s)
            if self._fitting and self._first_ns is not None and self._is_enough(trip.received_ns - self._first_ns):
                found += self._release(trip.received_ns)
        return found

    def _is_impossible(self, scale_s: float, lower_s: float, upper_s: float) -> bool:
        if self._fitting or self.line is None:
            return False
        offset_s = float(self._offsets(np.array([scale_s]))[0])
        return upper_s < offset_s - IMPOSSIBLE_S or lower_s > offset_s + IMPOSSIBLE_S

    def _start_anew(self) -> None:
        self.restarts += 1
        self._begin()

    def _is_enough(self, waited_ns: int) -> bool:
        return waited_ns >= (SOON_NS if self._strip.round_trips >= ENOUGH_ROUND_TRIPS else LATE_NS)

    # --- samples -------------------------------------------------------------------------------------------------

    def _take(self, timed: Timed) -> list[Aligned]:
        if timed.run != self._run:
            self._run = timed.run
            self._start_anew()
        found = self._bound()
        buckets = np.floor(_frames_s(timed) / BUCKET_S).astype(np.int64)
        borders = [0, *(np.flatnonzero(buckets[1:] != buckets[:-1]) + 1).tolist(), len(buckets)]
        for start, stop in pairwise(borders):
            found += self._take_second(_cut(timed, start, stop), int(buckets[start]))
        return found

    def _take_second(self, timed: Timed, bucket: int) -> list[Aligned]:
        """Take in frames that end in the same second of the scale's time."""
        frames_s = _frames_s(timed)
        uppers_s = timed.arrival_ns / 1e9 - frames_s
        if bucket != self._bucket:
            self._end_second(bucket)
        if self._fitting:
            return self._wait(timed, frames_s, uppers_s)
        early = np.flatnonzero(uppers_s < self._offsets(frames_s) - IMPOSSIBLE_S)
        if early.size:
            return self._part(timed, bucket, int(early[0]))
        self._note(frames_s, uppers_s)
        return [self._place(timed, timed.arrival_ns)]

    def _part(self, timed: Timed, bucket: int, at: int) -> list[Aligned]:
        """Begin a fit at frame `at`, which came before it was taken by the old one."""
        before = self._take_second(_cut(timed, 0, at), bucket) if at else []
        self._start_anew()
        return before + self._take_second(_cut(timed, at, len(timed.arrival_ns)), bucket)

    def _note(self, frames_s: Floats, uppers_s: Floats) -> None:
        """Keep the earliest arrival of the second."""
        least = int(np.argmin(uppers_s))
        if uppers_s[least] < self._early[1]:
            self._early = float(frames_s[least]), float(uppers_s[least])
        self._frame_s = float(frames_s[-1])

    def _end_second(self, bucket: int) -> None:
        """Take in the earliest arrival of the second that is over, and follow what that tells."""
        self._bucket = bucket
        if not np.isfinite(self._early[1]):
            return
        self._strip.add_earliest(*self._early)
        self._early = (0.0, np.inf)
        if not self._fitting:
            self._fit()

    def _fit(self) -> None:
        """Find the line anew; from the newest sample on the old one is led over to it."""
        before_s = None if self._fitting else float(self._offsets(np.array([self._frame_s]))[0])
        line = self._strip.solve(self._frame_s)
        assert line is not None
        self.line = line
        self._late_s = 0.0 if before_s is None else before_s - line.offset_s

    def _offsets(self, scale_s: Floats) -> Floats:
        """Return host time less scale time by the line given out, which never leaps; scale_s (n,)."""
        assert self.line is not None
        line = self.line
        late_s = np.copysign(self._left_s(scale_s), self._late_s)
        offsets: Floats = line.offset_s + line.drift * (scale_s - line.at_s) + late_s
        return offsets

    def _left_s(self, scale_s: Floats) -> Floats:
        """Return how far the line given out is still off the newest fit, (n,)."""
        assert self.line is not None
        left_s: Floats = abs(self._late_s) - SLEW * np.maximum(scale_s - self.line.at_s, 0.0)
        return np.maximum(left_s, 0.0)

    def _place(self, timed: Timed, known_ns: Integers) -> Aligned:
        """Return the samples in host time; known_ns: one for each frame."""
        assert self.line is not None
        host_s = timed.time_s + self._offsets(timed.time_s)
        keep = slice(int(np.searchsorted(host_s, self._last_s, side="right")), None)
        known = np.repeat(known_ns, len(host_s) // len(known_ns))[keep]
        doubt = (np.nan if self.line.half_s is None else self.line.half_s) + self._left_s(timed.time_s[keep])
        if known.size:
            self._last_s = float(host_s[-1])
        fresh, self._fresh = self._fresh, self._fresh and not known.size
        return Aligned(timed.interval_s, host_s[keep], timed.readings[:, keep], known, doubt, fresh)

    # --- waiting for the first fit -------------------------------------------------------------------------------

    def _wait(self, timed: Timed, frames_s: Floats, uppers_s: Floats) -> list[Aligned]:
        """Hold frames back, one by one, until enough is known."""
        if self._first_ns is None:
            self._first_ns = int(timed.arrival_ns[0])
        first_ns = self._first_ns
        enough = np.flatnonzero([self._is_enough(ns - first_ns) for ns in timed.arrival_ns.tolist()])
        stop = int(enough[0]) + 1 if enough.size else len(frames_s)
        self._note(frames_s[:stop], uppers_s[:stop])
        self._held.append(_cut(timed, 0, stop))
        if not enough.size:
            return []
        found = self._release(int(timed.arrival_ns[stop - 1]))
        rest = _cut(timed, stop, len(frames_s))
        assert self._bucket is not None
        return found + (self._take_second(rest, self._bucket) if len(rest.arrival_ns) else [])

    def _release(self, known_ns: int) -> list[Aligned]:
        """Fit for the first time, and give out what waited."""
        if np.isfinite(self._early[1]):
            self._strip.add_earliest(*self._early)
            self._early = (0.0, np.inf)
        self._fit()
        self._fitting = False
        held, self._held = self._held, []
        recent = [timed for timed in held if timed.arrival_ns[-1] >= known_ns - STALE_NS]
        return [self._place(timed, np.full(len(timed.arrival_ns), known_ns)) for timed in recent]

    def finish(self, now_ns: int) -> list[Aligned]:
        """The stream ends here, at `now_ns`; return what was still waiting."""
        return self._release(now_ns) if self._held else []


def _frames_s(timed: Timed) -> Floats:
    """Return the time of each frame's last sample, (frames,)."""
    return timed.time_s.reshape(len(timed.arrival_ns), -1)[:, -1]


def _cut(timed: Timed, start: int, stop: int) -> Timed:
    """Return frames from `start` up to `stop`."""
    rows = len(timed.time_s) // len(timed.arrival_ns)
    samples = slice(start * rows, stop * rows)
    time_s, readings = timed.time_s[samples], timed.readings[:, samples]
    return Timed(timed.interval_s, time_s, readings, timed.arrival_ns[start:stop], timed.run)
