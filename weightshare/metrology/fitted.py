"""All that comes of the points of one channel, as one value."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from weightshare.errors import InputError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.figure import PointFigure, corner_part, loose_feet, point_figures
from weightshare.metrology.fit import Fit
from weightshare.metrology.point import COUNTS, LOAD, MASS, Points, X, doubts
from weightshare.metrology.transfer import GREATEST_WRITTEN_DEGREE, Transfer, budget_N, fit_transfer
from weightshare.model import ChannelCalibration, Floats


@dataclass(frozen=True, slots=True)
class Circumstance:
    """What is known beside the points: gravity where they were taken, m/s^2, the masses, and what slope to expect.

    `mass_part` is the standard uncertainty of the masses as a part of the load; None where nobody knows.
    """

    gravity: Estimate
    mass_part: float | None = None
    expected_N_per_count: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Fitted:
    """The fit of one channel's points, and what it says of forces where the loads are known in newtons."""

    points: Points
    fit: Fit
    advice: str | None
    transfer: Transfer | None = None
    figures: tuple[PointFigure, ...] = ()
    parts_N: dict[str, float] = field(default_factory=dict)
    """The standard uncertainty of a force at the greatest load, part by part."""
    range_N: float | None = None
    doubts: tuple[str, ...] = ()
    """What speaks against writing a calibration of it."""
    remarks: tuple[str, ...] = ()

    @property
    def uncertainty_N(self) -> float | None:
        """The standard uncertainty of a force at the greatest load; None where forces are not known."""
        return math.hypot(*self.parts_N.values()) if self.parts_N else None

    @property
    def left_out(self) -> int:
        """How many points lay elsewhere than in the middle, and are not fitted."""
        return int(np.count_nonzero(~self.points.in_middle))

    def steps(self, count: int = 5) -> Floats:
        """Return so many x from the least to the greatest of the points, shape (count,)."""
        return np.linspace(self.fit.low, self.fit.high, count)

    def channel(self, index: int) -> ChannelCalibration:
        """Return what a calibration file holds of it. Raises InputError where forces are not known."""
        if self.transfer is None or self.range_N is None:
            reason = f"the columns x and y do not say newtons: name them {LOAD} (or {MASS}) and {COUNTS}"
            raise InputError(self.doubts[0] if self.doubts else reason)
        return self.transfer.channel(index, math.hypot(*self.parts_N.values()), self.range_N)


def fit_points(points: Points, degree: int, known: Circumstance) -> Fitted:
    """Return all that the points tell. Raises InputError where they cannot be fitted."""
    bare = Fitted(points, points.fit(degree), points.advice(degree), remarks=tuple(_remarks(points, degree, known)))
    try:
        transfer = fit_transfer(points, known.gravity.value, degree)
    except InputError as error:
        return replace(bare, doubts=(str(error),))
    load_N = points.force_N(known.gravity.value)
    if transfer is None or load_N is None:
        return bare
    if not load_N.max() > 0.0:
        return replace(bare, doubts=("no load is over 0",))
    figures = point_figures(points, transfer, known.gravity.value)
    return replace(
        bare,
        transfer=transfer,
        figures=figures,
        parts_N=budget_N(transfer, points, known.gravity, known.mass_part, corner_part(figures)),
        range_N=float(load_N.max()),
        doubts=tuple(_doubts(points, degree, known, transfer, figures)),
    )


def _doubts(
    points: Points, degree: int, known: Circumstance, transfer: Transfer, figures: tuple[PointFigure, ...]
) -> Iterator[str]:
    yield from doubts(points, transfer.newton_per_count, known.expected_N_per_count)
    yield from loose_feet(figures)
    odd = points.odd_lines(degree)
    if odd:
        lines = ", ".join(str(line) for line in odd)
        yield f"line {lines} does not fit the others: a wrong mass, or one on the other plate?"


def _remarks(points: Points, degree: int, known: Circumstance) -> Iterator[str]:
    """Yield what is worth knowing beside the figures, in words."""
    if points.x_name == X:
        return
    if not (points.x[points.in_middle] == 0.0).any():
        yield "no point has nothing on: the zero is drawn out from the others"
    if known.mass_part is None:
        yield "nobody said what the masses are worth (--mass-class): they are not in the uncertainty"
    if degree > GREATEST_WRITTEN_DEGREE:
        yield f"forces are from a fit of degree {GREATEST_WRITTEN_DEGREE}, the most that a calibration file holds"
