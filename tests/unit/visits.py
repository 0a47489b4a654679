"""Whole visits of virtual people who raise their heels, squat or stand up: made once for several tests."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from weightshare.exercise import Exercise, Tempo
from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import FAULTS, PEOPLE, Profile
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Deed, Task
from weightshare.scales.rig.scene import Cast

USUAL = Tempo(1.0, 1.0, 2.0, 1.0)


def manner_of(name: str, **changes: Any) -> Profile:
    """One of the rig's people, with something of the manner changed."""
    profile = PEOPLE[name]
    return replace(profile, manner=replace(profile.manner, **changes))


def task_of(exercise: Exercise = Exercise.LOWERING, tempo: Tempo | None = USUAL, **wishes: Any) -> Task:
    return Task(**{"exercise": exercise, "tempo": tempo, "sets": 1, "repetitions": 4, "hold_goal_s": 6.0} | wishes)


def cast_of(profile: Profile, task: Task, seed: int = 1, fault: str = "clean", heels: HeelBuild | None = None) -> Cast:
    return Cast(profile, FAULTS[fault], task, seed, heels or HeelBuild())


@dataclass(frozen=True, eq=False)
class Seen:
    """What one person truly does: times (n,), forces (n, 4), heights (n, 2)."""

    person: Person
    time_s: Floats
    force_N: Floats
    height_mm: Floats

    @property
    def total(self) -> Floats:
        """The total in parts of body weight."""
        total: Floats = self.force_N.sum(axis=1) / self.person.profile.body_weight_N
        return total

    @property
    def share_percent(self) -> Floats:
        """The injured side's share."""
        place = 0 if self.person.task.injured is Side.LEFT else 2
        injured = self.force_N[:, place] + self.force_N[:, place + 1]
        share: Floats = 100.0 * injured / np.maximum(self.force_N.sum(axis=1), 1e-9)
        return share

    def front(self, side: Side) -> Floats:
        """The part of a foot's load on the front supports; NaN without load."""
        place = 0 if side is Side.LEFT else 2
        load_N = self.force_N[:, place] + self.force_N[:, place + 1]
        return np.where(load_N > 5.0, self.force_N[:, place] / np.maximum(load_N, 1e-9), np.nan)

    def heel(self, side: Side) -> Floats:
        return self.height_mm[:, 0 if side is Side.LEFT else 1]

    def within(self, from_s: float, to_s: float) -> slice:
        """The rows from one time to another."""
        begin, end = np.searchsorted(self.time_s, (from_s, to_s))
        return slice(int(begin), int(end))

    def deeds(self, what: str) -> list[Deed]:
        """What was planned under that name and ended within what was seen."""
        return [deed for deed in self.person.deeds if deed.what == what and deed.to_s < self.time_s[-1]]

    @property
    def repetitions(self) -> list[Deed]:
        """The repetitions; without any, what is asked of each of them would hold of none."""
        found = self.deeds("repetition")
        assert found
        return found


def watch(profile: Profile | str, task: Task, seconds: float = 45.0, seed: int = 1, rate_Hz: float = 100.0) -> Seen:
    """Look at one person for so long."""
    who = PEOPLE[profile] if isinstance(profile, str) else profile
    person = Person(who, task, seed)
    time_s = np.arange(round(seconds * rate_Hz)) / rate_Hz
    return Seen(person, time_s, *person.look(time_s))
