"""Heel raises: the moves of one repetition, on two legs or on one, on the floor or on a step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from weightshare.exercise import Exercise, Surface
from weightshare.model import Side
from weightshare.scales.rig.plan import AWAYS, FRONTS, HEELS, STANDING_FRONT, Lane, Move, Task
from weightshare.scales.rig.profile import Profile, Stroke
from weightshare.scales.rig.stroke import Cycle, Knot, length_s, make_stroke, moves_of

STEP_FRONT = 0.07
"""On a step the heel hangs free, so that the load stays on the forefoot: only so much further back than at the top."""
EDGE_S, STAND_ON_ONE_S, AWAY_S = 1.2, 0.9, 0.35
SINGLE_AWAY_MM, HOVER_MM = 60.0, 30.0
LANDING_PART = 0.12
"""The part of the lowering's duration that is left when the centre of pressure starts back to the heel."""
LANDING_S = 0.26
FASTEST_LANDING_S = 0.05
LIMITS_PERCENT = (4.0, 96.0)
"""On two legs some load stays on each."""
HANGING_PART = 0.75
"""A foot that hangs in the air rises with the body."""
BOUNCES, BOUNCE_S = (1.0, -0.2, 0.5, 0.0), 0.15
SLIDE_S = 0.1
OVER_EDGE, BACK_UP = "going over the edge", "coming back from the edge"
LANDED_S = 0.9
"""So long after a lowering on one leg the other is back on its plate, with its part of the load."""


@dataclass(frozen=True, slots=True)
class Doing:
    """Moves that belong together, and when what they do begins and ends, s."""

    moves: list[Move]
    from_s: float
    to_s: float
    ready_s: float = 0.0
    """When the next may begin at the earliest."""
    what: str = ""
    """A name for the truth where it is no repetition, and still moves heels or body."""


