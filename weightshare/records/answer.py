"""What was asked of the share, and whether it was reached: in this set, and of this patient."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import fsum, inf
from statistics import fmean
from typing import TYPE_CHECKING, Any

import numpy as np

from weightshare.metrology.decision import (
    ONE_SESSION,
    Decision,
    InThisSet,
    Limit,
    OfThisPatient,
    decide,
    two_answers,
)
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.repeat import DayToDay
from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.model import Side, Trace
from weightshare.pipeline.repetition import READ_PART, Stretch
from weightshare.pipeline.result import Analysis
from weightshare.pipeline.sets import SetResult
from weightshare.pipeline.tape import Tape
from weightshare.records.figure import Figure
from weightshare.state import Hold
from weightshare.task import Settings

if TYPE_CHECKING:
    from weightshare.records.appraisal import Doubt

LOWERING = "mean share in the lowering"
HELD = "mean share while held"
NO_DAYS = "it was not measured on enough days: three are needed"

Measure = tuple[str, Side]
"""What is measured, and of which leg's work."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One measure against its limit, percent of the load on the injured side.

    `number` is the set's; None: of all holds. `u_points`: what the instrument leaves in doubt; None where that is not
    known, and then neither question has an answer. Where the second one has none, `why_not` says why.
    """

    measure: str
    number: int | None
    working: Side
    value_percent: float
    u_points: float | None
    limit: Limit
    in_this_set: InThisSet | None = None
    of_this_patient: OfThisPatient | None = None
    why_not: str = ""
    days: DayToDay | None = None
    """The days that the second answer rests on."""

    def over(self, days: DayToDay | None, why_not: str = NO_DAYS) -> Answer:
        """Return this answer with that to the second question, from the days on which it was measured."""
        if self.u_points is None:
            return self
        known, count = (None, None) if days is None else (days.mean, days.days)
        both = two_answers(self.value_percent, self.u_points, known, self.limit, days=count, why_not=why_not)
        first, second = both.in_this_set, both.of_this_patient
        return replace(self, in_this_set=first, of_this_patient=second, why_not=both.why_not, days=days)

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values; a question without an answer is null."""
        first, second = self.in_this_set, self.of_this_patient
        return {
            "measure": self.measure,
            "set": self.number,
            "working": str(self.working),
            "value": self.value_percent,
            "limit": {"lower": self.limit.lower, "upper": self.limit.upper},
            "in_this_set": None if first is None else _plain(first.decision),
            "of_this_patient": None if second is None else {**_plain(second.decision), **_days(self.days)},
            "why_not": self.why_not or None,
        }


def _plain(decision: Decision) -> dict[str, Any]:
    guard, dof = decision.guard, decision.estimate.dof
    return {
        "verdict": str(decision.verdict),
        "probability": decision.probability,
        "asked": decision.asked,
        "value": decision.estimate.value,
        "u": decision.estimate.u,
        "dof": None if dof == inf else dof,
        "guard_band": {"width": guard.width, "r": guard.r, "lower": guard.lower, "upper": guard.upper},
    }


def _days(days: DayToDay | None) -> dict[str, Any]:
    if days is None:
        return {}
    return {
        "days": days.days,
        "sessions": days.sessions,
        "first": days.first.isoformat(),
        "last": days.last.isoformat(),
        "sd_between_days": days.sd,
        "trend_per_month": days.trend.per_month.value,
        "trend_u_per_month": days.trend.per_month.u,
        "detrended": days.detrended,
    }


def answer(
    analysis: Analysis, settings: Settings, doubt: Doubt | None, missing: str, trace: Trace | None
) -> tuple[Answer, ...]:
    """Return what can be said of a session by itself: one answer for each set, or one for all holds.

    doubt: what its numbers are worth; None: `missing` says why. trace: unfiltered, for the share while held. Nothing is
    answered where no target was given, or nothing was done.
    """
    if settings.target_percent is None:
        return ()
    found = _held(analysis, settings, doubt, trace) if analysis.holds else _sets(analysis, settings, doubt)
    return tuple(_decided(one, missing) for one in found)


