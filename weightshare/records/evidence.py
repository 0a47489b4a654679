"""The evidence for the next stage: one line for each criterion, in the newest session and over the days. No score.

Two questions stay apart, as everywhere: was it reached in this set, and is it true of this patient? Nothing is summed
up, and nothing here is a permission.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from statistics import fmean
from typing import Any

from weightshare.metrology.decision import Decision, Limit, Verdict, decide, with_instrument
from weightshare.metrology.repeat import LEAST_DAYS, DayToDay, Repeat, day_to_day
from weightshare.model import Side
from weightshare.pipeline.result import rounded
from weightshare.programme.criterion import ABOUT, THIRDS, Criterion, Measure
from weightshare.programme.judgement import PAINS, Found, Row, judge, limits_of
from weightshare.programme.prescription import Prescription
from weightshare.programme.stage import NO_SOURCE, Stage
from weightshare.records.assessment import are_met

SCHEMA = "weightshare.evidence/1"
NO_PUBLISHED = "No published number says when to go from two legs to one: the treating clinician decides."
DECIDES = "Nothing here is a permission: the treating clinician decides, and the surgeon's protocol goes first."
NO_SESSION = "no session of this stage yet"
JUDGED = "it is the clinician's to judge"
CLOSE = "too close to the limit to decide, given its uncertainty"
MORE_DAYS = "the days differ too much for so few of them: one more day"
INSTRUMENT = (Measure.SHARE_HELD, Measure.LOAD_HELD, Measure.SHARE_LOWERING, *THIRDS, Measure.SHARE_BLIND)
"""What the instrument leaves in doubt on every day alike; of all others u is the spread, which the days show anew, and
only a part of it may last."""
HEIGHTS = (Measure.HEIGHT_INDEX, Measure.WORK_INDEX)
"""What tells nothing where it is not known what a heel's height is worth."""
STEP_U = 1.0 / math.sqrt(12.0)
"""The standard uncertainty of what goes in whole steps: anything within half a step (JCGM 100:2008, F.2.2.1)."""


@dataclass(frozen=True, slots=True)
class Sitting:
    """One session of the stage: when it began (local time with its offset, ISO 8601), and what it brought."""

    started_at: str
    day: date
    found: tuple[Found, ...]


@dataclass(frozen=True, slots=True)
class OfPatient:
    """Whether it is true of this patient, and the days that this rests on."""

    decision: Decision
    days: DayToDay
    worst: tuple[float, date] | None = None
    """Of pain: the greatest figure that was over the limit, and its day; None where no day was."""

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values."""
        made, days = self.decision, self.days
        worst = None if self.worst is None else {"value": self.worst[0], "day": self.worst[1].isoformat()}
        dof = made.estimate.dof
        return {
            "verdict": str(made.verdict),
            "probability": made.probability,
            "value": made.estimate.value,
            "u": made.estimate.u,
            "dof": None if math.isinf(dof) else dof,
            "days": days.days,
            "sessions": days.sessions,
            "first": days.first.isoformat(),
            "last": days.last.isoformat(),
            "sd_between_days": days.sd,
            "trend_per_month": days.trend.per_month.value,
            "trends": days.trends,
            "worst_over_limit": worst,
        }


@dataclass(frozen=True, slots=True)
class Line:
    """One criterion: `row` has the newest session's answer, `patient` that over the days; None: `missing` says why.

    `sessions`: the beginnings of those that it rests on, the newest last.
    """

    row: Row
    source: str
    patient: OfPatient | None = None
    sessions: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values; a question without an answer is null."""
        told = self.row.to_json()
        verdict, probability = told.pop("verdict"), told.pop("probability")
        # what a session that was not done has, is no answer
        known = verdict is not None and told["value"] is not None
        here = {"verdict": verdict, "probability": probability} if known else None
        return {
            **{key: value for key, value in told.items() if key != "note"},
            "source": self.source,
            "in_this_set": here,
            "of_this_patient": None if self.patient is None else self.patient.to_json(),
            "sessions": list(self.sessions),
            "missing": list(self.missing),
        }


@dataclass(frozen=True, slots=True)
class Evidence:
    """All of a stage's lines. `days_met`: the days on which every criterion that can be decided was met, in order;
    `left_out`: sessions that count for nothing, and why; `followed`: whose share it is, None without a session."""

    prescription: Prescription
    lines: tuple[Line, ...]
    days_met: tuple[str, ...] = ()
    sessions: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    followed: Side | None = None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What has to be known with it."""
        return (NO_PUBLISHED, DECIDES) if self.prescription.leaves_two_legs else (DECIDES,)

    @property
    def days_missing(self) -> int:
        """On how many days more the criteria are to be met."""
        return max(0, self.prescription.stage.days - len(self.days_met))

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values of schema weightshare.evidence/1."""
        kept, after = self.prescription, self.prescription.following
        return {
            "schema": SCHEMA,
            "programme": kept.programme,
            "version": kept.version,
            "sha256": kept.sha256,
            "stage": kept.stage.key,
            "stage_name": kept.stage.name,
            "next_stage": None if after is None else after.key,
            "next_locked_by": [] if after is None else [str(lock) for lock in after.shut],
            "criteria": [rounded(line.to_json()) for line in self.lines],
            "days": {"met_on": list(self.days_met), "asked": kept.stage.days, "missing": self.days_missing},
            "sessions": list(self.sessions),
            "left_out": list(self.left_out),
            "remarks": list(self.remarks),
        }


