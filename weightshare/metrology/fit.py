"""Polynomials through points by least squares: exact in any units, with their uncertainty and their bands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from weightshare.errors import InputError
from weightshare.metrology.estimate import Estimate, coverage_factor
from weightshare.model import Floats

GREATEST_DEGREE = 3
MARGIN = 0.05
"""By so much of the range of its points a fit may be read beyond them: readings of nothing scatter about zero."""
_HALVINGS_AT_MOST = 200
"""Of an interval; more than a double has digits."""


@dataclass(frozen=True, slots=True, eq=False)
class Prediction:
    """What a fit says at some x, all float64 of x's shape, in the unit of y."""

    value: Floats
    u: Floats
    """Standard uncertainty of the fitted curve."""
    confidence: Floats
    """Half width of the band in which the curve lies."""
    prediction: Floats
    """Half width of the band in which one more reading lies."""


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """y = c0 + c1 x + ... by ordinary least squares, for points that scatter alike and in y alone."""

    degree: int
    n: int
    coefficients: tuple[float, ...]
    covariance: Floats
    """Of the coefficients, shape (degree + 1, degree + 1)."""
    residual_sd: float
    """sqrt(sum of squares / dof), in the unit of y."""
    low: float
    high: float
    """The least and the greatest x of the points."""
    _middle: float
    _half: float
    _local: Floats
    _root: Floats
    """R for which R R' is the inverse of X'X, in the local x: a sum of squares never gets under 0 by rounding."""

    @property
    def dof(self) -> int:
        """Points less coefficients."""
        return self.n - self.degree - 1

    @property
    def standard_errors(self) -> tuple[float, ...]:
        """Of each coefficient."""
        return tuple(np.sqrt(np.diagonal(self.covariance)).tolist())

    def value(self, x: Floats | float) -> Floats:
        """Return the fitted y at x, float64 of x's shape."""
        return np.asarray(np.polynomial.polynomial.polyval(self._place(x), self._local), dtype=np.float64)

    def slope(self, x: Floats | float) -> Floats:
        """Return dy/dx of the fit at x, float64 of x's shape."""
        steps = np.polynomial.polynomial.polyder(self._local)
        return np.asarray(np.polynomial.polynomial.polyval(self._place(x), steps), dtype=np.float64) / self._half

    def predict(self, x: Floats | float, level: float = 0.95) -> Prediction:
        """Return the fitted y at x with its bands: Student's t for `dof` (Draper and Smith, Applied Regression, 3.1).

        x: any shape; the figures have the same.
        """
        powers = self._place(x)[..., np.newaxis] ** np.arange(self.degree + 1)
        leverage = np.square(powers @ self._root).sum(axis=-1)
        u = np.asarray(self.residual_sd * np.sqrt(leverage))
        k = coverage_factor(self.dof, level)
        one_more = np.asarray(k * self.residual_sd * np.sqrt(1.0 + leverage))
        return Prediction(self.value(x), u, np.asarray(k * u), one_more)

    def inverse(self, y: float, readings: int = 1) -> Estimate:
        """Return the x at which the fit gives `y`, the mean of so many readings, with its standard uncertainty.

        To first order: the scatter of the readings and the curve's own uncertainty, over the slope (Draper and Smith,
        3.2). Raises InputError where the fit turns between the points, so that x is not one, or `y` lies beyond them.
        """
        x = self._solve(y)
        slope = abs(float(self.slope(x)))
        u = math.hypot(self.residual_sd / math.sqrt(readings), float(self.predict(x).u))
        return Estimate(x, u / slope, float(self.dof))

    @property
    def rises_or_falls(self) -> bool:
        """Whether the fit has one direction from the least to the greatest x, and a little (MARGIN) beyond."""
        turns = np.polynomial.polynomial.polyroots(np.polynomial.polynomial.polyder(self._local))
        ends = self._place(np.array(self._ends()))
        inside = [turn.real for turn in turns if abs(turn.imag) < 1e-9 and ends[0] <= turn.real <= ends[1]]
        return not inside and bool(self.slope(self.low) != 0)

    def _ends(self) -> tuple[float, float]:
        margin = MARGIN * (self.high - self.low)
        return self.low - margin, self.high + margin

    def _solve(self, y: float) -> float:
        if not self.rises_or_falls:
            raise InputError("the fitted curve turns between the points, so a reading does not tell the load")
        low, high = sorted(self._ends(), key=lambda x: float(self.value(x)))
        if not self.value(low) <= y <= self.value(high):
            raise InputError(f"{y:g} lies beyond the points of the fit")
        for _ in range(_HALVINGS_AT_MOST):
            middle = 0.5 * (low + high)
            if middle in (low, high):
                break
            low, high = (middle, high) if self.value(middle) < y else (low, middle)
        return 0.5 * (low + high)

    def _place(self, x: Floats | float) -> Floats:
        """Return where x lies between the least (-1) and the greatest (1) of the points."""
        return (np.asarray(x, dtype=np.float64) - self._middle) / self._half


def fit_polynomial(x: Floats, y: Floats, degree: int = 1) -> Fit:
    """Return the polynomial of `degree` 1 to 3 that fits y at x best; x, y: float64, shape (n,), any units.

    The normal equations are solved in whole numbers, without any rounding, since every double is one times a power of
    two: how far from zero or from one x and y lie does not matter. Covariance: s^2 (X'X)^-1, with s^2 the sum of
    squares over n - degree - 1 (Draper and Smith, Applied Regression Analysis, 5.1). Raises InputError for too few
    points, too few different x, or numbers that are not finite or too far from 1 for their powers to be.
    """
    _check(x, y, degree)
    try:
        return _fit(x, y, degree)
    except OverflowError as error:
        raise InputError("the numbers are too great or too small to be fitted: use a unit nearer to them") from error


