"""Practice at home, without a key: whoever stands still on the plates begins, whoever stays away ends. No Qt."""

from __future__ import annotations

import math
from collections import deque
from dataclasses import replace

from weightshare.exercise import Exercise
from weightshare.practice.flow import PRACTISING, SOMEONE_PART, Action, Flow
from weightshare.practice.screen import Screen, Step
from weightshare.practice.view import LiveView
from weightshare.state import Snapshot
from weightshare.task import Settings
from weightshare.tongue import mark, say

COUNT_S = 5.0
"""Practice begins so long after somebody began to stand still, s (our own choice, no source)."""
STILL_S, STILL_PART = 1.0, 0.1
"""Who stands still changes the load by no more than this part of it within so long."""
OFF_S, TOLD_S = 60.0, 20.0
"""A session ends when the plates have been empty for the first, s; it is said for the last so many of them."""
STANDS_PART, FOOT_PART, LEAST_N = 0.8, 0.03, 50.0
"""Who stands has so much of body weight on the plates, and each foot so much of it; any load, where it is not known."""
STAND_STILL = mark("Stand still on the plates: it begins by itself.")
BEGINS = mark("Stand still. It begins in {seconds} \u2026 Step off to stop it.")
ENDS = mark("Nobody on the plates: the session ends in {seconds} s. Step on to go on.")


class Home:
    """Follows one window's sessions. Time is that of the samples, s: without samples nothing begins, nothing ends."""

    def __init__(self) -> None:
        self._totals: deque[tuple[float, float]] = deque()
        self._still_since_s: float | None = None
        self._off_since_s: float | None = None

    def follow(
        self, flow: Flow, view: LiveView, screen: Screen, action: Action, *, may_begin: bool
    ) -> tuple[Screen, Action]:
        """Return what to show, and what to do: `screen` and `action`, but where practice begins or ends by itself.

        may_begin: False where something else has to be decided first, or a page covers the screen.
        """
        snapshot = view.snapshot
        held = view.stale or flow.asking_to_end or screen.alarm is not None or snapshot.time_s is None
        if held or action is not Action.NOTHING or flow.step not in (Step.READY, *PRACTISING):
            self._forget()
            return screen, action
        if flow.step is Step.READY:
            self._off_since_s = None
            return self._begin(flow, snapshot, screen) if may_begin and screen.key else self._wait(screen)
        self._forget_stand()
        return self._end(flow, view, screen)

    def _wait(self, screen: Screen) -> tuple[Screen, Action]:
        self._forget_stand()
        return screen, Action.NOTHING

    def _forget(self) -> None:
        self._off_since_s = None
        self._forget_stand()

    def _forget_stand(self) -> None:
        self._totals.clear()
        self._still_since_s = None

    def _begin(self, flow: Flow, snapshot: Snapshot, screen: Screen) -> tuple[Screen, Action]:
        left_s = self._left_s(snapshot, flow.settings)
        if left_s is None:
            return replace(screen, headline=say(STAND_STILL)), Action.NOTHING
        if left_s > 0.0:
            return replace(screen, headline=say(BEGINS, seconds=math.ceil(left_s))), Action.NOTHING
        self._forget()
        return screen, flow.press()

    def _left_s(self, snapshot: Snapshot, settings: Settings) -> float | None:
        """Return how long until practice begins, s; None while nobody stands still."""
        assert snapshot.time_s is not None
        total_N = _total_N(snapshot)
        if total_N is None or not _stands(snapshot, settings):
            self._forget_stand()
            return None
        while self._totals and self._totals[0][0] < snapshot.time_s - STILL_S:
            self._totals.popleft()
        if not self._totals:
            # who was there before a gap may have been away in it
            self._still_since_s = None
        self._totals.append((snapshot.time_s, total_N))
        loads = [load for _, load in self._totals]
        if max(loads) - min(loads) > STILL_PART * total_N:
            self._still_since_s = None
            return None
        if self._still_since_s is None or snapshot.time_s < self._still_since_s:
            self._still_since_s = snapshot.time_s
        return self._still_since_s + COUNT_S - snapshot.time_s

    def _end(self, flow: Flow, view: LiveView, screen: Screen) -> tuple[Screen, Action]:
        snapshot = view.snapshot
        assert snapshot.time_s is not None
        total_N = _total_N(snapshot)
        someone_N = max(LEAST_N, SOMEONE_PART * (snapshot.body_weight_N or 0.0))
        if total_N is None or total_N >= someone_N:
            self._off_since_s = None
            return screen, Action.NOTHING
        if self._off_since_s is None:
            self._off_since_s = snapshot.time_s
        # in a rest nobody has to stand there
        rest_until_s = view.sets.rest_until_s(flow.goal) if flow.step is Step.REST else None
        since_s = max(self._off_since_s, rest_until_s or 0.0)
        left_s = since_s + OFF_S - snapshot.time_s
        if left_s <= 0.0:
            self._forget()
            return screen, flow.end()
        told = replace(screen, headline=say(ENDS, seconds=math.ceil(left_s))) if left_s <= TOLD_S else screen
        return told, Action.NOTHING


def _total_N(snapshot: Snapshot) -> float | None:
    if snapshot.left_N is None or snapshot.right_N is None:
        return None
    return snapshot.left_N + snapshot.right_N


def _stands(snapshot: Snapshot, settings: Settings) -> bool:
    """Return whether somebody is on the plates as the exercise begins: stands, or sits with the feet on them."""
    total_N, weight_N = _total_N(snapshot), snapshot.body_weight_N
    if total_N is None:
        return False
    if settings.is_supported or weight_N is None:
        return settings.is_supported and total_N >= LEAST_N
    if settings.exercise is Exercise.SIT_TO_STAND:
        return total_N >= max(LEAST_N, SOMEONE_PART * weight_N)
    feet = (snapshot.left_N or 0.0, snapshot.right_N or 0.0)
    both = settings.exercise is Exercise.SINGLE_RAISE or min(feet) >= FOOT_PART * weight_N
    return both and total_N >= STANDS_PART * weight_N
