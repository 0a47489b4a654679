"""A person on the plates: true forces and heel heights as plain functions of time since the first sample."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from weightshare.model import Floats, Side
from weightshare.scales.rig import body
from weightshare.scales.rig.path import Path
from weightshare.scales.rig.plan import (
    AWAY_MM,
    AWAYS,
    FRONTS,
    HEELS,
    STANDING_FRONT,
    Deed,
    Lane,
    Move,
    Phase,
    Task,
    plan,
    step_off,
    step_on,
)
from weightshare.scales.rig.profile import Profile
from weightshare.scales.rig.sets import Cue, Cues, Sets
from weightshare.scales.rig.shift import Shift, plan_shift, put_off
from weightshare.scales.rig.sway import (
    FOOT_BANDS,
    HEEL_BANDS,
    SHAKE_BANDS,
    SHARE_BANDS,
    TOTAL_BANDS,
    TREMOR_BANDS,
    Sway,
)

STEER_S = 0.35
"""How long a steered shift of the load takes."""
BOB = 0.008
"""s^2 per unit of share: how much the total changes as the load is thrown from side to side."""
BOB_LIMIT = 0.03
STEP_S = 0.6
"""How long stepping on takes; a wish before is lost, as there is nobody to follow it."""
RAIL_SWAY = 0.008
BROKEN_OFF = "broken off"
_REST = {Lane.AWAY: AWAY_MM, Lane.GOOD_AWAY: AWAY_MM, Lane.FRONT: STANDING_FRONT, Lane.GOOD_FRONT: STANDING_FRONT}
"""Where lanes are before anybody is there; the others are at 0."""


Curve: TypeAlias = tuple[Floats, Floats, Floats]
"""Value, speed and acceleration of something, each of shape (n,)."""


@dataclass(frozen=True, slots=True)
class Event:
    """A foot leaves or comes: `what` is `on` or `off` (s since the first sample, as the movement begins)."""

    what: str
    time_s: float


class Person:
    """One person with one task. The same seed gives the same forces and heights at the same times, at any rate.

    `steer`, `lift`, `step`, `shift` and `cue` may be called from any thread; all but a cue act from the newest time
    asked for on. `patience_s` is how long the first cue is waited for.
    """

    def __init__(self, profile: Profile, task: Task, seed: int, patience_s: float = 0.0) -> None:
        task = task.for_weight(profile.body_weight_N)
        if task.load_N is not None:
            # who may load a foot a little stands so from the first step on
            profile = replace(profile, habit_percent=task.target_percent)
        self.profile, self.task = profile, task
        self.events: list[Event] = []
        self.deeds: list[Deed] = []
        """All that was planned so far, in order."""
        lanes = (SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS, FOOT_BANDS, FOOT_BANDS, FOOT_BANDS)
        self._sway = Sway(np.random.default_rng([seed, 2]), lanes)
        self._wobble = Wobble(seed, profile)
        self._cues = Cues()
        self._sets = Sets(profile, task, seed, self._cues, patience_s)
        self._plan = self._make_plan(seed)
        self._planned_s = 0.0
        self._paths = {lane: Path(_REST.get(lane, 0.0)) for lane in Lane}
        self._newest_s = 0.0
        self._wishes: deque[Callable[[], None]] = deque()
        self._late_s = 0.0
        """How much later than planned everything comes: shifts that were asked for went before."""
        self._shifts = np.random.default_rng([seed, 11])
        self._wanted_percent = profile.habit_percent
        self._lifted = False
        self._off = False

    def _make_plan(self, seed: int) -> Iterator[Phase]:
        if self.task.moves_body and (self.profile.follows or self.profile.steered):
            return self._sets.play()
        return plan(self.profile, self.task, np.random.default_rng([seed, 1]))

    def steer(self, delta_points: float) -> None:
        """Shift `delta_points` of the load to the injured side (negative: away from it); a steered person does so."""
        self._wishes.append(lambda: self._steer(delta_points))

    def lift(self) -> None:
        """Put the good foot down on the floor beside its plate, with its part of the load; or back again."""
        self._wishes.append(self._lift)

    def step(self) -> None:
        """Step off the plates, or back on to them."""
        self._wishes.append(self._step)

    def shift(self, wish: Shift) -> None:
        """Shift the load slowly from side to side, as far as is wished; whatever else was planned comes after it."""
        self._wishes.append(lambda: self._shift(wish))

    def cue(self, cue: Cue) -> None:
        """Begin a set, after a moment to react; from then on no set is begun without a cue."""
        beat_s = None if cue.beat_s is None else cue.beat_s - self._late_s
        self._cues.give(replace(cue, time_s=cue.time_s - self._late_s, beat_s=beat_s))

    def forces(self, time_s: Floats) -> Floats:
        """Return true forces (N) at rising times (s since the first sample, shape (n,)), shape (n, 4).

        Columns: left front, left rear, right front, right rear.
        """
        return self.look(time_s)[0]

    def look(self, time_s: Floats) -> tuple[Floats, Floats]:
        """Return true forces as `forces` does, and the left and the right heel's true heights (mm), shape (n, 2).

        A heel that is not over its plate is hundreds of millimetres up.
        """
        if not len(time_s):
            return np.empty((0, 4)), np.empty((0, 2))
        self._prepare(float(time_s[-1]))
        sway = self._sway.at(time_s)
        share = self._paths[Lane.SHARE].course(time_s)
        heels = self._heels(time_s)
        sides = self._sides(time_s, sway, share, self._thrust(time_s, share, heels))
        order = (0, 1) if self.task.injured is Side.LEFT else (1, 0)
        force_N = np.empty((len(time_s), 4))
        height_mm = np.empty((len(time_s), 2))
        for column, place in enumerate(order):
            front = body.sway_front(self._paths[FRONTS[place]].at(time_s)[0], sway[:, 3 + column])
            force_N[:, 2 * column] = sides[place] * front
            force_N[:, 2 * column + 1] = sides[place] * (1 - front)
            height_mm[:, column] = heels[place][0] + self._paths[AWAYS[place]].at(time_s)[0]
        return force_N, height_mm

    def value(self, lane: Lane, time_s: Floats) -> Floats:
        """Return where a lane is meant to be at rising times of the past (s, shape (n,)), shape (n,)."""
        return self._paths[lane].at(time_s)[0]

    def _prepare(self, until_s: float) -> None:
        while self._planned_s <= until_s:
            self._apply(put_off(next(self._plan), self._late_s))
        while self._wishes:
            wish = self._wishes.popleft()
            if self._newest_s >= self.events[0].time_s + STEP_S:
                wish()
        self._newest_s = max(self._newest_s, until_s)

    def _apply(self, phase: Phase) -> None:
        for move in phase.moves:
            self._move(move)
        if phase.event:
            self.events.append(Event(phase.event, phase.event_s))
        if phase.deed is not None:
            self.deeds.append(phase.deed)
        self._planned_s = max(self._planned_s, phase.end_s)

    def _move(self, move: Move) -> None:
        self._paths[move.lane].move(move.start_s, move.duration_s, move.value, move.speed, move.acceleration)

    def _heels(self, time_s: Floats) -> list[Curve]:
        """Return the injured and the good heel's heights (mm) as the body rests on them."""
        curves = [self._paths[lane].course(time_s) for lane in HEELS]
        amount = self._paths[Lane.WOBBLE].course(time_s)
        return self._wobble.add(time_s, amount, curves) if amount[0].any() else curves

    def _thrust(self, time_s: Floats, share: Curve, heels: list[Curve]) -> Floats:
        """Return what the body's going up and down adds to the total, in parts of body weight, shape (n,)."""
        part, speed, bend = (figure / 100.0 for figure in share)
        rising = body.centre_acceleration((part, speed, bend), heels)
        return body.thrust(rising + self._paths[Lane.BODY].at(time_s)[1] / 1000.0)

    def _sides(self, time_s: Floats, sway: Floats, course: Curve, thrust: Floats) -> tuple[Floats, Floats]:
        profile = self.profile
        share, _, throw = course
        presence = self._paths[Lane.PRESENCE].at(time_s)[0]
        watching = self._paths[Lane.WATCHING].at(time_s)[0]
        spread = profile.sway_points + (profile.steered_sway_points - profile.sway_points) * watching
        tremor = self._paths[Lane.TREMOR].at(time_s)[0]
        # near one foot alone there is nothing left to sway with
        room = np.minimum(share * (100.0 - share) / 600.0, 1.0)
        share = share + room * (spread * sway[:, 0] + tremor * sway[:, 2])
        share = np.minimum(np.maximum(share, 0.0), 100.0) / 100.0
        hand = RAIL_SWAY * sway[:, 5] * (profile.rail_fraction > 0) * watching
        bob = BOB_LIMIT * np.tanh(BOB / BOB_LIMIT * throw / 100.0) * room
        total = profile.body_weight_N * presence * (1 + hand)
        total = total * (1 + profile.total_noise_percent / 100.0 * sway[:, 1] + bob + thrust)
        total = np.maximum(total, 0.0)
        return total * share, total * (1 - share)

    def _steer(self, delta_points: float) -> None:
        if not self.profile.steered:
            return
        self._wanted_percent = float(np.clip(self._wanted_percent + delta_points, 0.0, 100.0))
        alone = self.task.exercise is not None and self.task.exercise.is_single
        if not self._lifted and not self._off and not alone:
            self._go(Lane.SHARE, self._wanted_percent)

    def _lift(self) -> None:
        if not self.profile.steered or self._off:
            return
        self._lifted = not self._lifted
        self._go(Lane.SHARE, 100.0 if self._lifted else self._wanted_percent)
        self._go(Lane.PRESENCE, self._wanted_percent / 100.0 if self._lifted else 1.0)
        self._go(Lane.GOOD_AWAY, AWAY_MM if self._lifted else 0.0)

    def _step(self) -> None:
        if not self.profile.steered:
            return
        self._off, self._lifted = not self._off, False
        self._sets.away, start_s = self._off, self._newest_s
        self._break_off(start_s)
        self._apply(step_off(start_s) if self._off else step_on(start_s, self._wanted_percent))

    def _shift(self, wish: Shift) -> None:
        if self._off or self._lifted:
            return
        start_s, back = self._newest_s, self._paths[Lane.SHARE].state(self._newest_s)
        moves, end_s = plan_shift(wish, self.task.injured, start_s, back, self._shifts)
        for move in moves:
            self._move(move)
        self._late_s += max(end_s - self._planned_s, 0.0)
        self._planned_s = max(end_s, self._planned_s)

    def _break_off(self, now_s: float) -> None:
        """Note that what goes on now, or was planned, comes to nothing."""
        begun = [deed for deed in self.deeds if deed.from_s < now_s]
        self.deeds = [replace(deed, to_s=now_s, what=BROKEN_OFF) if deed.to_s > now_s else deed for deed in begun]

    def _go(self, lane: Lane, value: float) -> None:
        self._paths[lane].move(self._newest_s, STEER_S, value)


class Wobble:
    """How two heels that are up wobble and tremble about their course."""

    def __init__(self, seed: int, profile: Profile) -> None:
        self._slow = Sway(np.random.default_rng([seed, 9]), (HEEL_BANDS, HEEL_BANDS))
        self._fast = Sway(np.random.default_rng([seed, 10]), (SHAKE_BANDS, SHAKE_BANDS))
        self._sizes_mm = profile.manner.wobble_mm, profile.manner.shaking_mm

    def add(self, time_s: Floats, amount: Curve, curves: list[Curve]) -> list[Curve]:
        """Return the heels' curves with `amount` (0 to 1) of wobbling in them."""
        slow, fast = self._slow.course(time_s), self._fast.course(time_s)
        wobbles = [a * self._sizes_mm[0] + b * self._sizes_mm[1] for a, b in zip(slow, fast, strict=True)]
        size, speed, bend = amount
        out: list[Curve] = []
        for side, (value, rate, turn) in enumerate(curves):
            w, w1, w2 = (wobble[:, side] for wobble in wobbles)
            out.append((value + size * w, rate + speed * w + size * w1, turn + bend * w + 2 * speed * w1 + size * w2))
        return out
