"""What a person means to do, as moves on three lanes: share, presence on the plates, tremor."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.scales.rig.profile import Profile
from weightshare.task import Goal, Settings


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked of the person, and so of whoever checks the result."""

    injured: Side = Side.LEFT
    target_percent: float = 75.0
    tolerance_percent: float = 5.0
    grace_s: float = 1.0
    hold_goal_s: float = 30.0
    exercise: Exercise | None = None
    """None, as HOLD: the share is held while standing."""
    tempo: Tempo | None = None
    """None: the person's own."""
    sets: int = 3
    repetitions: int = 10
    rest_s: float = 60.0
    surface: Surface = Surface.FLOOR
    working: Side | None = None
    """The leg that works in single-leg work; None: the injured one."""
    reference_height_mm: float | None = None
    """The height of a full raise; None: as high as the person can."""
    to_exhaustion: bool = False
    holds: int = 3
    """Of holds with the heels up: how many make up a set."""
    load_N: float | None = None
    """Supported work: the load that is asked for on the injured side; None: a share is."""
    load_tolerance_N: float = 0.0

    @classmethod
    def of(cls, settings: Settings, goal: Goal) -> Task:
        """Return what `settings` and `goal` ask of a person; without a target an even split."""
        target = 50.0 if settings.target_percent is None else settings.target_percent
        return cls(
            settings.injured,
            target,
            settings.tolerance_percent,
            settings.grace_s,
            goal.hold_s,
            settings.exercise,
            settings.tempo,
            goal.sets,
            goal.repetitions,
            goal.rest_s,
            settings.surface,
            settings.working,
            settings.reference_height_mm,
            goal.to_exhaustion,
            goal.holds,
            settings.load_N,
            settings.load_tolerance_N if settings.is_supported else 0.0,
        )

    def for_weight(self, body_weight_N: float) -> Task:
        """Return it for a person of that weight, all of it on the plates: a load is a share of it."""
        if self.load_N is None:
            return self
        target, tolerance = (100.0 * force_N / body_weight_N for force_N in (self.load_N, self.load_tolerance_N))
        return replace(self, target_percent=target, tolerance_percent=tolerance)

    @property
    def moves_body(self) -> bool:
        """Whether heels or knees move in it, rather than the load alone."""
        return self.exercise not in (None, Exercise.HOLD)

    @property
    def working_side(self) -> Side:
        """The side whose heel counts: the working leg in single-leg work, else the injured one."""
        single = self.exercise is not None and self.exercise.is_single
        return self.working if single and self.working is not None else self.injured


class Lane(StrEnum):
    """What a move acts upon. Two lanes of one thing are the injured and the good side's."""

    SHARE = "share"
    """The injured side's share of the load on the plates, percent."""
    PRESENCE = "presence"
    """The part of body weight that is on the plates, 0 to 1."""
    TREMOR = "tremor"
    """Standard deviation of the tremor, points."""
    WATCHING = "watching"
    """0 while just standing, 1 while the share is watched and steered."""
    HEEL = "heel"
    """Height of the heel over the level of standing, mm, as the body rests on it."""
    GOOD_HEEL = "good heel"
    AWAY = "away"
    """How far the foot is lifted off its plate, mm."""
    GOOD_AWAY = "good away"
    FRONT = "front"
    """The part of the foot's load on the front supports, 0 to 1."""
    GOOD_FRONT = "good front"
    WOBBLE = "wobble"
    """How much both heels wobble: 0 with the heels down, 1 with the heels up."""
    BODY = "body"
    """Height of the centre of mass by knees and hips, mm over that of standing."""


HEELS, AWAYS, FRONTS = (Lane.HEEL, Lane.GOOD_HEEL), (Lane.AWAY, Lane.GOOD_AWAY), (Lane.FRONT, Lane.GOOD_FRONT)
STANDING_FRONT = 0.42
"""The part of a foot's load on the front supports while standing."""
AWAY_MM = 400.0
"""So far is a foot that is not over its plate at all."""


