"""The thread that runs the pipeline, in batches: a scale's frame brings some 20 ms, and is not kept waiting."""

from __future__ import annotations

import math
import threading
import time
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TypeAlias

import numpy as np

from weightshare.metrology.build import worth_of
from weightshare.model import Calibration, Chunk, Floats, Side, Sourced
from weightshare.pipeline import Pipeline
from weightshare.practice import kit
from weightshare.practice.gauge import Gauge, is_expired
from weightshare.practice.inbox import Inbox
from weightshare.practice.support import trail_of
from weightshare.records.appraisal import Appraisal, appraise
from weightshare.scales.decoder import merge
from weightshare.scales.gate import Gates
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

BATCH_S = 0.005
"""Frames that come closer together than this are taken together; longer would be seen as a late picture."""
IDLE_S = 0.05
TRAIL_S = 12.0
MOST_KEPT = 50_000
"""So many items of two scales, some twenty minutes, are kept to be measured again with the sides swapped."""

Order: TypeAlias = Callable[[Pipeline, float], None]
"""Something to be done to the pipeline; it is told a time between the newest sample and the next."""


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """What the pipeline has to show: taken whole, never changed. Trail arrays have shape (n,)."""

    snapshot: Snapshot = field(default_factory=Snapshot)
    trail_time_s: Floats = field(default_factory=lambda: np.empty(0))
    trail_share_percent: Floats = field(default_factory=lambda: np.empty(0))
    trail_aim_percent: Floats = field(default_factory=lambda: np.empty(0))
    first_ns: int | None = None
    """When the first samples came."""
    newest_ns: int | None = None
    """When the newest samples came."""
    each_ns: tuple[int | None, ...] = (None,)
    """When the newest samples of each scale came."""

    @property
    def behind_ns(self) -> int | None:
        """When the newest samples came of the scale that is behind; None where one has sent none."""
        known = [each for each in self.each_ns if each is not None]
        return min(known) if len(known) == len(self.each_ns) else None


