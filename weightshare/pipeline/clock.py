"""The clock of one scale: from wrapping ticks to the session's seconds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.model import NO_READING, Chunk, Floats, Identity, Item, LinkUp

Integers: TypeAlias = NDArray[np.int64]

WRAP = 2**32
BACKWARDS = 2**31
"""A step of half the counter or more is no step forwards: the scale has restarted."""

_RATE_CHANGE = 0.05
_HOST_DOUBT_S = 2.0
_HOST_DOUBT_RATIO = 0.01
_RESTART_INTERVALS = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class Timed:
    """Raw readings with their times: time_s (n,), readings (channels, n), NaN where there was none.

    arrival_ns: of each frame that they came in, shape (frames,). run: how often the scale had restarted before.
    """

    interval_s: float
    time_s: Floats
    readings: Floats
    arrival_ns: Integers = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    run: int = 0


class Clock:
    """Ticks over the tick rate, from 0 at the first sample.

    The 32-bit counter is unwrapped from frame to frame. After a lost link the host's clock tells how often it
    wrapped meanwhile; after a restart of the scale (a new boot count, or ticks that contradict the host's clock) time
    goes on by the host's clock. Frames that would turn time back are dropped and counted in `dropped_frames`.
    """

    def __init__(self) -> None:
        self.reset()

    def reset(self) -> None:
        """Forget everything; the next sample is at 0 s."""
        self.dropped_frames = 0
        self.restarts = 0
        self._identity: Identity | None = None
        self._interval_s = 0.0
        self._started = False
        self._resumed = False
        self._rebooted = False
        self._tick = 0
        self._ticks = 0
        self._origin = 0
        self._base_s = 0.0
        self._frame_s = 0.0
        self._last_s = -np.inf
        self._arrival_ns = 0

    @property
    def warnings(self) -> tuple[str, ...]:
        """What spoils the times, in words."""
        restarts, dropped = self.restarts, self.dropped_frames
        often = "once" if restarts == 1 else f"{restarts} times"
        said = [f"the scale restarted {often}; its times go on by this computer's clock"] if restarts else []
        left_out = [f"frames that would turn time back were left out ({dropped})"] if dropped else []
        return (*said, *left_out, *self.rate_words)

    @property
    def rate_words(self) -> tuple[str, ...]:
        """What to say where samples come at another rate than the scale told; nothing else."""
        told_Hz = 0.0 if self._identity is None else self._identity.rate_Hz
        if not told_Hz or not self._interval_s or abs(self._interval_s * told_Hz - 1.0) <= _RATE_CHANGE:
            return ()
        sent = f"the scale says that it takes {told_Hz:g} samples a second, and takes {1.0 / self._interval_s:g}"
        return (f"{sent}: its times are right, but look at its settings",)

    def push(self, item: Item) -> list[Timed]:
        """Return the samples that the item brought, with their times."""
        if isinstance(item, Identity):
            self._meet(item)
        elif isinstance(item, LinkUp):
            self._resumed = self._started
        elif isinstance(item, Chunk) and self._identity is not None:
            return self._place(item)
        return []

    def second_of(self, tick: int) -> float | None:
        """Return the session's seconds of a tick near the newest frame's; None where only the next frame can tell."""
        if not self._started or self._resumed or self._rebooted:
            return None
        forward = (tick - self._tick + BACKWARDS) % WRAP - BACKWARDS
        return self._second(self._ticks + forward)

    def _meet(self, identity: Identity) -> None:
        known = self._identity
        if known is not None and self._started:
            same = known.boot_count == identity.boot_count and known.tick_rate_Hz == identity.tick_rate_Hz
            self._rebooted = self._rebooted or not same
        self._identity = identity

    def _place(self, chunk: Chunk) -> list[Timed]:
        if self._is_regular(chunk):
            return [self._accept(chunk)]
        if len(chunk.tick) == 1:
            return self._place_one(chunk)
        return [timed for k in range(len(chunk.tick)) for timed in self._place(cut_chunk(chunk, k, k + 1))]

    def _is_regular(self, chunk: Chunk) -> bool:
        """Whether every frame simply follows the one before it, at the known interval."""
        if not self._started or self._resumed or self._rebooted:
            return False
        ticks = chunk.tick.astype(np.int64)
        forward = _forward(self._tick, ticks)
        steps = chunk.step.astype(np.int64)
        length = (chunk.readings.shape[1] - 1) * steps
        starts = self._ticks + np.cumsum(forward)
        first_s = self._second(int(starts[0]))
        rate = self._tick_rate_Hz
        return bool(
            (forward < BACKWARDS).all()
            and first_s > self._last_s
            and (starts[1:] > (starts + length)[:-1]).all()
            and (np.abs(steps / rate - self._interval_s) <= _RATE_CHANGE * self._interval_s).all()
        )

    def _accept(self, chunk: Chunk) -> Timed:
        starts = self._ticks + np.cumsum(_forward(self._tick, chunk.tick.astype(np.int64)))
        rows = np.arange(chunk.readings.shape[1], dtype=np.int64)
        ticks = starts[:, None] + rows[None, :] * chunk.step.astype(np.int64)[:, None]
        time_s = self._base_s + (ticks.ravel() - self._origin) / self._tick_rate_Hz
        self._tick, self._ticks = int(chunk.tick[-1]), int(starts[-1])
        self._frame_s, self._last_s = float(time_s[-len(rows)]), float(time_s[-1])
        self._arrival_ns = int(chunk.arrival_ns[-1])
        return Timed(self._interval_s, time_s, _floats(chunk), chunk.arrival_ns, self.restarts)

    def _place_one(self, chunk: Chunk) -> list[Timed]:
        """Place a single frame that does not simply follow: the first, or one after a break."""
        interval_s = self._interval_of(chunk)
        if interval_s <= 0.0:
            self.dropped_frames += 1
            return []
        tick = int(chunk.tick[0])
        if not self._started:
            self._started, self._tick, self._ticks, self._origin = True, tick, tick, tick
        elif self._resumed or self._rebooted or (tick - self._tick) % WRAP >= BACKWARDS:
            self._resume(tick, int(chunk.arrival_ns[0]), interval_s)
        self._resumed = self._rebooted = False
        if self._second(self._ticks + (tick - self._tick) % WRAP) <= self._last_s:
            self.dropped_frames += 1
            return []
        if abs(interval_s - self._interval_s) > _RATE_CHANGE * self._interval_s:
            self._interval_s = interval_s
        return [self._accept(chunk)]

    def _resume(self, tick: int, arrival_ns: int, interval_s: float) -> None:
        """Say where time goes on after a break: by ticks where they agree with the host's clock, else by that clock."""
        elapsed_s = max(arrival_ns - self._arrival_ns, 0) / 1e9
        forward = (tick - self._tick) % WRAP
        rate = self._tick_rate_Hz
        wraps = max(round((elapsed_s * rate - forward) / WRAP), 0) if self._resumed else 0
        doubt_s = _HOST_DOUBT_S + _HOST_DOUBT_RATIO * elapsed_s
        agrees = abs((forward + wraps * WRAP) / rate - elapsed_s) <= doubt_s
        if self._resumed and not self._rebooted and agrees:
            self._ticks += wraps * WRAP
            return
        self.restarts += 1
        earliest_s = self._last_s + _RESTART_INTERVALS * interval_s
        self._base_s = max(self._frame_s + elapsed_s, earliest_s)
        self._tick = self._ticks = self._origin = tick

    @property
    def _tick_rate_Hz(self) -> int:
        assert self._identity is not None
        return max(self._identity.tick_rate_Hz, 1)

    def _interval_of(self, chunk: Chunk) -> float:
        assert self._identity is not None
        if chunk.step[0]:
            return float(chunk.step[0]) / self._tick_rate_Hz
        single = chunk.readings.shape[1] == 1 and self._identity.rate_Hz > 0
        return 1.0 / self._identity.rate_Hz if single else 0.0

    def _second(self, ticks: int) -> float:
        return self._base_s + (ticks - self._origin) / self._tick_rate_Hz


def _forward(before: int, ticks: Integers) -> Integers:
    """Ticks from each frame to the next, modulo the counter's wrap."""
    joined = np.concatenate(([before], ticks))
    return (joined[1:] - joined[:-1]) % WRAP


def cut_chunk(chunk: Chunk, start: int, stop: int) -> Chunk:
    """Return the frames from `start` up to `stop`."""
    one = slice(start, stop)
    return Chunk(chunk.sequence[one], chunk.tick[one], chunk.step[one], chunk.arrival_ns[one], chunk.readings[one])


def _floats(chunk: Chunk) -> Floats:
    frames, rows, channels = chunk.readings.shape
    readings = chunk.readings.reshape(frames * rows, channels).T
    floats = readings.astype(np.float64, order="C")
    missing = readings == NO_READING
    if missing.any():
        floats[missing] = np.nan
    return floats
