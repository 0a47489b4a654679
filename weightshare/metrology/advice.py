"""Whether the degree of a fit does, and which points do not belong to the others, in words."""

from __future__ import annotations

import math

import numpy as np

from weightshare.errors import InputError
from weightshare.metrology.fit import GREATEST_DEGREE, Fit, fit_polynomial
from weightshare.model import Floats

SURE = 0.01
"""A bend, a run of signs or a far point is told where chance alone would make it less often than this."""
DOUBTFUL = 0.05
"""The highest term of a curve is called needless where chance alone would make it more often than this."""
NOTHING = 1e-12
"""Residuals of under this part of the greatest y are rounding."""
LEAST_RUNS_OF = 8
"""Loads; with fewer, the runs of signs tell nothing."""
_NAMES = {1: "a straight line", 2: "a curve of the second degree", 3: "a curve of the third degree"}


def advise(x: Floats, y: Floats, degree: int) -> str | None:
    """Return what is wrong with fitting y at x by a polynomial of `degree`, in words; None where it does.

    x, y: float64, shape (n,). A higher degree is advised where it fits better than by chance (F test at 1 %; Draper and
    Smith, Applied Regression Analysis, 6.1) and the bend is more than its own residual standard deviation somewhere; a
    lower one where the highest term cannot be told from 0 (t test at 5 %); a look at the points where the signs of the
    residuals come in runs (Wald and Wolfowitz, 1940). Raises InputError as fit_polynomial does.
    """
    fit = fit_polynomial(x, y, degree)
    if fit.residual_sd <= NOTHING * float(np.abs(y).max()):
        return None
    higher = _higher(x, y, fit)
    if higher is not None:
        return (
            f"{_NAMES[degree]} does not do: the residuals bend, and degree {higher.degree} leaves a residual standard"
            f" deviation of {higher.residual_sd:.3g} instead of {fit.residual_sd:.3g}; take degree {higher.degree}"
        )
    return _needless(fit) or _runs(x, y, fit)


def _higher(x: Floats, y: Floats, fit: Fit) -> Fit | None:
    """Return the lowest higher degree that fits better than by chance, and by so much that it matters."""
    for degree in range(fit.degree + 1, GREATEST_DEGREE + 1):
        try:
            other = fit_polynomial(x, y, degree)
        except InputError:  # too few points, or too few loads, to tell
            return None
        if _matters(x, fit, other) and _chance(fit, other) < SURE:
            return other
    return None


def _matters(x: Floats, fit: Fit, other: Fit) -> bool:
    return float(np.abs(other.value(x) - fit.value(x)).max()) > other.residual_sd


def _chance(fit: Fit, other: Fit) -> float:
    """Return how often chance alone makes so much of the sum of squares go with the further terms."""
    from scipy.special import fdtrc

    left = other.dof * other.residual_sd**2
    terms = other.degree - fit.degree
    gone = (fit.dof * fit.residual_sd**2 - left) / terms
    return float(fdtrc(terms, other.dof, gone * other.dof / left)) if left > 0.0 else 0.0


def _needless(fit: Fit) -> str | None:
    from scipy.special import stdtr

    if fit.degree == 1:
        return None
    ratio = abs(fit.coefficients[-1]) / fit.standard_errors[-1]
    if 2.0 * float(stdtr(fit.dof, -ratio)) <= DOUBTFUL:
        return None
    return (
        f"the term of degree {fit.degree} cannot be told from 0 ({ratio:.1f} times its standard error): degree"
        f" {fit.degree - 1} says as much"
    )


def _runs(x: Floats, y: Floats, fit: Fit) -> str | None:
    """Return words where the mean residuals, from load to load, keep their sign for longer than chance lets them."""
    loads, place = np.unique(x, return_inverse=True)
    signs = np.bincount(place, weights=y - fit.value(x)) > 0.0
    over, under = int(signs.sum()), int((~signs).sum())
    runs = 1 + int(np.count_nonzero(signs[1:] != signs[:-1]))
    if loads.size < LEAST_RUNS_OF or runs_chance(runs, over, under) >= SURE:
        return None
    return (
        f"the residuals of {loads.size} loads have only {runs} runs of one sign: something other than"
        f" {_NAMES[fit.degree]} is in the points; look for drift, or for a step in them"
    )


def runs_chance(runs: int, over: int, under: int) -> float:
    """Return the probability of `runs` or fewer runs in a row of so many of two kinds (Wald and Wolfowitz, 1940)."""
    return sum(_ways(count, over, under) for count in range(1, runs + 1)) / math.comb(over + under, over)


def _ways(runs: int, over: int, under: int) -> int:
    """Return in how many orders there are exactly so many runs."""
    if not over or not under:
        return int(runs == 1)
    longer, shorter = (runs + 1) // 2, runs // 2

    def parted(first: int, second: int) -> int:
        return math.comb(over - 1, first - 1) * math.comb(under - 1, second - 1) if first and second else 0

    return parted(longer, shorter) + parted(shorter, longer)


def odd_points(x: Floats, y: Floats, fit: Fit) -> list[int]:
    """Return which points lie so far from the fit of the others that chance, over all points, makes it under SURE.

    x, y: float64, shape (n,): the points of `fit`. Externally studentised residuals with Bonferroni's correction
    (Cook and Weisberg, 1982, 2.2). Empty where there are under three degrees of freedom.
    """
    from scipy.special import stdtr

    if fit.dof < 3 or fit.residual_sd <= NOTHING * float(np.abs(y).max()):
        return []
    residual = y - fit.value(x)
    apart = 1.0 - np.square(fit.predict(x).u / fit.residual_sd)
    inner = residual / (fit.residual_sd * np.sqrt(np.maximum(apart, NOTHING)))
    rest = np.maximum(fit.dof - np.square(inner), NOTHING)
    outer = np.abs(inner) * np.sqrt((fit.dof - 1) / rest)
    far: list[int] = np.flatnonzero(2.0 * x.size * stdtr(fit.dof - 1, -outer) < SURE).tolist()
    return far
