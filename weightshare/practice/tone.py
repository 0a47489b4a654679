"""When a sound is due, and the sounds themselves, synthesised as arrays. No Qt and no audio library."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.practice.screen import AlarmKind, Figures, Path, Screen, Step

Samples: TypeAlias = NDArray[np.float32]

ATTACK_S, RELEASE_S = 0.012, 0.06
"""Tones swell and fade: a hard edge is a click."""
QUIET_S = 0.4
"""At most one reaching or losing sound in this time, s: at the band's edge they would chatter."""
ALARM_EVERY_S = 0.9
"""How soon an alarm's sound comes again, s."""


class Cue(StrEnum):
    """What a sound says."""

    REACH = "reach"
    HOLD = "hold"
    LOSE = "lose"
    GOAL = "goal"
    COUNT = "count"
    """A repetition counted."""
    REST = "rest"
    BEGIN = "begin"
    """The next set begins as the person starts."""
    OVER = "over the ceiling"
    UNREAD = "load cannot be read"


_NOTES = {
    Cue.REACH: ((523.25, 0.00, 0.16), (659.26, 0.10, 0.22)),
    Cue.HOLD: ((659.26, 0.00, 0.05),),
    Cue.LOSE: ((440.00, 0.00, 0.16), (329.63, 0.12, 0.26)),
    Cue.GOAL: ((523.25, 0.00, 0.18), (659.26, 0.12, 0.18), (783.99, 0.24, 0.45)),
    Cue.COUNT: ((783.99, 0.00, 0.10),),
    Cue.REST: ((659.26, 0.00, 0.20), (523.25, 0.16, 0.20), (392.00, 0.32, 0.40)),
    Cue.BEGIN: ((392.00, 0.00, 0.16), (392.00, 0.22, 0.16), (523.25, 0.44, 0.30)),
    Cue.OVER: ((987.77, 0.00, 0.12), (987.77, 0.16, 0.12), (987.77, 0.32, 0.12), (987.77, 0.48, 0.12)),
    Cue.UNREAD: ((440.00, 0.00, 0.28), (587.33, 0.30, 0.28)),
}
"""Pitch (Hz, equal temperament, A4 = 440 Hz), start and length (s): up is won, down is lost, short is: still there."""
_LEVEL = dict.fromkeys(Cue, 0.30) | {Cue.HOLD: 0.10, Cue.GOAL: 0.32, Cue.COUNT: 0.22, Cue.OVER: 0.45, Cue.UNREAD: 0.45}


def synthesise(cue: Cue, rate_Hz: float = 48_000.0) -> Samples:
    """Return the sound of `cue`: float32 of shape (samples,), within -1 to 1, beginning and ending in silence."""
    notes = _NOTES[cue]
    end_s = max(start_s + length_s for _pitch, start_s, length_s in notes)
    sound = np.zeros(round(end_s * rate_Hz), dtype=np.float64)
    for pitch_Hz, start_s, length_s in notes:
        first = round(start_s * rate_Hz)
        tone = _tone(pitch_Hz, length_s, rate_Hz)[: len(sound) - first]
        sound[first : first + len(tone)] += tone
    samples: Samples = (_LEVEL[cue] * sound / np.max(np.abs(sound))).astype(np.float32)
    return samples


def _tone(pitch_Hz: float, length_s: float, rate_Hz: float) -> NDArray[np.float64]:
    time_s = np.arange(round(length_s * rate_Hz)) / rate_Hz
    swell = np.minimum(1.0, time_s / ATTACK_S) * np.minimum(1.0, (length_s - time_s) / RELEASE_S)
    wave = np.sin(2 * np.pi * pitch_Hz * time_s) + 0.2 * np.sin(4 * np.pi * pitch_Hz * time_s)
    tone: NDArray[np.float64] = wave * np.clip(swell, 0.0, 1.0) ** 2
    return tone


class CueTeller:
    """Tells, screen by screen, which sound is due: reaching, each second held or repetition counted, the goal, losing.

    An alarm goes before all of them, and comes again as long as it stands. A blind set has no other sound.
    """

    def __init__(self) -> None:
        self._quiet_until_s = self._alarm_again_s = float("-inf")
        self._alarmed: AlarmKind | None = None
        self._step = Step.CONNECT
        self._reset()

    def _reset(self) -> None:
        self._said_counts = False
        self._number = 0
        self._reached_goal = False

    def push(self, screen: Screen, now_s: float) -> Cue | None:
        """Take the newest screen and the host's time (s); return the sound that is due, if any."""
        before, self._step = self._step, screen.step
        if screen.alarm is not None:
            return self._alarm(screen.alarm.kind, now_s)
        self._alarmed = None
        if screen.step is not Step.PRACTISE or screen.path is None or screen.path.hidden:
            self._reset()
            return _say_step(before, screen)
        if before is Step.REST:
            self._reset()
            return Cue.BEGIN
        return self._practise(screen, screen.path, now_s)

    def _alarm(self, kind: AlarmKind, now_s: float) -> Cue | None:
        if kind is self._alarmed and now_s < self._alarm_again_s:
            return None
        self._alarmed, self._alarm_again_s = kind, now_s + ALARM_EVERY_S
        return Cue.OVER if kind is AlarmKind.OVER else Cue.UNREAD

    def _practise(self, screen: Screen, path: Path, now_s: float) -> Cue | None:
        in_seconds = screen.figures.held_unit == "s"
        number = int(screen.figures.held or 0)
        reached = screen.figures.held_fraction >= 1.0
        newly_reached, self._reached_goal = reached and not self._reached_goal, reached
        ticked, self._number = number > self._number, number
        if newly_reached:
            return self._say(Cue.GOAL, path.counts, now_s)
        if ticked and not in_seconds:
            return Cue.COUNT
        if not path.cued:
            # where the band turns, neither is said; what comes after it begins anew
            self._said_counts = False
            return None
        if path.counts is not self._said_counts and now_s >= self._quiet_until_s:
            return self._say(Cue.REACH if path.counts else Cue.LOSE, path.counts, now_s)
        return Cue.HOLD if ticked and path.counts and not reached else None

    def _say(self, cue: Cue, counts: bool, now_s: float) -> Cue:
        self._said_counts = counts
        self._quiet_until_s = now_s + QUIET_S
        return cue


def _say_step(before: Step, screen: Screen) -> Cue | None:
    """Return what sounds where a set, or all of them, are over."""
    if screen.step is Step.REST and before is Step.PRACTISE:
        return Cue.REST
    all_done = screen.summary is not None and bool(screen.summary.heads) and _are_all_done(screen.figures)
    return Cue.GOAL if all_done and before in (Step.PRACTISE, Step.REST) else None


def _are_all_done(figures: Figures) -> bool:
    return figures.holds_done >= figures.holds_asked
