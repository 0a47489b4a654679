"""Whether a stage's criteria are met, one by one, and what that suggests. The clinician decides.

Whoever measures brings `Found` values, one or several of a measure; `judge` holds them against the stage's criteria,
and `suggest` says in words what could come next, with the numbers that it rests on. Nothing here is a permission.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from weightshare.metrology.decision import PROBABILITY, Decision, Limit, Verdict, decide
from weightshare.metrology.estimate import Estimate
from weightshare.programme.criterion import ABOUT, Criterion, Measure
from weightshare.programme.stage import Stage

NOT_MEASURED = "it was not measured"
AS_IT_IS = "what it is worth is not known: taken as it is"
TO_JUDGE = "for the clinician to judge"
OVER_99, UNDER_1 = "over 99 %", "under 1 %"
_WORST_FIRST = (Verdict.NOT_MET, Verdict.UNDECIDED, Verdict.MET)
PAINS = (Measure.PAIN_BEFORE, Measure.PAIN_DURING, Measure.PAIN_AFTER, Measure.PAIN_NEXT_MORNING)


@dataclass(frozen=True, slots=True)
class Found:
    """One value of a measure, in the measure's unit. `u`: its standard uncertainty, 0 for a count; None: not known.

    `of`: which part of the session it is of, as `set 2`; empty for all of it. `value` None: `why_not` says why. With a
    value and no `u`, `why_not` says why nothing can be decided; empty: it is taken as it is.
    """

    measure: Measure
    value: float | None
    u: float | None = 0.0
    dof: float = math.inf
    of: str = ""
    why_not: str = ""
    u_lasting: float = 0.0
    """What of `u` is the instrument's beside the spread, and so the same on every day."""


