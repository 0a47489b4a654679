"""How high each heel went, what was lifted over it, and what either is worth: of one leg against the other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from weightshare.exercise import Repetition
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.heel import height_u_mm, travel_u_J
from weightshare.metrology.index import Index, Kind, compare, mean_of, sum_of
from weightshare.metrology.scatter import FEW, Scatter, scatter_of
from weightshare.model import Side
from weightshare.pipeline.endurance import LegEndurance
from weightshare.records.appraisal import Appraisal

Both = tuple[list[float], list[float]]


@dataclass(frozen=True, slots=True)
class Lifts:
    """The repetitions of either leg; `together`: both heels went up in each of them, so that both lists are the same.

    A side of whose repetitions one has no value is not compared: the rest would be other repetitions.
    """

    appraisal: Appraisal
    injured: Sequence[Repetition]
    uninjured: Sequence[Repetition]
    together: bool

    def height(self, *, reason: str = "", cautions: Sequence[str] = ()) -> Index:
        """Compare the mean heights."""
        values = self._heights()
        means = [mean_of(some, self._height_u(_mean(some))) if some else None for some in values]
        return compare(Kind.HEIGHT, *means, scatter=self._scatter(values), reason=reason, cautions=cautions)

    def best(self, *, reason: str = "", cautions: Sequence[str] = ()) -> Index:
        """Compare the greatest heights: what each is worth is the instrument's alone."""
        found = [Estimate(max(some), self._height_u(max(some))) if some else None for some in self._heights()]
        return compare(Kind.BEST_HEIGHT, *found, reason=reason, cautions=cautions)

    def travel(self, *, reason: str = "", cautions: Sequence[str] = ()) -> Index:
        """Compare load x heel travel, summed over the repetitions."""
        values = (
            _known([one.load_travel_injured_J for one in self.injured]),
            _known([one.load_travel_uninjured_J for one in self.uninjured]),
        )
        injured = self.appraisal.analysis.injured_side
        worth = zip(values, self._heights(), (injured, injured.other), strict=True)
        sums = [
            sum_of(some, self._travel_u(math.fsum(some), highs, side)) if some else None for some, highs, side in worth
        ]
        scatter = self._scatter(values, summed=True)
        return compare(Kind.LOAD_TRAVEL, *sums, scatter=scatter, reason=reason, cautions=cautions)

    def _heights(self) -> Both:
        return (
            _known([one.height_injured_mm for one in self.injured]),
            _known([one.height_uninjured_mm for one in self.uninjured]),
        )

    def _height_u(self, height_mm: float) -> float:
        heel = self.appraisal.heel
        return math.nan if heel is None else height_u_mm(heel, height_mm)

    def _travel_u(self, travel_J: float, heights_mm: Sequence[float], side: Side) -> float:
        part = None if self.appraisal.doubt is None else self.appraisal.doubt.share.load(side).part
        if self.appraisal.heel is None or part is None or not heights_mm:
            return math.nan
        return travel_u_J(self.appraisal.heel, travel_J, _mean(heights_mm), part)

    def _scatter(self, values: Both, *, summed: bool = False) -> Scatter | None:
        if min(map(len, values)) < FEW:
            return None
        return scatter_of(*values, together=self.together, summed=summed)


def lifts_of_legs(appraisal: Appraisal) -> Lifts | None:
    """Return what each leg did by itself, up to what ended its set; None where that was not asked for."""
    analysis = appraisal.analysis
    if analysis.endurance is None:
        return None

    def counted(leg: LegEndurance) -> list[Repetition]:
        found = next(one for one in analysis.sets if one.number == leg.set_number)
        return [analysis.repetitions[place] for place in found.repetitions[: leg.count]]

    legs = analysis.endurance
    return Lifts(appraisal, counted(legs.injured), counted(legs.uninjured), together=False)


def _known(values: Sequence[float | None]) -> list[float]:
    """Return all of `values`; nothing where one of them is not known."""
    found = [value for value in values if value is not None and value >= 0.0]
    return found if len(found) == len(values) else []


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)
