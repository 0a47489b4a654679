"""Whether a limit was met, with the uncertainty of what was measured taken into account, after JCGM 106:2012 (its
clauses are named from memory).

Two questions are kept apart by their types. InThisSet: was it reached in this set? Only the instrument is in doubt.
OfThisPatient: is it true of this person? There the days differ too, and only sessions on several days tell how much.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from weightshare.metrology.estimate import Estimate

PROBABILITY = 0.95
"""A limit counts as met, or as not met, from this conformance probability on (common practice, no source)."""
COVERAGE_FACTOR = 2.0
"""U = 2 u, by which a guard band is told as w = r U (JCGM 106:2012, 8.3.2)."""
ONE_SESSION = "one session only: cannot be told apart from a good day"
_HALVINGS = 200


class Verdict(StrEnum):
    """What can be said of a limit."""

    MET = "met"
    NOT_MET = "not met"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class Limit:
    """What is allowed: from `lower` to `upper`, both allowed themselves; None: no limit on that side.

    Raises ValueError where neither is given, one is no number, or the lower one lies above the upper one.
    """

    lower: float | None = None
    upper: float | None = None

    def __post_init__(self) -> None:
        given = [edge for edge in (self.lower, self.upper) if edge is not None]
        if not given or not all(map(math.isfinite, given)) or given != sorted(given):
            raise ValueError(f"a limit from {self.lower} to {self.upper} asks for nothing, or for what cannot be")

    @property
    def edges(self) -> tuple[float, float]:
        """Both limits, infinite where there is none."""
        return -math.inf if self.lower is None else self.lower, math.inf if self.upper is None else self.upper

    def allows(self, value: float) -> bool:
        """Return whether `value`, taken as it is, lies within."""
        low, high = self.edges
        return low <= value <= high


@dataclass(frozen=True, slots=True)
class Guard:
    """The guard band within a limit, and what is left of it: a measured value from `lower` to `upper` is a met limit.

    width: how far that lies inside the limit, in the value's unit (JCGM 106:2012, 8.3). r: width over U = 2 u; None
    where u is 0. `upper` below `lower`: with this uncertainty no value at all could be called met.
    """

    width: float
    r: float | None
    lower: float | None
    upper: float | None

    @property
    def is_possible(self) -> bool:
        """Whether any measured value could be called met."""
        return self.lower is None or self.upper is None or self.lower <= self.upper


@dataclass(frozen=True, slots=True)
class Decision:
    """One limit, decided on one estimate with the conformance `probability`; `asked` is what it takes."""

    estimate: Estimate
    limit: Limit
    probability: float
    asked: float
    verdict: Verdict
    guard: Guard


def conformance_probability(estimate: Estimate, limit: Limit) -> float:
    """Return how probable it is that the true value lies within `limit`, 0 to 1.

    Phi((upper - y) / u) - Phi((lower - y) / u) (JCGM 106:2012, 7.2 to 7.4), of Student's t about y where u has few
    degrees of freedom (JCGM 101:2008, 6.4.9). With u = 0 it is 1 or 0. Raises ValueError where y or u is no finite
    number, u is below 0, or there are no degrees of freedom.
    """
    value, u, dof = estimate.value, estimate.u, estimate.dof
    if not (math.isfinite(value) and math.isfinite(u) and u >= 0.0 and dof > 0.0):
        raise ValueError(f"{estimate} decides nothing")
    if u == 0.0:
        return float(limit.allows(value))
    low, high = ((edge - value) / u for edge in limit.edges)
    # the smaller tails are taken, so that little is lost far from the limits
    return _below(high, dof) - _below(low, dof) if low <= 0.0 else _below(-low, dof) - _below(-high, dof)


def _below(z: float, dof: float) -> float:
    from scipy.special import ndtr, stdtr

    if math.isinf(z):
        return 1.0 if z > 0.0 else 0.0
    return float(ndtr(z)) if math.isinf(dof) else float(stdtr(dof, z))


def decide(estimate: Estimate, limit: Limit, probability: float = PROBABILITY) -> Decision:
    """Return what can be said of `limit`: met from that conformance probability on, not met from its complement down.

    Between them it is undecided. `probability` is over 0.5 and under 1. Raises ValueError, as
    conformance_probability does too.
    """
    if not 0.5 < probability < 1.0:
        raise ValueError(f"a probability of {probability} separates nothing: it has to be over 0.5 and under 1")
    found = conformance_probability(estimate, limit)
    if found >= probability:
        verdict = Verdict.MET
    else:
        verdict = Verdict.NOT_MET if found <= 1.0 - probability else Verdict.UNDECIDED
    return Decision(estimate, limit, found, probability, verdict, guard_band(estimate, limit, probability))


def guard_band(estimate: Estimate, limit: Limit, probability: float = PROBABILITY) -> Guard:
    """Return the guard band that has each accepted value conform with `probability`, for this u (JCGM 106:2012, 8.3).

    With one limit its width is the quantile of `probability` times u; with two it is that at which both tails together
    leave it. Raises ValueError as conformance_probability does.
    """
    if None in (limit.lower, limit.upper):
        width = _quantile(estimate.dof, probability) * estimate.u
    else:
        width = _two_sided_width(estimate, limit, probability)
    lower = None if limit.lower is None else limit.lower + width
    upper = None if limit.upper is None else limit.upper - width
    return Guard(width, width / (COVERAGE_FACTOR * estimate.u) if estimate.u > 0.0 else None, lower, upper)


def _quantile(dof: float, probability: float) -> float:
    from scipy.special import ndtri, stdtrit

    return float(ndtri(probability)) if math.isinf(dof) else float(stdtrit(dof, probability))


def _two_sided_width(estimate: Estimate, limit: Limit, probability: float) -> float:
    """Return the width between two limits; where even a value midway would not do, one that is over half of the way."""
    low, high = limit.edges

    def is_enough(width: float) -> bool:
        accepted = Estimate(low + width, estimate.u, estimate.dof)
        return conformance_probability(accepted, limit) >= probability

    inside = 0.5 * (high - low)
    if not is_enough(inside):
        # of a value midway both tails are alike
        return _quantile(estimate.dof, 0.5 * (1.0 + probability)) * estimate.u
    outside = 0.0
    if is_enough(outside):
        return outside
    for _ in range(_HALVINGS):
        middle = 0.5 * (outside + inside)
        if middle in (outside, inside):
            break
        outside, inside = (outside, middle) if is_enough(middle) else (middle, inside)
    return inside


@dataclass(frozen=True, slots=True)
class InThisSet:
    """Was it reached in this set? Only what the instrument's numbers are worth is in doubt."""

    decision: Decision


