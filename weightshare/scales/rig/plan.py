"""What a person means to do, as moves on three lanes: share, presence on the plates, tremor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from weightshare.model import Side
from weightshare.scales.rig.catalog import Profile


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked of the person, and so of whoever checks the result."""

    injured: Side = Side.LEFT
    target_percent: float = 75.0
    tolerance_percent: float = 5.0
    grace_s: float = 1.0
    hold_goal_s: float = 30.0


class Lane(StrEnum):
    """What a move acts upon."""

    SHARE = "share"
    """The injured side's share of the load on the plates, percent."""
    PRESENCE = "presence"
    """The part of body weight that is on the plates, 0 to 1."""
    TREMOR = "tremor"
    """Standard deviation of the tremor, points."""
    WATCHING = "watching"
    """0 while just standing, 1 while the share is watched and steered."""


@dataclass(frozen=True, slots=True)
class Move:
    """One smooth move on one lane (s since the first sample)."""

    lane: Lane
    start_s: float
    duration_s: float
    value: float


@dataclass(frozen=True, slots=True)
class Phase:
    """Moves that belong together; all of the next phase's moves start at `end_s` or later."""

    end_s: float
    moves: tuple[Move, ...]
    event: str = ""
    """A name for the truth: `on`, `off`, or empty."""
    event_s: float = 0.0


LEAVES_AT_S = 20.0
"""When the leaver steps off for the first time, where the first hold still runs then."""


def plan(profile: Profile, task: Task, rng: np.random.Generator) -> Iterator[Phase]:
    """Yield phase after phase, without end: step on, stand, then the exercise over and over."""
    on_s = 3.0 + rng.uniform(0.0, 0.3)
    yield step_on(on_s, profile.habit_percent)
    now_s = on_s + 0.6 + rng.uniform(5.4, 6.0)
    yield Phase(now_s, (Move(Lane.WATCHING, now_s - 0.4, 0.4, 1.0 if profile.follows or profile.steered else 0.0),))
    if profile.rail_fraction:
        yield Phase(now_s + 0.8, (Move(Lane.PRESENCE, now_s, 0.8, 1.0 - profile.rail_fraction),))
        now_s += 0.8
    count = 0
    while profile.follows:
        for phase in _exercise(profile, task, rng, now_s, first=count == 0):
            now_s = phase.end_s
            yield phase
        count += 1
    while True:
        now_s += 60.0
        yield Phase(now_s, ())


def step_on(start_s: float, share_percent: float) -> Phase:
    """Return the moves of stepping up within 0.6 s: the good foot first, with the body's weight landing on it."""
    moves = (
        Move(Lane.PRESENCE, start_s, 0.24, 1.06),
        Move(Lane.PRESENCE, start_s + 0.24, 0.16, 0.985),
        Move(Lane.PRESENCE, start_s + 0.40, 0.20, 1.0),
        Move(Lane.SHARE, start_s + 0.22, 0.38, share_percent),
    )
    return Phase(start_s + 0.6, moves, "on", start_s)


def step_off(start_s: float) -> Phase:
    """Return the moves of stepping down within 0.45 s: the injured foot first."""
    moves = (
        Move(Lane.SHARE, start_s, 0.25, 0.0),
        Move(Lane.PRESENCE, start_s + 0.05, 0.40, 0.0),
        Move(Lane.TREMOR, start_s, 0.3, 0.0),
    )
    return Phase(start_s + 0.45, moves, "off", start_s)


def rest_percent(task: Task) -> float:
    """Return where the load rests between holds: even, or beside the band where even lies in it or near it."""
    if abs(task.target_percent - 50.0) > task.tolerance_percent + 3.0:
        return 50.0
    return max(task.target_percent - task.tolerance_percent - 5.0, 5.0)


