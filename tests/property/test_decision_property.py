"""What decisions under uncertainty never break, whatever the numbers."""

from __future__ import annotations

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from weightshare.metrology.decision import (
    Limit,
    Verdict,
    conformance_probability,
    decide,
    guard_band,
    two_answers,
)
from weightshare.metrology.estimate import Estimate

VALUES = st.floats(-200.0, 200.0)
DOUBTS = st.floats(1e-3, 50.0)
DOFS = st.one_of(st.just(math.inf), st.floats(1.0, 200.0))
ASKED = st.floats(0.51, 0.999)


@st.composite
def limits(draw: st.DrawFn) -> Limit:
    low, width = draw(st.floats(-100.0, 100.0)), draw(st.floats(0.01, 100.0))
    return draw(st.sampled_from([Limit(lower=low), Limit(upper=low), Limit(low, low + width)]))


@given(VALUES, st.floats(0.0, 50.0), DOUBTS, DOFS, VALUES)
def test_the_more_there_is_the_more_probable_is_a_lower_limit(
    value: float, more: float, u: float, dof: float, lower: float
) -> None:
    limit = Limit(lower=lower)
    less = conformance_probability(Estimate(value, u, dof), limit)
    assert conformance_probability(Estimate(value + more, u, dof), limit) >= less - 1e-12


@given(VALUES, DOUBTS, DOFS, limits())
def test_mirrored_values_and_limits_have_the_same_probability(value: float, u: float, dof: float, limit: Limit) -> None:
    low, high = limit.edges
    mirrored = Limit(*(None if math.isinf(edge) else edge for edge in (-high, -low)))
    ours = conformance_probability(Estimate(value, u, dof), limit)
    assert math.isclose(ours, conformance_probability(Estimate(-value, u, dof), mirrored), rel_tol=1e-9, abs_tol=1e-15)


@given(VALUES, DOUBTS, DOFS, VALUES)
def test_at_least_and_at_most_leave_nothing_between_them(value: float, u: float, dof: float, edge: float) -> None:
    estimate = Estimate(value, u, dof)
    above = conformance_probability(estimate, Limit(lower=edge))
    below = conformance_probability(estimate, Limit(upper=edge))
    assert math.isclose(above + below, 1.0, rel_tol=1e-9)


@given(VALUES, DOUBTS, DOFS, limits(), ASKED)
def test_what_the_guard_band_accepts_is_met_and_nothing_else(
    value: float, u: float, dof: float, limit: Limit, asked: float
) -> None:
    decision = decide(Estimate(value, u, dof), limit, asked)
    guard = decision.guard
    low = -math.inf if guard.lower is None else guard.lower
    high = math.inf if guard.upper is None else guard.upper
    # right on its edge, rounding decides
    assume(min(abs(value - low), abs(value - high)) > 1e-6 * (1.0 + u))
    assert (decision.verdict is Verdict.MET) == (low < value < high)
    assert guard.is_possible == (low <= high)


@given(DOUBTS, DOFS, limits(), ASKED)
def test_a_value_at_the_guard_bands_edge_has_just_the_probability_asked_for(
    u: float, dof: float, limit: Limit, asked: float
) -> None:
    guard = guard_band(Estimate(0.0, u, dof), limit, asked)
    edges = [edge for edge in (guard.lower, guard.upper) if edge is not None]
    assume(guard.is_possible)
    # where both limits are closer together than a rounding of the bisection, a step of it is seen
    assert all(
        math.isclose(conformance_probability(Estimate(edge, u, dof), limit), asked, abs_tol=1e-6) for edge in edges
    )


@given(VALUES, limits(), ASKED)
def test_without_doubt_it_is_a_plain_comparison(value: float, limit: Limit, asked: float) -> None:
    expected = Verdict.MET if limit.allows(value) else Verdict.NOT_MET
    assert decide(Estimate(value, 0.0), limit, asked).verdict is expected


@given(VALUES, limits(), ASKED)
def test_with_next_to_no_doubt_it_is_hardly_another(value: float, limit: Limit, asked: float) -> None:
    assume(all(abs(value - edge) > 1e-4 for edge in limit.edges))
    assert decide(Estimate(value, 1e-6), limit, asked).verdict is decide(Estimate(value, 0.0), limit, asked).verdict


@given(VALUES, DOUBTS, DOUBTS, st.floats(1.0, 50.0), VALUES)
def test_days_only_add_to_the_doubt_of_the_instrument(
    value: float, u: float, u_days: float, dof: float, lower: float
) -> None:
    answers = two_answers(value, u, Estimate(value, u_days, dof), Limit(lower=lower))
    assert answers.of_this_patient is not None
    here, there = answers.in_this_set.decision, answers.of_this_patient.decision
    assert there.estimate.u >= here.estimate.u
    assert there.estimate.dof >= dof
    # nearer to an even chance, and never on its other side
    assert abs(there.probability - 0.5) <= abs(here.probability - 0.5) + 1e-9
    if there.verdict is not Verdict.UNDECIDED:
        assert here.verdict is there.verdict
