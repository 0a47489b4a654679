"""What a scale on trial reads: each plate's load and noise, the rate at which samples come, battery and faults."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.model import (
    NO_READING,
    Calibration,
    ChannelCalibration,
    Chunk,
    Condition,
    Floats,
    Identity,
    Item,
    LinkDown,
    LinkUp,
    Quantity,
    Side,
)

NEWEST_S = 0.2
"""Over so long the load that is told is a mean."""
NOISE_S = 1.0
RATE_S, RATE_AFTER_S = 10.0, 2.0
"""The rate is counted over so long at most, and told from so long on."""
KEPT_S = 1.5


@dataclass(frozen=True, slots=True)
class PlateSeen:
    """One plate: `level` is the newest load, a mean over 0.2 s; `sd` that of single readings in the last second.

    Both are unfiltered, in N, from the calibration's own zero; in counts, from nothing, where it has no calibration.
    None where there are not enough readings.
    """

    side: Side | None
    level: float | None = None
    sd: float | None = None
    in_newtons: bool = False


@dataclass(frozen=True, slots=True)
class Seen:
    """All that the samples say of one scale."""

    plates: tuple[PlateSeen, ...] = ()
    rate_Hz: float | None = None
    """Samples per second of this computer's clock; None before two seconds have come."""
    told_rate_Hz: float | None = None
    battery_mV: int | None = None
    """0 where it does not run on a battery; None before it has told."""
    faults: int = 0
    newest_ns: int | None = None
    """When the newest sample came, by the host's monotonic clock; None before the first."""


def plates_of(identity: Identity) -> tuple[tuple[Side | None, tuple[int, ...]], ...]:
    """Return each plate of a scale, left before right, with its force channels; None: a side was never assigned."""
    found = []
    for side in (*Side, None):
        under = tuple(
            index
            for index, channel in enumerate(identity.channels)
            if channel.quantity is Quantity.FORCE and channel.side is side
        )
        if under:
            found.append((side, under))
    return tuple(found)


class Meter:
    """Takes the items of one scale's link; `seen` may be called from any thread."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._identity: Identity | None = None
        self._plates: tuple[tuple[Side | None, tuple[int, ...]], ...] = ()
        self._channels: dict[int, ChannelCalibration] = {}
        self._battery_mV: int | None = None
        self._faults = 0
        self._forget()

    def _forget(self) -> None:
        self._values: deque[tuple[int, Floats]] = deque()
        """When each frame came, ns, and its loads, shape (samples, plates)."""
        self._came: deque[tuple[int, int]] = deque()
        """When each frame came, ns, and how many samples it brought."""

    def take(self, identity: Identity, calibration: Calibration | None) -> None:
        """What comes from now on is of the scale `identity`, by `calibration`; None: it has none."""
        with self._lock:
            known = {} if calibration is None else {channel.index: channel for channel in calibration.channels}
            if (identity, known) != (self._identity, self._channels):
                self._identity, self._plates, self._channels = identity, plates_of(identity), known
                self._forget()

    def hear(self, items: Sequence[Item]) -> None:
        """Take what came."""
        with self._lock:
            for item in items:
                if isinstance(item, Chunk):
                    self._take_chunk(item)
                elif isinstance(item, Condition):
                    self._battery_mV, self._faults = item.battery_mV, item.faults
                elif isinstance(item, LinkUp | LinkDown):
                    self._forget()

    def _take_chunk(self, chunk: Chunk) -> None:
        if not self._plates or chunk.readings.shape[2] != len(self._identity.channels if self._identity else ()):
            return
        for arrival_ns, rows in zip(chunk.arrival_ns.tolist(), chunk.readings, strict=True):
            counts = np.where(rows == NO_READING, np.nan, rows.astype(np.float64))
            loads = [
                sum(self._load(counts[:, index], index, under) for index in under) for _side, under in self._plates
            ]
            self._values.append((arrival_ns, np.column_stack(loads)))
            self._came.append((arrival_ns, len(rows)))
        newest_ns = self._came[-1][0]
        while newest_ns - self._values[0][0] > KEPT_S * 1e9:
            self._values.popleft()
        while newest_ns - self._came[0][0] > RATE_S * 1e9:
            self._came.popleft()

    def _load(self, counts: Floats, index: int, under: tuple[int, ...]) -> Floats:
        """Return what the channel `index` reads, shape (n,): in N where all of its plate's are calibrated."""
        if not self._is_known(under):
            return counts
        one = self._channels[index]
        off = counts - one.zero_counts
        force_N: Floats = one.newton_per_count * off + one.newton_per_count2 * off * off
        return force_N

    def _is_known(self, under: tuple[int, ...]) -> bool:
        return all(index in self._channels for index in under)

    def seen(self) -> Seen:
        """Return the newest of everything."""
        with self._lock:
            loads = np.concatenate([values for _ns, values in self._values]) if self._values else np.empty((0, 0))
            told_Hz = self._identity.rate_Hz if self._identity is not None else None
            plates = tuple(
                PlateSeen(side, *self._look(loads, place, told_Hz or 0.0), self._is_known(under))
                for place, (side, under) in enumerate(self._plates)
            )
            newest_ns = self._came[-1][0] if self._came else None
            return Seen(plates, self._rate_Hz(), told_Hz, self._battery_mV, self._faults, newest_ns)

    def _look(self, loads: Floats, place: int, rate_Hz: float) -> tuple[float | None, float | None]:
        """Return the newest load of one plate, and the standard deviation of its readings in the last second."""
        few, many = max(2, round(NEWEST_S * rate_Hz)), max(4, round(NOISE_S * rate_Hz))
        if len(loads) < few:
            return None, None
        newest, recent = loads[-few:, place], loads[-many:, place]
        level = float(np.mean(newest)) if np.isfinite(newest).all() else None
        kept = recent[np.isfinite(recent)]
        return level, float(np.std(kept, ddof=1)) if len(kept) >= 0.9 * many else None

    def _rate_Hz(self) -> float | None:
        if len(self._came) < 2:
            return None
        span_s = (self._came[-1][0] - self._came[0][0]) / 1e9
        if span_s < RATE_AFTER_S:
            return None
        return sum(count for _ns, count in list(self._came)[1:]) / span_s
