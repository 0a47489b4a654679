"""What each channel of a scale reads, as it says itself: second by second, and all in all; uncalibrated too."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.model import (
    NO_READING,
    Channel,
    Chunk,
    Condition,
    Floats,
    Identity,
    Item,
    LinkDown,
    LinkUp,
    Quantity,
)

FULL_COUNTS = 2**23 - 1
"""Where a 24-bit converter stops, either way."""
_UNITS = {Quantity.FORCE: ("counts", 1.0), Quantity.HEEL_HEIGHT: ("mm", 1e-3), Quantity.TEMPERATURE: ("degC", 1e-2)}
_HALF_TURN = 1 << 15


@dataclass(frozen=True, slots=True)
class Second:
    """One second's samples: the mean and the standard deviation of each channel, NaN where nothing was read."""

    number: int
    """Counted in samples from the first one, from 1."""
    means: tuple[float, ...]
    sds: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ChannelTotal:
    """All that one channel read, in `unit`; None where it read nothing (or, for the sd, once only)."""

    index: int
    channel: Channel
    unit: str
    mean: float | None
    sd: float | None
    least: float | None
    greatest: float | None
    missing: int
    at_limit: int
    """Readings at which the converter stands at its end; of force channels alone."""

    @property
    def name(self) -> str:
        """What it is called: side, place and quantity, as `left front force`."""
        place = {1: "front ", -1: "rear "}.get(int(np.sign(self.channel.y_mm)), "")
        what = self.channel.quantity.name.lower().replace("_", " ")
        where = place if self.channel.quantity is Quantity.FORCE else ""
        return f"{self.channel.side or 'unassigned'} {where}{what}"


class Tally:
    """Takes the items of one scale's link, from any thread."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self.identity: Identity | None = None
        self.boots = 0
        """How often another boot count was told than before: the scale restarted."""
        self.drops = 0
        """How often the link came back after samples had come: one that stays away, or a record's end, is none."""
        self.lost_frames = 0
        self.lost_on_scale = 0
        self.faults = 0
        """Every fault that was told, bit by bit, as Condition has them."""
        self.battery_mV: int | None = None
        self._rows: list[Floats] = []
        self._samples = 0
        self._last_sequence: int | None = None
        self._span_ns = self._timed = 0
        self._last_ns: int | None = None
        self._closed = False

    def close(self) -> None:
        """Take nothing more: that the link is let go of now is no loss."""
        with self._lock:
            self._closed = True

    @property
    def samples(self) -> int:
        """How many samples came."""
        return self._samples

    def take(self, identity: Identity) -> None:
        """What comes from now on is of the scale `identity`."""
        with self._lock:
            if self.identity is not None and identity.boot_count != self.identity.boot_count:
                self.boots += 1
            if self.identity is not None and identity.channels != self.identity.channels:
                self._rows, self._samples = [], 0
            self.identity = identity

    def hear(self, items: Sequence[Item]) -> None:
        """Take what came."""
        with self._lock:
            for item in () if self._closed else items:
                if isinstance(item, Chunk):
                    self._take_chunk(item)
                elif isinstance(item, Condition):
                    self._take_condition(item)
                elif isinstance(item, LinkUp | LinkDown):
                    self._break(is_up=isinstance(item, LinkUp))

    def _take_condition(self, condition: Condition) -> None:
        self.lost_on_scale, self.battery_mV = condition.lost_samples, condition.battery_mV
        self.faults |= condition.faults

    def _break(self, *, is_up: bool) -> None:
        self.drops += is_up and self._samples > 0
        self._last_sequence = self._last_ns = None

    def _take_chunk(self, chunk: Chunk) -> None:
        if self.identity is None or chunk.readings.shape[2] != len(self.identity.channels):
            return
        frames = zip(chunk.sequence.tolist(), chunk.arrival_ns.tolist(), chunk.readings, strict=True)
        for sequence, arrival_ns, rows in frames:
            skipped = 0 if self._last_sequence is None else (sequence - self._last_sequence - 1) & 0xFFFF
            self.lost_frames += skipped if skipped < _HALF_TURN else 0
            if self._last_ns is not None:
                self._span_ns += arrival_ns - self._last_ns
                self._timed += len(rows) * (1 + (skipped if skipped < _HALF_TURN else 0))
            self._last_sequence, self._last_ns = sequence, arrival_ns
            self._rows.append(np.where(rows == NO_READING, np.nan, rows.astype(np.float64)))
            self._samples += len(rows)

    def rate_Hz(self) -> float | None:
        """Return samples a second by this computer's clock, those that were lost on the way counted; None before any.

        Over a radio, whose frames come in bursts, it takes a minute to settle within half a percent.
        """
        with self._lock:
            return 1e9 * self._timed / self._span_ns if self._span_ns > 0 else None

    def second(self, number: int) -> Second | None:
        """Return the second `number`, from 1, once all of its samples are there."""
        with self._lock:
            if self.identity is None:
                return None
            many = max(1, round(self.identity.rate_Hz))
            if self._samples < number * many:
                return None
            rows = self._all()[(number - 1) * many : number * many]
            scales = [_UNITS[channel.quantity][1] for channel in self.identity.channels]
            pairs = [_spread(rows[:, i] * scale) for i, scale in enumerate(scales)]
            return Second(number, tuple(mean for mean, _sd in pairs), tuple(sd for _mean, sd in pairs))

    def totals(self) -> tuple[ChannelTotal, ...]:
        """Return what each channel read, in the order of the scale's channels."""
        with self._lock:
            if self.identity is None:
                return ()
            rows = self._all()
            return tuple(_total(i, channel, rows[:, i]) for i, channel in enumerate(self.identity.channels))

    def _all(self) -> Floats:
        """Return every reading so far, raw, shape (samples, channels), NaN where there was none."""
        if len(self._rows) != 1:
            width = len(self.identity.channels) if self.identity is not None else 0
            self._rows = [np.concatenate(self._rows) if self._rows else np.empty((0, width))]
        return self._rows[0]


def _spread(values: Floats) -> tuple[float, float]:
    """Return mean and standard deviation of what was read; NaN where there is too little."""
    known = values[np.isfinite(values)]
    mean = float(np.mean(known)) if known.size else np.nan
    return mean, float(np.std(known, ddof=1)) if known.size > 1 else np.nan


def _total(index: int, channel: Channel, raw: Floats) -> ChannelTotal:
    unit, scale = _UNITS[channel.quantity]
    known = raw[np.isfinite(raw)]
    mean, sd = (None if np.isnan(one) else one for one in _spread(raw * scale))
    least, greatest = (float(known.min() * scale), float(known.max() * scale)) if known.size else (None, None)
    is_force = channel.quantity is Quantity.FORCE
    at_limit = int(np.count_nonzero((known >= FULL_COUNTS) | (known <= -FULL_COUNTS))) if is_force else 0
    return ChannelTotal(index, channel, unit, mean, sd, least, greatest, raw.size - known.size, at_limit)
