"""The evidence for the next stage: one line a criterion, in the newest session and over the days; nothing summed up."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from statistics import fmean, stdev

import pytest
from scipy.stats import norm, t

from weightshare.metrology.decision import Verdict
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.judgement import Found
from weightshare.programme.prescription import Prescription
from weightshare.programme.shelf import find_programme
from weightshare.records.evidence import (
    CLOSE,
    JUDGED,
    MORE_DAYS,
    NO_PUBLISHED,
    NO_SESSION,
    Evidence,
    Line,
    Sitting,
    weigh,
)

KEPT = find_programme("achilles")
LEAVING = KEPT.prescription(KEPT.find("lowering-90"))
FIRST = date(2026, 3, 2)


def asking(*criteria: Criterion, days: int = 1) -> Prescription:
    return replace(LEAVING, stage=replace(LEAVING.stage, criteria=criteria, days=days))


def sitting(day: int, *found: Found) -> Sitting:
    at = FIRST + timedelta(days=day)
    return Sitting(f"{at}T10:00:00+02:00", at, found)


def only(criterion: Criterion, *sittings: Sitting) -> Line:
    (line,) = weigh(asking(criterion), sittings, {}).lines
    return line


SHARE = Criterion(Measure.SHARE_LOWERING, at_least=85.0)


def shares(*values: float | None, u: float | None = 0.4, why: str = "") -> tuple[Sitting, ...]:
    return tuple(sitting(n, Found(Measure.SHARE_LOWERING, v, u, of="set 1", why_not=why)) for n, v in enumerate(values))


def test_without_a_session_every_line_says_what_is_missing() -> None:
    found = weigh(LEAVING, (), {})
    assert len(found.lines) == len(LEAVING.stage.criteria) == 14
    assert [line.missing for line in found.lines] == [(NO_SESSION,)] * 13 + [(JUDGED,)]
    told = found.to_json()
    assert all(row["in_this_set"] is row["of_this_patient"] is row["value"] is None for row in told["criteria"])
    assert told["days"] == {"met_on": [], "asked": 2, "missing": 2}
    assert NO_PUBLISHED in told["remarks"] and told["next_locked_by"] == ["one-leg"]


def test_nothing_is_summed_into_a_score() -> None:
    told = weigh(LEAVING, (), {}).to_json()
    assert not {"score", "verdict", "total", "probability", "met"} & set(told)


def test_only_the_step_to_one_leg_says_that_no_number_was_published() -> None:
    assert NO_PUBLISHED not in weigh(KEPT.prescription(KEPT.find("lowering-80")), (), {}).remarks


def test_both_questions_have_their_own_answer() -> None:
    """By scipy's distributions: u^2 = s^2/n + u_instrument^2, Welch and Satterthwaite (JCGM 100:2008, G.4.1)."""
    values = (84.0, 89.0, 86.0, 90.0)
    line = only(SHARE, *shares(*values))
    assert line.row.verdict is Verdict.MET
    assert line.row.probability == pytest.approx(norm.cdf((90.0 - 85.0) / 0.4))
    assert line.patient is not None
    se = stdev(values) / 2.0
    u = math.hypot(se, 0.4)
    made = line.patient.decision
    assert made.estimate.value == fmean(values) and made.estimate.u == pytest.approx(u)
    assert made.probability == pytest.approx(t.cdf((fmean(values) - 85.0) / u, 3.0 * (u / se) ** 4))
    assert made.verdict is Verdict.UNDECIDED and line.missing == (f"of this patient: {MORE_DAYS}",)
    assert len(line.sessions) == 4


def test_two_days_say_nothing_of_the_patient() -> None:
    line = only(SHARE, *shares(90.0, 90.0))
    assert line.patient is None and line.row.verdict is Verdict.MET
    assert line.missing == ("of this patient: known on 2 days only: it takes 3 or more",)
    told = line.to_json()
    assert told["of_this_patient"] is None and told["in_this_set"]["verdict"] == "met"


def test_several_sessions_of_a_day_are_one_day() -> None:
    once = sitting(0, Found(Measure.SHARE_LOWERING, 90.0, 0.4))
    again = replace(once, started_at="2026-03-02T15:00:00+02:00")
    line = only(SHARE, once, again, sitting(1, Found(Measure.SHARE_LOWERING, 90.0, 0.4)))
    assert line.patient is None and "2 days" in line.missing[0] and len(line.sessions) == 3


def test_what_lies_in_the_guard_band_is_said_to() -> None:
    line = only(SHARE, *shares(85.1))
    assert line.row.verdict is Verdict.UNDECIDED and line.missing[0] == f"in this set: {CLOSE}"


def test_one_heel_alone_is_null_with_the_reason() -> None:
    reason = "the heights of both heels were not measured"
    line = only(
        Criterion(Measure.HEIGHT_INDEX, at_least=90.0), sitting(0, Found(Measure.HEIGHT_INDEX, None, why_not=reason))
    )
    told = line.to_json()
    assert told["value"] is told["in_this_set"] is told["of_this_patient"] is None
    assert told["missing"][0] == f"in this set: {reason}" and told["sessions"] == []


def test_a_share_without_a_calibration_counts_on_no_day() -> None:
    line = only(SHARE, *shares(90.0, 90.0, 90.0, u=None, why="no calibration"))
    assert line.patient is None and "0 days" in line.missing[1]
    assert line.missing[0] == "in this set: no calibration"
    assert line.to_json()["in_this_set"] == {"verdict": "undecided", "probability": None}


