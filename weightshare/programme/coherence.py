"""What a stage's keys say together: what does not go with what, in words."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.errors import OptionError
from weightshare.exercise import Exercise, Surface
from weightshare.model import Side
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.pipeline.weight import FOOT_PART
from weightshare.programme.criterion import ABOUT, Kind
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.stage import Leg, Stage
from weightshare.task import check_together

_OF_HOLDS = ("hold_s", "holds", "grace_s")
_OF_SETS = ("sets", "repetitions", "rest_s", "tempo", "basis", "blind_sets", "to_exhaustion")
_OF_SHARES = ("target_percent", "one_sided", "tolerance_points", "mean_tolerance_points")
_SUPPORTED = (Exercise.HOLD, Exercise.HEEL_HOLD)

Clash = tuple[str, str]
"""The key, and what is wrong with it."""


def find_clashes(stage: Stage, given: set[str]) -> Iterator[Clash]:
    """Yield what cannot be in `stage`, of which the keys `given` stand in the file."""
    yield from _belong(stage, given)
    yield from _support(stage, given)
    if not stage.supported:
        yield from _target(stage, given)
    yield from _limit(stage)
    yield from _surface(stage)
    yield from _sets(stage, given)
    yield from _locks(stage)
    yield from _criteria(stage)


def _belong(stage: Stage, given: set[str]) -> Iterator[Clash]:
    repeated = stage.exercise.is_repeated
    for key in _OF_HOLDS if repeated else _OF_SETS:
        if key in given:
            yield key, f"goes with a stage {'that is held' if repeated else 'of repetitions'}: {stage.exercise} is none"
    if "leg" in given and not stage.exercise.is_single:
        yield "leg", "goes with a stage on one leg: single-lowering or single-raise"


def _support(stage: Stage, given: set[str]) -> Iterator[Clash]:
    if not stage.supported:
        for key in ("load", "load_tolerance_kg"):
            if key in given:
                yield key, "goes with supported = true; without support a share is asked for: target_percent"
        return
    if stage.exercise not in _SUPPORTED:
        yield "supported", f"goes with hold and heel-hold: what {stage.exercise} measures needs all of the weight there"
    if stage.load is None:
        yield "supported", 'asks for a load: write load = "20kg", or percent of body weight, "25%"'
    for key in _OF_SHARES:
        if key in given:
            yield key, "does not go with supported = true: with a part elsewhere the share tells nothing; give a load"


def _target(stage: Stage, given: set[str]) -> Iterator[Clash]:
    target, least = stage.target_percent, 100.0 * FOOT_PART
    if stage.exercise.is_single:
        if "target_percent" in given:
            yield "target_percent", f"does not go with {stage.exercise}: there the working leg carries all"
        if stage.one_sided and stage.leg is Leg.UNINJURED:
            yield "one_sided", "goes with the injured leg: where the other works, it would ask for nothing"
        return
    if target is None:
        yield "exercise", f"{stage.exercise} needs a share to be held against: target_percent = 50"
    elif not least < target < 100.0 - least:
        words = f"on two legs it lies between {least:g} and {100.0 - least:g}, more is standing on one leg"
        yield "target_percent", f"{target:g} cannot be; {words}: single-lowering or single-raise"


def _limit(stage: Stage) -> Iterator[Clash]:
    """A limit in kg is compared with a load in kg; with a share only where it is in percent of body weight."""
    ceiling, load = stage.ceiling, stage.load
    if ceiling is None:
        return
    pairs = [(None if load is None else load.kg, ceiling.kg, "kg")]
    asked = 100.0 if stage.exercise.is_single and stage.leg is Leg.INJURED else stage.target_percent
    if asked is not None and stage.exercise.turns:
        asked = max(asked, EVEN_PERCENT)
    pairs.append((load.percent if load is not None else asked, ceiling.percent, "% of body weight"))
    for wanted, limit, unit in pairs:
        if wanted is not None and limit is not None and wanted > limit:
            yield "ceiling", f"{limit:g} {unit} is under the {wanted:g} {unit} that the stage asks for; change one"


def _surface(stage: Stage) -> Iterator[Clash]:
    if stage.surface is Surface.STEP and not stage.exercise.lifts_heels:
        yield "surface", f"step goes with a stage that lifts the heels: {stage.exercise} does not"
    if stage.below_level and stage.surface is not Surface.STEP:
        yield "below_level", 'goes with surface = "step": on the floor no heel goes below the level of standing'
    if stage.exercise.is_repeated and stage.basis is not None:
        try:
            check_together(prescribe(stage, Side.LEFT))
        except OptionError as error:
            yield "basis", str(error).replace("--basis ", "").replace("--stage and --tempo", "a tempo")


def _sets(stage: Stage, given: set[str]) -> Iterator[Clash]:
    if stage.to_exhaustion:
        if "repetitions" in given:
            yield "repetitions", "does not go with to_exhaustion = true: how many can be done is what is asked"
        if "leg" in given:
            yield "leg", "does not go with to_exhaustion = true: the legs take turns, to be compared"
        if stage.one_sided and stage.exercise.is_single:
            yield "one_sided", "does not go with to_exhaustion on one leg: it is for the injured one alone"
    if stage.blind_sets and stage.blind_sets[-1] > goal_of(stage).sets:
        yield "blind_sets", f"{stage.blind_sets[-1]} cannot be: there are {goal_of(stage).sets} sets"


def _locks(stage: Stage) -> Iterator[Clash]:
    for lock in stage.freed:
        if lock not in stage.locks:
            shut = ", ".join(stage.locks)
            yield "freed", f'"{lock}" does not lock this stage; {f"it is locked by {shut}" if shut else "nothing does"}'
    for key, value in (("freed_by", stage.freed_by), ("freed_on", stage.freed_on)):
        if stage.freed and not value:
            yield "freed", f"needs {key} beside it: who frees a stage says so, with the day"
        if value and not stage.freed:
            yield key, "goes with freed: nothing of this stage is freed"


def _criteria(stage: Stage) -> Iterator[Clash]:
    fits = {
        Kind.ANY: True,
        Kind.HELD: not stage.exercise.is_repeated,
        Kind.HELD_SHARE: not stage.exercise.is_repeated and not stage.supported,
        Kind.LOAD: stage.supported,
        Kind.REPEATED: stage.exercise.is_repeated,
        Kind.BLIND: bool(stage.blind_sets),
        Kind.RAISE: stage.exercise.is_repeated and stage.exercise.lifts_heels,
        Kind.EXHAUSTION: stage.to_exhaustion and stage.exercise.is_single,
        Kind.CEILING: stage.ceiling is not None,
    }
    for one in stage.criteria:
        kind = ABOUT[one.measure].kind
        if not fits[kind]:
            yield f"criteria.{one.measure}", f"can be had in {kind} alone"
        elif one.near_target and stage.target_percent is None:
            yield f"criteria.{one.measure}", "near target: this stage has no target_percent; write the limits"
