"""A programme and its stages, as they are prescribed. Frozen values; the fields have the names of the file's keys."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from weightshare.exercise import Basis, Ceiling, Exercise, Load, Surface, Tempo
from weightshare.programme.criterion import Criterion

WIDE_UP_TO_PERCENT = 75.0
MEAN_POINTS = (5.0, 2.5)
"""How far a mean may be from its target: up to 75 %, and above, where the next stage is 5 points away."""
NO_SOURCE = "common practice, no source"


class Knee(StrEnum):
    """How the knees are: straight asks more of the gastrocnemius, bent of the soleus."""

    STRAIGHT = "straight"
    BENT = "bent"


class Leg(StrEnum):
    """Which leg works in a stage on one leg."""

    INJURED = "injured"
    UNINJURED = "uninjured"


class Lock(StrEnum):
    """What keeps a stage shut until the treating clinician frees it."""

    ONE_LEG = "one-leg"
    """The injured leg stands alone in it."""
    STEP = "step"
    """The heels are over a step."""
    BELOW_LEVEL = "below-level"
    """The heels go below the level of standing."""
    STAGE = "stage"
    """The programme's author asks for it."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where the value of one key comes from, in words."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage. None: not prescribed. Shares are of the injured side, percent of the load on the plates."""

    key: str
    name: str
    exercise: Exercise
    note: str = ""
    """What the patient is told, in one line."""
    surface: Surface = Surface.FLOOR
    below_level: bool = False
    knee: Knee | None = None
    leg: Leg = Leg.INJURED
    target_percent: float | None = None
    one_sided: bool = False
    tolerance_points: float = 5.0
    mean_tolerance_points: float | None = None
    supported: bool = False
    load: Load | None = None
    """In supported work; there no share is asked for."""
    load_tolerance_kg: float = 5.0
    grace_s: float = 1.0
    stand_s: float | None = None
    """None: as long as weighing takes."""
    hold_s: float = 30.0
    holds: int = 3
    sets: int = 3
    repetitions: int = 10
    to_exhaustion: bool = False
    blind_sets: tuple[int, ...] = ()
    tempo: Tempo | None = None
    basis: Basis | None = None
    rest_s: float = 60.0
    added_weight_kg: float = 0.0
    ceiling: Ceiling | None = None
    pain_limit: int | None = None
    """None: the programme's."""
    reference_height_mm: float | None = None
    locked: bool = False
    freed: tuple[Lock, ...] = ()
    freed_by: str = ""
    freed_on: str = ""
    """ISO 8601."""
    days: int = 1
    """On how many days the criteria are to be met."""
    criteria: tuple[Criterion, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def locks(self) -> tuple[Lock, ...]:
        """All that shuts it, freed or not."""
        # to exhaustion the legs take turns, whichever is named
        alone = self.exercise.is_single and (self.leg is Leg.INJURED or self.to_exhaustion)
        shut = {
            Lock.ONE_LEG: alone,
            Lock.STEP: self.surface is Surface.STEP,
            Lock.BELOW_LEVEL: self.below_level,
            Lock.STAGE: self.locked,
        }
        return tuple(lock for lock, is_shut in shut.items() if is_shut)

    @property
    def shut(self) -> tuple[Lock, ...]:
        """What shuts it and was not freed."""
        return tuple(lock for lock in self.locks if lock not in self.freed)

    def is_freed_by(self, today: date) -> bool:
        """Return whether what is freed of it was freed by `today`: nobody says now what is said some day."""
        return not self.freed or self.freed_on <= today.isoformat()

    @property
    def mean_points(self) -> float:
        """How far a mean share may be from the target, points."""
        if self.mean_tolerance_points is not None:
            return self.mean_tolerance_points
        wide, narrow = MEAN_POINTS
        return wide if (self.target_percent or 0.0) <= WIDE_UP_TO_PERCENT else narrow


@dataclass(frozen=True, slots=True)
class Programme:
    """Stages in their order. `pain_limit` is of 10, `source` says where all numbers without a source of their own come
    from."""

    name: str
    version: str
    stages: tuple[Stage, ...]
    about: str = ""
    pain_limit: int | None = None
    source: str = NO_SOURCE
    sources: tuple[Source, ...] = ()

    def find(self, wanted: str) -> Stage | None:
        """Return the stage whose key or name is `wanted`, letters small or large; None where there is none."""
        asked = wanted.strip().casefold()
        return next((one for one in self.stages if asked in (one.key.casefold(), one.name.casefold())), None)

    def after(self, stage: Stage) -> Stage | None:
        """Return the stage that comes after `stage`; None after the last."""
        place = self.stages.index(stage) + 1
        return self.stages[place] if place < len(self.stages) else None

    def pain_limit_of(self, stage: Stage) -> int | None:
        """Return the most pain that is tolerated in `stage`, of 10; None where none is set."""
        return self.pain_limit if stage.pain_limit is None else stage.pain_limit

    def source_of(self, stage: Stage, key: str) -> str:
        """Return where the value under `key` of `stage` comes from, in words."""
        said = {one.key: one.words for one in (*self.sources, *stage.sources)}
        return said.get(key, self.source)
