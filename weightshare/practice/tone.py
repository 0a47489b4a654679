"""When a sound is due, and the sounds themselves, synthesised as arrays. No Qt and no audio library."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.practice.screen import Screen, Step

Samples: TypeAlias = NDArray[np.float32]

ATTACK_S, RELEASE_S = 0.012, 0.06
"""Tones swell and fade: a hard edge is a click."""
QUIET_S = 0.4
"""At most one reaching or losing sound in this time, s: at the band's edge they would chatter."""


class Cue(StrEnum):
    """What a sound says."""

    REACH = "reach"
    HOLD = "hold"
    LOSE = "lose"
    GOAL = "goal"


_NOTES = {
    Cue.REACH: ((523.25, 0.00, 0.16), (659.26, 0.10, 0.22)),
    Cue.HOLD: ((659.26, 0.00, 0.05),),
    Cue.LOSE: ((440.00, 0.00, 0.16), (329.63, 0.12, 0.26)),
    Cue.GOAL: ((523.25, 0.00, 0.18), (659.26, 0.12, 0.18), (783.99, 0.24, 0.45)),
}
"""Pitch (Hz, equal temperament, A4 = 440 Hz), start and length (s): up is won, down is lost, short is: still there."""
_LEVEL = {Cue.REACH: 0.30, Cue.HOLD: 0.10, Cue.LOSE: 0.30, Cue.GOAL: 0.32}


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
    """Tells, screen by screen, which sound is due: reaching, each second held, the goal, losing."""

    def __init__(self) -> None:
        self._quiet_until_s = float("-inf")
        self._reset()

    def _reset(self) -> None:
        self._said_counts = False
        self._second = 0
        self._reached_goal = False

    def push(self, screen: Screen, now_s: float) -> Cue | None:
        """Take the newest screen and the host's time (s); return the sound that is due, if any."""
        if screen.step is not Step.PRACTISE or screen.path is None:
            self._reset()
            return None
        counts = screen.path.counts
        second = int(screen.figures.held or 0)
        reached = screen.figures.held_fraction >= 1.0
        newly_reached, self._reached_goal = reached and not self._reached_goal, reached
        ticked, self._second = second > self._second, second
        if newly_reached:
            return self._say(Cue.GOAL, counts, now_s)
        if counts is not self._said_counts and now_s >= self._quiet_until_s:
            return self._say(Cue.REACH if counts else Cue.LOSE, counts, now_s)
        return Cue.HOLD if ticked and counts and not reached else None

    def _say(self, cue: Cue, counts: bool, now_s: float) -> Cue:
        self._said_counts = counts
        self._quiet_until_s = now_s + QUIET_S
        return cue
