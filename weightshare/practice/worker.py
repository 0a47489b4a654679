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
from weightshare.model import Calibration, Chunk, Floats, Item, LinkDown, LinkUp
from weightshare.pipeline import Pipeline
from weightshare.practice import kit
from weightshare.practice.gauge import Gauge, is_expired
from weightshare.practice.inbox import Inbox
from weightshare.records.appraisal import Appraisal, appraise
from weightshare.scales.gate import Gate
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

BATCH_S = 0.005
"""Frames that come closer together than this are taken together; longer would be seen as a late picture."""
IDLE_S = 0.05
TRAIL_S = 12.0

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


class Worker:
    """Takes items from `inbox` to the pipeline until the inbox is closed and empty. `shown` may be read by any thread.

    `watch` is called after each batch, at least every 50 ms; `listen` with the items of each that are the scale's own.
    """

    def __init__(
        self,
        inbox: Inbox,
        settings: Settings,
        watch: Callable[[], None],
        listen: Callable[[Sequence[Item]], None] | None = None,
    ) -> None:
        self.shown = Shown()
        self.failure: Exception | None = None
        """What went wrong inside, should anything."""
        self._inbox = inbox
        self._settings = settings
        self._wanted = settings
        self._watch, self._listen = watch, listen
        self._orders: deque[Order] = deque()
        self._calibration: Calibration | None = None
        self._pipeline: Pipeline | None = None
        self._gate: Gate | None = None
        self._gauge: Gauge | None = None
        self._early: list[Item] = []
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

    def accept(self, calibration: Calibration) -> None:
        """Say which scale is measured; called once, before its items are put into the inbox."""
        self._calibration = calibration

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
            pipeline.analysis(), self._settings, self._calibration, channels, zero_taken=zero_taken, uneven=uneven
        )

    def gauge(self, today: date, *, uneven: bool = False) -> Gauge | None:
        """Return what the scale is worth; None before it said what it is. May be called from any thread.

        `uneven`: its two plates were found not to read alike.
        """
        identity = None if self._pipeline is None else self._pipeline.identity
        if self._gauge is None and identity is not None and self._calibration is not None:
            worth = worth_of(self._calibration, identity.channels)
            expired = is_expired(self._calibration, today)
            self._gauge = Gauge(self._calibration, worth, identity.rate_Hz, expired)
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

    def _take(self, items: Sequence[Item]) -> None:
        if self._pipeline is None:
            items = self._open(items)
        pipeline = self._pipeline
        if pipeline is None or self._gate is None:
            return
        self._configure(pipeline)
        own = self._gate.sift(items)
        if own:
            if self._listen is not None:
                self._listen(own)
            self._show([pipeline.push(item) for item in own], own)

    def _configure(self, pipeline: Pipeline) -> None:
        time_s = self.shown.snapshot.time_s
        while self._orders and time_s is not None:
            self._orders.popleft()(pipeline, math.nextafter(time_s, math.inf))
        if self._wanted is not self._settings:
            self._settings = self._wanted
            pipeline.configure(self._settings)

    def _open(self, items: Sequence[Item]) -> Sequence[Item]:
        """Make the pipeline as soon as the scale is known; until then only the link's ups and downs are of use."""
        if self._calibration is None:
            self._early += [item for item in items if isinstance(item, LinkUp | LinkDown)]
            return []
        self._settings = self._wanted
        self._pipeline = Pipeline(self._settings, [self._calibration])
        self._gate = Gate(self._calibration.device_id)
        early, self._early = self._early, []
        return [*early, *items]

    def _show(self, results: Sequence[Results], items: Sequence[Item]) -> None:
        assert self._pipeline is not None
        before = self.shown
        arrivals = [int(item.arrival_ns[-1]) for item in items if isinstance(item, Chunk)]
        time_s = np.concatenate([before.trail_time_s, *(result.time_s for result in results)])
        share = np.concatenate([before.trail_share_percent, *(result.share_percent for result in results)])
        aim = np.concatenate([before.trail_aim_percent, *(result.aim_percent for result in results)])
        kept = slice(int(np.searchsorted(time_s, time_s[-1] - TRAIL_S)) if time_s.size else 0, None)
        self.shown = Shown(
            self._pipeline.snapshot(),
            time_s[kept],
            share[kept],
            aim[kept],
            first_ns=before.first_ns if before.first_ns is not None or not arrivals else arrivals[0],
            newest_ns=arrivals[-1] if arrivals else before.newest_ns,
        )

    def _finish(self) -> None:
        if self._pipeline is not None:
            self._configure(self._pipeline)
            self._show([self._pipeline.finish()], [])