def _exercise(profile: Profile, task: Task, rng: np.random.Generator, cue_s: float, *, first: bool) -> Iterator[Phase]:
    begin_s = cue_s + rng.uniform(*profile.reaction_s)
    duration_s = rng.uniform(*profile.move_s)
    arrive_s = begin_s + duration_s
    low, high = profile.tremor_points
    hold_s = task.hold_goal_s + 1.0
    moves = [
        Move(Lane.SHARE, begin_s, duration_s, _aim(profile, task, rng, 1.0)),
        Move(Lane.TREMOR, begin_s, duration_s, low),
        Move(Lane.TREMOR, arrive_s, hold_s, high),
    ]
    yield Phase(arrive_s, tuple(moves))
    end_s = arrive_s + hold_s
    leave_s = _leaving(profile, task, arrive_s, first) if profile.leaves else None
    for phase in _hold(profile, task, rng, arrive_s, min(end_s, leave_s or end_s)):
        end_s = max(phase.end_s, end_s) if leave_s is None else phase.end_s
        yield phase
    if leave_s is None:
        back = Move(Lane.SHARE, end_s, rng.uniform(*profile.move_s), rest_percent(task))
        calm = Move(Lane.TREMOR, end_s, 0.5, 0.0)
        yield Phase(end_s + back.duration_s + rng.uniform(2.0, 3.5), (back, calm))
    else:
        yield step_off(leave_s)
        again = step_on(leave_s + rng.uniform(3.0, 5.0), 50.0)
        yield again
        yield Phase(again.end_s + rng.uniform(1.5, 2.5), ())


def _leaving(profile: Profile, task: Task, arrive_s: float, first: bool) -> float:
    middle_s = arrive_s + 0.6 * task.hold_goal_s
    return LEAVES_AT_S if first and arrive_s + 1.0 < LEAVES_AT_S < arrive_s + task.hold_goal_s else middle_s


def _hold(profile: Profile, task: Task, rng: np.random.Generator, arrive_s: float, end_s: float) -> Iterator[Phase]:
    """Yield corrections, and strays where the person strays, until `end_s`."""
    now_s = arrive_s + rng.uniform(*profile.reaction_s)
    whole_s = end_s - arrive_s
    stray_s = arrive_s + rng.uniform(*profile.stray_every_s) if profile.stray_every_s else np.inf
    while True:
        tired = min((now_s - arrive_s) / whole_s, 1.0)
        if now_s >= stray_s and profile.stray_every_s:
            phase = _stray(profile, task, rng, now_s)
            end_s += phase.end_s - now_s
            stray_s = phase.end_s + rng.uniform(*profile.stray_every_s)
        else:
            move = Move(Lane.SHARE, now_s, 0.5, _aim(profile, task, rng, 0.4 + 0.6 * tired))
            phase = Phase(now_s + 0.5 + rng.uniform(0.8, 2.2), (move,))
        if now_s + 0.5 > end_s:
            return
        yield Phase(min(phase.end_s, end_s), phase.moves)
        now_s = phase.end_s
        if now_s >= end_s:
            return


def _stray(profile: Profile, task: Task, rng: np.random.Generator, start_s: float) -> Phase:
    """Return a stray well out of the band and back: two of three shorter than the grace time, clearly so."""
    away = task.tolerance_percent + rng.uniform(1.5, 3.5)
    upwards = rng.random() < 0.4 and task.target_percent + away < 95.0
    long = rng.random() < 0.33
    stay_s = task.grace_s + rng.uniform(0.5, 1.2) if long else 0.25 * task.grace_s * rng.random()
    moves = (
        Move(Lane.SHARE, start_s, 0.4, task.target_percent + (away if upwards else -away)),
        Move(Lane.SHARE, start_s + 0.4 + stay_s, 0.45, _aim(profile, task, rng, 1.0)),
    )
    return Phase(start_s + 0.4 + stay_s + 0.45 + rng.uniform(0.2, 0.5), moves)


def _aim(profile: Profile, task: Task, rng: np.random.Generator, spread: float) -> float:
    reach = 0.3 * task.tolerance_percent
    aim = task.target_percent + float(np.clip(rng.normal(0.0, profile.aim_points * spread), -reach, reach))
    return float(np.clip(aim, 0.5, 99.5))