class Worker:
    """Takes items from `inbox` to the pipeline until the inbox is closed and empty. `shown` may be read by any thread.

    `watch` is called after each batch, at least every 50 ms; `listen` with the items of each that are the scale's own.
    """

    def __init__(
        self,
        inbox: Inbox,
        settings: Settings,
        watch: Callable[[], None],
        listen: Callable[[Sequence[Sourced]], None] | None = None,
    ) -> None:
        self.shown = Shown()
        self.failure: Exception | None = None
        """What went wrong inside, should anything."""
        self._inbox = inbox
        self._settings = settings
        self._wanted = settings
        self._watch, self._listen = watch, listen
        self._orders: deque[Order] = deque()
        self._calibrations: tuple[Calibration, ...] = ()
        self._sides: tuple[Side, Side] | None = None
        self._pipeline: Pipeline | None = None
        self._gates: Gates | None = None
        self._gauge: Gauge | None = None
        self._early: list[Sourced] = []
        self._kept: list[Sourced] | None = None
        """All that two scales brought, while their sides may still be swapped."""
        self._thread = threading.Thread(target=self._run, name="pipeline", daemon=True)

    def start(self) -> None:
        """Begin to take items. What they need is loaded first."""
        kit.lay_out(self._settings)
        self._thread.start()

    def join(self, timeout_s: float) -> bool:
        """Wait for the end of the inbox; return whether it was reached in time."""
        if self._thread.ident is not None:
            self._thread.join(timeout_s)
        return not self._thread.is_alive()

    def accept(self, calibrations: tuple[Calibration, ...], sides: tuple[Side, Side] | None = None) -> None:
        """Say which scales are measured, two of them under which feet; told once, before the last one's items come."""
        self._sides, self._kept = sides, None if sides is None else []
        self._calibrations = calibrations

    @property
    def may_swap(self) -> bool:
        """Whether there are two scales, and all that they brought is still at hand."""
        return self._kept is not None

    def swap(self, again: Callable[[Sequence[Sourced]], None]) -> None:
        """Measure all anew, from the first sample, with each of two scales under the other foot, where `may_swap`.

        `again` is told all that came so far.
        """
        self._orders.append(lambda _pipeline, _after_s: self._swap(again))

    def settle_sides(self) -> None:
        """The sides stay as they are from now on."""
        self._kept = None

    def configure(self, settings: Settings) -> None:
        """Measure against other settings from the next batch on. What that takes is loaded here, between no samples."""
        kit.lay_out(settings)
        self._wanted = settings

    def order(self, order: Order) -> None:
        """Have `order` done on the pipeline's thread, between two samples that are the same ones live and later."""
        self._orders.append(order)

    def appraisal(self, *, uneven: bool = False) -> Appraisal | None:
        """Return the analysis of all samples, appraised, once the thread has ended; None where there were none.

        `uneven`: its two plates were found not to read alike.
        """
        pipeline = self._pipeline
        if pipeline is None or self.shown.first_ns is None or self.failure is not None:
            return None
        channels = None if pipeline.identity is None else pipeline.identity.channels
        zero_taken = self.shown.snapshot.zero_taken
        return appraise(
            pipeline.analysis(), self._settings, pipeline.calibration, channels, zero_taken=zero_taken, uneven=uneven
        )

    def gauge(self, today: date, *, uneven: bool = False) -> Gauge | None:
        """Return what the scale is worth; None before it said what it is. May be called from any thread.

        `uneven`: its two plates were found not to read alike.
        """
        pipeline = self._pipeline
        identity, calibration = (None, None) if pipeline is None else (pipeline.identity, pipeline.calibration)
        if self._gauge is None and identity is not None and calibration is not None:
            worth = worth_of(calibration, identity.channels)
            self._gauge = Gauge(calibration, worth, identity.rate_Hz, is_expired(calibration, today))
        return None if self._gauge is None else replace(self._gauge, uneven=uneven)

    def _run(self) -> None:
        try:
            while not self._inbox.is_over:
                began_s = time.monotonic()
                self._take(self._inbox.take(IDLE_S))
                self._watch()
                time.sleep(max(0.0, min(BATCH_S, began_s + BATCH_S - time.monotonic())))
            self._finish()
        except Exception as error:
            self.failure = error
            self._watch()
            raise

    def _take(self, items: Sequence[Sourced]) -> None:
        if self._pipeline is None:
            items = self._open(items)
        if self._pipeline is None or self._gates is None:
            return
        self._configure(self._pipeline)
        own = _join(self._gates.sift(items))
        if own:
            if self._listen is not None:
                self._listen(own)
            self._keep(own)
            # it may be another one, with the sides swapped
            self._show(self._pipeline.push_all(own), own)

    def _configure(self, pipeline: Pipeline) -> None:
        time_s = self.shown.snapshot.time_s
        while self._orders and time_s is not None:
            self._orders.popleft()(self._pipeline or pipeline, math.nextafter(time_s, math.inf))
        if self._wanted is not self._settings:
            self._settings = self._wanted
            (self._pipeline or pipeline).configure(self._settings)

    def _keep(self, own: Sequence[Sourced]) -> None:
        if self._kept is not None:
            self._kept.extend(own)
            if len(self._kept) > MOST_KEPT:
                self._kept = None

    def _swap(self, again: Callable[[Sequence[Sourced]], None]) -> None:
        """Measure what was kept with the sides swapped: the same numbers as if they had been so from the beginning."""
        if self._kept is None or self._sides is None:
            return
        self._sides, self._gauge = (self._sides[1], self._sides[0]), None
        self._pipeline = Pipeline(self._settings, self._calibrations, sides=self._sides)
        self.shown = Shown(first_ns=self.shown.first_ns, each_ns=self.shown.each_ns)
        self._show(self._pipeline.push_all(self._kept), self._kept)
        again(self._kept)

    def _open(self, items: Sequence[Sourced]) -> Sequence[Sourced]:
        """Make the pipeline as soon as all scales are known; one of two may have been heard long before the other."""
        if not self._calibrations:
            self._early = [*self._early, *items][-MOST_KEPT:]
            return []
        self._settings = self._wanted
        self._pipeline = Pipeline(self._settings, self._calibrations, sides=self._sides)
        self._gates = Gates([calibration.device_id for calibration in self._calibrations])
        self.shown = replace(self.shown, each_ns=(None,) * len(self._calibrations))
        early, self._early = self._early, []
        return [*early, *items]

    def _show(self, results: Results, items: Sequence[Sourced]) -> None:
        assert self._pipeline is not None
        before = self.shown
        each_ns = list(before.each_ns)
        arrivals = [(source, int(item.arrival_ns[-1])) for source, item in items if isinstance(item, Chunk)]
        for source, arrival_ns in arrivals:
            each_ns[source] = arrival_ns
        time_s = np.concatenate([before.trail_time_s, results.time_s])
        share = np.concatenate([before.trail_share_percent, trail_of(results, self._settings)])
        aim = np.concatenate([before.trail_aim_percent, results.aim_percent])
        kept = slice(int(np.searchsorted(time_s, time_s[-1] - TRAIL_S)) if time_s.size else 0, None)
        self.shown = Shown(
            self._pipeline.snapshot(),
            time_s[kept],
            share[kept],
            aim[kept],
            first_ns=before.first_ns if before.first_ns is not None or not arrivals else arrivals[0][1],
            newest_ns=arrivals[-1][1] if arrivals else before.newest_ns,
            each_ns=tuple(each_ns),
        )

    def _finish(self) -> None:
        if self._pipeline is not None:
            self._configure(self._pipeline)
            self._show(self._pipeline.finish(), [])


def _join(items: Sequence[Sourced]) -> Sequence[Sourced]:
    """Return what one scale brought with its frames in as few chunks as can be: a computer that is late catches up."""
    if len(items) < 2 or any(source for source, _item in items):
        return items
    return [Sourced(0, item) for item in merge(item for _source, item in items)]
