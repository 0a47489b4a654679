"""A session of a programme's stage: what is prescribed, and what was given by hand beside it."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import given_measures, option_of
from weightshare.errors import OptionError
from weightshare.model import Side
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.shelf import READY, Kept, find_programme
from weightshare.programme.stage import Leg, Lock, Stage
from weightshare.task import Goal, Settings, check_together

if TYPE_CHECKING:
    from weightshare.exercise import Ceiling, Tempo

_GOAL_OPTIONS = {"hold_s": "hold-goal", "rest_s": "rest"}
MakeGoal = Callable[[argparse.Namespace, Settings, Goal], Goal]
"""Returns how much is asked for: the options, the settings, and what stands where no option was given."""


@dataclass(frozen=True, slots=True)
class Prescribed:
    """What a session of a stage is measured against, and what it keeps of the stage."""

    settings: Settings
    goal: Goal
    prescription: Prescription
    place: str
    """The programme's name, or the whole path of its file."""


def find_prescribed(args: argparse.Namespace, default_side: Side | None, make_goal: MakeGoal) -> Prescribed:
    """Return the session of the stage that `args` name, with what they give by hand beside it.

    Raises ProgrammeError where there is no such programme or stage, and OptionError where the stage is locked, an
    option cannot be, or the injured side is missing.
    """
    kept = find_programme(args.programme)
    if args.stage is None:
        keys = ", ".join(stage.key for stage in kept.programme.stages)
        raise OptionError(f"--programme needs --stage, one of {keys}")
    stage = kept.find(args.stage)
    given = given_measures(args, stage=False)
    injured = given.get("injured", default_side)
    if injured is None:
        raise OptionError("--injured is missing: say left or right")
    bare, bare_goal = prescribe(stage, injured), goal_of(stage)
    settings = check_together(replace(bare, **given))
    goal = make_goal(args, settings, bare_goal)
    _check_locks(kept, stage, settings, goal)
    changed = (*_changes(bare, settings, option_of), *_changes(bare_goal, goal, _goal_option))
    return Prescribed(settings, goal, kept.prescription(stage, changed), _whole(kept.place))


def _whole(place: str) -> str:
    """Return the place of a programme such that it means the same file from every folder."""
    return place if place in READY else str(Path(place).absolute())


def _check_locks(kept: Kept, stage: Stage, settings: Settings, goal: Goal) -> None:
    """Raise OptionError where the stage, or what is made of it by hand, is locked and was not freed."""
    if not stage.is_freed_by(date.today()):
        raise OptionError(f"stage {stage.key}: freed_on {stage.freed_on} is still to come; put the day right")
    leg = Leg.INJURED if settings.working_side is settings.injured else Leg.UNINJURED
    done = replace(stage, surface=settings.surface, leg=leg, to_exhaustion=goal.to_exhaustion)
    if not done.shut:
        return
    words = " and ".join(_WORDS[lock] for lock in done.shut)
    if not stage.shut:
        raise OptionError(f"stage {stage.key} is not for {words}; leave that option out")
    copied = kept.place not in READY
    file = kept.place if copied else "FILE"
    first = "" if copied else f"weightshare programme copy {kept.place} FILE, then "
    free = f"{first}weightshare programme free {file} --stage {stage.key} --by WHO"
    raise OptionError(f"stage {stage.key} is locked ({words}) until the treating clinician frees it: {free}")


_WORDS = {
    Lock.ONE_LEG: "the injured leg alone",
    Lock.STEP: "on a step",
    Lock.BELOW_LEVEL: "below the level of standing",
    Lock.STAGE: "by its author",
}


def _goal_option(name: str) -> str:
    return _GOAL_OPTIONS.get(name, name.replace("_", "-"))


def _changes(before: Settings | Goal, after: Settings | Goal, name_of: Callable[[str], str]) -> tuple[str, ...]:
    pairs = ((field.name, getattr(before, field.name), getattr(after, field.name)) for field in fields(before))
    return tuple(f"--{name_of(name)} {_say(new)}, not {_say(old)}" for name, old, new in pairs if old != new)


def _say(value: float | str | bool | Tempo | Ceiling | tuple[int, ...] | None) -> str:
    if isinstance(value, tuple):
        return ",".join(map(str, value)) or "none"
    return f"{value:g}" if isinstance(value, float) else "none" if value is None else str(value)
