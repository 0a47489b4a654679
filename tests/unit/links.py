"""Two scales' streams over seeded links, made up: when each frame arrives, and when each sample was really taken."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.model import Channel, Chunk, Floats, Identity, Item, LinkDown, LinkUp, Quantity, RoundTrip, Sourced

TICK_HZ = 1_000_000
CHANNELS = (Channel(Quantity.FORCE, None, 0, 90), Channel(Quantity.FORCE, None, 0, -90))


@dataclass(frozen=True)
class LinkModel:
    """One scale's oscillator and link. Delays are the same in law both ways: a floor, and jitter over it."""

    drift_ppm: float = 0.0
    floor_s: float = 0.002
    jitter_s: float = 0.001
    """Mean of the exponential part at ordinary times."""
    burst_s: float = 0.0
    """Within bursts any delay up to this comes on top."""
    burst_part: float = 0.25
    """The part of time that bursts take; each lasts two seconds on the mean."""
    loss: float = 0.0
    start_tick: int = 5_000_000
    rate_Hz: float = 100.0
    interval_s: float = 0.0
    """A radio lets something through only so often, both ways at the same instants; 0: at any time."""
    restart_s: float | None = None
    """When the scale is off for 1.5 s, and begins anew at tick 0 with another boot count."""
    away_s: tuple[float, float] | None = None
    """When the link is lost, and when it is back."""
    slow_s: float = 0.0
    """What the scale sends takes so much longer than what is sent to it."""
    answers: bool = True
    """Whether PINGs are answered."""


MODELS = {
    "cable": LinkModel(40.0),
    "fast crystal": LinkModel(100.0, jitter_s=0.004),
    "slow crystal": LinkModel(-100.0, jitter_s=0.004),
    "bursts": LinkModel(-60.0, jitter_s=0.003, burst_s=0.060),
    "radio": LinkModel(95.0, floor_s=0.001, interval_s=0.015),
    "radio, bursts": LinkModel(-85.0, floor_s=0.001, interval_s=0.015, burst_s=0.060, loss=0.005),
    "loss": LinkModel(50.0, jitter_s=0.005, loss=0.1),
    "tick wrap": LinkModel(-90.0, jitter_s=0.004, start_tick=2**32 - 30 * TICK_HZ),
    "restart": LinkModel(70.0, jitter_s=0.004, restart_s=41.0),
    "link lost": LinkModel(-80.0, jitter_s=0.004, away_s=(35.0, 43.0)),
    "80 Hz": LinkModel(90.0, jitter_s=0.004, rate_Hz=80.0),
}


