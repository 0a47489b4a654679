"""What was asked of the share, and whether it was reached, in words: in a set, and of the patient, never as one."""

from __future__ import annotations

from collections.abc import Sequence

from weightshare.metrology.decision import Limit, Verdict
from weightshare.records.answer import HELD, LOWERING, Answer

_WHEN = {LOWERING: "in the lowering", HELD: "while held"}
_ORDER = (*Verdict, None)
"""What was reached comes first, what is not known last."""
_UNKNOWN = "not known"


def say_asked(one: Answer) -> str:
    """Return what was asked, as `70 to 80 % in the lowering`."""
    return f"{_say_limit(one.limit)} {_WHEN[one.measure]}"


def _say_limit(limit: Limit) -> str:
    if limit.lower is None:
        return f"{limit.upper:g} % or less"
    return f"{limit.lower:g} % or more" if limit.upper is None else f"{limit.lower:g} to {limit.upper:g} %"


def say_found(answers: Sequence[Answer]) -> tuple[str, ...]:
    """Return a line for each thing that was asked, all of its sets together."""
    groups: dict[str, list[Answer]] = {}
    for one in answers:
        groups.setdefault(say_asked(one), []).append(one)
    return tuple(_say_group(asked, each) for asked, each in groups.items())


def _say_group(asked: str, each: Sequence[Answer]) -> str:
    asked = f"{asked[:1].upper()}{asked[1:]}"
    return f"{asked}: {_say_sets(each)}; of this patient: {say_of_patient(each[0])}."


def _say_sets(each: Sequence[Answer]) -> str:
    numbers: dict[Verdict | None, list[str]] = {}
    for one in each:
        numbers.setdefault(_verdict(one), []).append("" if one.number is None else str(one.number))
    said = [(verdict, numbers[verdict]) for verdict in _ORDER if verdict in numbers]
    return ", ".join(f"{verdict or _UNKNOWN} in {_say_numbers(which, alone=len(each) == 1)}" for verdict, which in said)


def _verdict(one: Answer) -> Verdict | None:
    return None if one.in_this_set is None else one.in_this_set.decision.verdict


def _say_numbers(numbers: Sequence[str], *, alone: bool) -> str:
    if numbers == [""]:
        return "this session"
    if alone:
        return "this set"
    *most, last = numbers
    return f"sets {', '.join(most)} and {last}" if most else f"set {last}"


def say_of_patient(one: Answer) -> str:
    """Return the answer to the second question in short words."""
    second = one.of_this_patient
    if second is None:
        return _UNKNOWN if one.in_this_set is None else f"{_UNKNOWN} yet, 1 session"
    over = "" if second.days is None else f" over {second.days} days"
    return f"{second.decision.verdict}{over}"