def weigh(
    kept: Prescription, sittings: Sequence[Sitting], sources: dict[str, str], left_out: tuple[str, ...] = ()
) -> Evidence:
    """Return the evidence that `sittings`, in order of time and all of `kept.stage`, bring.

    sources: where each criterion's numbers come from, by its measure; what is not among them has no source.
    """
    stage = kept.stage
    rows = judge(stage, sittings[-1].found if sittings else ())
    lines = tuple(_line(row, stage, sittings, sources.get(str(row.criterion.measure), NO_SOURCE)) for row in rows)
    met = dict.fromkeys(one.day.isoformat() for one in sittings if are_met(judge(stage, one.found)))
    return Evidence(kept, lines, tuple(met), tuple(one.started_at for one in sittings), left_out)


def _line(row: Row, stage: Stage, sittings: Sequence[Sitting], source: str) -> Line:
    if row.criterion.measure is Measure.CLINICIAN:
        return Line(row, source, missing=(JUDGED,))
    if not sittings:
        return Line(row, source, missing=(NO_SESSION,))
    measure = row.criterion.measure
    known = [(one, pair) for one in sittings if (pair := _value(one, measure)) is not None]
    patient, why = _of_patient(row.criterion, stage, known)
    began = dict.fromkeys(one.started_at for one, _pair in known)
    if row.value is not None:
        began.setdefault(sittings[-1].started_at)
    return Line(row, source, patient, tuple(began), tuple(_missing(row, patient, why)))


def _missing(row: Row, patient: OfPatient | None, why: str) -> Iterator[str]:
    if row.note:
        yield f"in this set: {row.note}"
    elif row.verdict is Verdict.UNDECIDED:
        yield f"in this set: {CLOSE}"
    if patient is None:
        yield f"of this patient: {why}"
    elif patient.decision.verdict is Verdict.UNDECIDED:
        if patient.worst is not None:
            yield f"of this patient: over the limit on {patient.worst[1]}, with {patient.worst[0]:g}"
            return
        alone = decide(patient.days.mean, patient.decision.limit)
        yield f"of this patient: {MORE_DAYS if alone.verdict is Verdict.UNDECIDED else CLOSE}"


def _value(sitting: Sitting, measure: Measure) -> tuple[float, float] | None:
    """Return what a session came to, the mean over its sets, and the instrument's u; None where either is not known."""
    mine = [one for one in sitting.found if one.measure is measure]
    values = [one.value for one in mine if one.value is not None]
    if not values or len(values) < len(mine):
        return None
    if measure not in INSTRUMENT and not (measure in HEIGHTS and None in [one.u for one in mine]):
        return fmean(values), STEP_U if _is_whole(measure) else max(one.u_lasting for one in mine)
    doubts = [one.u for one in mine if one.u is not None]
    return (fmean(values), fmean(doubts)) if len(doubts) == len(mine) else None


def _is_whole(measure: Measure) -> bool:
    """Return whether it goes in whole steps: counts, and what a person says of 10."""
    return ABOUT[measure].unit in ("", "of 10")


def _of_patient(
    criterion: Criterion, stage: Stage, known: Sequence[tuple[Sitting, tuple[float, float]]]
) -> tuple[OfPatient | None, str]:
    """Return whether it is true of this patient; None, and why, on too few days.

    The limit of what goes in whole steps lies half a step further out: 2 of at most 2 is no nearness to a limit.
    """
    days = day_to_day([Repeat(one.day, value) for one, (value, _u) in known])
    if days is None:
        count = len({one.day for one, _pair in known})
        return None, f"known on {count} day{'' if count == 1 else 's'} only: it takes {LEAST_DAYS} or more"
    low, high = limits_of(criterion, stage)
    half = 0.5 if _is_whole(criterion.measure) else 0.0
    limit = Limit(None if low is None else low - half, None if high is None else high + half)
    # scales and calibrations may have changed: the greatest doubt is that of all
    estimate = with_instrument(days.mean, max(u for _one, (_value, u) in known))
    made = decide(estimate, limit)
    if criterion.measure in PAINS:
        over = [(value, one.day) for one, (value, _u) in known if not limit.allows(value)]
        worst = max(over, default=None)
        if worst is not None and made.verdict is Verdict.MET:
            # a mean makes nothing of a bad day, and a bad day is what the limit is for
            made = replace(made, verdict=Verdict.UNDECIDED)
        return OfPatient(made, days, worst), ""
    return OfPatient(made, days), ""