class Played:
    """One scale's items with stamps, over `seconds` of host time from `begin_s` on.

    Each sample's first channel reads the true instant of sampling, in units of 10 us since `begin_s`; the second reads
    its own number.
    """

    def __init__(self, model: LinkModel, seed: int, seconds: float, begin_s: float = 1000.0, device: int = 1) -> None:
        self.model, self._begin_s, self._seconds = model, begin_s, seconds
        self._device, self._rng = device, np.random.default_rng([seed, device])
        self._off_s = float(self._rng.uniform(0.0, 0.01))
        self._phase_s = float(self._rng.uniform(0.0, 0.015))
        self._bursts = self._make_bursts()
        self._newest_ns = 0

    def items(self) -> list[tuple[int, Item]]:
        """Return the items with the stamp at which each is there, in order."""
        model, end_s = self.model, self._seconds
        found: list[tuple[int, int, Item]] = []
        spans = [(0.0, end_s, 1, model.start_tick)]
        if model.restart_s is not None:
            spans = [(0.0, model.restart_s, 1, model.start_tick), (model.restart_s + 1.5, end_s, 2, 0)]
        if model.away_s is not None:
            away, back = model.away_s
            later = model.start_tick + round((back * (1.0 + 1e-6 * model.drift_ppm)) * TICK_HZ)
            spans = [(0.0, away, 1, model.start_tick), (back, end_s, 1, later)]
        for number, (from_s, to_s, boot, tick) in enumerate(spans):
            if number:
                found.append((self._ns(from_s - 0.9), 2 * number - 1, LinkDown(self._ns(from_s - 0.9))))
            found.append((self._ns(from_s - 0.05), 2 * number, LinkUp(self._ns(from_s - 0.05))))
            found.append((self._ns(from_s - 0.01), 2 * number, self.identity(boot)))
            part = sorted([*self._frames(from_s, to_s, tick), *self._trips(from_s, to_s, tick)], key=lambda one: one[0])
            found += [(stamp, 2 * number, item) for stamp, item in part]
        found.sort(key=lambda one: (one[1], one[0]))
        return [(stamp, item) for stamp, _, item in found]

    def identity(self, boot: int) -> Identity:
        return Identity(f"{self._device:016x}", (1, 0, 0), boot, TICK_HZ, self.model.rate_Hz, CHANNELS)

    def _ns(self, host_s: float) -> int:
        return round((self._begin_s + host_s) * 1e9)

    def _make_bursts(self) -> Floats:
        if not self.model.burst_s:
            return np.empty((0, 2))
        count = max(int(self._seconds * self.model.burst_part / 2.0), 1)
        starts = self._rng.uniform(-1.0, self._seconds, count)
        return np.stack((starts, starts + self._rng.exponential(2.0, count)), axis=1)

    def _delay(self, host_s: Floats) -> Floats:
        model, size = self.model, host_s.size
        delay = model.floor_s + self._rng.exponential(model.jitter_s, size)
        within = ((host_s[:, None] >= self._bursts[:, 0]) & (host_s[:, None] <= self._bursts[:, 1])).any(axis=1)
        delay += within * self._rng.uniform(0.0, model.burst_s or 1e-9, size)
        if not model.interval_s:
            return delay
        ready_s = host_s + delay - self._phase_s
        return np.ceil(ready_s / model.interval_s) * model.interval_s + self._phase_s - host_s

    def _frames(self, from_s: float, to_s: float, tick: int) -> Iterator[tuple[int, Item]]:
        """Frames of four rows; a byte stream keeps their order, so one that is late makes those after it late too."""
        model, rows = self.model, 4
        fast = 1.0 + 1e-6 * model.drift_ppm
        step = round(TICK_HZ / model.rate_Hz)
        count = int((to_s - from_s - self._off_s) * model.rate_Hz / rows)
        ticks = np.arange(count * rows, dtype=np.int64) * step
        taken_s = from_s + self._off_s + ticks / TICK_HZ / fast
        ready_s = taken_s.reshape(count, rows)[:, -1]
        arrivals_s = np.maximum.accumulate(ready_s + self._delay(ready_s)) + model.slow_s
        first = tick + round(self._off_s * fast * TICK_HZ)
        kept = self._rng.random(count) >= model.loss
        for k in np.flatnonzero(kept).tolist():
            part = slice(k * rows, (k + 1) * rows)
            readings = np.stack((np.rint(taken_s[part] * 1e5), ticks[part] // step), axis=1).astype(np.int32)
            stamp = self._ns(float(arrivals_s[k]))
            yield (
                stamp,
                Chunk(
                    np.array([k % 2**16], dtype=np.uint16),
                    np.array([(first + int(ticks[k * rows])) % 2**32], dtype=np.uint32),
                    np.array([step], dtype=np.uint32),
                    np.array([stamp], dtype=np.int64),
                    readings[None],
                ),
            )

    def _trips(self, from_s: float, to_s: float, tick: int) -> Iterator[tuple[int, Item]]:
        """PINGs, every 0.25 s in the first 10 s, then every 2 s, each a stretch of up to 37 ms later."""
        if not self.model.answers:
            return
        sent_s = np.concatenate((np.arange(0.06, 10.0, 0.25), np.arange(10.0, to_s - from_s, 2.0))) + from_s
        sent_s = sent_s[sent_s < to_s - 0.2]
        sent_s += np.arange(sent_s.size) * 0.0137 % 0.037
        read_s = sent_s + self._delay(sent_s)
        back_s = read_s + self._delay(read_s) + self.model.slow_s
        fast = 1.0 + 1e-6 * self.model.drift_ppm
        for sent, read, back in zip(sent_s.tolist(), read_s.tolist(), back_s.tolist(), strict=True):
            if self._rng.random() >= self.model.loss:
                at = (tick + round((read - from_s) * fast * TICK_HZ)) % 2**32
                yield self._ns(back), RoundTrip(self._ns(sent), self._ns(back), at)


def play_two(first: LinkModel, second: LinkModel, seed: int, seconds: float) -> list[Sourced]:
    """Return the items of two scales, in the order in which they arrive; each scale's own order is kept."""
    streams = []
    for source, model in enumerate((first, second)):
        newest, stamped = 0, []
        for number, (stamp, item) in enumerate(Played(model, seed, seconds, device=source + 1).items()):
            newest = max(newest, stamp)
            stamped.append((newest, source, number, item))
        streams.append(stamped)
    ordered = heapq.merge(*streams, key=lambda one: one[:3])
    return [Sourced(source, item) for _, source, _, item in ordered]


def merge(items: Sequence[Sourced]) -> list[Sourced]:
    """Join each source's chunks that follow one another, as a record played back has them; a source at a time."""
    found: list[Sourced] = []
    for source in (1, 0):
        for item in (one.item for one in items if one.source == source):
            last = found[-1] if found else None
            if isinstance(item, Chunk) and last and last.source == source and isinstance(last.item, Chunk):
                found[-1] = Sourced(source, _join(last.item, item))
            else:
                found.append(Sourced(source, item))
    return found


def _join(first: Chunk, second: Chunk) -> Chunk:
    return Chunk(*(np.concatenate((getattr(first, name), getattr(second, name))) for name in Chunk.__slots__))
