"""The ceiling: a limit of load on the injured side, judged sample by sample with nothing held back."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.exercise import Ceiling, CeilingEvent
from weightshare.model import Bools, Floats
from weightshare.pipeline.block import GAP_INTERVALS, OVERLOAD, Block
from weightshare.pipeline.lowpass import can_filter, design, run_kernel, steady_state

CUTOFF_HZ = 20.0
"""Light enough to be no more than a sample or two late, heavy enough that a knock on the floor is no crossing."""
SEPARATE_S = 0.3
"""An event ends when the load has been under the limit, or read again, for so long; less does not part two events."""


class LightFilter:
    """A second-order Butterworth low-pass of one force at 20 Hz that gives out each sample at once.

    For a missing reading it is fed with the last one, and gives out NaN; after a gap it starts anew, in its steady
    state. What it gives out is never more than the greatest of the last three readings: by itself such a filter goes
    past a sudden step by 4 to 8 % of it, and would report a load that was not there. Where the rate is too low for
    20 Hz the force goes through as it is.
    """

    def __init__(self) -> None:
        self._interval_s = 0.0
        self._section: Floats | None = None
        self._state = np.zeros((1, 1, 2))
        self._last_s = -np.inf
        self._recent_N = np.array([-np.inf, 0.0])
        """The last two readings."""

    def push(self, time_s: Floats, force_N: Floats, interval_s: float) -> Floats:
        """Return the force at each time, N, shape (n,), n at least 1."""
        if interval_s != self._interval_s:
            self._interval_s, self._last_s = interval_s, -np.inf
            self._section = design(CUTOFF_HZ, 1.0 / interval_s) if can_filter(CUTOFF_HZ, interval_s) else None
        missing = np.isnan(force_N)
        readings = np.flatnonzero(~missing)
        steps_s = np.diff(time_s[readings], prepend=self._last_s)
        x = self._hold(force_N, missing)[None]
        if self._section is not None:
            self._run(self._section, x, readings[steps_s > GAP_INTERVALS * interval_s].tolist())
        light_N: Floats = np.full(force_N.size, np.nan)
        recent_N = np.concatenate((self._recent_N, force_N[readings]))
        greatest_N = np.maximum(np.maximum(recent_N[:-2], recent_N[1:-1]), recent_N[2:])
        light_N[readings] = np.minimum(x[0, readings], greatest_N)
        self._recent_N = recent_N[-2:]
        self._last_s = float(time_s[readings[-1]]) if readings.size else self._last_s
        return light_N

    def _hold(self, force_N: Floats, missing: Bools) -> Floats:
        """Return the force with the last reading in place of each missing one."""
        place = np.maximum.accumulate(np.where(missing, 0, np.arange(1, force_N.size + 1)))
        held: Floats = np.concatenate((self._recent_N[-1:], force_N))[place]
        return held

    def _run(self, section: Floats, x: Floats, starts: list[int]) -> None:
        """Filter x (1, n) in place, anew from each of `starts` on."""
        edges = [0, *starts, x.shape[1]]
        for k, (begin, end) in enumerate(pairwise(edges)):
            piece = x[:, begin:end]
            if k:
                self._state[0, 0] = steady_state(section) * piece[0, 0]
            if piece.size:
                run_kernel(section, piece, self._state)


@dataclass(frozen=True, slots=True, eq=False)
class _Spans:
    """Stretches of time in order, shape (k,) each. `lasts`: the last of all such stretches is not over yet."""

    start_s: Floats
    end_s: Floats
    peak_N: Floats
    lasts: bool


_NONE = _Spans(np.empty(0), np.empty(0), np.empty(0), lasts=False)


@dataclass(slots=True)
class _Open:
    """An event under way: `last_s` is until when it was seen so far."""

    start_s: float
    last_s: float
    peak_N: float

    def tell(self, end_s: float | None, *, unread: bool) -> CeilingEvent:
        return CeilingEvent(self.start_s, end_s, None if unread else self.peak_N, unread)


class _Log:
    """Strings stretches together to events: stretches less than SEPARATE_S apart are one."""

    def __init__(self, *, unread: bool) -> None:
        self._unread = unread
        self.done: list[CeilingEvent] = []
        self._open: _Open | None = None

    @property
    def is_open(self) -> bool:
        """Whether an event is under way."""
        return self._open is not None

    def events(self) -> list[CeilingEvent]:
        """Return all events, that under way without an end."""
        return self.done + ([self._open.tell(None, unread=self._unread)] if self._open else [])

    def push(self, spans: _Spans, told_s: float) -> None:
        """Take in the stretches that newer samples brought; no later one can begin before `told_s`."""
        parted = np.flatnonzero(spans.start_s[1:] - spans.end_s[:-1] >= SEPARATE_S) + 1
        edges = [0, *parted.tolist(), spans.start_s.size]
        for first, stop in pairwise(edges):
            if first < stop:
                start_s, end_s = float(spans.start_s[first]), float(spans.end_s[stop - 1])
                self._add(start_s, end_s, float(spans.peak_N[first:stop].max()))
        if self._open and not spans.lasts and told_s - self._open.last_s >= SEPARATE_S:
            self.close()

    def _add(self, start_s: float, end_s: float, peak_N: float) -> None:
        if self._open and start_s - self._open.last_s >= SEPARATE_S:
            self.close()
        if self._open:
            self._open.last_s, self._open.peak_N = end_s, max(self._open.peak_N, peak_N)
        else:
            self._open = _Open(start_s, end_s, peak_N)

    def close(self) -> None:
        """End the event under way where it was last seen."""
        if self._open:
            self.done.append(self._open.tell(self._open.last_s, unread=self._unread))
        self._open = None


class CeilingStage:
    """Watches the load on one side against a ceiling.

    It is over while the side's own force, lightly filtered, is above the limit; share, presence and, in kg, body weight
    play no part. A crossing lasts from where the force goes over the limit, interpolated between readings and as late
    as the filter makes it (11 ms), to where it last comes back under it. The load is unread from the last reading to
    the next where that is longer than three intervals (a gap), or where a reading between them is saturated.

    Both are events that end only after 0.3 s of the contrary, and both alarms stay on for that long. So a load that
    trembles about the limit is one event, and an alarm is never so short that a screen or a person could miss it.
    """

    def __init__(self, ceiling: Ceiling, row: int) -> None:
        """`row` is the injured side's among the block's values."""
        self._ceiling, self._row = ceiling, row
        self.reset()

    def reset(self) -> None:
        """Forget all samples, events and body weight."""
        self._light = LightFilter()
        self._crossings, self._unreads = _Log(unread=False), _Log(unread=True)
        self._known_s, self._armed_s = -np.inf, np.inf
        self.limit_N = self._ceiling.limit_N(None)
        """The limit, N; None in percent while body weight is not known."""
        self._now_s = -np.inf
        self._last_s: float | None = None
        self._last_N = np.nan
        self._lost = False
        """The load is unread since the last reading: for too long, or a saturated one has come."""

    @property
    def armed(self) -> bool:
        """Whether the newest sample is watched."""
        return self._now_s >= self._armed_s

    @property
    def over(self) -> bool:
        """Whether a crossing is under way: over the limit now, or less than 0.3 s ago."""
        return self._crossings.is_open

    @property
    def unread(self) -> bool:
        """Whether the load cannot be read while the ceiling is armed, now or less than 0.3 s ago."""
        return self._unreads.is_open

    @property
    def events(self) -> tuple[CeilingEvent, ...]:
        """All events by their start; of those under way the end is None, and the peak the greatest so far."""
        both = self._crossings.events() + self._unreads.events()
        return tuple(sorted(both, key=lambda event: (event.start_s, event.unread)))

    def weigh(self, body_weight_N: float, known_s: float = -math.inf) -> None:
        """Take up the body weight, known with the sample at `known_s`; in kg it changes nothing.

        A ceiling in percent is armed three and a half intervals later: for so long the live filter may hold back the
        sample that tells body weight, and what is armed must not hang on how the stream is cut. Call it as soon as
        that sample is given out, before the samples that came with it are pushed here.
        """
        if self.limit_N is None:
            self.limit_N, self._known_s = self._ceiling.limit_N(body_weight_N), known_s

    def push(self, block: Block) -> None:
        """Take in unfiltered samples, rows that were filled in among them."""
        if not block.time_s.size:
            return
        if self.limit_N is not None and np.isinf(self._armed_s):
            # never backwards: what has passed was not watched
            self._armed_s = max(self._known_s + GAP_INTERVALS * block.interval_s, np.nextafter(self._now_s, np.inf))
        force_N, time_s = block.values[self._row], block.time_s
        light_N = self._light.push(time_s, force_N, block.interval_s)
        readings = np.flatnonzero(~np.isnan(force_N))
        if self._last_s is None:
            self._last_s = float(time_s[0])
        read_s = np.concatenate(([self._last_s], time_s[readings]))
        read_N = np.concatenate(([self._last_N], light_N[readings]))
        lost = np.diff(read_s, append=time_s[-1]) > GAP_INTERVALS * block.interval_s
        lost[0] |= self._lost
        saturated = np.flatnonzero(np.isnan(force_N) & (block.flags & OVERLOAD != 0))
        lost[readings.searchsorted(saturated)] = True
        self._now_s = float(time_s[-1])
        if self.limit_N is not None:
            # a few missing readings tell nothing yet: a line through them may still cross the limit
            told_s = self._now_s if lost[-1] else float(read_s[-1])
            self._crossings.push(self._find_crossings(read_s, read_N, lost, self.limit_N), told_s)
            self._unreads.push(self._find_unread(read_s, lost), told_s)
        self._last_s, self._last_N = float(read_s[-1]), float(read_N[-1])
        self._lost = bool(lost[-1])

    def finish(self) -> None:
        """The stream ends here, and with it what is under way."""
        self._crossings.close()
        self._unreads.close()

    def _find_unread(self, read_s: Floats, lost: Bools) -> _Spans:
        """Return when there was no load to be read; `lost` says it of what follows on each of the readings."""
        if not lost.any():
            return _NONE
        end_s = np.append(read_s[1:], self._now_s)
        start_s = np.maximum(read_s, self._armed_s)
        found = np.flatnonzero(lost & (end_s > start_s))
        lasts = bool(lost[-1]) and self.armed
        return _Spans(start_s[found], end_s[found], np.zeros(found.size), lasts)

    def _find_crossings(self, read_s: Floats, read_N: Floats, lost: Bools, limit_N: float) -> _Spans:
        """Return when the load was over the limit. The first reading is the last one of the push before."""
        over = (read_N > limit_N) & (read_s >= self._armed_s)
        if not over.any():
            return _NONE
        goes_on = over[:-1] & over[1:] & ~lost[:-1]
        begin = np.flatnonzero(over & ~np.concatenate(([False], goes_on)))
        end = np.flatnonzero(over & ~np.append(goes_on, False))
        # a stretch of the first reading alone was told with the push before
        fresh = (end > 0) | ~np.append(lost[:-1], True)[end]
        begin, end = begin[fresh], end[fresh]
        inner = ~lost[:-1] & (read_s[:-1] >= self._armed_s) & ~np.isnan(read_N[:-1])
        start_s, end_s = read_s[begin], read_s[end]
        rises, falls = np.flatnonzero(begin > 0), np.flatnonzero(end < inner.size)
        rises, falls = rises[inner[begin[rises] - 1]], falls[inner[end[falls]]]
        start_s[rises] = _cross(read_s, read_N, begin[rises] - 1, limit_N)
        end_s[falls] = _cross(read_s, read_N, end[falls], limit_N)
        edges = np.stack((begin, end + 1), axis=1).ravel()
        peak_N = np.maximum.reduceat(np.append(read_N, -np.inf), edges)[::2] if edges.size else np.empty(0)
        return _Spans(start_s, end_s, peak_N, bool(over[-1]) and not lost[-1])


def _cross(
    read_s: Floats, read_N: Floats, before: np.ndarray[tuple[int], np.dtype[np.int64]], limit_N: float
) -> Floats:
    """Return when the straight line from each reading `before` to the next one meets the limit."""
    part = (limit_N - read_N[before]) / (read_N[before + 1] - read_N[before])
    times: Floats = read_s[before] + part * (read_s[before + 1] - read_s[before])
    return times