@dataclass(frozen=True, slots=True)
class OfThisPatient:
    """Is it true of this person? The days differ too: of `days` days the mean is known this well."""

    decision: Decision
    days: int | None = None
    """On how many days it was measured; None where the standard error was given by hand."""


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers to both questions. Where the second one is None, `why_not` says why."""

    in_this_set: InThisSet
    of_this_patient: OfThisPatient | None
    why_not: str = ""


def two_answers(
    value: float,
    u_instrument: float,
    day_to_day: Estimate | None,
    limit: Limit,
    *,
    probability: float = PROBABILITY,
    days: int | None = None,
    why_not: str = ONE_SESSION,
) -> Answers:
    """Return whether `limit` was met in this set, and whether it is true of this patient.

    value, u_instrument: of this set. day_to_day: the mean over the days, its standard error and degrees of freedom;
    None where it is not known: then `why_not` is handed on. Raises ValueError as decide does.
    """
    here = InThisSet(decide(Estimate(value, u_instrument), limit, probability))
    if day_to_day is None:
        return Answers(here, None, why_not)
    there = decide(with_instrument(day_to_day, u_instrument), limit, probability)
    return Answers(here, OfThisPatient(there, days))


def with_instrument(day_to_day: Estimate, u_instrument: float) -> Estimate:
    """Return the mean over the days with the instrument's uncertainty put to it: u^2 = u_days^2 + u_instrument^2.

    What the instrument has wrong stays the same from day to day, so it gets no smaller in the mean. Degrees of freedom
    after Welch and Satterthwaite (JCGM 100:2008, G.4.1), the instrument's taken as known.
    """
    u = math.hypot(day_to_day.u, u_instrument)
    if day_to_day.u == 0.0 or math.isinf(day_to_day.dof):
        return Estimate(day_to_day.value, u, math.inf if u_instrument > 0.0 else day_to_day.dof)
    return Estimate(day_to_day.value, u, day_to_day.dof * (u / day_to_day.u) ** 4)