@dataclass(frozen=True, slots=True)
class Move:
    """One smooth move on one lane (s since the first sample), by default to rest."""

    lane: Lane
    start_s: float
    duration_s: float
    value: float
    speed: float = 0.0
    acceleration: float = 0.0


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that the person means to do, or happens to do, from `from_s` to `to_s`; a part of set `number`."""

    what: str
    from_s: float
    to_s: float
    number: int = 0
    working: Side | None = None
    counts: bool = False
    """Whether it is one of the repetitions (or holds) that are asked for."""


@dataclass(frozen=True, slots=True)
class Phase:
    """Moves that belong together; all of the next phase's moves start at `end_s` or later."""

    end_s: float
    moves: tuple[Move, ...]
    event: str = ""
    """A name for the truth: `on`, `off`, or empty."""
    event_s: float = 0.0
    deed: Deed | None = None


LEAVES_AT_S = 20.0
"""When the leaver steps off for the first time, where the first hold still runs then."""


def plan(profile: Profile, task: Task, rng: np.random.Generator) -> Iterator[Phase]:
    """Yield phase after phase, without end: step on, stand, then hold after hold."""
    now_s = yield from arrive(profile, rng)
    count = 0
    while profile.follows:
        for phase in _exercise(profile, task, rng, now_s, first=count == 0):
            now_s = phase.end_s
            yield phase
        count += 1
    while True:
        now_s += 60.0
        yield Phase(now_s, ())


def arrive(profile: Profile, rng: np.random.Generator) -> Generator[Phase, None, float]:
    """Yield stepping on, and standing until one is weighed; return when that is over (s)."""
    on_s = 3.0 + rng.uniform(0.0, 0.3)
    yield step_on(on_s, profile.habit_percent)
    now_s = on_s + 0.6 + rng.uniform(5.4, 6.0)
    yield Phase(now_s, (Move(Lane.WATCHING, now_s - 0.4, 0.4, 1.0 if profile.follows or profile.steered else 0.0),))
    if profile.rail_fraction:
        yield Phase(now_s + 0.8, (Move(Lane.PRESENCE, now_s, 0.8, 1.0 - profile.rail_fraction),))
        now_s += 0.8
    return now_s


def step_on(start_s: float, share_percent: float) -> Phase:
    """Return the moves of stepping up within 0.6 s: the good foot first, with the body's weight landing on it."""
    moves = (
        Move(Lane.PRESENCE, start_s, 0.24, 1.06),
        Move(Lane.PRESENCE, start_s + 0.24, 0.16, 0.985),
        Move(Lane.PRESENCE, start_s + 0.40, 0.20, 1.0),
        Move(Lane.SHARE, start_s + 0.22, 0.38, share_percent),
        Move(Lane.GOOD_AWAY, start_s, 0.12, 0.0),
        Move(Lane.AWAY, start_s + 0.1, 0.14, 0.0),
    )
    return Phase(start_s + 0.6, moves, "on", start_s)


def step_off(start_s: float) -> Phase:
    """Return the moves of stepping down within 0.45 s, heels down: the injured foot first."""
    moves = (
        Move(Lane.SHARE, start_s, 0.25, 0.0),
        Move(Lane.PRESENCE, start_s + 0.05, 0.40, 0.0),
        Move(Lane.TREMOR, start_s, 0.3, 0.0),
        Move(Lane.WOBBLE, start_s, 0.3, 0.0),
        *(Move(heel, start_s, 0.25, 0.0) for heel in HEELS),
        *(Move(front, start_s, 0.25, STANDING_FRONT) for front in FRONTS),
        Move(Lane.BODY, start_s, 0.45, 0.0),
        Move(Lane.AWAY, start_s + 0.25, 0.3, AWAY_MM),
        Move(Lane.GOOD_AWAY, start_s + 0.45, 0.3, AWAY_MM),
    )
    return Phase(start_s + 0.45, moves, "off", start_s)


def rest_percent(task: Task) -> float:
    """Return where the load rests between holds: even, or below the band where even lies in it or near it, or where a
    load is asked for, which even might be far above."""
    if task.load_N is None and abs(task.target_percent - 50.0) > task.tolerance_percent + 3.0:
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
