"""What was asked of the share, and whether it was reached, in words: in a set, and of the patient, never as one."""

from __future__ import annotations

from collections.abc import Sequence

from weightshare.metrology.decision import Limit, Verdict
from weightshare.records.answer import HELD, LOWERING, Answer
from weightshare.tongue import mark, say

_WHEN = {LOWERING: mark("in the lowering"), HELD: mark("while held")}
_ORDER = (*Verdict, None)
"""What was reached comes first, what is not known last."""
_UNKNOWN = mark("not known")


def say_asked(one: Answer) -> str:
    """Return what was asked, as `70 to 80 % in the lowering`."""
    return f"{_say_limit(one.limit)} {say(_WHEN[one.measure])}"


def _say_limit(limit: Limit) -> str:
    if limit.lower is None:
        return say("{upper:g} % or less", upper=limit.upper)
    if limit.upper is None:
        return say("{lower:g} % or more", lower=limit.lower)
    return say("{lower:g} to {upper:g} %", lower=limit.lower, upper=limit.upper)


def say_found(answers: Sequence[Answer]) -> tuple[str, ...]:
    """Return a line for each thing that was asked, all of its sets together."""
    groups: dict[str, list[Answer]] = {}
    for one in answers:
        groups.setdefault(say_asked(one), []).append(one)
    return tuple(_say_group(asked, each) for asked, each in groups.items())


def _say_group(asked: str, each: Sequence[Answer]) -> str:
    asked = f"{asked[:1].upper()}{asked[1:]}"
    return say(
        "{asked}: {sets}; of this patient: {of_patient}.",
        asked=asked,
        sets=_say_sets(each),
        of_patient=say_of_patient(each[0]),
    )


def _say_sets(each: Sequence[Answer]) -> str:
    numbers: dict[Verdict | None, list[str]] = {}
    for one in each:
        numbers.setdefault(_verdict(one), []).append("" if one.number is None else str(one.number))
    said = [(verdict, numbers[verdict]) for verdict in _ORDER if verdict in numbers]
    return ", ".join(
        say(
            "{verdict} in {numbers}",
            verdict=say(verdict or _UNKNOWN),
            numbers=_say_numbers(which, alone=len(each) == 1),
        )
        for verdict, which in said
    )


def _verdict(one: Answer) -> Verdict | None:
    return None if one.in_this_set is None else one.in_this_set.decision.verdict


def _say_numbers(numbers: Sequence[str], *, alone: bool) -> str:
    if numbers == [""]:
        return say("this session")
    if alone:
        return say("this set")
    *most, last = numbers
    return say("sets {most} and {last}", most=", ".join(most), last=last) if most else say("set {last}", last=last)


def say_of_patient(one: Answer) -> str:
    """Return the answer to the second question in short words."""
    second = one.of_this_patient
    if second is None:
        return say(_UNKNOWN) if one.in_this_set is None else say("not known yet, 1 session")
    over = "" if second.days is None else say(" over {days} days", days=second.days)
    return f"{say(second.decision.verdict)}{over}"
