"""Symmetry indices of any measure of the two sides, with what each is worth, and when it misleads.

Indices never stand alone: both sides' values stand beside them, the uncertainty that the instrument and the repetitions
leave, what is known of how far people stray by themselves, and what the index cannot tell.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from weightshare.metrology.decision import with_instrument
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.scatter import Scatter, standard_error
from weightshare.pipeline.symmetry import limb_symmetry_index, symmetry_angle, symmetry_index


class Kind(StrEnum):
    """What is compared."""

    MEAN_FORCE = "mean force in standing"
    PEAK_FORCE = "peak force in standing"
    HOLD_TIME = "hold time on one leg"
    HOLD_FORCE = "mean force in holds on one leg"
    REPETITIONS = "repetitions on one leg"
    HEIGHT = "mean heel height"
    BEST_HEIGHT = "best heel height"
    LOAD_TRAVEL = "load x heel travel"

    @property
    def unit(self) -> str:
        """The unit of both sides' values; empty for a count."""
        return _UNITS[self]

    @property
    def is_of_standing(self) -> bool:
        """Whether it is of standing on both legs, where one side's load is what the other's is not."""
        return self in (Kind.MEAN_FORCE, Kind.PEAK_FORCE)


_UNITS = {
    Kind.MEAN_FORCE: "N",
    Kind.PEAK_FORCE: "N",
    Kind.HOLD_TIME: "s",
    Kind.HOLD_FORCE: "N",
    Kind.REPETITIONS: "",
    Kind.HEIGHT: "mm",
    Kind.BEST_HEIGHT: "mm",
    Kind.LOAD_TRAVEL: "J",
}

LSI = "100 x injured / uninjured"
SI = "100 x (uninjured - injured) / (0.5 x (uninjured + injured))"
ANGLE = "100 x (45 deg - atan(injured / uninjured)) / 90 deg"

STEERED = "the share was steered to a target, so it is the target's and not the person's"
BOTH_INJURED = "both sides are injured: there is no uninjured side to compare with"
NO_REST = "one session: how far the person strays from day to day is not in it"

GOOD_LEG = "the other leg may be weakened too: an even index is no strong leg"
_CAUTIONS = {
    Kind.MEAN_FORCE: ("standing evenly is no pass mark: healthy people stray by about 7 points of share",),
    Kind.PEAK_FORCE: ("a peak is one moment, and a sway: look at the mean", "standing evenly is no pass mark"),
    Kind.HOLD_TIME: ("a hold that was ended by its goal says nothing of how long it could have been",),
    Kind.HOLD_FORCE: ("on one leg the force is body weight on either: an index near 100 is what it has to be",),
    Kind.REPETITIONS: ("counts come back before work does: look at height and load x heel travel beside it",),
    Kind.HEIGHT: ("a height falls within a set: compare sets of as many repetitions",),
    Kind.BEST_HEIGHT: ("the best of few repetitions is less than the best of many",),
    Kind.LOAD_TRAVEL: (
        "load x heel travel is no joint work",
        "more repetitions are more of it: the counts belong beside it",
    ),
}

_STANDING_WORDS = (
    "of share, 22 healthy older adults, three stands of 60 s each (computed from the data of dos Santos and others, "
    "2017, PeerJ 5:e3626): SEM 2.5 points, minimal detectable change 6.9 points"
)
_COUNT_WORDS = "between-day limits of agreement -6.2 to 6.5 raises (Hebert-Losier and others, 2017; n = 566, healthy)"
_UNTOLD = "not known for this measure: it takes several days of the same task (--repeats, or a patient's code)"
STANDING_MDC_POINTS = 6.9
"""Of share, between two stands (see _STANDING_WORDS)."""


@dataclass(frozen=True, slots=True)
class Reliability:
    """What is known of how far a measure strays by itself. `mdc_percent`: of the limb symmetry index, at this value;
    None where that is not known."""

    words: str
    mdc_percent: float | None = None

    @property
    def is_published(self) -> bool:
        """Whether it is of people whom others measured."""
        return self.words in (_STANDING_WORDS, _COUNT_WORDS)


@dataclass(frozen=True, slots=True)
class Index:
    """How the two sides compare in one measure. Indices in percent with their standard uncertainty; u is NaN where that
    of a side is not known. An index that cannot be had is None, and `reason` says why."""

    kind: Kind
    injured: Estimate | None
    uninjured: Estimate | None
    limb_symmetry_index: Estimate | None
    symmetry_index: Estimate | None
    symmetry_angle: Estimate | None
    reason: str
    cautions: tuple[str, ...]
    reliability: Reliability
    instrument_u: float = math.nan
    """What of the limb symmetry index's u is the instrument's, and so the same on every day; NaN: not known."""


def compare(
    kind: Kind,
    injured: Estimate | None,
    uninjured: Estimate | None,
    *,
    correlation: float = 0.0,
    scatter: Scatter | None = None,
    reason: str = "",
    cautions: Sequence[str] = (),
) -> Index:
    """Return how the injured side's value compares with the other's; None: it was not measured.

    correlation: of the two values' errors. scatter: what part of their u the repetitions left; the rest is then the
    instrument's, of each side by itself, and `correlation` stands for nothing. reason: why there is no index at all
    (STEERED, BOTH_INJURED); the values are told all the same. cautions: what this session adds to those of the measure.
    Never 0 or infinity for what is one-sided: without an index there is a reason. Raises ValueError for a value that is
    below 0 or no finite number.
    """
    for one in (injured, uninjured):
        if one is not None and not (math.isfinite(one.value) and one.value >= 0.0):
            raise ValueError(f"{one.value} is no {kind} to compare")
    found = reason or _why_not(kind, injured, uninjured)
    told = (*_CAUTIONS[kind], GOOD_LEG, *cautions)
    if found or injured is None or uninjured is None:
        return Index(kind, injured, uninjured, None, None, None, found, told, _reliability(kind, None, None))
    lsi, si, angle, own_u = _indices(injured, uninjured, correlation, scatter)
    known = _reliability(kind, injured.value, uninjured.value)
    return Index(kind, injured, uninjured, lsi, si, angle, "", told, known, own_u)


