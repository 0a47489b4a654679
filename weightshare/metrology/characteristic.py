"""The metrological figures of one plate, each with its 95 % interval, and what its force is worth."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from weightshare.metrology import found
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.found import Figure
from weightshare.metrology.reading import QUARTERS, Kind, Placement, Spot
from weightshare.metrology.solve import Solved, apparent_N, top_gradient
from weightshare.model import STANDARD_GRAVITY, Bools, Floats, SideWorth

CREEP_FROM_S = 10.0
"""Creep is told from so long after the load was there: earlier its coming is still felt, s."""
SESSION_S = 900.0
"""For so long after its zero a scale is used, s: what drift comes to in a session. Common practice, no source."""
FAR_PART = 0.005
"""A quarter that reads so much of the load other than the middle is told."""
MUCH_CREEP_PART = 0.001
OUTLIER = 5.0
"""So many times the usual scatter is no scatter; the usual one is 1.483 times the median, whatever the outliers."""


def figures(solved: Solved) -> Iterator[Figure]:
    """Yield every figure that the fit of one plate can tell."""
    yield from _slopes(solved)
    yield from _by_curve(solved)
    if "H" in solved.names:
        about = f"down minus up, half-way to {solved.bearing.greatest_N:.0f} N"
        yield _figure(solved, found.HYSTERESIS, _one(solved, "H"), "N", about)
    yield _repeatability(solved)
    yield from _corners(solved)
    yield from _alone(solved)


def _slopes(solved: Solved) -> Iterator[Figure]:
    for k, index in enumerate(solved.bearing.layout.channels):
        name = f"a{k}" if f"a{k}" in solved.names else "a"
        yield _figure(solved, found.SLOPE, _one(solved, name), "N/count", channel=index)


def _by_curve(solved: Solved) -> Iterator[Figure]:
    """Yield the curve, and what a straight line from 0 to the greatest load would be off half-way."""
    if "b" in solved.names:
        curve, off = _one(solved, "b"), solved.bearing.greatest_N**2 / 4.0
        yield _figure(solved, found.CURVE, curve, "1/N")
        line = Estimate(off * curve.value, off * curve.u, curve.dof)
        about = f"of a straight line from 0 to {solved.bearing.greatest_N:.0f} N, half-way"
        yield _figure(solved, found.NON_LINEARITY, line, "N", about)


def _repeatability(solved: Solved) -> Figure:
    """Return the residual standard deviation; its interval is that of a variance, by chi-squared."""
    from scipy.special import chdtri

    sd_N, dof = solved.sd_N, solved.dof
    low, high = (sd_N * math.sqrt(dof / float(chdtri(dof, part))) for part in (0.025, 0.975))
    estimate = Estimate(sd_N, sd_N / math.sqrt(2.0 * dof), dof)
    about = "standard deviation of a load that is put on again"
    return Figure(found.REPEATABILITY, solved.bearing.layout.side, estimate, "N", low, high, about=about)


def _corners(solved: Solved) -> Iterator[Figure]:
    """Yield how much more than its load each quarter reads."""
    for spot, load_N, corner in _quarters(solved):
        about = f"{spot}, reading minus load at {load_N:.0f} N"
        yield _figure(solved, found.CORNER, corner, "N", about, spot=spot)


def _quarters(solved: Solved) -> Iterator[tuple[Spot, float, Estimate]]:
    """Yield each quarter that was loaded, the load there, and how much more than that it reads, N."""
    for spot in QUARTERS:
        there = np.array([p.kind is Kind.CORNER and p.spot is spot for p in solved.bearing.placements])
        if there.any():
            yield spot, float(solved.bearing.load_N[there].mean()), _corner(solved, spot, there)


def _corner(solved: Solved, spot: Spot, there: Bools) -> Estimate:
    gradient = np.zeros(len(solved.names))
    borne_N = solved.bearing.net[there].mean(axis=0) * solved.slopes
    for k, force_N in enumerate(borne_N):
        if f"c{k}" in solved.names:
            gradient[solved.names.index(f"c{k}")] = spot.x_sign * force_N
    if gradient.any():
        return _linear(solved, gradient)
    # each corner has its own cell: what the fit leaves there is what is wrong there
    left_N = solved.residual_N[there]
    return Estimate(float(left_N.mean()), solved.sd_N / math.sqrt(left_N.size), solved.dof)


def _alone(solved: Solved) -> Iterator[Figure]:
    """Yield what happens while nobody touches anything: creep, the return to zero, drift."""
    settling, bearing = solved.settling, solved.bearing
    if settling.creeps:
        number = int(np.argmax(bearing.where(Kind.CREEP)))
        load_N, held_s = float(bearing.load_N[number]), _held_s(solved, number)
        about = f"from {CREEP_FROM_S:.0f} s to {held_s:.0f} s after {load_N:.0f} N were put on"
        yield _figure(solved, found.CREEP, settling.change_N(load_N, CREEP_FROM_S, held_s), "N", about)
    after = _after_creep(solved)
    if after is not None:
        seen_N = apparent_N(bearing.net, solved.slopes, solved.value("b"))
        change = float(seen_N[after[1]] - seen_N[after[0]])
        back = Estimate(change, solved.sd_N * math.sqrt(2.0), solved.dof)
        yield _figure(solved, found.RETURN, back, "N", "with nothing on: after the long load, minus before it")
    if settling.covariance is not None:
        yield _figure(solved, found.DRIFT, settling.drift_N_per_min, "N/min", "with nothing on")


def _held_s(solved: Solved, number: int) -> float:
    """Return how long a placement was watched, s."""
    return float(solved.bearing.last_s[number] - solved.bearing.loading.since_s[number])


def _after_creep(solved: Solved) -> tuple[int, int] | None:
    """Return which placements had nothing on just before and just after the load that was left on."""
    kinds = [p.kind for p in solved.bearing.placements]
    if Kind.CREEP not in kinds:
        return None
    creep = kinds.index(Kind.CREEP)
    before = [i for i in range(creep) if not solved.bearing.placements[i].masses]
    after = [i for i in range(creep + 1, len(kinds)) if kinds[i] is Kind.RETURN]
    return (before[-1], after[0]) if before and after else None


def _one(solved: Solved, name: str) -> Estimate:
    gradient = np.zeros(len(solved.names))
    gradient[solved.names.index(name)] = 1.0
    return _linear(solved, gradient)


def _linear(solved: Solved, gradient: Floats) -> Estimate:
    """Return a sum of parameters; its degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4)."""
    scatter, common = (float(gradient @ part @ gradient) for part in (solved.scatter, solved.common))
    total = scatter + common
    dof = solved.dof * (total / scatter) ** 2 if scatter > 0.0 else math.inf
    return Estimate(float(gradient @ solved.values), math.sqrt(total), dof)


def _figure(
    solved: Solved, name: str, estimate: Estimate, unit: str, about: str = "", *,
    channel: int | None = None, spot: Spot | None = None,
) -> Figure:  # fmt: skip
    side = solved.bearing.layout.side
    return Figure(name, side, estimate, unit, *estimate.interval(), channel=channel, spot=spot, about=about)


def side_worth(solved: Solved, rate_Hz: float) -> SideWorth:
    """Return what the plate's force is worth in practice.

    An effect that is not corrected for counts as spread evenly from nothing to its full size: u, taken about nothing,
    is that size over the root of 3 (JCGM 100:2008, 4.3.7).
    """
    bearing, settling = solved.bearing, solved.settling
    gradient = top_gradient(solved)
    even = 1.0 / math.sqrt(3.0)
    corner = max((abs(corner.value) / load_N for _spot, load_N, corner in _quarters(solved)), default=0.0)
    return SideWorth(
        bearing.layout.side,
        gain_part=math.sqrt(float(gradient @ solved.scatter @ gradient)) / bearing.greatest_N,
        repeatability_N=solved.sd_N,
        noise_N=float(np.sqrt(np.square(solved.slopes * bearing.sd_counts).sum())),
        noise_rate_Hz=rate_Hz,
        hysteresis_N=even * abs(solved.value("H")),
        creep_part=even * abs(settling.part) if settling.creeps else 0.0,
        corner_part=even * corner,
        zero_drift_N=even * abs(settling.drift_N_per_s) * SESSION_S,
    )


def cautions(solved: Solved) -> Iterator[str]:
    """Yield what is not as it should be, in words."""
    bearing, side = solved.bearing, solved.bearing.layout.side
    for spot, load_N, corner in _quarters(solved):
        part = corner.value / load_N
        if abs(part) > FAR_PART:
            way = "more" if part > 0.0 else "less"
            yield (
                f"the {spot} quarter of the {side} plate reads {100.0 * abs(part):.1f} % {way} than its middle:"
                " look for a loose foot or something under the plate"
            )
    if solved.settling.creeps and abs(solved.settling.part) > MUCH_CREEP_PART:
        part, way = solved.settling.part, "more" if solved.settling.part > 0.0 else "less"
        yield f"the {side} plate creeps: a load that stays on reads {100.0 * abs(part):.2f} % {way} in the end"
    off_N = np.abs(solved.residual_N)
    worst = int(np.argmax(off_N))
    if off_N[worst] > OUTLIER * 1.483 * float(np.median(off_N)):
        yield f"{_where(bearing.placements[worst], side)} does not fit the others: measure that step again"
    top_N = bearing.greatest_N
    yield (
        f"the {side} plate was calibrated up to {top_N:.0f} N ({top_N / STANDARD_GRAVITY:.0f} kg):"
        " beyond that the same curve is taken on trust"
    )


def _where(placement: Placement, side: object) -> str:
    return f"step {placement.number + 1}, run {placement.run}, on the {side} plate ({placement.spot})"
