"""How the two sides of a session compare, in each measure that it has."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from weightshare.exercise import Exercise
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import BOTH_INJURED, NO_REST, STEERED, Index, Kind, Reliability, compare
from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.model import Bools, Floats, Side, Trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.lowpass import LowPass, can_filter
from weightshare.pipeline.result import Analysis
from weightshare.pipeline.summary import Extremes
from weightshare.records.appraisal import Appraisal
from weightshare.records.lift import Lifts, lifts_of_legs
from weightshare.task import Settings

STANDING = (None, Exercise.HOLD)
"""What has an index of its mean force; what is repeated, or held with the heels up, has none."""
LEAST_N, LEAST_PART = 50.0, 0.2
"""Somebody stands from this total on, and from this part of body weight where that is known."""
SHOWN_EVEN = "an even share was asked for and shown: this is what the person can do, not what they do unasked"
TOGETHER = "both heels went up at once, on two legs: the stronger one can lift the weaker one along"
SUPPORTED = "a part of the weight was on a rail or a crutch for some of it"


def indices_of(
    appraisal: Appraisal,
    trace: Trace | None = None,
    *,
    both_injured: bool = False,
    own: Mapping[Kind, Reliability] | None = None,
) -> tuple[Index, ...]:
    """Return how the two sides compare in each measure of a session; nothing where it has none that could.

    trace: unfiltered, for the peak force, which is left out without it. both_injured: then there is no index. own: how
    far this patient strays (`records.stray`), in place of what is known of others once there are days enough.
    """
    found = _Comparer(appraisal, trace, both_injured=both_injured).all()
    return tuple(_with_own(one, (own or {}).get(one.kind)) for one in found)


def _with_own(index: Index, own: Reliability | None) -> Index:
    """Return `index` with the patient's own reliability; on too few days beside what is published of others."""
    if own is None or index.limb_symmetry_index is None:
        return index
    if own.mdc_percent is None and index.reliability.is_published:
        own = replace(index.reliability, words=f"{index.reliability.words}; {own.words}")
    known = own.mdc_percent is not None and not own.is_published
    cautions = tuple(words for words in index.cautions if not (known and words == NO_REST))
    return replace(index, reliability=own, cautions=cautions)


class _Comparer:
    def __init__(self, appraisal: Appraisal, trace: Trace | None, *, both_injured: bool) -> None:
        self._appraisal, self._trace = appraisal, trace
        self._reason = BOTH_INJURED if both_injured else ""

    @property
    def _analysis(self) -> Analysis:
        return self._appraisal.analysis

    def all(self) -> Iterator[Index]:
        if self._analysis.endurance is not None:
            yield from self._single()
        elif self._analysis.exercise in STANDING:
            yield from self._standing()
        elif self._analysis.repetitions and not self._appraisal.settings.is_single:
            # of work on one leg alone the other leg's heel tells nothing
            yield from self._together()

    def _standing(self) -> Iterator[Index]:
        analysis, doubt = self._analysis, self._appraisal.doubt
        reason = self._reason or (STEERED if analysis.symmetry.steered else "")
        asked = (SHOWN_EVEN,) if analysis.band is not None else ()
        cautions = (*asked, *self._supported(hold.supported for hold in analysis.holds or ()), NO_REST)
        sides = analysis.injured_side, analysis.injured_side.other
        u = [math.nan if doubt is None else doubt.share.load(side).u_N for side in sides]
        r = 0.0 if doubt is None else doubt.share.correlation

        def row(kind: Kind, forces: Sequence[float | None]) -> Index:
            # a plate that reads a little below nothing carries nothing
            both = [None if one is None else Estimate(max(0.0, one), each) for one, each in zip(forces, u, strict=True)]
            return compare(kind, *both, correlation=r, reason=reason, cautions=cautions)

        yield row(Kind.MEAN_FORCE, (analysis.injured_N, analysis.uninjured_N))
        if self._trace is not None:
            peaks = peak_forces_N(self._trace, self._appraisal.settings, analysis.body_weight_N)
            yield row(Kind.PEAK_FORCE, (None, None) if peaks is None else [peaks[side] for side in sides])

    def _together(self) -> Iterator[Index]:
        done = self._analysis.repetitions
        cautions = (TOGETHER, *self._supported(one.supported for one in done), NO_REST)
        lifts = Lifts(self._appraisal, done, done, together=True)
        steered = STEERED if self._analysis.symmetry.steered else ""
        shown = (SHOWN_EVEN,) if self._analysis.band is not None else ()
        yield lifts.height(reason=self._reason, cautions=cautions)
        yield lifts.best(reason=self._reason, cautions=cautions)
        yield lifts.travel(reason=self._reason or steered, cautions=(*shown, *cautions))

    def _single(self) -> Iterator[Index]:
        lifts = lifts_of_legs(self._appraisal)
        assert lifts is not None
        injured, other = lifts.injured, lifts.uninjured
        cautions = (*self._supported(one.supported for one in (*injured, *other)), NO_REST)
        counts = [Estimate(float(len(done)), math.nan) for done in (injured, other)]
        yield compare(Kind.REPETITIONS, *counts, reason=self._reason, cautions=cautions)
        for one in (lifts.height, lifts.best, lifts.travel):
            yield one(reason=self._reason, cautions=cautions)

    def _supported(self, each: Iterable[bool | None]) -> tuple[str, ...]:
        return (SUPPORTED,) if True in list(each) else ()


