"""What the repetitions of a session bring to criteria: thirds, blind sets, support, fading."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import variance

import pytest

from tests.unit.test_assessment import SETTINGS, STOOD, appraised, repetition
from weightshare.exercise import Repetition, SetSpan
from weightshare.metrology.decision import Limit
from weightshare.model import Side
from weightshare.pipeline import Analysis
from weightshare.pipeline.sets import sum_up
from weightshare.programme.criterion import THIRDS, Measure
from weightshare.programme.judgement import Found
from weightshare.records.answer import LOWERING, Answer
from weightshare.records.detail import NO_BLIND, NO_HEIGHT, NO_THIRDS, NO_WEIGHT, TOO_FEW, find_details


def found_of(*repetitions: Repetition, blind: bool = False, u_points: float | None = 0.4) -> dict[Measure, Found]:
    """Return what one set of `repetitions` brings, whose share is worth `u_points`."""
    spans = [SetSpan(1, 0.0, 1000.0, blind=blind)]
    analysis: Analysis = replace(STOOD, repetitions=repetitions, sets=sum_up(repetitions, spans, SETTINGS))
    answers = (Answer(LOWERING, 1, Side.LEFT, 75.0, u_points, Limit(70.0, 80.0), why_not="not calibrated"),)
    found = list(find_details(replace(appraised(analysis), answers=answers)))
    assert len({one.measure for one in found}) == len(found)
    return {one.measure: one for one in found}


def test_each_third_is_told_by_itself_and_worth_what_its_set_is() -> None:
    reps = [replace(repetition(n), share_lowering_thirds_percent=(80.0 + n, 75.0, None)) for n in range(2)]
    upper, middle, lower = (found_of(*reps)[each] for each in THIRDS)
    assert (upper.value, upper.u, upper.of, upper.why_not) == (80.5, 0.4, "set 1", "")
    assert middle.value == 75.0
    assert (lower.value, lower.why_not) == (None, NO_THIRDS)


def test_a_share_that_is_worth_nothing_known_says_why() -> None:
    reps = [replace(repetition(n), share_lowering_thirds_percent=(80.0, 75.0, 70.0)) for n in range(2)]
    upper = found_of(*reps, u_points=None)[Measure.SHARE_UPPER_THIRD]
    assert upper.u is None and "calibration" in upper.why_not


def test_a_blind_set_counts_and_none_is_said_to_be_missing() -> None:
    assert found_of(repetition(0), blind=True)[Measure.SHARE_BLIND].value == 75.0
    seen = found_of(repetition(0))[Measure.SHARE_BLIND]
    assert (seen.value, seen.why_not) == (None, NO_BLIND)


@pytest.mark.parametrize(
    ("supported", "count", "why"), [(False, 0.0, ""), (True, 1.0, ""), (None, None, NO_WEIGHT)], ids=str
)
def test_support_is_counted_and_unknown_body_weight_decides_nothing(
    supported: bool | None, count: float | None, why: str
) -> None:
    one = found_of(repetition(0), replace(repetition(1), supported=supported))[Measure.SUPPORTED]
    assert (one.value, one.why_not) == (count, why)


def test_fading_carries_the_spread_of_first_and_last_repetitions() -> None:
    """The fall of means and its u worked by hand: sqrt(s1^2/3 + s2^2/3), JCGM 100:2008, 4.2.3 and 5.1.2."""
    shares, heights = (76.0, 75.0, 74.0, 70.0, 69.0, 65.0), (100.0, 98.0, 102.0, 90.0, 94.0, 92.0)
    found = found_of(*(repetition(n, share, mm) for n, (share, mm) in enumerate(zip(shares, heights, strict=True))))
    fade, fall = found[Measure.SHARE_FADE], found[Measure.HEIGHT_FADE]
    assert fade.value == pytest.approx(7.0)
    assert fade.u == pytest.approx(math.sqrt((1.0 + variance(shares[3:])) / 3.0)) and fade.dof == 4.0
    assert fall.value == pytest.approx(8.0)
    assert fall.u == pytest.approx(math.sqrt(4.0 / 3.0 + 0.92**2 * 4.0 / 3.0))


def test_a_short_set_and_one_heel_alone_have_no_fall() -> None:
    assert found_of(repetition(0))[Measure.SHARE_FADE].why_not == TOO_FEW
    bare = found_of(*(replace(repetition(n), height_injured_mm=None) for n in range(6)))
    assert bare[Measure.SHARE_FADE].value == 0.0
    assert (bare[Measure.HEIGHT_FADE].value, bare[Measure.HEIGHT_FADE].why_not) == (None, NO_HEIGHT)


def test_sets_of_the_other_leg_bring_nothing() -> None:
    spans = [SetSpan(1, 0.0, 1000.0, working=Side.RIGHT)]
    reps = (repetition(0), repetition(1))
    one = replace(sum_up(reps, spans, SETTINGS)[0], working=Side.RIGHT)
    assert list(find_details(appraised(replace(STOOD, repetitions=reps, sets=(one,))))) == []
