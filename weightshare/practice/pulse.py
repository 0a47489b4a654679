"""Which cycle of the metronome is under way: the person's own lift starts it, or, paced, it goes by itself."""

from __future__ import annotations

from weightshare.exercise import Basis, Exercise, Phase, SetSpan
from weightshare.practice.coach import COUNT_IN_BEATS
from weightshare.practice.screen import Pulse
from weightshare.practice.view import LiveView
from weightshare.task import Goal, Settings


def first_phase(settings: Settings) -> Phase:
    """Return the phase that a repetition begins with: who squats goes down first."""
    return Phase.LOWERING if settings.exercise is Exercise.SQUAT else Phase.RISE


class PulseTeller:
    """Tells, view by view, the metronome's cycle in a set; none without a tempo, and none in a blind set."""

    def __init__(self) -> None:
        self._number = 0
        self._span: SetSpan | None = None
        self._began_s: float | None = None
        self._phase = Phase.BOTTOM
        self._turned = False
        """The lift has come as far as its second phase: it was no false start."""

    def push(self, view: LiveView, settings: Settings, goal: Goal) -> Pulse | None:
        """Take the newest view; return the cycle that is under way or leads in, if any."""
        span, now_s = view.sets.under_way, view.now_s
        if settings.tempo is None or span is None or span.blind or view.stale or now_s is None:
            self._span = self._began_s = None
            self._phase = Phase.BOTTOM
            return None
        if self._span is None or self._span.number != span.number:
            self._span, self._began_s, self._number = span, None, self._number + 1
            self._phase = Phase.BOTTOM
        if view.snapshot.basis is Basis.PACED:
            return self._pace(span, now_s, settings, goal)
        self._follow(view, settings)
        if self._began_s is None:
            return None
        since_s = now_s - self._began_s
        if self._phase is Phase.BOTTOM and (not self._turned or since_s >= settings.tempo.cycle_s):
            return None
        return Pulse(self._number, settings.tempo, since_s, first=first_phase(settings))

    def _follow(self, view: LiveView, settings: Settings) -> None:
        phase, since_s = view.snapshot.phase, view.snapshot.phase_since_s
        if phase is None or phase is self._phase:
            return
        if self._phase is Phase.BOTTOM and phase is first_phase(settings) and since_s is not None:
            self._number, self._began_s, self._turned = self._number + 1, since_s, False
        self._turned = self._turned or phase not in (Phase.BOTTOM, first_phase(settings))
        self._phase = phase

    def _pace(self, span: SetSpan, now_s: float, settings: Settings, goal: Goal) -> Pulse | None:
        tempo, from_s = settings.tempo, span.paced_from_s
        if tempo is None or from_s is None:
            return None
        since_s = now_s - from_s
        if not goal.to_exhaustion and since_s >= goal.repetitions * tempo.cycle_s:
            return None
        return Pulse(self._number, tempo, since_s, COUNT_IN_BEATS, repeats=True, first=first_phase(settings))
