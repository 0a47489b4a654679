"""What the repetitions of a session bring to criteria beyond their means: thirds, blind sets, support, fading."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from statistics import fmean, variance

from weightshare.exercise import Repetition
from weightshare.metrology.estimate import Estimate
from weightshare.pipeline.fatigue import find_fatigue, height_mm
from weightshare.pipeline.sets import SetResult
from weightshare.programme.criterion import THIRDS, Measure
from weightshare.programme.judgement import Found
from weightshare.records.answer import LOWERING, Answer
from weightshare.records.appraisal import Appraisal

NO_THIRDS = "the way down could not be told by thirds"
NO_BLIND = "no set was done blind"
NO_WEIGHT = "body weight was not known, so that nobody can tell"
NO_HEIGHT = "the heel's height was not measured"
NO_SHARE = "the share in the lowering is not known for all repetitions"
TOO_FEW = "with fewer than four repetitions a set has no first and last ones"


def find_details(appraisal: Appraisal) -> Iterator[Found]:
    """Yield what the sets bring in which the injured leg works; a share is worth as much as that of its set.

    What the instrument has wrong in a whole lowering it has wrong in a third of it too, hence the same uncertainty.
    """
    analysis = appraisal.analysis
    sets = [one for one in analysis.sets if one.repetitions and one.working is analysis.injured_side]
    answers = {one.number: one for one in appraisal.answers if one.measure == LOWERING}
    for one in sets:
        mine = [analysis.repetitions[place] for place in one.repetitions]
        yield from _thirds(one, mine, answers.get(one.number), appraisal.missing)
        yield from _fade(one, mine)
    yield from _blind(sets, answers)
    yield from _supported([analysis.repetitions[place] for one in sets for place in one.repetitions])


def _thirds(one: SetResult, mine: Sequence[Repetition], worth: Answer | None, missing: str) -> Iterator[Found]:
    u = None if worth is None else worth.u_points
    why = "" if u is not None else missing or "what the share is worth is not known"
    for place, measure in enumerate(THIRDS):
        parts = [rep.share_lowering_thirds_percent or (None, None, None) for rep in mine]
        known = [part for part in (third[place] for third in parts) if part is not None]
        if known:
            yield Found(measure, fmean(known), u, of=f"set {one.number}", why_not=why)
        else:
            yield Found(measure, None, of=f"set {one.number}", why_not=NO_THIRDS)


def _blind(sets: Sequence[SetResult], answers: dict[int | None, Answer]) -> Iterator[Found]:
    blind = [answers[one.number] for one in sets if one.blind and one.number in answers]
    for one in blind:
        why = one.why_not if one.u_points is None else ""
        yield Found(Measure.SHARE_BLIND, one.value_percent, one.u_points, of=f"set {one.number}", why_not=why)
    if sets and not blind:
        yield Found(Measure.SHARE_BLIND, None, why_not=NO_BLIND)


def _supported(mine: Sequence[Repetition]) -> Iterator[Found]:
    """Count those in which a part of the weight was elsewhere: a light touch is not seen."""
    if not mine:
        return
    count = sum(one.supported is True for one in mine)
    unknown = any(one.supported is None for one in mine)
    yield Found(Measure.SUPPORTED, None, why_not=NO_WEIGHT) if unknown else Found(Measure.SUPPORTED, float(count))


def _fade(one: SetResult, mine: Sequence[Repetition]) -> Iterator[Found]:
    of, fatigue = f"set {one.number}", find_fatigue(mine)
    if fatigue is None:
        yield from (Found(each, None, of=of, why_not=TOO_FEW) for each in (Measure.SHARE_FADE, Measure.HEIGHT_FADE))
        return
    each = fatigue.repetitions_each
    if fatigue.share_fall_points is None:
        yield Found(Measure.SHARE_FADE, None, of=of, why_not=NO_SHARE)
    else:
        first, last = _ends(mine, each, lambda rep: rep.share_lowering_percent)
        u = math.hypot(first.u, last.u)
        yield Found(Measure.SHARE_FADE, fatigue.share_fall_points, u, first.dof + last.dof, of)
    if fatigue.height_fall_percent is None:
        yield Found(Measure.HEIGHT_FADE, None, of=of, why_not=NO_HEIGHT)
    else:
        first, last = _ends(mine, each, lambda rep: height_mm(rep, injured=True))
        # 100 (1 - last / first), by the law of propagation (JCGM 100:2008, 5.1.2)
        u = 100.0 / first.value * math.hypot(last.u, last.value / first.value * first.u)
        yield Found(Measure.HEIGHT_FADE, fatigue.height_fall_percent, u, first.dof + last.dof, of)


def _ends(
    mine: Sequence[Repetition], each: int, figure: Callable[[Repetition], float | None]
) -> tuple[Estimate, Estimate]:
    """Return the means of the first and the last ones, with the standard error that their spread leaves (JCGM
    100:2008, 4.2.3); `figure` is known of all of them."""

    def mean(some: Sequence[Repetition]) -> Estimate:
        known = [value for value in map(figure, some) if value is not None]
        return Estimate(fmean(known), math.sqrt(variance(known) / len(known)), len(known) - 1.0)

    return mean(mine[:each]), mean(mine[-each:])
