"""Time in the band and holds, from sample to sample. Part of the walk."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise

from tests.property.walk.row import NAN, Sample, Task


@dataclass
class Held:
    """One hold. `plates` are the means of full seconds on the plates within it, percent."""

    start_s: float
    end_s: float = NAN
    held_s: float = 0.0
    weighed: bool = False
    plates: list[float] = field(default_factory=list)


def find_holds(samples: list[Sample], task: Task) -> tuple[float, list[Held]]:
    """Walk from sample to sample; return all time in the band and every hold, short ones too."""
    if task.target is None:
        return 0.0, []
    stretches = _Stretches(task)
    for i, sample in enumerate(samples):
        before = samples[i - 1] if i else None
        after = samples[i + 1] if i + 1 < len(samples) else None
        readings_end = after is not None and (after.missing or not after.follows)
        stretches.step(before if sample.follows else None, sample, readings_end=readings_end)
    stretches.leave(samples[-1].time_s)
    stretches.end_hold()
    return stretches.total_s, stretches.done


class _Stretches:
    """Time in the band, strung together to holds."""

    def __init__(self, task: Task) -> None:
        assert task.target is not None
        self.low, self.high = task.target - task.tolerance, task.target + task.tolerance
        self.grace_s = task.grace_s
        self.delay_s = 0.0 if task.filter_Hz is None else math.sqrt(2.0) / (2.0 * math.pi * task.filter_Hz)
        self.total_s = 0.0
        self.done: list[Held] = []
        self.hold: Held | None = None
        self.since_s: float | None = None
        self.stands_from_s = NAN

    def step(self, before: Sample | None, now: Sample, *, readings_end: bool) -> None:
        if before is None or not before.present:
            self.stands_from_s = now.time_s
        if now.away:
            self.leave_late(before)
            self.end_hold()
        elif before is not None and before.two_legs and now.two_legs:
            self.line(before, now)
        elif before is not None and not now.missing:
            self.leave_late(before)
        if readings_end and now.in_band:
            self.leave(now.time_s)
        if self.hold and self.since_s is None and now.time_s - self.delay_s - self.hold.end_s > self.grace_s:
            self.end_hold()

    def line(self, a: Sample, b: Sample) -> None:
        """Follow share along the straight line from sample to sample."""
        parts = [(edge - a.share) / (b.share - a.share) for edge in (self.low, self.high) if a.share != b.share]
        inside = sorted(part for part in parts if 0.0 < part < 1.0)
        marks = [0.0, *inside, 1.0]
        for x, y in pairwise(marks):
            middle = a.share + (b.share - a.share) * (x + y) / 2.0
            span_s = b.time_s - a.time_s
            if self.low <= middle <= self.high:
                self.enter(a.time_s + x * span_s - self.delay_s)
                self.note(a if x == 0.0 else None, b if y == 1.0 else None)
            else:
                self.leave(a.time_s + x * span_s - self.delay_s)

    def note(self, first: Sample | None, last: Sample | None) -> None:
        """Only full seconds within the hold tell whether it was supported."""
        assert self.hold is not None
        known = [sample for sample in (first, last) if sample and not math.isnan(sample.plates)]
        self.hold.weighed |= bool(known)
        if first in known and first and first.time_s >= self.hold.start_s + self.delay_s + 1.0:
            self.hold.plates.append(first.plates)

    def enter(self, at_s: float) -> None:
        if self.since_s is not None:
            return
        self.since_s = max(at_s, self.stands_from_s)
        if self.hold and self.since_s - self.hold.end_s > self.grace_s:
            self.end_hold()
        if self.hold is None:
            self.hold = Held(self.since_s)

    def leave_late(self, last: Sample | None) -> None:
        if last is not None:
            self.leave(last.time_s - self.delay_s)

    def leave(self, at_s: float) -> None:
        if self.since_s is None or self.hold is None:
            return
        self.hold.end_s = max(at_s, self.since_s)
        self.hold.held_s += self.hold.end_s - self.since_s
        self.total_s += self.hold.end_s - self.since_s
        self.since_s = None

    def end_hold(self) -> None:
        if self.hold is not None:
            self.done.append(self.hold)
        self.hold = None
