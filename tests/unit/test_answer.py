"""What was asked of the share, and whether it was reached: from the analysis to both answers."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from statistics import fmean

import numpy as np
import pytest

from tests.unit.heels import heeled
from tests.unit.plates import lose, make_trace
from tests.unit.raises import raises
from tests.unit.test_appraisal import ASKED, CALIBRATION
from weightshare.exercise import Exercise, SetSpan
from weightshare.metrology.decision import ONE_SESSION, Limit, Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Calibration, Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.records.answer import HELD, LOWERING, Answer, held_share_percent, limit_of
from weightshare.records.appraisal import NOT_GIVEN, Appraisal, appraise
from weightshare.state import Hold
from weightshare.task import Settings

RAISE = Settings(Side.LEFT, 50.0, exercise=Exercise.RAISE)
RAISED = heeled(raises((1.0, 1.0, 2.0), 6))
BOTH = (SetSpan(1, 0.0, 18.0), SetSpan(2, 18.0, 60.0))


def asked(
    trace: Trace, settings: Settings, spans: Sequence[SetSpan] = (), calibration: Calibration | None = CALIBRATION
) -> Appraisal:
    return appraise(analyse_trace(trace, settings, spans), settings, calibration, trace=trace)


def standing(left_N: float, settings: Settings = ASKED) -> tuple[Answer, ...]:
    return asked(make_trace([(20.0, left_N, 700.0 - left_N)]), settings).answers


@pytest.mark.parametrize(
    ("settings", "expected"),
    [
        (ASKED, Limit(70.0, 80.0)),
        (replace(ASKED, one_sided=True), Limit(lower=70.0)),
        (replace(ASKED, target_percent=97.0), Limit(lower=92.0)),
        (replace(ASKED, target_percent=95.0), Limit(lower=90.0)),
        (replace(ASKED, target_percent=0.0), Limit(upper=5.0)),
        (replace(ASKED, target_percent=None), None),
        (replace(ASKED, target_percent=50.0, tolerance_percent=50.0), None),
    ],
)
def test_the_band_is_the_limit_and_an_edge_that_nothing_can_pass_is_none(
    settings: Settings, expected: Limit | None
) -> None:
    assert limit_of(settings) == expected


def test_a_hold_in_the_middle_of_the_band_is_met_in_this_session_and_not_known_of_the_patient() -> None:
    (answer,) = standing(525.0)
    assert (answer.measure, answer.number, answer.working) == (HELD, None, Side.LEFT)
    assert answer.value_percent == pytest.approx(75.0)
    assert answer.in_this_set is not None
    assert answer.in_this_set.decision.verdict is Verdict.MET
    assert answer.of_this_patient is None
    assert answer.why_not == ONE_SESSION


def test_a_hold_along_the_very_edge_of_the_band_is_undecided() -> None:
    """It counted, every second of it; whether the true share lay inside is as good as an even chance."""
    (answer,) = standing(490.0)
    assert answer.in_this_set is not None
    assert answer.in_this_set.decision.verdict is Verdict.UNDECIDED
    assert answer.in_this_set.decision.probability == pytest.approx(0.5, abs=1e-6)


def test_what_is_not_held_is_not_decided() -> None:
    assert standing(300.0) == ()
    assert standing(525.0, replace(ASKED, target_percent=None)) == ()


def test_without_a_calibration_nothing_is_decided_but_the_value_is_told() -> None:
    (answer,) = asked(make_trace([(20.0, 525.0, 175.0)]), ASKED, calibration=None).answers
    assert answer.value_percent == pytest.approx(75.0)
    assert (answer.in_this_set, answer.of_this_patient, answer.why_not) == (None, None, NOT_GIVEN)
    assert answer.over(None) == answer


def test_each_set_has_an_answer_of_its_own() -> None:
    appraisal = asked(RAISED, RAISE, BOTH)
    sets = appraisal.analysis.sets
    assert [len(one.repetitions) for one in sets] and all(one.repetitions for one in sets)
    assert [(one.measure, one.number) for one in appraisal.answers] == [(LOWERING, 1), (LOWERING, 2)]
    assert [one.value_percent for one in appraisal.answers] == [one.share_lowering_percent for one in sets]
    assert all(one.limit == Limit(45.0, 55.0) for one in appraisal.answers)


def test_what_the_instrument_has_wrong_gets_no_smaller_in_the_mean_of_a_set() -> None:
    appraisal = asked(RAISED, RAISE, BOTH)
    assert appraisal.doubt is not None
    for one, result in zip(appraisal.answers, appraisal.analysis.sets, strict=True):
        each = [appraisal.doubt.repetitions[place].share_lowering_points for place in result.repetitions]
        assert None not in each
        assert one.u_points == pytest.approx(0.5 * fmean(points for points in each if points is not None))


def test_a_set_on_the_other_leg_is_held_against_its_own_target() -> None:
    settings = Settings(Side.LEFT, 100.0, exercise=Exercise.SINGLE_RAISE)
    spans = (SetSpan(1, 0.0, 18.0, working=Side.LEFT), SetSpan(2, 18.0, 60.0, working=Side.RIGHT))
    analysis = analyse_trace(RAISED, RAISE, BOTH)
    sets = tuple(
        replace(one, working=span.working or Side.LEFT, share_lowering_percent=share)
        for one, span, share in zip(analysis.sets, spans, (99.0, 1.0), strict=True)
    )
    answers = appraise(replace(analysis, sets=sets), settings, CALIBRATION).answers
    assert [(one.working, one.limit) for one in answers] == [
        (Side.LEFT, Limit(lower=95.0)),
        (Side.RIGHT, Limit(upper=5.0)),
    ]
    assert all(one.in_this_set is not None and one.in_this_set.decision.verdict is Verdict.MET for one in answers)


def test_a_set_without_a_share_is_not_decided() -> None:
    analysis = analyse_trace(RAISED, RAISE, BOTH)
    first, second = analysis.sets
    lost = replace(analysis, sets=(replace(first, share_lowering_percent=None), second))
    assert [one.number for one in appraise(lost, RAISE, CALIBRATION).answers] == [2]


HOLDS = (Hold(5.0, 10.0, 5.0, False), Hold(12.0, 13.0, 1.0, False))
STEPS = make_trace([(10.0, 525.0, 175.0), (1.0, 0.0, 0.0), (9.0, 490.0, 210.0)])


def test_the_share_while_held_is_the_impulse_share_of_all_holds() -> None:
    # the first hold ends where the trace falls: by a straight line of 10 ms from its last sample
    ends = replace(HOLDS[0], end_s=9.99)
    expected = 100.0 * (4.99 * 525.0 + 1.0 * 490.0) / (4.99 * 700.0 + 1.0 * 700.0)
    assert held_share_percent(STEPS, (ends, HOLDS[1]), Side.LEFT) == pytest.approx(expected)
    assert held_share_percent(STEPS, (ends, HOLDS[1]), Side.RIGHT) == pytest.approx(100.0 - expected)


def test_a_share_of_which_too_little_was_read_is_not_known() -> None:
    assert held_share_percent(lose(STEPS, 6.0, 6.2), HOLDS, Side.LEFT) is not None
    assert held_share_percent(lose(STEPS, 6.0, 7.0), HOLDS, Side.LEFT) is None
    assert held_share_percent(STEPS, (), Side.LEFT) is None
    assert held_share_percent(Trace(np.empty(0), {}), HOLDS, Side.LEFT) is None


def test_grace_time_beside_the_band_counts_to_the_share_while_held() -> None:
    """A mean of the samples in the band could lie nowhere but in the band."""
    trace = make_trace([(5.0, 525.0, 175.0), (0.5, 350.0, 350.0), (5.0, 525.0, 175.0)])
    (answer,) = asked(trace, ASKED).answers
    assert answer.value_percent == pytest.approx(100.0 * (10.0 * 525.0 + 0.5 * 350.0) / (10.5 * 700.0), abs=0.02)


def test_as_json_a_question_without_an_answer_is_null_and_says_why() -> None:
    content = asked(RAISED, RAISE, BOTH).to_json()
    assert json.loads(json.dumps(content, allow_nan=False)) == content
    first, second = content["decisions"]
    assert (first["measure"], first["set"], second["set"]) == ("mean share in the lowering", 1, 2)
    assert first["limit"] == {"lower": 45.0, "upper": 55.0}
    told = first["in_this_set"]
    assert told["verdict"] in ("met", "not met", "undecided")
    assert told["value"] == first["value"]
    assert told["guard_band"]["lower"] == pytest.approx(45.0 + told["guard_band"]["width"], abs=1e-6)
    assert (told["asked"], told["dof"]) == (0.95, None)
    assert first["of_this_patient"] is None
    assert first["why_not"] == ONE_SESSION


def test_the_symmetry_of_a_steered_share_stays_out_of_it() -> None:
    told = json.dumps(asked(make_trace([(20.0, 525.0, 175.0)]), ASKED).to_json()["decisions"])
    assert "symmetry" not in told


def test_the_estimate_of_the_set_is_the_instruments_alone() -> None:
    (answer,) = standing(525.0)
    assert answer.in_this_set is not None and answer.u_points is not None
    assert answer.in_this_set.decision.estimate == Estimate(answer.value_percent, answer.u_points, math.inf)