def _decided(bare: Answer, missing: str) -> Answer:
    """Return `bare` with the answer to the first question; `missing`: why what the numbers are worth is not known."""
    if bare.u_points is None:
        return replace(bare, why_not=missing or "what the share is worth is not known")
    here = InThisSet(decide(Estimate(bare.value_percent, bare.u_points), bare.limit))
    return replace(bare, in_this_set=here, why_not=ONE_SESSION)


def _sets(analysis: Analysis, settings: Settings, doubt: Doubt | None) -> Iterator[Answer]:
    for one in analysis.sets:
        limit = limit_of(settings.for_leg(one.working))
        if one.share_lowering_percent is not None and limit is not None:
            u = None if doubt is None else _set_u(one, analysis, doubt)
            yield Answer(LOWERING, one.number, one.working, one.share_lowering_percent, u, limit)


def _set_u(one: SetResult, analysis: Analysis, doubt: Doubt) -> float | None:
    """Return the standard uncertainty of a set's mean share, points.

    What the instrument has wrong is nearly the same in all repetitions, so it is taken as no smaller in their mean
    (JCGM 100:2008, 5.2.2, note 1: fully correlated, standard uncertainties add up).
    """
    known = [place for place in one.repetitions if analysis.repetitions[place].share_lowering_percent is not None]
    return _mean_u([doubt.repetitions[place].share_lowering_points for place in known])


def _mean_u(expanded: Sequence[float | None]) -> float | None:
    known = [points for points in expanded if points is not None]
    return fmean(known) / COVERAGE_FACTOR if known and len(known) == len(expanded) else None


def _held(analysis: Analysis, settings: Settings, doubt: Doubt | None, trace: Trace | None) -> Iterator[Answer]:
    limit, holds = limit_of(settings), analysis.holds or ()
    value = None if trace is None else held_share_percent(trace, holds, settings.injured)
    if limit is not None and value is not None:
        u = None if doubt is None or len(doubt.holds) != len(holds) else _mean_u(doubt.holds)
        yield Answer(HELD, None, settings.working_side, value, u, limit)


def asked_share_percent(settings: Settings, figures: Sequence[Figure]) -> float | None:
    """Return the mean of the share that was asked for on two legs; None where none was, or it is not known."""
    if settings.target_percent is None or settings.is_single:
        return None
    name = LOWERING if settings.is_repeated else HELD
    return next((one.value for one in figures if one.name == name and one.side in (None, settings.injured)), None)


def limit_of(settings: Settings) -> Limit | None:
    """Return the band as limits of the injured side's share, percent; None where every share is allowed.

    No share is under 0 or over 100: an edge there is none.
    """
    band = settings.band_percent
    if band is None:
        return None
    low, high = band
    edges = (low if low > 0.0 else None, high if high < 100.0 else None)
    return None if edges == (None, None) else Limit(*edges)


def held_share_percent(trace: Trace, holds: Sequence[Hold], injured: Side) -> float | None:
    """Return the impulse share of the injured side from the first to the last instant of each of `holds`, percent.

    Time within the grace counts to it, though it is not held: a mean of what is in the band could be nowhere else. None
    where there is no hold, or less than nine tenths of them were read.
    """
    if not trace.time_s.size:
        return None
    tape = Tape(2)
    tape.push(trace.time_s, np.stack([trace.columns[f"{side}_N"] for side in (injured, injured.other)]))
    found = [Stretch.of(tape, (0, 1), hold.start_s, hold.end_s).impulses() for hold in holds]
    asked_s = fsum(hold.end_s - hold.start_s for hold in holds)
    injured_Ns, other_Ns = (fsum(float(impulses[row]) for impulses, _read_s in found) for row in (0, 1))
    if fsum(read_s for _impulses, read_s in found) < READ_PART * asked_s or not injured_Ns + other_Ns > 0.0:
        return None
    return 100.0 * injured_Ns / (injured_Ns + other_Ns)


def over_days(
    answers: Sequence[Answer], days_of: Callable[[Measure], tuple[DayToDay | None, str]]
) -> tuple[Answer, ...]:
    """Return `answers` with those to the second question; days_of: the days of a measure, and why there are none."""
    return tuple(one.over(*days_of((one.measure, one.working))) for one in answers)
