"""A practice session without a screen: link, recording and pipeline, from start to the finished session."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime

from weightshare import __version__
from weightshare.errors import OptionError, WeightshareError
from weightshare.exercise import SetSpan
from weightshare.model import Side
from weightshare.pipeline import Pipeline
from weightshare.practice.circuit import Circuit
from weightshare.practice.coach import Coach
from weightshare.practice.conductor import Conductor
from weightshare.practice.entrance import find_entrance
from weightshare.practice.finish import Finished, save_session
from weightshare.practice.inbox import Inbox
from weightshare.practice.judge import Chosen
from weightshare.practice.option import PractiseOptions, find_clash
from weightshare.practice.upkeep import Upkeep
from weightshare.practice.view import LiveView
from weightshare.practice.watch import Watch
from weightshare.practice.worker import Worker
from weightshare.records.place import session_place
from weightshare.records.raw import tell_practice, tell_sides
from weightshare.records.recorder import Recorder, Recording, Unrecorded
from weightshare.records.session import Played
from weightshare.records.setting import SessionHead
from weightshare.scales.link import Phase
from weightshare.scales.rig import RigTransport
from weightshare.scales.rig.shift import Shift
from weightshare.scales.transport import Transport
from weightshare.task import Goal, Settings

__all__ = ["Engine", "Finished"]

LINK_ENDS_WITHIN_S, PIPELINE_ENDS_WITHIN_S, RECORDING_ENDS_WITHIN_S = 4.0, 10.0, 10.0
SAMPLES_STOPPED_S = 1.0
"""From here on without samples, `--seconds` counts host time."""


class Engine:
    """Runs one session from `start` to `stop`. `view` may be called at the display's rate, from any thread.

    `clock_ns` gives host time; `transport`, one or two, stands in for the sources' own. Raises WeightshareError where
    an option, a source or a calibration file cannot be used.
    """

    def __init__(
        self,
        options: PractiseOptions,
        clock_ns: Callable[[], int] = time.monotonic_ns,
        transport: Transport | Sequence[Transport] | None = None,
    ) -> None:
        self.options = options
        self._now_ns, self._settings, self._goal = clock_ns, options.settings, options.goal
        entrance = find_entrance(options, transport)
        self._transports = entrance.transports
        self._started_at = datetime.now().astimezone()
        self._started_ns: int | None = None
        self._ending, self._changing = threading.Lock(), threading.Lock()
        self._finished: Finished | None = None
        self._sides: tuple[Side, Side] | None = None
        self._watch = Watch()
        self.inbox = Inbox()
        self.upkeep = self._make_upkeep(entrance.played)
        self._worker = Worker(self.inbox, options.settings, self._look_around, self.upkeep.push)
        self._coach = Coach(options.settings, options.goal, unattended=options.unattended, holds=options.counts_holds)
        self._conductor = Conductor(
            self._coach, self._worker, self._remark, self._cue, self.begin_practice if options.unattended else None
        )
        self._recording = self._make_recording()
        self._judge = entrance.make_judge(options, self._accept, self._started_at.date())
        self._circuit = Circuit(self._transports, self._recording, self.inbox, self._judge, self._now_ns)

    def _make_upkeep(self, played: Played | None) -> Upkeep:
        keep = (self.options.record or self.options.checks_only) and played is None
        asked, unattended = self.options.sources[0], self.options.unattended
        return Upkeep(self._watch.tell, self._started_at, asked, keep=keep, unattended=unattended)

    def _make_recording(self) -> Recording:
        if not self.options.record:
            return Unrecorded()
        return Recorder(self.options.save or session_place(), self._head(), self._started_at)

    def _head(self) -> SessionHead:
        return SessionHead(
            self._settings,
            self._goal,
            self.options.sources,
            self._started_at.isoformat(timespec="seconds"),
            f"weightshare {__version__}",
            self._coach.sets.spans,
            self._coach.sets.faults_s,
            self.upkeep.is_uneven,
            self._sides,
            self.options.footwear,
            self.options.prescription,
        )

    def start(self) -> None:
        """Connect, and begin to record and to measure."""
        self._started_ns = self._now_ns()
        self._recording.start()
        self._worker.start()
        self._circuit.start()

    def view(self) -> LiveView:
        """Return the newest of everything."""
        shown = self._worker.shown
        return LiveView(
            shown.snapshot,
            self._circuit.views,
            self._ago_s(shown.behind_ns),
            shown.trail_time_s,
            shown.trail_share_percent,
            self._recording.trouble,
            self._watch.messages + shown.snapshot.warnings,
            shown.trail_aim_percent,
            self._coach.sets,
            self._worker.gauge(self._started_at.date(), uneven=self.upkeep.is_uneven),
            self.upkeep.view(self._settings, shown.snapshot),
            self._ago_s(shown.newest_ns),
        )

    def _ago_s(self, instant_ns: int | None) -> float:
        return float("inf") if instant_ns is None else (self._now_ns() - instant_ns) / 1e9

    def change(self, settings: Settings, goal: Goal | None = None) -> None:
        """Measure against other settings from now on, and keep them as the session's."""
        with self._changing:
            self._keep(settings, goal or self._goal)
            self._worker.configure(self._settings)

    def compare(self) -> None:
        """Compare the two plates from now on, while the load is shifted from side to side; tell a virtual person."""
        asked = self.upkeep.begin(self._settings, self._worker.shown.snapshot)
        if asked is not None and self.rig is not None:
            self.rig.shift(Shift(*asked))

    def begin_practice(self) -> None:
        """Holds and repetitions count from the next sample on, and the first set begins; the record says so too."""
        self._worker.order(self._begin_at)

    def swap_sides(self) -> bool:
        """Take each of two separate scales for the other foot's, from the first sample on; the record says so too.

        Return whether that can be: not with one scale, nor once practice has begun.
        """
        if self._sides is None or not self._worker.may_swap:
            return False
        self._sides = self._circuit.sides = (self._sides[1], self._sides[0])
        self._remark(tell_sides(self._sides))
        self._worker.swap(self.upkeep.swap)
        return True

    def begin_set(self) -> None:
        """Begin the next set now, in a rest; elsewhere nothing."""
        self._conductor.begin_set()

    def end_set(self) -> None:
        """End the set that is under way now, whatever was done of it."""
        self._conductor.end_set()

    def mark_fault(self) -> None:
        """Mark a fault in the set that is under way."""
        self._conductor.mark_fault()

    def _begin_at(self, pipeline: Pipeline, after_s: float) -> None:
        self.upkeep.practise()
        self._worker.settle_sides()
        with self._changing:
            self._keep(replace(self._settings, counting_from_s=after_s), self._goal)
            self._recording.note(self._now_ns(), tell_practice(after_s))
            self._worker.configure(self._settings)
        self._conductor.begin_at(pipeline, after_s)

    def _remark(self, text: str) -> None:
        """Write a remark into the record, and the session's settings anew."""
        self._recording.note(self._now_ns(), text)
        with self._changing:
            self._recording.keep_head(self._head())

    def _cue(self, span: SetSpan) -> None:
        """Tell a virtual person that a set begins."""
        if self.rig is not None:
            self.rig.cue(span.working, span.paced_from_s)

    def _keep(self, settings: Settings, goal: Goal) -> None:
        """Take settings as the session's; where practice began already, they do not take that back."""
        begun_s = self._settings.counting_from_s
        if begun_s is not None and settings.counting_from_s is None:
            settings = replace(settings, counting_from_s=begun_s)
        self._settings, self._goal = settings, goal
        self._coach.settings, self._coach.goal = settings, goal
        self._recording.keep_head(self._head())

    @property
    def rig(self) -> RigTransport | None:
        """The virtual pair of scales, where it is the source; of two separate ones the left."""
        first = self._transports[0]
        return first if isinstance(first, RigTransport) else None

    def steer(self, delta_points: float) -> None:
        """Shift a steered virtual person's weight by so many points to the injured side; nothing for others."""
        if self.rig is not None:
            self.rig.steer(delta_points)

    def elapsed_s(self) -> float:
        """Return sample time since the first sample, s; where samples stay away for over a second, host time."""
        shown, now_ns = self._worker.shown, self._now_ns()
        if shown.first_ns is None or shown.newest_ns is None:
            return 0.0 if self._started_ns is None else (now_ns - self._started_ns) / 1e9
        silent_s = (now_ns - shown.newest_ns) / 1e9
        time_s = shown.snapshot.time_s
        # While the zero is taken no sample has been given out yet.
        sampled_s = (shown.newest_ns - shown.first_ns) / 1e9 if time_s is None else time_s
        return sampled_s + (silent_s if silent_s > SAMPLES_STOPPED_S else 0.0)

    @property
    def phase(self) -> Phase:
        """Where the link stands."""
        return self._circuit.phase

    @property
    def is_connected(self) -> bool:
        """Whether the stream to the scale is open."""
        return self._circuit.is_open

    @property
    def has_sampled(self) -> bool:
        """Whether samples ever came."""
        return self._worker.shown.first_ns is not None

    @property
    def is_over(self) -> bool:
        """Whether the asked seconds have passed, the last set is over, or nothing more will come."""
        seconds = self.options.seconds
        asked = seconds is not None and self.elapsed_s() >= seconds
        return asked or self._coach.is_done or self._circuit.has_ended

    @property
    def clash(self) -> OptionError | None:
        """What keeps practice from beginning, once body weight is known: a target that the ceiling forbids."""
        words = find_clash(self._settings, self._worker.shown.snapshot.body_weight_N)
        return OptionError(f"--target and --ceiling: {words}; change one of them") if words else None

    @property
    def fault(self) -> WeightshareError | None:
        """What keeps the scale from sampling, where something does, as an error with its exit status."""
        return self._circuit.fault

    def stop(self) -> Finished:
        """End the session and save it: sources, pipeline, recording, in this order. Later calls return the same."""
        with self._ending:
            if self._finished is None:
                self._finished = self._end()
            return self._finished

    def _end(self) -> Finished:
        self._circuit.ask_to_stop()
        late = [] if self._circuit.join(LINK_ENDS_WITHIN_S) else ["the link"]
        self.inbox.close()
        late += [] if self._worker.join(PIPELINE_ENDS_WITHIN_S) else ["the pipeline"]
        self._recording.keep_head(self._head())
        late += [] if self._recording.close(self._now_ns(), RECORDING_ENDS_WITHIN_S) else ["the recording"]
        if late:
            self._watch.tell(f"{' and '.join(late)} did not end in time")
        live, failed = self._worker.appraisal(uneven=self.upkeep.is_uneven), self._worker.failure is not None
        try:
            return save_session(self._recording, live, failed=failed)
        finally:
            self._recording.release()
            self.upkeep.close()

    def _accept(self, chosen: Chosen) -> None:
        """The scales can be used; called from a link's thread before its items are put into the inbox."""
        self._sides = self._circuit.sides = chosen.sides
        self.upkeep.accept(chosen.whole, chosen.sides)
        self._worker.accept(chosen.calibrations, chosen.sides)
        if chosen.sides is not None:
            self._recording.keep_head(self._head())
        for source, calibration in enumerate(chosen.calibrations):
            self._recording.keep_calibration(calibration, source)

    def _look_around(self) -> None:
        """Called from the pipeline's thread after each batch."""
        time_s, sampled = self._worker.shown.snapshot.time_s, self.has_sampled
        for source, status in enumerate(self._circuit.statuses):
            self._watch.follow(status, time_s, sampled=sampled, source=source, whose=self._circuit.whose(source))
        self._conductor.follow()
        slow = "this computer did not keep up: samples are missing from the display, not from the record"
        failed = "the program failed inside; recording goes on"
        told = slow if self.inbox.dropped_samples else "", failed if self._worker.failure is not None else ""
        for words in (*self._judge.expired, *told):
            self._watch.tell(words)
