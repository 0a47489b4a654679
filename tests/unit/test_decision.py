"""Limits, verdicts, guard bands, and the two answers."""

from __future__ import annotations

import math

import pytest

from weightshare.metrology.decision import (
    ONE_SESSION,
    Limit,
    Verdict,
    conformance_probability,
    decide,
    two_answers,
    with_instrument,
)
from weightshare.metrology.estimate import Estimate


@pytest.mark.parametrize(
    "edges", [(None, None), (2.0, 1.0), (math.nan, None), (None, math.inf), (-math.inf, 3.0), (math.nan, 1.0)]
)
def test_a_limit_that_asks_for_nothing_is_refused(edges: tuple[float | None, float | None]) -> None:
    with pytest.raises(ValueError, match="asks for nothing"):
        Limit(*edges)


def test_the_limits_themselves_are_allowed() -> None:
    band = Limit(70.0, 80.0)
    assert [band.allows(value) for value in (69.99, 70.0, 75.0, 80.0, 80.01)] == [False, True, True, True, False]


@pytest.mark.parametrize(
    "estimate",
    [
        Estimate(math.nan, 1.0),
        Estimate(math.inf, 1.0),
        Estimate(1.0, math.nan),
        Estimate(1.0, -0.1),
        Estimate(1.0, 1.0, 0.0),
        Estimate(1.0, 1.0, math.nan),
    ],
)
def test_what_decides_nothing_is_refused(estimate: Estimate) -> None:
    with pytest.raises(ValueError, match="decides nothing"):
        conformance_probability(estimate, Limit(lower=0.0))


@pytest.mark.parametrize("asked", [0.5, 1.0, 0.0, 95.0, math.nan])
def test_a_probability_that_separates_nothing_is_refused(asked: float) -> None:
    with pytest.raises(ValueError, match="separates nothing"):
        decide(Estimate(1.0, 0.1), Limit(lower=0.0), asked)


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (86.0, Verdict.MET),
        (85.3, Verdict.UNDECIDED),
        (85.0, Verdict.UNDECIDED),
        (84.7, Verdict.UNDECIDED),
        (84.0, Verdict.NOT_MET),
    ],
)
def test_a_lower_limit_is_met_undecided_or_not_met(value: float, expected: Verdict) -> None:
    assert decide(Estimate(value, 0.4), Limit(lower=85.0)).verdict is expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (69.0, Verdict.NOT_MET),
        (70.1, Verdict.UNDECIDED),
        (75.0, Verdict.MET),
        (80.1, Verdict.UNDECIDED),
        (81.0, Verdict.NOT_MET),
    ],
)
def test_a_band_is_decided_at_both_edges(value: float, expected: Verdict) -> None:
    assert decide(Estimate(value, 0.4), Limit(70.0, 80.0)).verdict is expected


def test_few_degrees_of_freedom_make_it_harder_to_be_sure() -> None:
    known = decide(Estimate(86.0, 0.5), Limit(lower=85.0))
    guessed = decide(Estimate(86.0, 0.5, 2.0), Limit(lower=85.0))
    assert known.verdict is Verdict.MET
    assert guessed.verdict is Verdict.UNDECIDED
    assert guessed.guard.width > known.guard.width


def test_a_band_too_narrow_for_the_uncertainty_accepts_nothing_and_says_so() -> None:
    decision = decide(Estimate(75.0, 4.0), Limit(70.0, 80.0))
    assert decision.verdict is Verdict.UNDECIDED
    assert not decision.guard.is_possible


def test_a_wide_band_is_guarded_like_one_limit() -> None:
    one = decide(Estimate(75.0, 0.4), Limit(lower=50.0)).guard
    both = decide(Estimate(75.0, 0.4), Limit(50.0, 100.0)).guard
    assert both.width == pytest.approx(one.width, rel=1e-6)
    assert both.lower == pytest.approx(50.658, abs=1e-3)
    assert both.upper == pytest.approx(99.342, abs=1e-3)


def test_far_from_a_limit_a_small_probability_is_not_lost_to_rounding() -> None:
    assert conformance_probability(Estimate(0.0, 1.0), Limit(10.0, 11.0)) == pytest.approx(7.62e-24, rel=1e-2)
    assert conformance_probability(Estimate(0.0, 1.0), Limit(-11.0, -10.0)) == pytest.approx(7.62e-24, rel=1e-2)


def test_one_session_answers_nothing_of_the_patient_and_says_why() -> None:
    answers = two_answers(86.0, 0.4, None, Limit(lower=85.0))
    assert answers.in_this_set.decision.verdict is Verdict.MET
    assert answers.of_this_patient is None
    assert answers.why_not == ONE_SESSION


def test_of_the_patient_it_is_the_mean_of_the_days_that_is_judged() -> None:
    """A good set today: what it came to says nothing more of the person than the other days do."""
    answers = two_answers(90.0, 0.4, Estimate(80.0, 0.5, 4.0), Limit(lower=85.0), days=5)
    assert answers.in_this_set.decision.verdict is Verdict.MET
    assert answers.of_this_patient is not None
    assert answers.of_this_patient.decision.verdict is Verdict.NOT_MET
    assert answers.of_this_patient.days == 5


def test_the_instrument_is_put_to_the_days() -> None:
    both = with_instrument(Estimate(86.0, 3.0, 4.0), 4.0)
    assert both.u == pytest.approx(5.0)
    # Welch and Satterthwaite: u^4 / (u_days^4 / dof)
    assert both.dof == pytest.approx(5.0**4 / (3.0**4 / 4.0))


def test_days_without_any_spread_leave_the_instrument() -> None:
    both = with_instrument(Estimate(86.0, 0.0, 2.0), 0.4)
    assert (both.u, both.dof) == (0.4, math.inf)
    assert with_instrument(Estimate(86.0, 0.0, 2.0), 0.0).u == 0.0
