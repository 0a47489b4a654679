"""What a calibration by points that were taken elsewhere rests on, and what they tell: as its file keeps it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from weightshare.metrology.build import COMMON_PART, standard_side
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.figure import PointFigure
from weightshare.metrology.fitted import Fitted
from weightshare.metrology.found import HYSTERESIS, REPEATABILITY
from weightshare.metrology.point import Points
from weightshare.metrology.transfer import AIR, GRAVITY, MASSES, Transfer
from weightshare.model import Side, Worth

_COMMON = (MASSES, GRAVITY, AIR)
"""What every load has alike."""


@dataclass(frozen=True, slots=True)
class TakenPoint:
    """One point: its line in the file, the load as it stands there and in newtons, counts, reading minus load (N)."""

    line: int
    load: float
    load_N: float
    counts: float
    residual_N: float
    in_middle: bool
    """Whether it is one of those that were fitted."""
    run: int | None = None
    going: int = 0
    """1 up, -1 down, 0 not said."""
    place_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the standard uncertainty of a force at the greatest load, N."""

    name: str
    newton: float


@dataclass(frozen=True, slots=True)
class TakenFit:
    """One channel's points and their fit: load (N) at counts, coefficients by rising power."""

    channel: int
    load_name: str
    """The column that the loads are of: `load_N` or `mass_kg`."""
    points: tuple[TakenPoint, ...]
    coefficients: tuple[float, ...]
    standard_errors: tuple[float, ...]
    residual_sd_N: float
    dof: int
    range_N: float
    slope: Estimate
    """N/count where nothing is on; u has masses, gravity and air in it."""
    figures: tuple[PointFigure, ...]
    parts: tuple[Part, ...]
    advice: str | None = None
    doubts: tuple[str, ...] = ()
    """What spoke against the points, and was written all the same."""
    remarks: tuple[str, ...] = ()
    side: Side | None = None
    """The plate that the channel is under, where the points tell it."""

    @property
    def common_part(self) -> float:
        """What masses, gravity and air leave of every load alike, as a part of it."""
        return math.hypot(*(part.newton for part in self.parts if part.name in _COMMON)) / self.range_N

    @property
    def degree(self) -> int:
        """The degree of the polynomial."""
        return len(self.coefficients) - 1


def keep_fit(fitted: Fitted, gravity_m_s2: float) -> TakenFit | None:
    """Return what the file keeps of a fit; None where the points do not tell forces."""
    transfer, points = fitted.transfer, fitted.points
    if transfer is None or fitted.range_N is None:
        return None
    return TakenFit(
        points.channel or 0,
        points.x_name,
        tuple(_points(points, transfer, gravity_m_s2)),
        tuple(map(float, transfer.fit.coefficients)),
        tuple(map(float, transfer.fit.standard_errors)),
        float(transfer.fit.residual_sd),
        int(transfer.fit.dof),
        fitted.range_N,
        _slope(fitted, transfer, fitted.range_N),
        fitted.figures,
        tuple(Part(name, float(part_N)) for name, part_N in fitted.parts_N.items()),
        fitted.advice,
        fitted.doubts,
        fitted.remarks,
        points.side,
    )


def worth_of_points(taken: Sequence[TakenFit]) -> Worth | None:
    """Return what the forces of each plate are worth by its points; None where they do not tell the plates.

    What they do not tell is the standard build's, and named as assumed: noise, creep and drift always. What is not
    corrected for lies anywhere from nothing to its full size (JCGM 100:2008, 4.3.7).
    """
    if not taken or any(one.side is None for one in taken):
        return None
    assumed: set[str] = {"noise_N", "creep_part", "zero_drift_N"}
    common = max(one.common_part for one in taken)
    if any(MASSES not in {part.name for part in one.parts} for one in taken):
        assumed.add("common_part")
        common = math.hypot(common, COMMON_PART)
    sides = []
    for side in Side:
        mine = [one for one in taken if one.side is side]
        if mine:
            told = _told(mine)
            assumed |= {"hysteresis_N", "corner_part"} - told.keys()
            sides.append(replace(standard_side(side), **told))
    return Worth(tuple(sides), common, tuple(sorted(assumed)))


def _told(mine: Sequence[TakenFit]) -> dict[str, Any]:
    """Return what the points of one plate's channels tell of its worth, by the names that SideWorth has."""
    even = 1.0 / math.sqrt(3.0)
    slopes = [math.sqrt(max((one.slope.u / one.slope.value) ** 2 - one.common_part**2, 0.0)) for one in mine]
    again = [next(iter(_values(one, REPEATABILITY)), one.residual_sd_N) for one in mine]
    told: dict[str, Any] = {"gain_part": max(slopes), "repeatability_N": math.hypot(*again)}
    loops = [value for one in mine for value in _values(one, HYSTERESIS)]
    if len(loops) == len(mine):
        told["hysteresis_N"] = even * math.hypot(*loops)
    corners = [abs(f.estimate.value) / f.load_N for one in mine for f in one.figures if f.place_mm is not None]
    return told | ({"corner_part": even * max(corners)} if corners else {})


def _values(one: TakenFit, name: str) -> list[float]:
    return [figure.estimate.value for figure in one.figures if figure.name == name]


def _points(points: Points, transfer: Transfer, gravity_m_s2: float) -> Sequence[TakenPoint]:
    load_N = points.force_N(gravity_m_s2)
    assert load_N is not None, "there is a transfer"
    residual_N = transfer.force_N(points.y) - load_N
    middle = points.in_middle
    return [
        TakenPoint(
            int(points.line[row]),
            float(points.x[row]),
            float(load_N[row]),
            float(points.y[row]),
            float(residual_N[row]),
            bool(middle[row]),
            None if points.run is None else int(points.run[row]),
            0 if points.going is None else int(points.going[row]),
            None if points.place_mm is None else (float(points.place_mm[row, 0]), float(points.place_mm[row, 1])),
        )
        for row in range(points.x.size)
    ]


def _slope(fitted: Fitted, transfer: Transfer, range_N: float) -> Estimate:
    """Return the slope without load: the fit's own doubt, and what masses, gravity and air add to every load alike."""
    powers = np.arange(transfer.fit.degree + 1)
    gradient = powers * transfer.zero_counts ** np.clip(powers - 1, 0, None)
    fit_u = math.sqrt(max(float(gradient @ transfer.fit.covariance @ gradient), 0.0))
    part = math.hypot(*(fitted.parts_N.get(name, 0.0) for name in _COMMON)) / range_N
    slope = transfer.newton_per_count
    return Estimate(slope, math.hypot(fit_u, part * slope), float(transfer.fit.dof))
