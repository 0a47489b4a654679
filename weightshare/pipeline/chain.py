"""The whole pipeline: what a scale's link brings in, snapshots and results out, live and later."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from weightshare.exercise import SetSpan
from weightshare.model import Calibration, Condition, Floats, Identity, Item, Side, Sourced, Trace
from weightshare.pipeline.analysis import summarise
from weightshare.pipeline.block import Block
from weightshare.pipeline.calibrate import Calibrator, find_calibration
from weightshare.pipeline.clock import Clock, Timed
from weightshare.pipeline.duo import Duo
from weightshare.pipeline.fault import fault_words
from weightshare.pipeline.measure import NO_RESULTS, Measure
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.result import Analysis
from weightshare.pipeline.tally import Tally
from weightshare.pipeline.zero import Zero
from weightshare.state import Alignment, Results, Snapshot, State
from weightshare.task import Settings


class Pipeline:
    """Items of one scale, or of two, in: clock, zero and calibration, then what is measured on forces.

    settings: the band and the side. calibrations: those at hand; the scale's own is found by its device id.
    keep_trace: whether unfiltered, zeroed forces are kept for `trace`. sides: None where one scale reads both feet;
    with two separate scales the foot over each source, whatever the scale says.
    """

    def __init__(
        self,
        settings: Settings,
        calibrations: Sequence[Calibration],
        *,
        keep_trace: bool = False,
        sides: tuple[Side, Side] | None = None,
    ) -> None:
        self._settings, self._calibrations, self._keep_trace = settings, tuple(calibrations), keep_trace
        self._sides = sides
        self._measure = Measure(settings)
        self.reset()

    def reset(self) -> None:
        """Forget the scale and all samples."""
        self.clock = Clock()
        self._duo = None if self._sides is None else Duo(self._calibrations, self._sides)
        self._identity: Identity | None = None
        self.calibration: Calibration | None = None
        """That of the scale, or of two as one; None before it is known which it is."""
        self._calibrator: Calibrator | None = None
        self._zero: Zero | None = None
        self._faults = 0
        """What the scale has said is wrong with it so far, bit by bit."""
        self._kept: list[Block] = []
        self._measure.reset()

    @property
    def identity(self) -> Identity | None:
        """What the scale said of itself, or what two say as one; None before."""
        return self._identity

    def begin_set(self, span: SetSpan) -> None:
        """A set begins, at a sample time that has not come yet or is the newest."""
        self._measure.begin_set(span)

    def end_set(self, to_s: float) -> None:
        """The newest set ends; a repetition that begins from sample time `to_s` on belongs to none."""
        self._measure.end_set(to_s)

    def mark_fault(self, time_s: float) -> None:
        """Somebody saw a fault at sample time `time_s`."""
        self._measure.faults_s.append(time_s)

    def configure(self, settings: Settings) -> None:
        """Measure against other settings from the next sample on; zero and body weight stay."""
        self._settings = settings
        self._measure.configure(settings)

    @property
    def alignment(self) -> Alignment | None:
        """How well two separate scales agree in time so far; None with one scale, or before both have spoken."""
        return None if self._duo is None else self._duo.alignment

    def push_all(self, batch: Sequence[Sourced]) -> Results:
        """Take in a batch of items; return the samples that could be decided.

        Nothing of a later batch may have arrived before the newest of this one. Within a batch each source's items are
        in order; the order between sources does not matter. Raises as `push` does.
        """
        if self._duo is None:
            return join([self.push(item) for _, item in batch])
        for source, item in batch:
            self._duo.push(source, item)
        if self._duo.identity is not None and self._duo.calibration is not None:
            self._take_up(self._duo.identity, self._duo.calibration)
        return self._pass_all(self._duo.settle())

    def push(self, item: Item) -> Results:
        """Take in an item; return the samples that could be decided.

        Raises CalibrationError or ProtocolError where a scale says that it is one that cannot be used.
        """
        if self._duo is not None:
            return self.push_all([Sourced(0, item)])
        if isinstance(item, Identity):
            self._meet(item)
        elif isinstance(item, Condition):
            self._faults |= item.faults
        return self._pass_all(self.clock.push(item))

    def finish(self) -> Results:
        """The stream ends here; return the samples that were still waiting."""
        settled = self._pass_all(self._duo.finish()) if self._duo else NO_RESULTS
        waiting = self._zero.finish() if self._zero else []
        results = [self._forward(timed) for timed in waiting]
        rest = self._measure.finish()
        if self._duo:
            self._duo.hear(rest)
        return join([settled, *results, rest])

    def _meet(self, identity: Identity) -> None:
        known = self._identity
        if known is None or known.device_id != identity.device_id or known.channels != identity.channels:
            self.calibration = None
            self._take_up(identity, find_calibration(identity, self._calibrations))
        self._identity = identity

    def _take_up(self, identity: Identity, calibration: Calibration) -> None:
        """Calibrate what comes from now on; nothing changes where that is so already."""
        self._identity = identity
        if self.calibration is calibration:
            return
        self.calibration = calibration
        self._calibrator = Calibrator(identity, calibration)
        self._zero = Zero(self._calibrator)

    def _pass_all(self, readings: Sequence[Timed]) -> Results:
        results = [self._pass(timed) for timed in readings]
        return join([result for part in results for result in part])

    def _pass(self, timed: Timed) -> list[Results]:
        assert self._zero is not None
        return [self._forward(ready) for ready in self._zero.push(timed)]

    def _forward(self, timed: Timed) -> Results:
        assert self._calibrator is not None
        block = self._calibrator.push(timed)
        if self._keep_trace:
            self._kept.append(block)
        results = self._measure.push(block)
        if self._duo:
            self._duo.hear(results)
        return results

    def snapshot(self) -> Snapshot:
        """Return the state after the newest decided sample."""
        snapshot = self._measure.snapshot()
        if self._duo:
            snapshot = replace(snapshot, clock_points=self._duo.clock_points)
        if self._zero is None:
            return snapshot
        if self._zero.taken is None:
            load_N = self._zero.load_N
            state = State.WAITING if load_N is None else State.ZEROING
            return replace(snapshot, state=state, zero_load_N=load_N, warnings=self._warnings())
        return replace(snapshot, zero_taken=self._zero.taken, warnings=self._warnings() + snapshot.warnings)

    def _warnings(self) -> tuple[str, ...]:
        zero = (self._zero.warning,) if self._zero and self._zero.warning else ()
        return zero + (self._duo.warnings if self._duo else self.clock.warnings + fault_words(self._faults))

    def watch(self, see: Callable[[Motion, Ground], None]) -> None:
        """Hand all that repetitions are looked for in to `see`, as it comes."""
        self._measure.watch = see

    def analysis(self, amend: Callable[[Tally], Tally] | None = None) -> Analysis:
        """Return the analysis; call `finish` first, unless more is to come. `amend`: what was corrected by hand."""
        tally = self._measure.tally()
        analysis = summarise(self._settings, tally if amend is None else amend(tally), self._warnings())
        return replace(analysis, alignment=self.alignment)

    def trace(self) -> Trace:
        """Return the unfiltered, zeroed trace, where the pipeline was told to keep it."""
        if not self._kept:
            return Trace(np.empty(0), {})
        columns = self._kept[0].columns
        values: Floats = np.concatenate([block.values for block in self._kept], axis=1)
        time_s = np.concatenate([block.time_s for block in self._kept])
        return Trace(time_s, dict(zip(columns, values, strict=True)))


def join(parts: Sequence[Results]) -> Results:
    """Return what several pushes brought, in their order, as one."""
    full = [part for part in parts if part.time_s.size]
    if len(full) < 2:
        return full[0] if full else NO_RESULTS
    return Results(*(np.concatenate([getattr(part, name) for part in full]) for name in Results.__slots__))
