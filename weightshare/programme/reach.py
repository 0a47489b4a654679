"""Whether a criterion can be met at all by doing what its stage asks for: else it would never be time for the next one.

No source: it follows from what the keys mean.
"""

from __future__ import annotations

from collections.abc import Callable

from weightshare.programme.criterion import MEANT_BY_TARGET, Criterion, Measure
from weightshare.programme.prescription import sets_of
from weightshare.programme.stage import Stage

Asked = tuple[float, str]
"""What a stage asks for in a measure's unit, and the key that says so."""


def find_unreachable(one: Criterion, stage: Stage) -> str:
    """Return in words why `one` cannot be met by what `stage` asks for; empty where it can, or nothing is asked."""
    find = _MOST.get(one.measure)
    if find is not None:
        most = find(stage)
        is_wrong = most is not None and one.at_least is not None and one.at_least > most[0]
        return _say(one, most) if is_wrong else ""
    aim = _aim(one.measure, stage)
    return "" if aim is None or _holds(one, aim[0]) else _say(one, aim)


def _say(one: Criterion, asked: Asked | None) -> str:
    assert asked is not None
    return f"{one} cannot be met by what the stage asks for: {asked[1]}"


def _holds(one: Criterion, value: float) -> bool:
    low, high = one.at_least, one.at_most
    return (low is None or low <= value) and (high is None or value <= high)


def _aim(measure: Measure, stage: Stage) -> Asked | None:
    """Return the very value that is asked for, where there is one: of the lowering's time, and of shares."""
    if measure is Measure.LOWERING_TIME and stage.tempo is not None:
        return stage.tempo.lowering_s, f'tempo = "{stage.tempo}"'
    if measure in MEANT_BY_TARGET and stage.target_percent is not None:
        return stage.target_percent, f"target_percent = {stage.target_percent:g}"
    return None


def _holds_asked(stage: Stage) -> Asked:
    return stage.holds, f"holds = {stage.holds}"


def _sets_asked(stage: Stage) -> Asked:
    sets = sets_of(stage)
    return sets, f"sets = {sets}"


def _repetitions_asked(stage: Stage) -> Asked | None:
    """Return how many are asked for in all sets; None to exhaustion."""
    if stage.to_exhaustion:
        return None
    every = sets_of(stage) * stage.repetitions
    return every, f"sets x repetitions = {every}"


_MOST: dict[Measure, Callable[[Stage], Asked | None]] = {
    Measure.HOLDS_DONE: _holds_asked,
    Measure.SETS_DONE: _sets_asked,
    Measure.REPETITIONS: _repetitions_asked,
}
"""More than this is not done: the session is over then."""
