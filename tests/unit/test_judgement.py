"""A stage's criteria against what was found: met, not met, undecided; and what that suggests."""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.exercise import Exercise
from weightshare.metrology.decision import Verdict
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.judgement import (
    Course,
    Found,
    Row,
    find_warnings,
    judge,
    limits_of,
    say_row,
    suggest,
)
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage

KEPT = find_programme("achilles")
LOWERING = KEPT.find("lowering-75")
NEXT = KEPT.find("lowering-80")
GOOD = (
    Found(Measure.SETS_DONE, 3.0),
    *(Found(Measure.SHARE_LOWERING, 75.0, 0.2, of=f"set {number}") for number in (1, 2, 3)),
    Found(Measure.PAIN_DURING, 1.0),
    Found(Measure.PAIN_NEXT_MORNING, 2.0),
)


def only(measure: Measure, *found: Found, **limits: float) -> Row:
    """Return the row of one criterion."""
    stage = replace(LOWERING, criteria=(Criterion(measure, **limits),))  # type: ignore[arg-type]
    (row,) = judge(stage, found)
    return row


def test_all_met_suggests_the_next_target_with_its_numbers() -> None:
    """75 to 80: the customary step (common practice, no source)."""
    rows = judge(LOWERING, GOOD)
    assert [row.verdict for row in rows] == [Verdict.MET] * 4
    found = suggest(LOWERING, rows, following=NEXT)
    assert (found.course, found.stage) == (Course.NEXT, NEXT)
    assert found.words.startswith("Down with 80 % (from 75 to 80 %) could be next. The treating clinician decides")
    assert found.reasons[1].startswith("mean share in the lowering, each set (set 1): 75 % +- 0.4, asked 70 to 80: met")


def test_the_worst_set_speaks_for_all() -> None:
    sets = [Found(Measure.SHARE_LOWERING, share, 0.2, of=f"set {n}") for n, share in enumerate((75.0, 64.0, 76.0), 1)]
    row = judge(LOWERING, sets)[1]
    assert (row.value, row.of, row.verdict) == (64.0, "set 2", Verdict.NOT_MET)


def test_a_known_conformance_probability() -> None:
    """JCGM 106:2012: at least 490, value 509.7, u 8.6: 0.989 (from memory). Asked of seconds here."""
    row = only(Measure.LONGEST_HOLD, Found(Measure.LONGEST_HOLD, 509.7, 8.6), at_least=490.0)
    assert row.probability == pytest.approx(0.989, abs=5e-4) and row.verdict is Verdict.MET
    closer = only(Measure.LONGEST_HOLD, Found(Measure.LONGEST_HOLD, 492.0, 8.6), at_least=490.0)
    assert closer.verdict is Verdict.UNDECIDED


@pytest.mark.parametrize(("value", "verdict"), [(2.0, Verdict.MET), (3.0, Verdict.NOT_MET)])
def test_limits_are_met_themselves(value: float, verdict: Verdict) -> None:
    row = only(Measure.PAIN_AFTER, Found(Measure.PAIN_AFTER, value), at_most=2.0)
    assert (row.verdict, row.probability) == (verdict, float(verdict is Verdict.MET))


def test_what_is_not_known_is_undecided_and_says_why() -> None:
    assert only(Measure.PAIN_AFTER, at_most=2.0).note == "it was not measured"
    told = only(Measure.PAIN_AFTER, Found(Measure.PAIN_AFTER, None, why_not="it was not told"), at_most=2.0)
    assert (told.verdict, told.note, told.probability) == (Verdict.UNDECIDED, "it was not told", None)


def test_a_value_whose_worth_is_not_known_decides_nothing() -> None:
    found = Found(Measure.SHARE_LOWERING, 75.0, None, why_not="no calibration")
    row = only(Measure.SHARE_LOWERING, found, at_least=70.0)
    assert (row.verdict, row.value, row.note) == (Verdict.UNDECIDED, 75.0, "no calibration")
    as_it_is = only(Measure.WORK_INDEX, Found(Measure.WORK_INDEX, 91.0, None), at_least=90.0)
    assert as_it_is.verdict is Verdict.MET and "taken as it is" in as_it_is.note


