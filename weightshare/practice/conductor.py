"""Has sets begun and ended wherever it matters: in the pipeline, in the record, with the virtual person."""

from __future__ import annotations

from collections.abc import Callable

from weightshare.exercise import SetSpan
from weightshare.pipeline import Pipeline
from weightshare.practice.coach import Coach, is_alarmed, is_there
from weightshare.practice.option import find_clash
from weightshare.practice.worker import Worker
from weightshare.records.raw import tell_fault, tell_set
from weightshare.state import Snapshot


class Conductor:
    """Carries out what a coach decides, and what somebody tells by key, between two samples on the pipeline's thread.

    `keep` is told each remark for the record; `cue` each begin of a set. `begin_practice` is called where body weight
    has become known while nobody is there to press a key; None: somebody is.
    """

    def __init__(
        self,
        coach: Coach,
        worker: Worker,
        keep: Callable[[str], None],
        cue: Callable[[SetSpan], None],
        begin_practice: Callable[[], None] | None = None,
    ) -> None:
        self.coach = coach
        self._worker, self._keep, self._cue, self._begin_practice = worker, keep, cue, begin_practice
        self._seen_s: float | None = None

    def begin_set(self) -> None:
        """Have the next set begin at once, where none is under way. From any thread."""
        self._worker.order(self.begin_at)

    def end_set(self) -> None:
        """Have the set end that is under way. From any thread."""
        self._worker.order(lambda pipeline, after_s: self._take(pipeline, self.coach.end(after_s)))

    def mark_fault(self) -> None:
        """Mark a fault in the set that is under way. From any thread."""
        self._worker.order(self._fault_at)

    def begin_at(self, pipeline: Pipeline, after_s: float) -> None:
        """Begin the next set, a moment after the newest sample."""
        self._take(pipeline, self.coach.begin(after_s, self._worker.shown.snapshot.basis))

    def follow(self) -> None:
        """Do what is due with the newest sample; called on the pipeline's thread after each batch."""
        snapshot = self._worker.shown.snapshot
        if snapshot.time_s is None or snapshot.time_s == self._seen_s:
            return
        self._seen_s = snapshot.time_s
        if self._begin_practice is not None and self._may_begin(snapshot):
            begin, self._begin_practice = self._begin_practice, None
            begin()
        span = self.coach.push(snapshot)
        if span is not None:
            self._worker.order(lambda pipeline, _after_s: self._take(pipeline, span))

    def _may_begin(self, snapshot: Snapshot) -> bool:
        """Return whether a first set may begin: somebody is there and warmed up, without an alarm, and can reach the
        target."""
        # a warm-up stand that was asked for is no hold yet
        begins = self.coach.counts or self.coach.settings.stand_s is not None
        ready = begins and is_there(snapshot) and snapshot.stand_left_s <= 0.0 and not is_alarmed(snapshot)
        return ready and not find_clash(self.coach.settings, snapshot.body_weight_N)

    def _take(self, pipeline: Pipeline, span: SetSpan | None) -> None:
        if span is None:
            return
        if span.to_s is None:
            pipeline.begin_set(span)
            self._cue(span)
        else:
            pipeline.end_set(span.to_s)
        self._keep(tell_set(span))

    def _fault_at(self, pipeline: Pipeline, after_s: float) -> None:
        if self.coach.mark_fault(after_s):
            pipeline.mark_fault(after_s)
            self._keep(tell_fault(after_s))
