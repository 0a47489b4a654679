"""One plate on the bench: the least-squares fit of its readings.

Reading and load of placement i are set equal, with what creep and drift have added by then:

    load_i + creep_i + drift_i = sum_k a_k d_ik (1 - c_k x_i / (1 + c_k x_i)) + b sum_k (a_k d_ik)^2 - H h_i - z

d_ik are the net counts of channel k, a_k its slope, b the curve of the plate; h_i is 4 l (1 - l) on the way down, l the
part of the greatest load; H is the hysteresis half-way; x_i is -1 or 1 left or right of the middle, c_k how unequal the
channel's cells are. The masses are the same in every placement, so that their errors are carried through the fit as one
cause each (JCGM 100:2008, 5.2); scatter from placement to placement is what the fit leaves (4.2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.errors import CalibrationError
from weightshare.metrology.bearing import Bearing, left_alone
from weightshare.metrology.reading import BenchRecord, Going, Kind
from weightshare.metrology.settling import Settling, find_settling
from weightshare.metrology.standard import AIR_LIFT_PART
from weightshare.model import Floats

CURVED_FROM = 4
"""So many different loads, nothing on among them, are needed before a curve is fitted."""
ROUNDS = 4
"""The curve needs the slopes, and the slopes the curve: so often each is taken from the other."""


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """The fit of one plate: parameters by name, with what makes them uncertain."""

    bearing: Bearing
    settling: Settling
    names: tuple[str, ...]
    values: Floats
    scatter: Floats
    """Covariance by what the fit leaves, shape (p, p)."""
    common: Floats
    """Covariance by masses and gravity, shape (p, p)."""
    residual_N: Floats
    """Reading less load, shape (n,)."""
    dof: int

    @property
    def sd_N(self) -> float:
        """Residual standard deviation, N."""
        return float(np.sqrt(self.residual_N @ self.residual_N / self.dof))

    @property
    def slopes(self) -> Floats:
        """Newtons per count of each channel, shape (K,)."""
        channels = len(self.bearing.layout.channels)
        own = self.values[[i for i, name in enumerate(self.names) if name.startswith("a")]]
        return np.broadcast_to(own, channels) if own.size == 1 else own

    def value(self, name: str) -> float:
        """Return one parameter; 0 where the fit does not have it."""
        return float(self.values[self.names.index(name)]) if name in self.names else 0.0


def solve_plate(record: BenchRecord, bearing: Bearing) -> Solved:
    """Return the fit of one plate. Raises CalibrationError where what was gathered does not make one."""
    slopes, curve, unequal = _first_slopes(bearing), 0.0, np.zeros(len(bearing.layout.channels))
    for _round in range(ROUNDS):
        settling = _settle(record, bearing, slopes, curve)
        names, design = _design(bearing, slopes, unequal)
        values, spread, residual_N = _fit(design, bearing, settling)
        solved = Solved(bearing, settling, names, values, spread, spread, residual_N, len(design) - len(names))
        slopes, curve = solved.slopes, solved.value("b")
        unequal = np.array([solved.value(f"c{k}") for k in range(unequal.size)])
    if solved.dof < 1:
        raise CalibrationError(
            f"the {bearing.layout.side} plate has too few points: put more masses on, or a second run"
        )
    if not (solved.slopes > 0.0).all():
        index = bearing.layout.channels[int(np.argmin(solved.slopes))]
        raise CalibrationError(
            f"channel {index}, under the {bearing.layout.side} plate, reads less the more lies on it: are its wires"
            " swapped, or was the load on the other plate?"
        )
    scatter = spread @ spread.T * solved.sd_N**2
    return Solved(bearing, settling, names, values, scatter, _common(record, bearing, spread), residual_N, solved.dof)


def _first_slopes(bearing: Bearing) -> Floats:
    """Return slopes to begin with: all channels alike."""
    total = bearing.net.sum(axis=1)
    slope = float(total @ bearing.load_N / max(float(total @ total), 1e-30))
    return np.full(bearing.net.shape[1], slope)


def _settle(record: BenchRecord, bearing: Bearing, slopes: Floats, curve: float) -> Settling:
    stretches, held_s = [], 0.0
    for kind in (Kind.DRIFT, Kind.CREEP, Kind.RETURN):
        for time_s, net in left_alone(record, bearing, kind):
            stretches.append((time_s, apparent_N(net, slopes, curve)))
            held_s = max(held_s, float(np.ptp(time_s))) if kind is Kind.CREEP else held_s
    return find_settling(bearing.loading, stretches, held_s)


def _design(bearing: Bearing, slopes: Floats, unequal: Floats) -> tuple[tuple[str, ...], Floats]:
    """Return the names of the parameters and the design matrix, shape (n, p)."""
    straight = bearing.net * slopes
    corners = bearing.where(Kind.CORNER)
    channels = range(straight.shape[1])
    apart = corners.any() and len({p.spot for p in bearing.placements}) > straight.shape[1]
    columns = {f"a{k}": bearing.net[:, k] for k in channels} if apart else {"a": bearing.net.sum(axis=1)}
    if len(np.unique(bearing.load_N)) >= CURVED_FROM:
        columns["b"] = (straight**2).sum(axis=1)
    down = np.array([p.going is Going.DOWN and bool(p.masses) for p in bearing.placements])
    if down.any():
        part = bearing.load_N / bearing.greatest_N
        columns["H"] = -4.0 * part * (1.0 - part) * down
    columns["z"] = np.full(len(straight), -1.0)
    if apart and _is_in_line(bearing):
        x_sign = np.array([p.spot.x_sign for p in bearing.placements], dtype=np.float64)
        # what a channel bears is its reading less what its unequal cells add to that
        columns |= {f"c{k}": -x_sign * straight[:, k] / (1.0 + unequal[k] * x_sign) for k in channels}
    return tuple(columns), np.stack(list(columns.values()), axis=1)


def _is_in_line(bearing: Bearing) -> bool:
    """Return whether all channels lie in the middle from left to right: they do not tell left from right."""
    return len({round(x_mm) for x_mm, _y_mm in bearing.layout.places_mm}) == 1


def _fit(design: Floats, bearing: Bearing, settling: Settling) -> tuple[Floats, Floats, Floats]:
    """Return values (p,), the matrix (p, n) that makes them of the loads, and reading less load (n,) by the fit."""
    wanted = bearing.load_N + settling.off_N(bearing.loading, bearing.time_s)
    scale = np.linalg.norm(design, axis=0)
    if not scale.all() or np.linalg.matrix_rank(design / scale) < design.shape[1]:
        raise CalibrationError(
            f"the readings of the {bearing.layout.side} plate do not tell its channels apart: one does not change"
        )
    spread = np.linalg.pinv(design / scale) / scale[:, None]
    values = spread @ wanted
    return values, spread, design @ values - wanted


def _common(record: BenchRecord, bearing: Bearing, spread: Floats) -> Floats:
    """Return the covariance of the parameters that comes from masses, gravity and air, shape (p, p).

    Air lifts each mass a little, which is not corrected: anywhere from nothing to its full size.
    """
    each = spread @ bearing.masses * (record.gravity_m_s2 * np.array([mass.u_kg for mass in record.masses]))
    part = math.hypot(record.u_gravity_m_s2 / record.gravity_m_s2, AIR_LIFT_PART / math.sqrt(3.0))
    all_alike = spread @ bearing.load_N * part
    covariance: Floats = each @ each.T + np.outer(all_alike, all_alike)
    return covariance


def apparent_N(net: Floats, slopes: Floats, curve: float) -> Floats:
    """Return the force that net counts, shape (n, K), say, N, shape (n,)."""
    straight = net * slopes
    apparent: Floats = straight.sum(axis=1) + curve * (straight**2).sum(axis=1)
    return apparent


def top_gradient(solved: Solved) -> Floats:
    """Return how the force at the greatest load, N, changes with each parameter, shape (p,)."""
    bearing, slopes = solved.bearing, solved.slopes
    top = int(np.argmax(bearing.load_N * np.array([p.spot.x_sign == 0 for p in bearing.placements])))
    net = bearing.net[top]
    gradient = np.zeros(len(solved.names))
    for i, name in enumerate(solved.names):
        if name.startswith("a"):
            gradient[i] = net.sum() if name == "a" else net[int(name[1:])]
        elif name == "b":
            gradient[i] = ((net * slopes) ** 2).sum()
    return gradient


def common_part(solved: Solved) -> float:
    """Return the standard uncertainty of a force that comes from masses and gravity, as a part of it."""
    gradient = top_gradient(solved)
    return float(np.sqrt(gradient @ solved.common @ gradient)) / solved.bearing.greatest_N