class Doer(Protocol):
    """Somebody who does one exercise."""

    profile: Profile
    rng: np.random.Generator

    def prepare(self, begin_s: float) -> Doing:
        """Return how a set begins; the first repetition may begin at its end."""

    def repeat(self, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> Doing:
        """Return one repetition that begins at `start_s`, `gap_s` after the one before.

        `tired` is 0 when fresh, 1 at a set's end.
        """

    def finish(self, begin_s: float) -> Doing:
        """Return how a set ends."""


class Raiser:
    """Raises the heels. `working` is the leg that works in single-leg work."""

    def __init__(self, profile: Profile, task: Task, working: Side, rng: np.random.Generator) -> None:
        self.profile, self.manner, self.task, self.rng = profile, profile.manner, task, rng
        self.single = task.exercise is not None and task.exercise.is_single
        self._mine = 0 if working is task.injured or not self.single else 1
        """The working side's place in pairs of lanes; the injured side's on two legs."""
        step = task.surface is Surface.STEP
        self.base_mm = -self.manner.drop_mm if step else 0.0
        self.low_front = self.manner.front_part - STEP_FRONT if step else STANDING_FRONT

    @property
    def top_mm(self) -> float:
        """How high the injured heel gets when fresh, mm over the level of standing."""
        asked = self.task.reference_height_mm
        best = self.manner.heel_mm
        if self.task.exercise is Exercise.SINGLE_RAISE:
            best *= self.manner.single_part
        return best if asked is None else min(best, asked + self.base_mm)

    def prepare(self, begin_s: float) -> Doing:
        """Return how a set begins: heels over the edge of a step, share to where it is asked, one foot off."""
        moves, ready_s = [], begin_s
        if self.base_mm:
            moves += [Move(lane, begin_s, EDGE_S, self.base_mm) for lane in HEELS]
            moves += [Move(lane, begin_s, EDGE_S, self.low_front) for lane in FRONTS]
            ready_s += EDGE_S + 0.2
        if self.task.exercise is Exercise.SINGLE_RAISE:
            moves.append(Move(Lane.SHARE, ready_s, STAND_ON_ONE_S, self.alone_percent))
            moves.append(Move(self.free_away, ready_s + STAND_ON_ONE_S, AWAY_S, SINGLE_AWAY_MM))
            ready_s += STAND_ON_ONE_S + AWAY_S + 0.4
        elif self.task.exercise is Exercise.RAISE and not self.profile.steered:
            moves.append(Move(Lane.SHARE, begin_s, 0.9, self._aim(0.0, 1.0)))
            ready_s = max(ready_s, begin_s + 1.1)
        return Doing(moves, begin_s, ready_s, what=OVER_EDGE if self.base_mm else "")

    def finish(self, begin_s: float) -> Doing:
        """Return how a set ends: flat on both feet, the load even."""
        start_s = begin_s + 0.3
        moves = [Move(lane, start_s, 0.9, 0.0) for lane in (*HEELS, *AWAYS)]
        moves += [Move(lane, start_s, 1.0, STANDING_FRONT) for lane in FRONTS]
        if not self.profile.steered or self.single:
            moves.append(Move(Lane.SHARE, start_s + 0.9, 0.9, 50.0))
        return Doing(moves, start_s, start_s + 1.8, what=BACK_UP if self.base_mm else "")

    def repeat(self, start_s: float, gap_s: float, cycle: Cycle, tired: float) -> Doing:
        """Return one repetition."""
        manner, rng = self.manner, self.rng
        up = make_stroke(manner, cycle.rise_s * self._scatter(), rng, up=True)
        slower = max(1.0 - manner.tired_tempo * tired, 0.3) * self._scatter()
        down = make_stroke(manner, cycle.lowering_s * slower, rng, up=False)
        top_s = start_s + length_s(up)
        shift_s = max(top_s - cycle.tail_s + rng.uniform(*manner.lag_s), start_s + 0.2)
        long_s = rng.uniform(*manner.shift_s)
        low_s = top_s + cycle.top_s * self._scatter()
        if self.task.exercise is Exercise.SINGLE_LOWERING or manner.slide_percent:
            low_s = max(low_s, shift_s + long_s + 0.1)
        if manner.bounce_mm:
            low_s = max(low_s, top_s + (len(BOUNCES) - 1) * BOUNCE_S)
        course = Course(start_s, top_s, shift_s, long_s, low_s, low_s + length_s(down), tired)
        moves = [
            *self._heels(course, up, down),
            *self._fronts(course, gap_s),
            *self._wobble(course),
            *self._load(course),
            *self._hand(course),
        ]
        landed_s = LANDED_S if self.task.exercise is Exercise.SINGLE_LOWERING else 0.0
        return Doing(sorted(moves, key=lambda move: move.start_s), start_s, course.end_s, course.end_s + landed_s)

    def draw_height(self, tired: float) -> float:
        """Return how high the injured heel gets this time, mm over the bottom."""
        part = max(1.0 - self.manner.tired_height * tired, 0.3)
        return (self.top_mm - self.base_mm) * part + float(self.rng.normal(0.0, 1.0)) * self.manner.spread_mm

    def _scatter(self) -> float:
        return float(np.exp(np.clip(self.rng.normal(), -2.5, 2.5) * self.manner.tempo_spread))

    @property
    def alone_percent(self) -> float:
        """The injured side's share while the working leg stands alone."""
        return 100.0 if self._mine == 0 else 0.0

    @property
    def free_away(self) -> Lane:
        """The lane of the free foot's being lifted, in single-leg work."""
        return AWAYS[1 - self._mine]

    def _aim(self, tired: float, spread: float) -> float:
        target = self.task.target_percent
        away = np.sign(target - 50.0) * (self.manner.short_points + self.manner.tired_points * tired)
        aim = target - away + self.rng.normal(0.0, self.profile.aim_points * spread)
        return float(np.clip(aim, *LIMITS_PERCENT))

    def _heels(self, course: Course, up: list[Knot], down: list[Knot]) -> Iterator[Move]:
        height_mm = self.draw_height(course.tired)
        swinging = self.manner.stroke is Stroke.SWINGING
        late_s = 0.0 if swinging else float(np.clip(self.rng.normal(0.0, 0.015), -0.03, 0.03))
        bottom_mm = self.base_mm + (float(self.rng.normal(0.0, 1.2)) if self.base_mm else 0.0)
        for place, lane in enumerate(HEELS):
            size = height_mm * (self.manner.good_part if place else 1.0)
            if self.task.exercise is Exercise.SINGLE_RAISE and place != self._mine:
                size *= HANGING_PART
            wait_s = max(late_s if place != self._mine else -late_s, 0.0)
            yield from moves_of(lane, up, course.start_s + wait_s, (self.base_mm, self.base_mm + size))
            yield from self._stay_up(lane, course, wait_s, size)
            level = self.base_mm + size - self._sink(size)
            yield from moves_of(lane, down, course.low_s + wait_s, (level, bottom_mm))

    def _stay_up(self, lane: Lane, course: Course, wait_s: float, size: float) -> Iterator[Move]:
        """Yield what the heel does at the top: it bounces, and sinks as the load shifts."""
        level, begin_s, bounce = self.base_mm + size, course.top_s + wait_s, self.manner.bounce_mm
        for part in BOUNCES if bounce else ():
            if begin_s + 0.05 < course.low_s:
                yield Move(lane, begin_s, BOUNCE_S, level - part * bounce)
            begin_s += BOUNCE_S
        sink, sink_s = self._sink(size), course.shift_s + 0.05
        if sink and max(sink_s, begin_s) + 0.05 < course.low_s:
            yield Move(lane, max(sink_s, begin_s), course.shift_long_s, level - sink)

    def _sink(self, size: float) -> float:
        single = (1.0 - self.manner.single_part) * 0.6 * size
        return single if self.task.exercise is Exercise.SINGLE_LOWERING else self.manner.sink_mm

    def _fronts(self, course: Course, gap_s: float) -> Iterator[Move]:
        """Yield how the centre of pressure moves under the ball before the heel leaves, and back as it lands."""
        lead_s = min(self.rng.uniform(*self.manner.lead_s), gap_s + 0.03)
        rise_s, lowering_s = course.top_s - course.start_s, course.end_s - course.low_s
        there_s = course.start_s + min(0.12 * rise_s, 0.2)
        back_s = course.end_s - min(LANDING_PART * lowering_s + FASTEST_LANDING_S, 0.3)
        alone = self.task.exercise is Exercise.SINGLE_RAISE
        for place, lane in enumerate(FRONTS):
            if alone and place != self._mine:
                continue
            front = self.manner.front_part + float(np.clip(self.rng.normal(0.0, 0.012), -0.025, 0.025))
            yield Move(lane, course.start_s - lead_s, there_s - course.start_s + lead_s, front)
            yield Move(lane, back_s, LANDING_S + 0.1 * self.rng.random(), self.low_front)

    def _wobble(self, course: Course) -> Iterator[Move]:
        rise_s, lowering_s = course.top_s - course.start_s, course.end_s - course.low_s
        yield Move(Lane.WOBBLE, course.start_s + 0.25 * rise_s, 0.5 * rise_s, 1.0)
        yield Move(Lane.WOBBLE, course.low_s + 0.45 * lowering_s, 0.4 * lowering_s, 0.0)
        low, high = self.profile.tremor_points
        yield Move(Lane.TREMOR, course.shift_s, 0.4, low + (high - low) * min(course.tired, 1.0))
        yield Move(Lane.TREMOR, course.end_s, 0.3, 0.0)

    def _hand(self, course: Course) -> Iterator[Move]:
        if self.manner.rail_part:
            free = 1.0 - self.profile.rail_fraction
            yield Move(Lane.PRESENCE, course.shift_s, 0.4, free - self.manner.rail_part)
            yield Move(Lane.PRESENCE, course.end_s, 0.4, free)

    def _load(self, course: Course) -> Iterator[Move]:
        """Yield how the share goes: as asked by the exercise, with the person's own error."""
        exercise = self.task.exercise
        if exercise is Exercise.SINGLE_RAISE or (self.profile.steered and not self.single):
            return
        if exercise is Exercise.RAISE:
            yield Move(Lane.SHARE, course.start_s, 0.4, self._aim(course.tired, 1.0))
            yield from self._corrections(course, course.top_s)
            return
        even = 50.0 - self.manner.rise_points + float(self.rng.normal(0.0, 0.7))
        yield Move(Lane.SHARE, course.start_s, 0.4, even)
        if exercise is Exercise.SINGLE_LOWERING:
            yield from self._step_over(course)
            return
        if self.manner.slide_percent:
            yield from self._slide(course, *self.manner.slide_percent)
        else:
            yield Move(Lane.SHARE, course.shift_s, course.shift_long_s, self._aim(course.tired, 1.0))
            yield from self._corrections(course, course.low_s)
        yield Move(Lane.SHARE, self._back_s(course), 0.5, 50.0 - self.manner.rise_points)

    def _corrections(self, course: Course, from_s: float) -> Iterator[Move]:
        """Yield two small changes of the share on the way down."""
        for part in (0.2, 0.6):
            span_s = course.end_s - from_s
            start_s = max(from_s + part * span_s, course.shift_s + course.shift_long_s)
            if start_s < self._earliest_back_s(course):
                yield Move(Lane.SHARE, start_s, 0.3 * span_s + 0.1, self._aim(course.tired, 0.7))

    def _earliest_back_s(self, course: Course) -> float:
        return course.end_s - 0.1

    def _back_s(self, course: Course) -> float:
        return self._earliest_back_s(course) + 0.2 * self.rng.random()

    def _slide(self, course: Course, upper: float, lower: float) -> Iterator[Move]:
        middle_s = (course.low_s + course.end_s) / 2
        yield Move(Lane.SHARE, course.shift_s, course.shift_long_s, upper)
        yield Move(Lane.SHARE, middle_s - SLIDE_S / 2, SLIDE_S, lower)

    def _step_over(self, course: Course) -> Iterator[Move]:
        """Yield the whole load going to the working leg, and the free foot hovering until it lands."""
        there_s, free = course.shift_s + course.shift_long_s, self.free_away
        yield Move(Lane.SHARE, course.shift_s, course.shift_long_s, self.alone_percent)
        yield Move(free, there_s, AWAY_S, HOVER_MM)
        yield Move(free, course.end_s + 0.05, AWAY_S, 0.0)
        yield Move(Lane.SHARE, course.end_s + 0.05 + AWAY_S, 0.6, 50.0)


@dataclass(frozen=True, slots=True)
class Course:
    """The instants of one repetition, s: heels leave, arrive, the load shifts, heels leave the top, are down."""

    start_s: float
    top_s: float
    shift_s: float
    shift_long_s: float
    low_s: float
    end_s: float
    tired: float
