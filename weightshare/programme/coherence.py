"""What a stage's keys say together: what does not go with what, in words.

A key that could not be read is told by itself. A check that looks at it ends there, and all others go on: whoever wrote
the file is told everything that can be told in one run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from functools import partial
from typing import Any

from weightshare.exercise import Basis, Exercise, Surface
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.pipeline.weight import FOOT_PART
from weightshare.programme.criterion import ABOUT, Criterion, Kind
from weightshare.programme.prescription import sets_of
from weightshare.programme.reach import find_unreachable
from weightshare.programme.stage import Leg, Stage

_OF_HOLDS = ("hold_s", "holds", "grace_s")
_OF_SETS = ("sets", "repetitions", "rest_s", "tempo", "basis", "blind_sets", "to_exhaustion")
_OF_SHARES = ("target_percent", "one_sided", "tolerance_points", "mean_tolerance_points")
_OF_LOADS = ("load", "load_tolerance_kg")
_SUPPORTED = (Exercise.HOLD, Exercise.HEEL_HOLD)
_ON_FORCE = (Exercise.SQUAT, Exercise.SIT_TO_STAND)

Clash = tuple[str, str]
"""The key, and what is wrong with it."""
Check = Callable[[Stage, frozenset[str]], Iterator[Clash]]
"""From a stage, and the keys that stand in the file, to what is wrong."""


class _UnreadError(Exception):
    """A check looks at a key that could not be read."""


@dataclass(frozen=True, slots=True)
class _Partial(Stage):
    """A stage of which the keys `unread` could not be read: whoever looks at one of them is stopped."""

    unread: frozenset[str] = frozenset()

    def __getattribute__(self, name: str) -> Any:
        if name in object.__getattribute__(self, "unread"):
            raise _UnreadError(name)
        return object.__getattribute__(self, name)


def find_clashes(stage: Stage, given: frozenset[str], unread: frozenset[str] = frozenset()) -> Iterator[Clash]:
    """Yield what cannot be in `stage`: the keys `given` stand in the file, and those of `unread` could not be read."""
    read = _partial(stage, unread)
    for check in (*_PLACES, *_CHECKS):
        yield from _run(check, read, given)
    for one in stage.criteria:
        yield from _run(partial(_criterion, one), read, given)


def find_misplaced(stage: Stage, unread: frozenset[str] = frozenset()) -> frozenset[str]:
    """Return the keys that have no place in `stage`, whatever stands under them."""
    every = frozenset(field.name for field in fields(Stage))
    read = _partial(stage, unread)
    return frozenset(key for check in _PLACES for key, _ in _run(check, read, every))


def _partial(stage: Stage, unread: frozenset[str]) -> _Partial:
    return _Partial(**{field.name: getattr(stage, field.name) for field in fields(Stage)}, unread=unread)


def _run(check: Check, stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    try:
        yield from check(stage, given)
    except _UnreadError:
        return


def _amount(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    repeated = stage.exercise.is_repeated
    for key in _OF_HOLDS if repeated else _OF_SETS:
        if key in given:
            yield key, f"goes with a stage {'that is held' if repeated else 'of repetitions'}: {stage.exercise} is none"


def _leg(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if "leg" not in given:
        return
    if not stage.exercise.is_single:
        yield "leg", "goes with a stage on one leg: single-lowering or single-raise"
    elif stage.to_exhaustion:
        yield "leg", "does not go with to_exhaustion = true: the legs take turns, to be compared"


def _load(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    for key in _OF_LOADS:
        if key in given and not stage.supported:
            yield key, "goes with supported = true; without support a share is asked for: target_percent"


def _single_target(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if "target_percent" in given and stage.exercise.is_single:
        yield "target_percent", f"does not go with {stage.exercise}: there the working leg carries all"


def _counted(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if "repetitions" in given and stage.exercise.is_repeated and stage.to_exhaustion:
        yield "repetitions", "does not go with to_exhaustion = true: how many can be done is what is asked"


def _unfreed(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    for key in ("freed_by", "freed_on"):
        if key in given and not stage.freed:
            yield key, "goes with freed: nothing of this stage is freed"


def _shares(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if not stage.supported or stage.exercise not in _SUPPORTED or stage.load is None:
        return
    for key in _OF_SHARES:
        if key in given:
            yield key, "does not go with supported = true: with a part elsewhere the share tells nothing; give a load"


def _stand(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if "stand_s" in given and stage.supported:
        yield "stand_s", "does not go with supported = true: with a part elsewhere nobody is weighed"


_PLACES: tuple[Check, ...] = (_amount, _leg, _load, _single_target, _counted, _unfreed, _shares, _stand)
"""Those that ask where a key may stand at all, whatever stands under it."""


def _support(stage: Stage, given: frozenset[str]) -> Iterator[Clash]:
    if not stage.supported:
        return
    if stage.exercise not in _SUPPORTED:
        yield "supported", f"goes with hold and heel-hold: what {stage.exercise} measures needs all of the weight there"
    elif stage.load is None:
        shares = [key for key in _OF_SHARES if key in given]
        instead = f"in place of {', '.join(shares)}: " if shares else ""
        yield "load", f'is missing: supported work asks for a load, {instead}load = "20kg", or "25%" of body weight'


def _target(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if stage.exercise.is_single or stage.supported:
        return
    target, least = stage.target_percent, 100.0 * FOOT_PART
    if target is None:
        yield "target_percent", f"is missing: {stage.exercise} needs a share to be held against, as 50"
    elif not least < target < 100.0 - least:
        words = f"on two legs it lies between {least:g} and {100.0 - least:g} %, more is standing on one leg"
        yield "target_percent", f"{target:g} is not allowed: {words}: single-lowering or single-raise"


def _one_sided(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if not stage.one_sided or not stage.exercise.is_single:
        return
    if stage.to_exhaustion:
        yield "one_sided", "does not go with to_exhaustion on one leg: it is for the injured one alone"
    elif stage.leg is Leg.UNINJURED:
        yield "one_sided", "goes with the injured leg: where the other works, it would ask for nothing"


def _limit_kg(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    """A limit in kg is compared with a load in kg; with a share only where it is in percent of body weight."""
    limit = None if stage.ceiling is None else stage.ceiling.kg
    load = stage.load if limit is not None and stage.supported else None
    if limit is not None and load is not None and load.kg is not None and load.kg > limit:
        yield "ceiling", f"{limit:g} kg is under the {load.kg:g} kg that the stage asks for; change one"


def _limit_percent(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    limit = None if stage.ceiling is None else stage.ceiling.percent
    if limit is None:
        return
    is_supported = stage.supported and stage.exercise in _SUPPORTED
    asked = _supported_percent(stage) if is_supported else _asked_percent(stage)
    if asked is not None and asked > limit:
        unit = "% of body weight"
        yield "ceiling", f"{limit:g} {unit} is under the {asked:g} {unit} that the stage asks for; change one"


def _supported_percent(stage: Stage) -> float | None:
    return None if stage.load is None else stage.load.percent


def _asked_percent(stage: Stage) -> float | None:
    """Return the most of the weight that is asked for on the injured side; None where none is."""
    if stage.exercise.is_single and (stage.leg is Leg.INJURED or stage.to_exhaustion):
        return 100.0
    asked = None if stage.exercise.is_single else stage.target_percent
    return max(asked or 0.0, EVEN_PERCENT) if stage.exercise.turns else asked


def _step(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if stage.surface is Surface.STEP and not stage.exercise.lifts_heels:
        yield "surface", f"step goes with a stage that lifts the heels: {stage.exercise} does not"


def _below_level(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if stage.below_level and stage.surface is not Surface.STEP:
        yield "below_level", 'goes with surface = "step": on the floor no heel goes below the level of standing'


def _basis_of(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if stage.basis not in (None, Basis.FORCE) and stage.exercise in _ON_FORCE:
        yield "basis", f"{stage.basis}: repetitions of {stage.exercise} rest on force"


def _basis_on_step(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    lifts = stage.basis is Basis.FORCE and stage.exercise.is_repeated and stage.exercise.lifts_heels
    if lifts and stage.surface is Surface.STEP:
        yield "basis", "force: on a step the load is on the forefoot all the time; take height or paced"


def _basis_by_tempo(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    raises = stage.basis is Basis.PACED and stage.exercise.is_repeated and stage.exercise.lifts_heels
    if raises and stage.tempo is None:
        yield "basis", "paced needs a tempo: the metronome's phases are what counts"


def _blind_sets(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    if stage.blind_sets and stage.exercise.is_repeated and stage.blind_sets[-1] > sets_of(stage):
        yield "blind_sets", f"{stage.blind_sets[-1]} is not allowed: there are {sets_of(stage)} sets"


def _freed(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    locks = stage.locks if stage.freed else ()
    if wrong := [f'"{lock}"' for lock in stage.freed if lock not in locks]:
        shut = f"it is locked by {', '.join(locks)}" if locks else "nothing does"
        yield "freed", f"{' and '.join(wrong)} {'does' if len(wrong) == 1 else 'do'} not lock this stage; {shut}"


def _freed_by(stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    who = {"freed_by": stage.freed_by, "freed_on": stage.freed_on} if stage.freed else {}
    missing = [key for key, value in who.items() if not value]
    if missing and set(stage.freed) <= set(stage.locks):
        yield "freed", f"needs {' and '.join(missing)} beside it: who frees a stage says so, with the day"


_CHECKS: tuple[Check, ...] = (
    _support,
    _target,
    _one_sided,
    _limit_kg,
    _limit_percent,
    _step,
    _below_level,
    _basis_of,
    _basis_on_step,
    _basis_by_tempo,
    _blind_sets,
    _freed,
    _freed_by,
)
"""Each looks at as few keys as it can: one that could not be read ends it."""

_FITS: dict[Kind, Callable[[Stage], bool]] = {
    Kind.ANY: lambda _stage: True,
    Kind.HELD: lambda stage: not stage.exercise.is_repeated,
    Kind.HELD_SHARE: lambda stage: not stage.exercise.is_repeated and not stage.supported,
    Kind.LOAD: lambda stage: stage.supported,
    Kind.REPEATED: lambda stage: stage.exercise.is_repeated,
    Kind.BLIND: lambda stage: bool(stage.blind_sets),
    Kind.RAISE: lambda stage: stage.exercise.is_repeated and stage.exercise.lifts_heels,
    Kind.EXHAUSTION: lambda stage: stage.to_exhaustion and stage.exercise.is_single,
    Kind.CEILING: lambda stage: stage.ceiling is not None,
}


def can_be_had(kind: Kind, stage: Stage, unread: frozenset[str] = frozenset()) -> bool:
    """Return whether `stage` has measures of `kind`; also where keys that this rests on could not be read."""
    try:
        return _FITS[kind](_partial(stage, unread))
    except _UnreadError:
        return True


def _criterion(one: Criterion, stage: Stage, _given: frozenset[str]) -> Iterator[Clash]:
    kind = ABOUT[one.measure].kind
    if not _FITS[kind](stage):
        yield f"criteria.{one.measure}", f"can be had in {kind} alone"
    elif one.near_target and stage.target_percent is None and stage.exercise.is_single:
        yield f"criteria.{one.measure}", "near target: this stage has no target_percent; write the limits"
    elif words := find_unreachable(one, stage):
        yield f"criteria.{one.measure}", words