def _check(x: Floats, y: Floats, degree: int) -> None:
    if not 1 <= degree <= GREATEST_DEGREE:
        raise InputError(f"a fit of degree {degree} is not made here: it may be 1 to {GREATEST_DEGREE}")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("a point is not a finite number")
    if x.size < degree + 2:
        raise InputError(f"{x.size} points are too few: a fit of degree {degree} needs {degree + 2} or more")
    different = np.unique(x).size
    if different < degree + 1:
        words = "all points are at one load" if different == 1 else f"only {different} of the loads are different"
        raise InputError(f"{words}: a fit of degree {degree} needs {degree + 1} or more")


def _fit(x: Floats, y: Floats, degree: int) -> Fit:
    xs, x_unit = _whole(x)
    ys, y_unit = _whole(y)
    middle, half = (min(xs) + max(xs)) // 2, 1 << (max(xs) - min(xs)).bit_length() - 1
    powers = _powers([value - middle for value in xs], 2 * degree)
    size = degree + 1
    inverse = _inverse([[sum(powers[i + j]) for j in range(size)] for i in range(size)])
    moments = [sum(p * v for p, v in zip(powers[i], ys, strict=True)) for i in range(size)]
    whole = [sum(inverse[i][j] * moments[j] for j in range(size)) for i in range(size)]
    squares = sum(v * v for v in ys) - sum(c * m for c, m in zip(whole, moments, strict=True))
    variance = squares * y_unit**2 / (len(ys) - size)
    to_raw = _shift(middle, x_unit, size)
    raw = [y_unit * sum(to_raw[i][j] * whole[j] for j in range(size)) for i in range(size)]
    back = _sandwich(to_raw, inverse)
    return Fit(
        degree,
        len(ys),
        tuple(float(c) for c in raw),
        np.array([[float(variance * back[i][j]) for j in range(size)] for i in range(size)]),
        math.sqrt(float(variance)),
        float(x.min()),
        float(x.max()),
        float(middle * x_unit),
        float(half * x_unit),
        np.array([float(y_unit * c * half**i) for i, c in enumerate(whole)]),
        _root([[inverse[i][j] * half ** (i + j) for j in range(size)] for i in range(size)]),
    )


def _whole(values: Floats) -> tuple[list[int], Fraction]:
    """Return integers and the power of two that makes the values of them, exactly."""
    parts, exponents = np.frexp(values)
    lowest = int(exponents[values != 0].min(initial=0)) if values.any() else 0
    numbers = (parts * 2.0**53).astype(np.int64).tolist()
    shifts = np.where(values != 0, exponents - lowest, 0).tolist()
    return [number << shift for number, shift in zip(numbers, shifts, strict=True)], Fraction(2) ** (lowest - 53)


def _powers(values: Sequence[int], most: int) -> list[list[int]]:
    rows = [[1] * len(values)]
    for _ in range(most):
        rows.append([power * value for power, value in zip(rows[-1], values, strict=True)])
    return rows


def _inverse(matrix: Sequence[Sequence[int]]) -> list[list[Fraction]]:
    """Invert a positive definite matrix of integers, exactly, by Gauss and Jordan's elimination."""
    size = len(matrix)
    rows = [[Fraction(v) for v in row] + [Fraction(i == k) for k in range(size)] for i, row in enumerate(matrix)]
    for i in range(size):
        rows[i] = [value / rows[i][i] for value in rows[i]]
        for k in range(size):
            if k != i:
                rows[k] = [a - rows[k][i] * b for a, b in zip(rows[k], rows[i], strict=True)]
    return [row[size:] for row in rows]


def _root(matrix: Sequence[Sequence[Fraction]]) -> Floats:
    """Return the lower triangle R of a positive definite matrix R R' (Cholesky), exact but for its last step."""
    size = len(matrix)
    lower = [[Fraction(0)] * size for _ in range(size)]
    scale: list[Fraction] = []
    for j in range(size):
        scale.append(matrix[j][j] - sum(lower[j][k] ** 2 * scale[k] for k in range(j)))
        for i in range(j, size):
            lower[i][j] = (matrix[i][j] - sum(lower[i][k] * lower[j][k] * scale[k] for k in range(j))) / scale[j]
    return np.array([[float(lower[i][j]) * math.sqrt(float(scale[j])) for j in range(size)] for i in range(size)])


def _shift(middle: int, unit: Fraction, size: int) -> list[list[Fraction]]:
    """Return what turns coefficients of (x / unit - middle)^j into those of x^i, by the binomial theorem."""
    return [
        [math.comb(j, i) * Fraction(-middle) ** (j - i) / unit**i if j >= i else Fraction(0) for j in range(size)]
        for i in range(size)
    ]


def _sandwich(outer: list[list[Fraction]], inner: list[list[Fraction]]) -> list[list[Fraction]]:
    """Return outer inner outer'."""
    size = range(len(outer))
    left = [[sum((outer[i][k] * inner[k][j] for k in size), Fraction(0)) for j in size] for i in size]
    return [[sum((left[i][k] * outer[j][k] for k in size), Fraction(0)) for j in size] for i in size]
