"""What a session brings to the criteria of its stage: each measure's value, and what it is worth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isfinite, sqrt
from statistics import fmean, stdev

from weightshare.exercise import Repetition
from weightshare.metrology.index import Index
from weightshare.metrology.scatter import FEW
from weightshare.pipeline.result import Analysis
from weightshare.programme.criterion import Measure
from weightshare.programme.judgement import Found
from weightshare.records.answer import HELD, LOWERING, Answer
from weightshare.records.appraisal import Appraisal
from weightshare.records.detail import find_details
from weightshare.records.diary import About, Diary
from weightshare.records.lift import Lifts, lifts_of_legs
from weightshare.task import Goal

_OF_ANSWER = {HELD: Measure.SHARE_HELD, LOWERING: Measure.SHARE_LOWERING}
_NOT_TOLD = "it was not told"
_NO_HEIGHT = "the heights of both heels were not measured in every repetition"
_ONE = "a single repetition has no spread"
_NOT_WORTH = "what the heel's height is worth is not known: no calibration was given"


def find_proof(appraisal: Appraisal, goal: Goal, diary: Diary | None = None) -> tuple[Found, ...]:
    """Return all that `appraisal` and the session's diary bring; `goal` says what was asked for."""
    analysis = appraisal.analysis
    found = [*_holds(analysis, goal), *_sets(analysis, goal), *_shares(appraisal.answers), *_limit(analysis)]
    return (
        *found,
        *_load(appraisal),
        *_tempo(analysis),
        *_heights(appraisal),
        *_legs(appraisal),
        *find_details(appraisal),
        *_said(diary or Diary()),
    )


def _holds(analysis: Analysis, goal: Goal) -> Iterator[Found]:
    if analysis.holds is not None:
        yield Found(Measure.LONGEST_HOLD, analysis.longest_hold_s)
        yield Found(Measure.HOLDS_DONE, float(sum(hold.held_s >= goal.hold_s for hold in analysis.holds)))


def _sets(analysis: Analysis, goal: Goal) -> Iterator[Found]:
    if not analysis.sets:
        return
    done = sum(len(one.repetitions) >= goal.repetitions for one in analysis.sets)
    yield Found(Measure.SETS_DONE, float(done))
    yield Found(Measure.REPETITIONS, float(sum(len(one.repetitions) for one in analysis.sets)))
    for one in analysis.sets:
        if one.lowering_in_band_percent is not None:
            yield Found(Measure.LOWERING_IN_BAND, one.lowering_in_band_percent, None, of=f"set {one.number}")


def _shares(answers: Sequence[Answer]) -> Iterator[Found]:
    for one in answers:
        of = "" if one.number is None else f"set {one.number}"
        why = one.why_not if one.u_points is None else ""
        yield Found(_OF_ANSWER[one.measure], one.value_percent, one.u_points, of=of, why_not=why)


def _limit(analysis: Analysis) -> Iterator[Found]:
    if analysis.ceiling is None:
        return
    unread = sum(event.unread for event in analysis.ceiling)
    crossed = len(analysis.ceiling) - unread
    if unread and not crossed:
        times = f"{unread} {'time' if unread == 1 else 'times'}"
        yield Found(Measure.OVER_CEILING, None, why_not=f"the load could not be read {times}")
    else:
        yield Found(Measure.OVER_CEILING, float(crossed))


def _load(appraisal: Appraisal) -> Iterator[Found]:
    held = appraisal.load
    if held is not None:
        yield Found(Measure.LOAD_HELD, held.kg, held.u_kg, why_not=appraisal.missing if held.u_kg is None else "")


def _tempo(analysis: Analysis) -> Iterator[Found]:
    seconds = [one.lowering_duration_s for one in _counted(analysis) if one.lowering_duration_s is not None]
    yield from _mean(Measure.LOWERING_TIME, seconds)


def _heights(appraisal: Appraisal) -> Iterator[Found]:
    """On two legs both heels rise in one repetition; a leg alone is compared in endurance."""
    analysis = appraisal.analysis
    if analysis.exercise is None or analysis.exercise.is_single:
        return
    counted = _counted(analysis)
    if counted:
        index = Lifts(appraisal, counted, counted, together=True).height()
        yield _index(Measure.HEIGHT_INDEX, index, _NO_HEIGHT)


def _index(measure: Measure, index: Index, why_not: str) -> Found:
    """Return a limb symmetry index with what it is worth, as it stands in the comparison of both sides."""
    found = index.limb_symmetry_index
    if found is None:
        return Found(measure, None, why_not=why_not)
    if not isfinite(found.u):
        why = _ONE if isfinite(index.instrument_u) else _NOT_WORTH
        return Found(measure, found.value, None, why_not=why)
    return Found(measure, found.value, found.u, found.dof, u_lasting=index.instrument_u)


def _mean(measure: Measure, values: Sequence[float]) -> Iterator[Found]:
    """Give the mean with the standard error that its spread leaves it (JCGM 100:2008, 4.2.3)."""
    if len(values) >= FEW:
        yield Found(measure, fmean(values), stdev(values) / sqrt(len(values)), len(values) - 1.0)
    elif values:
        yield Found(measure, values[0], None, why_not=_ONE)


def _counted(analysis: Analysis) -> list[Repetition]:
    return [analysis.repetitions[place] for one in analysis.sets for place in one.repetitions]


def _legs(appraisal: Appraisal) -> Iterator[Found]:
    analysis, lifts = appraisal.analysis, lifts_of_legs(appraisal)
    if analysis.endurance is None or lifts is None:
        return
    symmetry = analysis.endurance.symmetry
    why = "; ".join(symmetry.reasons)
    # counts are exact
    yield Found(Measure.REPETITIONS_INDEX, symmetry.count_percent, why_not=why)
    yield _index(Measure.WORK_INDEX, lifts.travel(), why or _NO_HEIGHT)
    if analysis.exercise is not None and analysis.exercise.is_single:
        yield _index(Measure.HEIGHT_INDEX, lifts.height(), why or _NO_HEIGHT)


def _said(diary: Diary) -> Iterator[Found]:
    for about in About:
        if about is About.NOTE:
            continue
        entry = diary.newest(about)
        value = None if entry is None or entry.value is None else float(entry.value)
        yield Found(Measure(about), value, why_not="" if entry else _NOT_TOLD)