def test_a_session_with_a_set_unknown_counts_on_no_day() -> None:
    """The sets that are known might be the better ones."""
    half = (Found(Measure.SHARE_LOWERING, 90.0, 0.4), Found(Measure.SHARE_LOWERING, None, why_not="unread"))
    line = only(SHARE, sitting(0, *half), sitting(1, *half), sitting(2, *half))
    assert line.patient is None and "0 days" in line.missing[1]


def test_a_mean_makes_nothing_of_a_bad_day() -> None:
    """Eight quiet days, and one of 4 where 2 are the most: the mean of 1.3 would have met the limit."""
    told = [sitting(day, Found(Measure.PAIN_DURING, 4.0 if day == 4 else 1.0)) for day in range(9)]
    line = only(Criterion(Measure.PAIN_DURING, at_most=2.0), *told)
    assert line.patient is not None and line.patient.decision.probability > 0.95
    assert line.patient.decision.verdict is Verdict.UNDECIDED
    assert line.patient.worst == (4.0, told[4].day)
    assert line.missing == (f"of this patient: over the limit on {told[4].day}, with 4",)
    assert line.to_json()["of_this_patient"]["worst_over_limit"] == {"value": 4.0, "day": told[4].day.isoformat()}
    quiet = only(Criterion(Measure.PAIN_DURING, at_most=2.0), *told[:4])
    assert quiet.patient is not None and quiet.patient.worst is None and quiet.missing == ()


def test_of_several_scales_the_greatest_doubt_counts() -> None:
    newest = [sitting(day, Found(Measure.SHARE_LOWERING, 90.0, u)) for day, u in enumerate((0.4, 3.0, 0.4))]
    line = only(SHARE, *newest)
    assert line.patient is not None and line.patient.decision.estimate.u == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("pains", "verdict"),
    [((2, 2, 2), Verdict.MET), ((0, 1, 0), Verdict.MET), ((3, 3, 3), Verdict.NOT_MET), ((0, 4, 2), Verdict.UNDECIDED)],
    ids=str,
)
def test_what_goes_in_whole_steps_has_half_a_step_more(pains: tuple[int, ...], verdict: Verdict) -> None:
    """Three times 2 of at most 2 is met, yet not beyond doubt: Phi(0.5 sqrt(12)) = 0.958 (JCGM 100:2008, F.2.2.1)."""
    told = [sitting(n, Found(Measure.PAIN_NEXT_MORNING, float(pain))) for n, pain in enumerate(pains)]
    line = only(Criterion(Measure.PAIN_NEXT_MORNING, at_most=2.0), *told)
    assert line.patient is not None and line.patient.decision.verdict is verdict
    if pains == (2, 2, 2):
        assert line.patient.decision.probability == pytest.approx(norm.cdf(0.5 * math.sqrt(12.0)))
        assert line.row.probability == 1.0


def test_the_morning_that_was_not_told_is_missing_though_others_were() -> None:
    told = [sitting(n, Found(Measure.PAIN_NEXT_MORNING, 1.0)) for n in range(3)]
    last = sitting(3, Found(Measure.PAIN_NEXT_MORNING, None, why_not="it was not told"))
    line = only(Criterion(Measure.PAIN_NEXT_MORNING, at_most=2.0), *told, last)
    assert line.row.value is None and line.missing == ("in this set: it was not told",)
    assert line.patient is not None and line.patient.days.days == 3


def test_a_spread_is_not_counted_twice() -> None:
    """The u of a mean time is its own spread, which the days show anew."""
    line = only(
        Criterion(Measure.LOWERING_TIME, at_least=2.5),
        *(sitting(n, Found(Measure.LOWERING_TIME, value, 9.0, 9.0)) for n, value in enumerate((3.0, 3.1, 3.2))),
    )
    assert line.patient is not None and line.patient.decision.estimate.u == pytest.approx(0.1 / math.sqrt(3.0))


def test_days_are_counted_on_which_all_was_met() -> None:
    pain = Criterion(Measure.PAIN_DURING, at_most=2.0)

    def day(number: int, share: float, hurt: float) -> Sitting:
        return sitting(number, Found(Measure.SHARE_LOWERING, share, 0.4), Found(Measure.PAIN_DURING, hurt))

    found: Evidence = weigh(asking(SHARE, pain, days=2), (day(0, 90.0, 1.0), day(1, 90.0, 5.0), day(2, 80.0, 0.0)), {})
    assert found.days_met == ("2026-03-02",) and found.days_missing == 1


def test_a_line_names_its_source_or_that_it_has_none() -> None:
    found = weigh(asking(SHARE), (), {"share-lowering": "set for this patient"})
    assert found.lines[0].source == "set for this patient"
    assert weigh(asking(SHARE), (), {}).lines[0].source == "common practice, no source"


def test_defaults_for_leaving_two_legs_are_all_there_and_sourced() -> None:
    measures = {str(one.measure) for one in LEAVING.stage.criteria}
    thirds = {"share-upper-third", "share-middle-third", "share-lower-third"}
    rest = {"supported", "height-index", "lowering-time", "share-fade", "height-fade", "share-blind"}
    assert thirds | rest | {"pain-next-morning", "clinician"} <= measures
    assert LEAVING.stage.days == 2 and LEAVING.stage.blind_sets == (3,)
    assert all(KEPT.programme.source_of(LEAVING.stage, one) for one in (*measures, "days"))
