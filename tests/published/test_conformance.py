"""Conformance probabilities against those of JCGM 106:2012, and the two questions' own worked example."""

from __future__ import annotations

import pytest
from scipy import stats

from weightshare.metrology.decision import Limit, Verdict, conformance_probability, decide, two_answers
from weightshare.metrology.estimate import Estimate

# JCGM 106:2012, examples of clause 7, from memory; computed again with scipy.stats below
EXAMPLES = (
    (Estimate(-5.47, 0.05), Limit(upper=-5.40), 0.919),
    (Estimate(509.7, 8.6), Limit(lower=490.0), 0.989),
    (Estimate(13.6, 1.8), Limit(12.5, 16.3), 0.663),
)


@pytest.mark.parametrize(("estimate", "limit", "expected"), EXAMPLES)
def test_the_guides_examples_are_met(estimate: Estimate, limit: Limit, expected: float) -> None:
    assert conformance_probability(estimate, limit) == pytest.approx(expected, abs=5e-4)


@pytest.mark.parametrize("dof", [1.0, 2.0, 4.5, 30.0])
@pytest.mark.parametrize(("estimate", "limit", "_normal"), EXAMPLES)
def test_another_library_says_the_same_with_few_degrees_of_freedom(
    estimate: Estimate, limit: Limit, _normal: float, dof: float
) -> None:
    told = stats.t(dof, estimate.value, estimate.u)
    low, high = limit.edges
    ours = conformance_probability(Estimate(estimate.value, estimate.u, dof), limit)
    assert ours == pytest.approx(told.cdf(high) - told.cdf(low), rel=1e-9)


def test_a_limit_is_met_in_the_set_and_undecided_of_the_patient() -> None:
    """Mean 86, limit 85, instrument 0.4: met; with a day-to-day standard error of 2.5: undecided, 0.65."""
    answers = two_answers(86.0, 0.4, Estimate(86.0, 2.5), Limit(lower=85.0))
    here, there = answers.in_this_set, answers.of_this_patient
    assert here.decision.verdict is Verdict.MET
    assert here.decision.probability == pytest.approx(0.994, abs=5e-4)
    assert there is not None
    assert there.decision.verdict is Verdict.UNDECIDED
    assert there.decision.probability == pytest.approx(0.65, abs=5e-3)


def test_the_guard_band_of_the_usual_factor_is_twice_the_uncertainty() -> None:
    """w = U, r = 1, leaves a risk of 2.3 % at most (JCGM 106:2012, 8.3.2.2, from memory)."""
    guard = decide(Estimate(0.0, 3.0), Limit(lower=-10.0), probability=0.97725).guard
    assert guard.r == pytest.approx(1.0, abs=1e-4)
    assert guard.width == pytest.approx(6.0, abs=1e-3)
    assert guard.lower == pytest.approx(-4.0, abs=1e-3)
