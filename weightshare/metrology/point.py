"""Points of a calibration that were taken elsewhere: loads, counts, and what is known of each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import InputError
from weightshare.metrology.advice import advise, odd_points
from weightshare.metrology.fit import GREATEST_DEGREE, Fit, fit_polynomial
from weightshare.model import STANDARD_GRAVITY, Bools, Floats, Side

LOAD, MASS, COUNTS, X, Y = "load_N", "mass_kg", "counts", "x", "y"
NEAR_MM = 1.0
"""A load within so much of the plate's middle lies in the middle."""
_STRANGE_KG = 300.0
_STRANGE_N = 4_000.0
_SMALL_N = 150.0
_ROUND_KG = 0.5
_ROUND_PART = 1e-3
"""9.8, 9.81 and the standard value are one gravity within this."""
_LEAST_LOADS = 3
"""So many different ones are hardly round by chance."""
_AGREE = 0.1
WERE_GRAMS = "were they grams? Divide them by 1000"
_FACTORS = {
    STANDARD_GRAVITY: "9.81 (newtons taken for kilograms?)",
    1.0 / STANDARD_GRAVITY: "1/9.81 (kilograms taken for newtons?)",
    1000.0: "1000 (grams taken for kilograms?)",
    1e-3: "1/1000 (kilonewtons taken for newtons?)",
    1000.0 / STANDARD_GRAVITY: "1000/9.81 (grams taken for newtons?)",
}


@dataclass(frozen=True, slots=True, eq=False)
class Points:
    """Points of one channel, in the order of the file, shape (n,) each; x and y in the file's own units."""

    x: Floats
    y: Floats
    x_name: str
    y_name: str
    line: NDArray[np.int64]
    """Where each stands in the file; the header is line 1."""
    channel: int | None = None
    run: NDArray[np.int64] | None = None
    going: NDArray[np.int8] | None = None
    """1 up, -1 down, 0 not said."""
    place_mm: Floats | None = None
    """Shape (n, 2): where on the plate the load lay, x right and y forward."""
    side: Side | None = None
    """Under which plate the channel is, where that is told."""

    @property
    def in_middle(self) -> Bools:
        """Which of them were taken in the middle of the plate, bool, shape (n,): those that the fit is made of.

        All of them where no place is told, or none is the middle.
        """
        everywhere = np.ones(self.x.size, dtype=np.bool_)
        if self.place_mm is None:
            return everywhere
        near = np.hypot(*np.nan_to_num(self.place_mm).T) <= NEAR_MM
        return near if near.any() else everywhere

    def force_N(self, gravity_m_s2: float = STANDARD_GRAVITY) -> Floats | None:
        """Return the loads in newtons, shape (n,); None where the columns are x and y, of which nothing is known."""
        if self.x_name == X:
            return None
        return self.x * gravity_m_s2 if self.x_name == MASS else self.x

    def fit(self, degree: int) -> Fit:
        """Return y fitted at x, in the file's own units. Raises InputError as fit_polynomial does."""
        return fit_polynomial(self.x[self.in_middle], self.y[self.in_middle], degree)

    def advice(self, degree: int) -> str | None:
        """Return what is wrong with that fit, in words."""
        return advise(self.x[self.in_middle], self.y[self.in_middle], degree)

    def odd_lines(self, degree: int) -> list[int]:
        """Return the lines of the points that do not fit the others, whatever the curve."""
        middle = self.in_middle
        x, y = self.x[middle], self.y[middle]
        try:
            fit = fit_polynomial(x, y, GREATEST_DEGREE)
        except InputError:  # too few for the bendiest curve
            fit = self.fit(degree)
        odd: list[int] = self.line[middle][odd_points(x, y, fit)].tolist()
        return odd


def doubts(points: Points, newton_per_count: float, expected_N_per_count: float | None = None) -> list[str]:
    """Return what speaks against the unit of the loads, or the sign of the slope, in words.

    With an expected slope that decides; without, loads that no scale for persons is given.
    """
    if expected_N_per_count is not None:
        return _against_expected(newton_per_count / expected_N_per_count)
    words = [*_strange_loads(points)]
    if newton_per_count < 0.0:
        words.append(
            "the counts fall as the load grows: the cell hangs the other way round, its signal wires are exchanged, or"
            " the column counts has the wrong sign"
        )
    return words


def _against_expected(ratio: float) -> list[str]:
    if abs(ratio - 1.0) <= _AGREE:
        return []
    if ratio < 0.0:
        return ["the slope has the other sign than expected: signal wires exchanged, or a cell upside down"]
    for factor, words in _FACTORS.items():
        if abs(ratio / factor - 1.0) <= _AGREE:
            return [f"the slope is {ratio:.4g} times what is expected, close to {words}"]
    return [f"the slope is {ratio:.4g} times what is expected"]


def _strange_loads(points: Points) -> list[str]:
    most = float(np.abs(points.x).max())
    if points.x_name == MASS and _are_newtons(points.x):
        return [f"the greatest mass is {most:g} kg, and all are round over 9.81: newtons belong in column {LOAD}"]
    if points.x_name == MASS and most > _STRANGE_KG:
        return [f"the greatest mass is {most:g} kg: were they grams (over 1000), or newtons (column {LOAD})?"]
    if points.x_name == LOAD and most > _STRANGE_N:
        kg = most / STANDARD_GRAVITY
        return [f"the greatest load is {most:g} N ({kg:.0f} kg): were they grams? Over 1000, in column {MASS}"]
    if points.x_name == LOAD and 0.0 < most <= _SMALL_N and _are_round(points.x):
        kg = most / STANDARD_GRAVITY
        return [f"the greatest load is {most:g} N ({kg:.1f} kg): were they kilograms (a factor of 9.81)? Column {MASS}"]
    return []


def unit_hint(kg: Floats) -> str:
    """Return in which unit masses, shape (n,), may have been told that are far too much as kilograms."""
    if _are_newtons(kg, least=1):
        return "all are round over 9.81: were they newtons? Divide them by 9.81"
    return WERE_GRAMS if float(np.max(kg)) > _STRANGE_KG else "are they told in the right unit?"


def _are_newtons(kg: Floats, least: int = _LEAST_LOADS) -> bool:
    """Tell whether masses are round numbers of kilograms only when they are taken for newtons."""
    different = np.unique(kg[kg > 0.0])
    as_newtons = different / STANDARD_GRAVITY
    return different.size >= least and _are_round(as_newtons, _ROUND_PART) and not _are_round(different)


def _are_round(kg: Floats, part: float = 1e-5) -> bool:
    """Tell whether all are multiples of half a kilogram, but for this part of each."""
    off = np.abs(kg - _ROUND_KG * np.round(kg / _ROUND_KG))
    return bool(np.all(off <= part * np.abs(kg)))
