"""A stage as what a session is measured against, and what a session keeps of the stage that it was done by."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.programme.stage import Leg, Stage
from weightshare.task import Goal, Settings

ALL_PERCENT, NONE_PERCENT = 100.0, 0.0


@dataclass(frozen=True, slots=True)
class Prescription:
    """What a session was prescribed: which programme, in which version, and the stage as it stood there.

    `sha256` is that of the programme's file, 64 hexadecimal digits. `changed`: the options that were given by hand
    beside it, as they were given.
    """

    programme: str
    version: str
    sha256: str
    stage: Stage
    pain_limit: int | None = None
    """The most pain that is tolerated, of 10: the stage's, or the programme's."""
    changed: tuple[str, ...] = ()
    following: Stage | None = None
    """The programme's next stage; None: this is the last."""
    before: Stage | None = None
    """The one before it; None: this is the first."""

    @property
    def leaves_two_legs(self) -> bool:
        """Whether the next stage is the step from two legs to one."""
        then = self.following
        return then is not None and then.exercise.is_single and not self.stage.exercise.is_single


def prescribe(stage: Stage, injured: Side) -> Settings:
    """Return what a session of `stage` is measured against, with the `injured` side.

    Raises OptionError where it cannot be, which a checked programme never does.
    """
    works_injured = stage.leg is Leg.INJURED
    target = stage.target_percent
    if stage.exercise.is_single:
        target = ALL_PERCENT if works_injured else NONE_PERCENT
    return Settings(
        injured,
        target_percent=None if stage.supported else target,
        tolerance_percent=stage.tolerance_points,
        grace_s=stage.grace_s,
        added_weight_N=stage.added_weight_kg * STANDARD_GRAVITY,
        exercise=stage.exercise,
        surface=stage.surface,
        basis=stage.basis,
        reference_height_mm=stage.reference_height_mm,
        tempo=stage.tempo,
        working=None if works_injured else injured.other,
        one_sided=stage.one_sided,
        ceiling=stage.ceiling,
        load=stage.load if stage.supported else None,
        stand_s=None if stage.supported else stage.stand_s,
        load_tolerance_N=stage.load_tolerance_kg * STANDARD_GRAVITY,
    )


def sets_of(stage: Stage) -> int:
    """Return how many sets are asked for: to exhaustion on one leg at least one for each leg."""
    each_leg = len(Side) if stage.to_exhaustion and stage.exercise.is_single else 1
    return max(stage.sets, each_leg)


def goal_of(stage: Stage) -> Goal:
    """Return how much of it is asked for."""
    return Goal(
        hold_s=stage.hold_s,
        holds=stage.holds,
        sets=sets_of(stage),
        repetitions=stage.repetitions,
        rest_s=stage.rest_s,
        blind_sets=stage.blind_sets,
        to_exhaustion=stage.to_exhaustion,
    )
