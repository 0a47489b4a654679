"""The check of left and right: one named foot is pressed lightly, and its plate must be the one that feels it."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from enum import StrEnum

from weightshare.model import Side

STILL_S = 1.0
"""Over how long both sides must be still before the press, s."""
STILL_PART = 0.05
"""How far each side may move within that time, as part of body weight."""
PRESS_S = 0.6
"""How long the press must last, s."""
SEATED_PART, STANDING_PART = 0.05, 0.16
"""The change of left minus right that is a press, as part of body weight: a light one from a chair, and a lean
that stands clear of quiet sway (some five points of share)."""
POSTURE_PART = 0.3
"""A total that changes by more of body weight than this is sitting down or getting up: start again."""


class Verdict(StrEnum):
    """What the check has found so far."""

    SETTLING = "settling"
    """Waiting for a still second to compare with."""
    ASKING = "asking"
    """Waiting for the press."""
    PASSED = "passed"
    SWAPPED = "swapped"
    """The other side rose."""


@dataclass(frozen=True, slots=True)
class _Reading:
    time_s: float
    left_N: float
    right_N: float

    @property
    def total_N(self) -> float:
        return self.left_N + self.right_N


class SideCheck:
    """Compares the change of the two sides' forces while the named foot is pressed. Time is sample time.

    Nobody is asked to stand on one leg: a light press from a chair, or a lean with a hand on the rail, is enough.
    """

    def __init__(self, named: Side, body_weight_N: float) -> None:
        self.named = named
        self.verdict = Verdict.SETTLING
        self.progress = 0.0
        """How much of the change that is needed is there now, 0 to 1."""
        self._weight_N = body_weight_N
        self._recent: deque[_Reading] = deque()
        self._rest: _Reading | None = None
        self._since_s: dict[int, float | None] = {1: None, -1: None}

    def push(self, time_s: float, left_N: float, right_N: float) -> Verdict:
        """Take one reading (s, N, N), newest last, and return the verdict. A time already seen is passed over."""
        if self.verdict in (Verdict.PASSED, Verdict.SWAPPED) or (self._recent and time_s <= self._recent[-1].time_s):
            return self.verdict
        reading = _Reading(time_s, left_N, right_N)
        self._recent.append(reading)
        while self._recent[-1].time_s - self._recent[0].time_s > STILL_S:
            self._recent.popleft()
        if self._rest is None or abs(reading.total_N - self._rest.total_N) > POSTURE_PART * self._weight_N:
            self._settle()
        else:
            self._compare(reading, self._rest)
        return self.verdict

    def lose(self) -> None:
        """Forget what was compared with: the data stopped, or nobody is there."""
        if self.verdict in (Verdict.SETTLING, Verdict.ASKING):
            self._forget()

    def again(self) -> None:
        """Ask anew."""
        self._forget()

    def _forget(self) -> None:
        self.verdict, self._rest, self.progress = Verdict.SETTLING, None, 0.0
        self._recent.clear()
        self._since_s = {1: None, -1: None}

    def _settle(self) -> None:
        self.verdict, self._rest, self.progress = Verdict.SETTLING, None, 0.0
        readings = self._recent
        if readings[-1].time_s - readings[0].time_s < 0.9 * STILL_S:
            return
        left, right = [r.left_N for r in readings], [r.right_N for r in readings]
        if max(max(left) - min(left), max(right) - min(right)) <= STILL_PART * self._weight_N:
            self._rest = _Reading(readings[-1].time_s, sum(left) / len(left), sum(right) / len(right))
            self._since_s = {1: None, -1: None}
            self.verdict = Verdict.ASKING

    def _compare(self, now: _Reading, rest: _Reading) -> None:
        moved_N = (now.left_N - rest.left_N) - (now.right_N - rest.right_N)
        if self.named is Side.RIGHT:
            moved_N = -moved_N
        seated = rest.total_N < 0.5 * self._weight_N
        needed_N = (SEATED_PART if seated else STANDING_PART) * self._weight_N
        self.progress = min(1.0, max(0.0, moved_N / needed_N))
        if self._lasting(1, moved_N >= needed_N, now.time_s, PRESS_S):
            self.verdict = Verdict.PASSED
        elif self._lasting(-1, moved_N <= -needed_N, now.time_s, 2 * PRESS_S):
            self.verdict = Verdict.SWAPPED

    def _lasting(self, direction: int, pressed: bool, time_s: float, needed_s: float) -> bool:
        since_s = self._since_s[direction]
        if not pressed:
            self._since_s[direction] = None
            return False
        if since_s is None:
            self._since_s[direction] = since_s = time_s
        return time_s - since_s >= needed_s
