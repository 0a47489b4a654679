"""What a calibration by points that were taken elsewhere rests on, and what they tell: as its file keeps it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.figure import PointFigure
from weightshare.metrology.fitted import Fitted
from weightshare.metrology.point import Points
from weightshare.metrology.transfer import AIR, GRAVITY, MASSES, Transfer


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
    )


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
    part = math.hypot(*(fitted.parts_N.get(name, 0.0) for name in (MASSES, GRAVITY, AIR))) / range_N
    slope = transfer.newton_per_count
    return Estimate(slope, math.hypot(fit_u, part * slope), float(transfer.fit.dof))