@dataclass(frozen=True, slots=True)
class Row:
    """One criterion with what was found. Of several values the one that is furthest from it stands here.

    `verdict` None: the clinician's own to judge. `probability` None: there is no value, or what it is worth is not
    known, and `note` says so.
    """

    criterion: Criterion
    limits: tuple[float | None, float | None]
    value: float | None = None
    u: float | None = None
    of: str = ""
    verdict: Verdict | None = None
    probability: float | None = None
    note: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values."""
        about = ABOUT[self.criterion.measure]
        return {
            "measure": str(self.criterion.measure),
            "words": self.criterion.words or about.words,
            "unit": about.unit or None,
            "at_least": self.limits[0],
            "at_most": self.limits[1],
            "value": self.value,
            "u": self.u,
            "of": self.of or None,
            "verdict": None if self.verdict is None else str(self.verdict),
            "probability": self.probability,
            "note": self.note or None,
        }


def limits_of(criterion: Criterion, stage: Stage) -> tuple[float | None, float | None]:
    """Return the limits of `criterion` in `stage`: near the target, they are its tolerance of a mean."""
    target = stage.target_percent
    if not criterion.near_target or target is None:
        return criterion.at_least, criterion.at_most
    high = target + stage.mean_points
    return max(0.0, target - stage.mean_points), None if stage.one_sided or high >= 100.0 else high


def judge(stage: Stage, found: Sequence[Found], probability: float = PROBABILITY) -> tuple[Row, ...]:
    """Return a row for each criterion of `stage`, in its order; `probability`: what it takes to call one met."""
    return tuple(_judge(one, stage, found, probability) for one in stage.criteria)


def _judge(criterion: Criterion, stage: Stage, found: Sequence[Found], probability: float) -> Row:
    limits = limits_of(criterion, stage)
    if criterion.measure is Measure.CLINICIAN:
        return Row(criterion, limits, note=TO_JUDGE)
    mine = [one for one in found if one.measure is criterion.measure]
    missing = next((one for one in mine if one.value is None), None)
    if missing is not None or not mine:
        why = missing.why_not if missing is not None and missing.why_not else NOT_MEASURED
        return Row(criterion, limits, verdict=Verdict.UNDECIDED, note=why)
    rows = [_row(criterion, limits, one, probability) for one in mine]
    return min(rows, key=_worst_first)


def _worst_first(row: Row) -> tuple[int, float]:
    assert row.verdict is not None
    return _WORST_FIRST.index(row.verdict), 1.0 if row.probability is None else row.probability


def _row(criterion: Criterion, limits: tuple[float | None, float | None], found: Found, probability: float) -> Row:
    limit = Limit(*limits)
    assert found.value is not None
    if found.u is None:
        verdict = Verdict.MET if limit.allows(found.value) else Verdict.NOT_MET
        verdict, note = (Verdict.UNDECIDED, found.why_not) if found.why_not else (verdict, AS_IT_IS)
        return Row(criterion, limits, found.value, None, found.of, verdict, None, note)
    made: Decision = decide(Estimate(found.value, found.u, found.dof), limit, probability)
    return Row(criterion, limits, found.value, found.u, found.of, made.verdict, made.probability)


class Course(StrEnum):
    """What a session suggests. Each is a suggestion: the treating clinician takes it or not."""

    NEXT = "next"
    """All criteria are met on as many days as were asked for."""
    AGAIN = "again"
    """Something is not met, or not known."""
    EASE = "ease"
    """Something speaks against more: pain, or a limit of load that was passed."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What could come next, in words, and the lines that it rests on. `stage` is None where there is no such stage."""

    course: Course
    words: str
    stage: Stage | None = None
    reasons: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values."""
        target = None if self.stage is None else self.stage.target_percent
        return {
            "suggests": str(self.course),
            "words": self.words,
            "stage": None if self.stage is None else self.stage.key,
            "target_percent": target,
            "locked_by": [] if self.stage is None else [str(lock) for lock in self.stage.shut],
            "reasons": list(self.reasons),
        }


DECIDES = "The treating clinician decides, and the surgeon's protocol goes first."


def suggest(
    stage: Stage,
    rows: Sequence[Row],
    *,
    following: Stage | None = None,
    before: Stage | None = None,
    warnings: Sequence[str] = (),
    days_met: int = 1,
) -> Suggestion:
    """Return what the rows of `stage` suggest.

    following, before: the programme's next stage and the one before. warnings: what speaks against more load, in words
    (`find_warnings`). days_met: on how many days all criteria were met, this one among them.
    """
    reasons = tuple(say_row(row) for row in rows)
    if warnings:
        back = "" if before is None else f", or going back to {before.name}"
        words = f"It may be better to rest and to ask before the next session{back}. {DECIDES}"
        return Suggestion(Course.EASE, words, before, (*warnings, *reasons))
    asked = [row for row in rows if row.verdict is not None]
    still = [row.criterion.measure for row in asked if row.value is None]
    unmet = [row.criterion.measure for row in asked if row.verdict is not Verdict.MET]
    if unmet == still == [Measure.PAIN_NEXT_MORNING]:
        words = f"All else is met; how the next morning is has still to be told. {DECIDES}"
        return Suggestion(Course.AGAIN, words, stage, reasons)
    if not asked or unmet:
        return Suggestion(Course.AGAIN, f"{stage.name} could be done again. {DECIDES}", stage, reasons)
    if days_met < stage.days:
        words = f"Met on {days_met} of {stage.days} days: {stage.name} could be done again. {DECIDES}"
        return Suggestion(Course.AGAIN, words, stage, reasons)
    if following is None:
        return Suggestion(Course.NEXT, f"This was the programme's last stage. {DECIDES}", None, reasons)
    lock = f" It is locked ({', '.join(following.shut)}) until the clinician frees it." if following.shut else ""
    return Suggestion(
        Course.NEXT, f"{following.name}{_step(stage, following)} could be next.{lock} {DECIDES}", following, reasons
    )


def _step(stage: Stage, following: Stage) -> str:
    now, then = stage.target_percent, following.target_percent
    return "" if now is None or then is None or now == then else f" (from {now:g} to {then:g} %)"


def find_warnings(found: Sequence[Found], pain_limit: int | None) -> tuple[str, ...]:
    """Return in words what speaks against more: pain over the limit, crossings of the ceiling."""
    said = []
    for one in found:
        if one.value is None:
            continue
        if one.measure in PAINS and pain_limit is not None and one.value > pain_limit:
            said.append(f"{ABOUT[one.measure].words} was {one.value:g} of 10, over the limit of {pain_limit}")
        if one.measure is Measure.OVER_CEILING and one.value > 0.0:
            said.append(f"the limit of load was passed {one.value:g} {'time' if one.value == 1.0 else 'times'}")
    return tuple(said)


def say_row(row: Row) -> str:
    """Return a row in one line, as `mean share while held: 74.9 % +- 0.8, asked 70 to 80: met (100 %)`."""
    about = ABOUT[row.criterion.measure]
    if row.verdict is None:
        return f"{about.words}: {row.criterion.words}"
    low, high = row.limits
    asked = f"at most {high:g}" if low is None else f"at least {low:g}" if high is None else f"{low:g} to {high:g}"
    where = f" ({row.of})" if row.of else ""
    if row.value is None:
        return f"{about.words}: not known, asked {asked}: {row.verdict}, {row.note}"
    # k = 2
    worth = f" +- {2.0 * row.u:.2g}" if row.u else ""
    unit = f" {about.unit}" if about.unit else ""
    verdict = say_here(row)
    note = f", {row.note}" if row.note else ""
    return f"{about.words}{where}: {row.value:.4g}{unit}{worth}, asked {asked}: {verdict}{note}"


def say_here(row: Row) -> str:
    """Return the verdict of a row in its session; what is exact has no probability."""
    return say_verdict(row.verdict, row.probability if row.u else None)


def say_verdict(verdict: Verdict | None, probability: float | None) -> str:
    """Return a verdict, with its probability where there is one."""
    return str(verdict) if probability is None else f"{verdict} ({say_probability(probability)})"


def say_probability(probability: float) -> str:
    """Return a probability, 0 to 1, in whole percent towards 50: never surer than it is, nor all or nothing."""
    percent = 100.0 * probability
    if not 1.0 <= percent <= 99.0:
        return OVER_99 if percent > 99.0 else UNDER_1
    return f"{math.floor(percent) if percent > 50.0 else math.ceil(percent)} %"