def peak_forces_N(trace: Trace, settings: Settings, body_weight_N: float | None) -> dict[Side, float] | None:
    """Return the greatest force of each side while somebody stood, after the live filter, N; None where nobody did.

    Half a second after stepping on and before stepping off is left out, as for the least and the greatest share.
    """
    time_s, forces = trace.time_s, np.stack([trace.columns[f"{side}_N"] for side in Side])
    interval_s = float(np.median(np.diff(time_s)))
    cutoff = settings.filter_Hz
    live = LowPass(cutoff if cutoff is not None and can_filter(cutoff, interval_s) else None)
    block = Block(interval_s, ("left_N", "right_N"), time_s, forces, np.zeros(time_s.size, dtype=np.uint8))
    filtered = live.push(block).values
    total = filtered.sum(axis=0)
    least_N = max(LEAST_N, 0.0 if body_weight_N is None else LEAST_PART * body_weight_N)
    away: Bools = total < least_N
    peaks = {side: _peak(time_s[: total.size], row, away) for side, row in zip(Side, filtered, strict=True)}
    return peaks if all(math.isfinite(peak) for peak in peaks.values()) else None


def _peak(time_s: Floats, values: Floats, away: Bools) -> float:
    found = Extremes()
    found.push(time_s, values, away)
    found.finish()
    return found.high


@dataclass(frozen=True, slots=True)
class Told:
    """An index as plain values, for JSON."""

    index: Index

    def to_json(self) -> dict[str, object]:
        """Return it; uncertainties are expanded (k = 2), what is not known is null."""
        one = self.index
        indices = {
            f"{name}_percent": _plain(getattr(one, name))
            for name in ("limb_symmetry_index", "symmetry_index", "symmetry_angle")
        }
        return {
            "measure": str(one.kind),
            "unit": one.kind.unit,
            "injured": _plain(one.injured),
            "uninjured": _plain(one.uninjured),
            **indices,
            "reason": one.reason or None,
            "cautions": list(one.cautions),
            "reliability": {"words": one.reliability.words, "mdc_percent": _finite(one.reliability.mdc_percent)},
        }


def _plain(one: Estimate | None) -> dict[str, float | None] | None:
    return None if one is None else {"value": round(one.value, 6), "uncertainty": _finite(COVERAGE_FACTOR * one.u)}


def _finite(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else round(value, 6)
