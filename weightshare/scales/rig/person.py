"""A person on the plates: true forces as a plain function of time since the first sample."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import Profile
from weightshare.scales.rig.path import Path
from weightshare.scales.rig.plan import Lane, Phase, Task, plan, step_off, step_on
from weightshare.scales.rig.sway import FOOT_BANDS, SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS, Sway

STEER_S = 0.35
"""How long a steered shift of the load takes."""
BOB = 0.008
"""s^2 per unit of share: how much the total changes as the load is thrown from side to side."""
BOB_LIMIT = 0.03
STEP_S = 0.6
"""How long stepping on takes; a wish before is lost, as there is nobody to follow it."""
FRONT_PART = 0.42
"""The part of a foot's load on the front cell while standing."""
FRONT_SWAY = 0.03
RAIL_SWAY = 0.008


@dataclass(frozen=True, slots=True)
class Event:
    """A foot leaves or comes: `what` is `on` or `off` (s since the first sample, as the movement begins)."""

    what: str
    time_s: float


class Person:
    """One person with one task. The same seed gives the same forces at the same times, at any rate.

    `steer`, `lift` and `step` may be called from any thread; they act from the newest time asked for on.
    """

    def __init__(self, profile: Profile, task: Task, seed: int) -> None:
        self.profile, self.task = profile, task
        self.events: list[Event] = []
        rng = np.random.default_rng([seed, 1])
        lanes = (SHARE_BANDS, TOTAL_BANDS, TREMOR_BANDS, FOOT_BANDS, FOOT_BANDS, FOOT_BANDS)
        self._sway = Sway(np.random.default_rng([seed, 2]), lanes)
        self._plan = plan(profile, task, rng)
        self._planned_s = 0.0
        self._paths = {lane: Path(0.0) for lane in Lane}
        self._newest_s = 0.0
        self._wishes: deque[Callable[[], None]] = deque()
        self._wanted_percent = profile.habit_percent
        self._lifted = False
        self._off = False

    def steer(self, delta_points: float) -> None:
        """Shift `delta_points` of the load to the injured side (negative: away from it); a steered person does so."""
        self._wishes.append(lambda: self._steer(delta_points))

    def lift(self) -> None:
        """Put the good foot down on the floor beside its plate, with its part of the load; or back again."""
        self._wishes.append(self._lift)

    def step(self) -> None:
        """Step off the plates, or back on to them."""
        self._wishes.append(self._step)

    def forces(self, time_s: Floats) -> Floats:
        """Return true forces (N) at rising times (s since the first sample, shape (n,)), shape (n, 4).

        Columns: left front, left rear, right front, right rear.
        """
        if not len(time_s):
            return np.empty((0, 4))
        self._prepare(float(time_s[-1]))
        sway = self._sway.at(time_s)
        injured, good = self._sides(time_s, sway)
        left, right = (injured, good) if self.task.injured is Side.LEFT else (good, injured)
        front = FRONT_PART + FRONT_SWAY * sway[:, 3:5]
        force_N = np.empty((len(time_s), 4))
        force_N[:, 0::2] = force_N[:, 1::2] = np.stack((left, right), axis=1)
        force_N[:, 0::2] *= front
        force_N[:, 1::2] *= 1 - front
        return force_N

    def _prepare(self, until_s: float) -> None:
        while self._planned_s <= until_s:
            self._apply(next(self._plan))
        while self._wishes:
            wish = self._wishes.popleft()
            if self._newest_s >= self.events[0].time_s + STEP_S:
                wish()
        self._newest_s = max(self._newest_s, until_s)

    def _apply(self, phase: Phase) -> None:
        for move in phase.moves:
            self._paths[move.lane].move(move.start_s, move.duration_s, move.value)
        if phase.event:
            self.events.append(Event(phase.event, phase.event_s))
        self._planned_s = max(self._planned_s, phase.end_s)

    def _sides(self, time_s: Floats, sway: Floats) -> tuple[Floats, Floats]:
        profile = self.profile
        share, thrust = self._paths[Lane.SHARE].at(time_s)
        presence = self._paths[Lane.PRESENCE].at(time_s)[0]
        watching = self._paths[Lane.WATCHING].at(time_s)[0]
        spread = profile.sway_points + (profile.steered_sway_points - profile.sway_points) * watching
        tremor = self._paths[Lane.TREMOR].at(time_s)[0]
        # near one foot alone there is nothing left to sway with
        room = np.minimum(share * (100.0 - share) / 600.0, 1.0)
        share = share + room * (spread * sway[:, 0] + tremor * sway[:, 2])
        share = np.minimum(np.maximum(share, 0.0), 100.0) / 100.0
        hand = RAIL_SWAY * sway[:, 5] * (profile.rail_fraction > 0) * watching
        bob = BOB_LIMIT * np.tanh(BOB / BOB_LIMIT * thrust / 100.0) * room
        total = profile.body_weight_N * presence * (1 + hand)
        total = total * (1 + profile.total_noise_percent / 100.0 * sway[:, 1] + bob)
        return total * share, total * (1 - share)

    def _steer(self, delta_points: float) -> None:
        if not self.profile.steered:
            return
        self._wanted_percent = float(np.clip(self._wanted_percent + delta_points, 0.0, 100.0))
        if not self._lifted and not self._off:
            self._move(Lane.SHARE, self._wanted_percent)

    def _lift(self) -> None:
        if not self.profile.steered or self._off:
            return
        self._lifted = not self._lifted
        self._move(Lane.SHARE, 100.0 if self._lifted else self._wanted_percent)
        self._move(Lane.PRESENCE, self._wanted_percent / 100.0 if self._lifted else 1.0)

    def _step(self) -> None:
        if not self.profile.steered:
            return
        self._off, self._lifted = not self._off, False
        start_s = self._newest_s
        self._apply(step_off(start_s) if self._off else step_on(start_s, self._wanted_percent))

    def _move(self, lane: Lane, value: float) -> None:
        self._paths[lane].move(self._newest_s, STEER_S, value)