def test_near_the_target_is_closer_above_75_percent() -> None:
    near = Criterion(Measure.SHARE_LOWERING, near_target=True)
    assert limits_of(near, LOWERING) == (70.0, 80.0)
    assert limits_of(near, NEXT) == (77.5, 82.5)
    assert limits_of(near, replace(LOWERING, one_sided=True)) == (70.0, None)
    # 76 % would be met at 75, and is no 80
    assert judge(NEXT, [Found(Measure.SHARE_LOWERING, 76.0, 0.2)])[1].verdict is Verdict.NOT_MET


def test_the_clinicians_own_criterion_has_no_verdict_and_hinders_nothing() -> None:
    whole, known = KEPT.find("lowering-90"), {Measure.CLINICIAN, *(one.measure for one in GOOD)}
    stage = replace(whole, days=1, criteria=tuple(one for one in whole.criteria if one.measure in known))
    near = [replace(one, value=90.0) if one.measure is Measure.SHARE_LOWERING else one for one in GOOD]
    rows = judge(stage, near)
    assert rows[-1].verdict is None and rows[-1].to_json()["verdict"] is None
    found = suggest(stage, rows, following=KEPT.find("one-leg-down"))
    assert found.course is Course.NEXT and found.to_json()["locked_by"] == ["one-leg"]
    assert "It is locked (one-leg) until the clinician frees it." in found.words
    assert "No published number says" in found.reasons[-1]


def test_pain_over_the_limit_suggests_to_ease_and_never_orders() -> None:
    found = [replace(one, value=4.0) if one.measure is Measure.PAIN_DURING else one for one in GOOD]
    warnings = find_warnings(found, pain_limit=2)
    assert warnings == ("pain during was 4 of 10, over the limit of 2",)
    before = KEPT.find("lowering-60")
    told = suggest(LOWERING, judge(LOWERING, found), following=NEXT, before=before, warnings=warnings)
    assert (told.course, told.stage) == (Course.EASE, before)
    assert told.words.startswith("It may be better") and "The treating clinician decides" in told.words


def test_a_passed_limit_of_load_is_a_warning() -> None:
    assert find_warnings([Found(Measure.OVER_CEILING, 2.0)], None) == ("the limit of load was passed 2 times",)
    assert find_warnings([Found(Measure.OVER_CEILING, 0.0), Found(Measure.PAIN_AFTER, 9.0)], None) == ()


def test_the_morning_that_is_still_to_come_is_told_apart() -> None:
    found = [one for one in GOOD if one.measure is not Measure.PAIN_NEXT_MORNING]
    told = suggest(LOWERING, judge(LOWERING, found), following=NEXT)
    assert told.course is Course.AGAIN and told.words.startswith("All else is met; how the next morning is")


def test_days_are_asked_for() -> None:
    stage: Stage = replace(LOWERING, days=2)
    first = suggest(stage, judge(stage, GOOD), following=NEXT, days_met=1)
    assert first.course is Course.AGAIN and first.words.startswith("Met on 1 of 2 days")
    assert suggest(stage, judge(stage, GOOD), following=NEXT, days_met=2).course is Course.NEXT


def test_a_stage_without_criteria_suggests_nothing_new() -> None:
    bare = Stage("a", "A", Exercise.RAISE, target_percent=50.0)
    assert suggest(bare, judge(bare, ()), following=NEXT).course is Course.AGAIN


def test_after_the_last_stage_there_is_none() -> None:
    assert suggest(LOWERING, judge(LOWERING, GOOD)).stage is None


def test_a_probability_is_never_said_to_be_certain() -> None:
    row = only(Measure.SHARE_LOWERING, Found(Measure.SHARE_LOWERING, 75.0, 0.1), at_least=70.0)
    assert say_row(row).endswith("met (over 99 %)")