def _why_not(kind: Kind, injured: Estimate | None, uninjured: Estimate | None) -> str:
    if injured is None and uninjured is None:
        return "it was measured on neither side"
    if injured is None or uninjured is None:
        return f"it was not measured on the {'injured' if injured is None else 'other'} side"
    if uninjured.value == 0.0:
        return f"the other side's {kind} is 0: nothing can be a part of it"
    # a foot in the air is no symmetry of standing
    return "the injured side carried nothing" if kind.is_of_standing and injured.value == 0.0 else ""


def _indices(
    injured: Estimate, uninjured: Estimate, correlation: float, scatter: Scatter | None
) -> tuple[Estimate, Estimate, Estimate, float]:
    """Return the three indices of two values, the uninjured one over 0 (for their sources see pipeline.symmetry), and
    the instrument's part of the first one's u."""
    i, u = injured.value, uninjured.value
    values = limb_symmetry_index(i, u), symmetry_index(i, u), symmetry_angle(i, u)
    turn = 100.0 / 90.0 * math.degrees(1.0) / (i * i + u * u)
    slopes = (
        (100.0 / u, -100.0 * i / u**2),
        (-400.0 * u / (i + u) ** 2, 400.0 * i / (i + u) ** 2),
        (-turn * u, turn * i),
    )
    doubt = _Doubt(injured, uninjured, correlation, scatter)
    lsi, si, angle = (doubt.of(value, slope) for value, slope in zip(values, slopes, strict=True) if value is not None)
    return lsi, si, angle, doubt.instrument_u(slopes[0])


@dataclass(frozen=True, slots=True)
class _Doubt:
    """What two values' uncertainties leave in what is made of both (JCGM 100:2008, 5.2.2, equation 16; degrees of
    freedom after Welch and Satterthwaite, G.4.1)."""

    first: Estimate
    second: Estimate
    correlation: float
    scatter: Scatter | None

    def of(self, value: float, slopes: tuple[float, float]) -> Estimate:
        own = self.instrument_u(slopes)
        if self.scatter is None:
            parts = zip((slopes[0] * self.first.u, slopes[1] * self.second.u), (self.first, self.second), strict=True)
            below = sum(part**4 / one.dof for part, one in parts if part and math.isfinite(part))
            return Estimate(value, own, own**4 / below if below > 0.0 and own > 0.0 else math.inf)
        spread, dof = self.scatter.left_in(slopes)
        u = math.hypot(own, spread)
        return Estimate(value, u, dof * (u / spread) ** 4 if spread > 0.0 else math.inf)

    def instrument_u(self, slopes: tuple[float, float]) -> float:
        """Return the part that is not the repetitions'; without a scatter it is all of it."""
        both = [self.first.u, self.second.u]
        if self.scatter is not None:
            # what the two estimates were made of is taken apart again: rounding may leave a little below nothing
            squares = [u * u - s * s for u, s in zip(both, self.scatter.u, strict=True)]
            both = [math.sqrt(max(0.0, one)) if math.isfinite(one) else math.nan for one in squares]
        parts = slopes[0] * both[0], slopes[1] * both[1]
        correlation = self.correlation if self.scatter is None else 0.0
        variance = parts[0] ** 2 + parts[1] ** 2 + 2.0 * correlation * parts[0] * parts[1]
        return math.sqrt(max(0.0, variance)) if math.isfinite(variance) else math.nan


def _reliability(kind: Kind, injured: float | None, uninjured: float | None) -> Reliability:
    if kind is Kind.REPETITIONS:
        return Reliability(_COUNT_WORDS)
    if kind is not Kind.MEAN_FORCE:
        return Reliability(_UNTOLD)
    if injured is None or uninjured is None:
        return Reliability(_STANDING_WORDS)
    share = injured / (injured + uninjured)
    # the index is 100 s / (1 - s) of the share s
    return Reliability(_STANDING_WORDS, STANDING_MDC_POINTS / (1.0 - share) ** 2)


def mean_of(values: Sequence[float], u: float = 0.0) -> Estimate | None:
    """Return the mean of several repetitions with its standard error (JCGM 100:2008, 4.2.3); of one, its u is NaN.

    u: what the instrument leaves in it, put to that as a square; degrees of freedom after Welch and Satterthwaite
    (G.4.1). None where there is no value.
    """
    if not values:
        return None
    if len(values) == 1:
        return Estimate(float(values[0]), math.nan)
    found = np.asarray(values, dtype=np.float64)
    return with_instrument(Estimate(float(found.mean()), standard_error(found), found.size - 1.0), u)


def sum_of(values: Sequence[float], u: float = 0.0) -> Estimate | None:
    """Return the sum of several repetitions: so many times their mean; `u`: of the sum. None where there is none."""
    count = len(values)
    mean = mean_of(values, u / count if count else 0.0)
    return None if mean is None else Estimate(count * mean.value, count * mean.u, mean.dof)
