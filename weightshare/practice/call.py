"""What is called out to whoever cannot look: a few short words at the right moment, seldom, and never late."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.exercise import Exercise, Phase
from weightshare.practice.prompt import SLOW_S
from weightshare.practice.screen import Screen, Shape, Step
from weightshare.task import Settings
from weightshare.tongue import mark, say

APART_S = 0.7
"""From one call to the next at least, s: words that run into each other tell nothing (our own choice, no source)."""
LATE_S = 1.0
"""What could not be called for so long is not called any more, s."""
WRONG_FOR_S, AGAIN_AFTER_S = 0.8, 5.0
"""How long the load is on the wrong side before that is called, and from one such call to the next, s."""
AFTER_ALARM_S = 1.5
"""So long after an alarm nothing is called, s."""
REST = mark("Rest")
HOLD = mark("Hold")
_PHASES = {Phase.RISE: mark("Up"), Phase.TOP: HOLD, Phase.LOWERING: mark("Slowly down")}
_OWN = {
    Exercise.SQUAT: {Phase.RISE: mark("Up again"), Phase.LOWERING: mark("Slowly down")},
    Exercise.SIT_TO_STAND: {
        Phase.RISE: mark("Stand up"),
        Phase.TOP: mark("Stand tall"),
        Phase.LOWERING: mark("Sit down slowly"),
    },
}
_QUICK = {mark("Slowly down"): mark("Down"), mark("Sit down slowly"): mark("Sit down")}
"""What is called where the way down is asked for quickly."""
_TOWARDS = {Shape.TO_LEFT: mark("More on the left"), Shape.TO_RIGHT: mark("More on the right")}


@dataclass(frozen=True, slots=True)
class Call:
    """A few words, and when they were due (host's monotonic clock, s)."""

    words: str
    at_s: float


class Caller:
    """Tells, screen by screen, what is to be called out now.

    Nothing is while an alarm stands, without data, and in a blind set: that one is done without help.
    """

    def __init__(self) -> None:
        self._step = Step.CONNECT
        self._phase: Phase | None = None
        self._count = 0
        self._counts = self._reached = False
        self._wrong_since_s: float | None = None
        self._corrected_s = self._said_s = float("-inf")
        self._quiet_until_s = float("-inf")
        self._due: Call | None = None

    def push(self, screen: Screen, settings: Settings, now_s: float) -> str:
        """Take the newest screen and the host's time (s); return what is to be called now, empty for nothing."""
        due = self._find(screen, settings, now_s)
        if screen.alarm is not None:
            self._due, self._quiet_until_s = None, now_s + AFTER_ALARM_S
            return ""
        if due:
            self._due = Call(due, now_s)
        if self._due is not None and now_s - self._due.at_s > LATE_S:
            self._due = None
        if self._due is None or now_s < max(self._quiet_until_s, self._said_s + APART_S):
            return ""
        call, self._due, self._said_s = self._due, None, now_s
        return call.words

    def _find(self, screen: Screen, settings: Settings, now_s: float) -> str:
        """Return what has just become due; what was seen is noted, whether it is called or not."""
        before, self._step = self._step, screen.step
        path = screen.path
        if screen.step is not Step.PRACTISE or screen.blank or path is None or path.hidden:
            self._phase, self._wrong_since_s = None, None
            self._count, self._counts, self._reached = 0, False, False
            return say(REST) if screen.step is Step.REST and before is Step.PRACTISE else ""
        if screen.figures.held_unit:
            return self._hold(screen, counts=path.counts) or self._correct(screen, now_s, cued=path.cued)
        return self._lift(screen, settings) or self._correct(screen, now_s, cued=path.cued)

    def _lift(self, screen: Screen, settings: Settings) -> str:
        count, phase = int(screen.figures.held or 0), screen.phase
        counted, self._count = count > self._count, count
        turned, self._phase = phase is not self._phase, phase
        if counted:
            return str(count)
        return _phase_words(phase, settings) if turned and phase is not None else ""

    def _hold(self, screen: Screen, *, counts: bool) -> str:
        reached = screen.figures.held_fraction >= 1.0
        begun, self._counts = counts and not self._counts, counts
        done, self._reached = reached and not self._reached, reached
        return say(REST) if done else say(HOLD) if begun and not reached else ""

    def _correct(self, screen: Screen, now_s: float, *, cued: bool) -> str:
        """Return to which side the load belongs, where it has been elsewhere for a while."""
        if screen.shape not in _TOWARDS or not cued:
            self._wrong_since_s = None
            return ""
        since_s = self._wrong_since_s = now_s if self._wrong_since_s is None else self._wrong_since_s
        if now_s - since_s < WRONG_FOR_S or now_s - self._corrected_s < AGAIN_AFTER_S:
            return ""
        self._corrected_s = now_s
        return say(_TOWARDS[screen.shape])


def _phase_words(phase: Phase, settings: Settings) -> str:
    words = _OWN.get(settings.exercise or Exercise.RAISE, _PHASES).get(phase, "")
    quick = settings.tempo is not None and settings.tempo.lowering_s < SLOW_S
    return say(_QUICK.get(words, words) if quick else words)
