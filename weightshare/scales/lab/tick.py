"""From a stream's time stamps to ticks: even where the stamps jitter, and with a gap where samples are missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weightshare.errors import DeviceError

TICK_RATE_HZ = 1_000_000
HALF = 0.5
"""Of an interval: stamps that are off by no more jitter; later ones have samples missing before them."""
PULL = 0.05
"""How much of a jitter moves the next sample: what the stream's true rate is off is followed, its jitter is not."""
SLEW = 0.001
"""Of an interval, a sample: how samples that are stamped only as they leave are drawn back to their stamps."""
BACK_S = 0.25
"""A stamp so far before its time belongs to a clock that was set back."""


class ClockBackError(DeviceError):
    """The time stamps of a stream went back."""


@dataclass(frozen=True, slots=True)
class Run:
    """Samples `first` to `end` (not included) of a chunk follow each other evenly from `tick` on, before it wraps."""

    first: int
    end: int
    tick: int


class Ticks:
    """Gives each sample its tick, at a nominal rate (Hz) that the stream's stamps correct."""

    def __init__(self, rate_Hz: float) -> None:
        self._interval_s = 1.0 / rate_Hz
        self.step = round(TICK_RATE_HZ / rate_Hz)
        self._next_s: float | None = None

    def place(self, stamps_s: Sequence[float]) -> list[Run]:
        """Return the even runs that samples with these stamps (s, the stream's own clock) make.

        Raises ClockBackError where the stamps go back by over 0.25 s.
        """
        starts: list[tuple[int, float]] = []
        for number, stamp_s in enumerate(stamps_s):
            time_s, fresh = self._follow(stamp_s)
            if fresh or not starts:
                starts.append((number, time_s))
        ends = [number for number, _ in starts[1:]] + [len(stamps_s)]
        return [Run(first, end, round(at * TICK_RATE_HZ)) for (first, at), end in zip(starts, ends, strict=True)]

    def _follow(self, stamp_s: float) -> tuple[float, bool]:
        """Return the time of the next sample, and whether there is a gap before it."""
        expected_s = stamp_s if self._next_s is None else self._next_s
        off_s = stamp_s - expected_s
        if off_s < -BACK_S:
            raise ClockBackError("the time stamps of the stream went back; its clock was set")
        fresh = off_s > HALF * self._interval_s
        if fresh:
            expected_s, off_s = stamp_s, 0.0
        pull_s = PULL * off_s if off_s >= -HALF * self._interval_s else -SLEW * self._interval_s
        self._next_s = expected_s + pull_s + self._interval_s
        return expected_s, fresh
