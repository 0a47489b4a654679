"""What points taken elsewhere tell beside their fit: each figure in newtons, with its 95 % interval."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from weightshare.metrology import found
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.fit import fit_polynomial
from weightshare.metrology.point import Points
from weightshare.metrology.standard import ScaleClass, return_limit, scale_limit
from weightshare.metrology.transfer import Transfer
from weightshare.model import Bools, Floats

LEAST_DOF = 4
"""Of loads put on again: with fewer, the scatter about the fit tells more."""
SAME_PART = 0.01
"""Loads that differ by less than this part of the greatest were meant to be the same."""
FAR_PART = 0.005
"""A place on the plate that reads so much of the load other than the middle is told."""


@dataclass(frozen=True, slots=True)
class PointFigure:
    """One figure of one channel, N; `low` and `high` are the ends of its 95 % interval."""

    name: str
    estimate: Estimate
    low: float
    high: float
    load_N: float
    """The load at which it is told: its class limit is that of this load."""
    about: str
    place_mm: tuple[float, float] | None = None

    def percent_of(self, range_N: float) -> float:
        """Return its value in percent of the range."""
        return 100.0 * self.estimate.value / range_N


def class_limit(figure: PointFigure, interval_N: float, scale_class: ScaleClass) -> float:
    """Return what OIML R 76-1 (2006) allows such a figure when a scale is verified, N: table 6, and for zero 3.9.4.2.

    Raises InputError where the class does not reach to the load.
    """
    if figure.name == found.RETURN:
        return return_limit(interval_N)
    return scale_limit(figure.load_N, interval_N, scale_class)


def corner_part(figures: Sequence[PointFigure]) -> float:
    """Return the greatest corner error, in size, as a part of the load that it was taken under; 0 without any."""
    return max((abs(one.estimate.value) / one.load_N for one in figures if one.place_mm), default=0.0)


def loose_feet(figures: Sequence[PointFigure]) -> list[str]:
    """Return for each place that reads far off what may be wrong there, in words."""
    words = []
    for one in figures:
        part = one.estimate.value / one.load_N if one.place_mm else 0.0
        if one.place_mm and abs(part) > FAR_PART:
            x_mm, y_mm = one.place_mm
            words.append(
                f"at x {x_mm:g}, y {y_mm:g} mm the plate reads {100.0 * abs(part):.1f} %"
                f" {'more' if part > 0.0 else 'less'} than in the middle: look for a loose foot or something under it"
            )
    return words


@dataclass(frozen=True, slots=True, eq=False)
class _Known:
    """The points in newtons: what was put on, and what the fit makes of the counts."""

    points: Points
    load_N: Floats
    level_N: Floats
    """The load, the same for all that were meant to be: a reference cell never reads one twice."""
    error_N: Floats
    """Reading less load."""
    sd_N: float
    dof: int
    middle: Bools

    @property
    def greatest_N(self) -> float:
        return float(self.load_N.max())


def point_figures(points: Points, transfer: Transfer, gravity_m_s2: float) -> tuple[PointFigure, ...]:
    """Return every figure that the columns of the points allow; those that they do not allow are left out.

    Nothing where the loads are not known in newtons.
    """
    load_N = points.force_N(gravity_m_s2)
    if load_N is None:
        return ()
    error_N = transfer.force_N(points.y) - load_N
    sd_N, dof = transfer.fit.residual_sd, transfer.fit.dof
    known = _Known(points, load_N, _levels(load_N), error_N, sd_N, dof, points.in_middle)
    again = next(_repeatability(known), None)
    if again is not None and again.estimate.dof >= LEAST_DOF:
        # what hysteresis leaves in the fit is no scatter
        known = replace(known, sd_N=again.estimate.value, dof=int(again.estimate.dof))
    makers: tuple[Callable[[_Known], Iterator[PointFigure]], ...] = (
        _non_linearity, _hysteresis, _repeatability, _corners, _return,
    )  # fmt: skip
    return tuple(figure for make in makers for figure in make(known))


def _levels(load_N: Floats) -> Floats:
    """Return for each load the least of those that are the same within SAME_PART of the range; 0 for nothing."""
    width_N = SAME_PART * float(np.abs(load_N).max())
    starts: list[float] = []
    for load in np.unique(load_N):
        if not starts or load - starts[-1] > width_N:
            starts.append(float(load))
    levels = np.array(starts)[np.searchsorted(starts, load_N, side="right") - 1]
    return np.where(np.abs(levels) <= width_N, 0.0, levels)


def _figure(name: str, estimate: Estimate, load_N: float, about: str) -> PointFigure:
    return PointFigure(name, estimate, *estimate.interval(), load_N, about)


def _non_linearity(known: _Known) -> Iterator[PointFigure]:
    """Yield what a straight line through the ends of the range would be off half-way, by a second-degree fit."""
    load_N, counts = known.load_N[known.middle], known.points.y[known.middle]
    if np.unique(load_N).size < 3 or load_N.size < 4:
        return
    fit = fit_polynomial(counts, load_N, 2)
    quarter = (0.5 * (fit.high - fit.low)) ** 2
    line = Estimate(quarter * fit.coefficients[2], quarter * fit.standard_errors[2], float(fit.dof))
    half_N = 0.5 * float(load_N.min() + load_N.max())
    ends = f"{load_N.min():.0f} to {load_N.max():.0f} N"
    yield _figure(found.NON_LINEARITY, line, half_N, f"of a straight line from {ends}, half-way")


def _hysteresis(known: _Known) -> Iterator[PointFigure]:
    """Yield how much more is read half-way on the way down: a parabola through the differences of each run."""
    if known.points.going is None:
        return
    loads, differences = _down_less_up(known)
    greatest_N = known.greatest_N
    shape = 4.0 * loads * (greatest_N - loads) / greatest_N**2
    used = shape > 0.05
    shape, differences = shape[used], differences[used]
    if shape.size < 2:
        return
    squares = float(np.sum(shape**2))
    value = float(np.sum(shape * differences)) / squares
    dof = shape.size - 1
    sd = math.sqrt(float(np.sum(np.square(differences - value * shape))) / dof)
    half = Estimate(value, sd / math.sqrt(squares), float(dof))
    yield _figure(found.HYSTERESIS, half, 0.5 * greatest_N, f"down minus up, half-way to {greatest_N:.0f} N")


def _down_less_up(known: _Known) -> tuple[Floats, Floats]:
    """Return the loads that a run met in both directions, and by how much the readings differ there."""
    going = known.points.going
    assert going is not None
    runs = known.points.run if known.points.run is not None else np.zeros(going.size, dtype=np.int64)
    loads, differences = [], []
    for run, load_N in _pairs(runs[known.middle], known.level_N[known.middle]):
        here = known.middle & (runs == run) & (known.level_N == load_N)
        up, down = (known.error_N[here & (going == way)] for way in (1, -1))
        if up.size and down.size:
            loads.append(load_N)
            differences.append(float(down.mean() - up.mean()))
    return np.array(loads), np.array(differences)


def _pairs(runs: NDArray[np.int64] | NDArray[np.int8], loads: Floats) -> list[tuple[int, float]]:
    return sorted({(int(run), float(load)) for run, load in zip(runs, loads, strict=True)})


def _repeatability(known: _Known) -> Iterator[PointFigure]:
    """Yield the standard deviation of a load that is put on again in another run; by chi-squared its interval."""
    from scipy.special import chdtri

    groups = [known.error_N[rows] for rows in _same_again(known)]
    dof = sum(group.size - 1 for group in groups)
    if not dof:
        return
    sd = math.sqrt(sum(float(np.sum(np.square(group - group.mean()))) for group in groups) / dof)
    low, high = (sd * math.sqrt(dof / float(chdtri(dof, part))) for part in (0.025, 0.975))
    about = f"standard deviation of a load put on again, {dof} degrees of freedom"
    estimate = Estimate(sd, sd / math.sqrt(2.0 * dof), float(dof))
    yield PointFigure(found.REPEATABILITY, estimate, low, high, known.greatest_N, about)


def _same_again(known: _Known) -> Iterator[Bools]:
    """Yield the rows of one load, in one direction, where more than one run has it."""
    if known.points.run is None:
        return
    going = known.points.going if known.points.going is not None else np.zeros(known.load_N.size, dtype=np.int8)
    for way, load_N in _pairs(going[known.middle], known.level_N[known.middle]):
        rows = known.middle & (going == way) & (known.level_N == load_N)
        if np.unique(known.points.run[rows]).size > 1:
            yield rows


def _corners(known: _Known) -> Iterator[PointFigure]:
    """Yield for each place off the middle how much more is read there than the same load reads in the middle."""
    places = known.points.place_mm
    if places is None or known.middle.all():
        return
    for place in np.unique(places[~known.middle], axis=0):
        there = ~known.middle & np.all(places == place, axis=1)
        for load_N in np.unique(known.level_N[there & (known.level_N > 0.0)]):
            yield _corner(known, there & (known.level_N == load_N), float(load_N), place)


def _corner(known: _Known, there: Bools, load_N: float, place: Floats) -> PointFigure:
    here = known.middle & (known.level_N == load_N)
    value = float(known.error_N[there].mean()) - (float(known.error_N[here].mean()) if here.any() else 0.0)
    parts = 1.0 / np.count_nonzero(there) + (1.0 / np.count_nonzero(here) if here.any() else 0.0)
    off = Estimate(value, known.sd_N * math.sqrt(parts), float(known.dof))
    beside = "the middle" if here.any() else "the fit"
    about = f"at x {place[0]:g}, y {place[1]:g} mm less {beside}, under {load_N:.0f} N"
    return replace(_figure(found.CORNER, off, load_N, about), place_mm=(float(place[0]), float(place[1])))


def _return(known: _Known) -> Iterator[PointFigure]:
    """Yield what is read with nothing on after a run, less before it."""
    runs = known.points.run if known.points.run is not None else np.zeros(known.load_N.size, dtype=np.int64)
    changes = []
    for run in np.unique(runs[known.middle]):
        rows = np.flatnonzero(known.middle & (runs == run))
        empty = rows[known.level_N[rows] == 0.0]
        if empty.size > 1 and known.level_N[empty[0] : empty[-1] + 1].any():
            changes.append(float(known.error_N[empty[-1]] - known.error_N[empty[0]]))
    if changes:
        u = known.sd_N * math.sqrt(2.0 / len(changes))
        back = Estimate(float(np.mean(changes)), u, float(known.dof))
        yield _figure(found.RETURN, back, 0.0, f"with nothing on: after a run minus before it; mean of {len(changes)}")
