"""How well repeated measurements of several people agree: ICC, standard error of measurement, detectable change.

For one person over days see `repeat`; here the question is what a measure is worth among people: how much of the
difference between two of them is theirs, and how much is the measuring.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.metrology.estimate import coverage_factor
from weightshare.model import Floats

LEAST_PEOPLE = LEAST_COLUMNS = 2
NORMAL_95 = 1.96
"""By custom 1.96 stands for the 97.5 % quantile of the normal distribution."""
_TAIL = 0.975
_NO_SPREAD = 1e-26
"""Mean squares below this part of the squared scores are rounding: that is some 1e-16 of a score."""


@dataclass(frozen=True, slots=True)
class Interval:
    """A value with its 95 % confidence interval, all in one unit; None where that cannot be had."""

    value: float | None
    low: float | None
    high: float | None


UNKNOWN = Interval(None, None, None)


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """Mean squares of a table of `people` x `columns` scores, in the squared unit of the scores.

    `within`: of all that differs within a person (one-way); `error`: what is left of it once the columns' own means
    are taken out (two-way).
    """

    people: int
    columns: int
    rows: float
    between_columns: float
    error: float
    within: float

    @property
    def error_dof(self) -> int:
        """Degrees of freedom of `error`."""
        return (self.people - 1) * (self.columns - 1)

    @property
    def within_dof(self) -> int:
        """Degrees of freedom of `within`."""
        return self.people * (self.columns - 1)


@dataclass(frozen=True, slots=True)
class Agreement:
    """Limits of agreement between two columns: of `first` minus `second`, in the scores' unit.

    95 % of such differences are expected from `lower` to `upper` (mean -+ 1.96 SD), each with its own confidence
    interval.
    """

    first: int
    second: int
    mean: Interval
    sd: float
    lower: Interval
    upper: Interval


@dataclass(frozen=True, slots=True)
class Reliability:
    """All that is told of a table. Names of the ICC after McGraw and Wong (1996): A for absolute agreement, C for
    consistency; in Shrout and Fleiss (1979) they are ICC(1,1), ICC(2,1) and ICC(3,1)."""

    squares: MeanSquares
    icc_1_1: Interval
    icc_a_1: Interval
    icc_c_1: Interval
    sem: Interval
    """Standard error of measurement, sqrt(error mean square), in the scores' unit."""
    mdc95: float
    """Minimal detectable change: a smaller difference between two measurements of one person is no change."""
    agreement: tuple[Agreement, ...]
    """Of each pair of columns."""
    warnings: tuple[str, ...] = ()


def reliability(scores: Floats) -> Reliability:
    """Return how well the columns of `scores` agree; shape (people, repeated measurements), no NaN.

    Raises ValueError for fewer than two rows or columns, and for what is no finite number.
    """
    people, columns = scores.shape
    if people < LEAST_PEOPLE or columns < LEAST_COLUMNS or not np.isfinite(scores).all():
        raise ValueError(f"{people} rows and {columns} columns of scores: it takes two of each, and finite numbers")
    squares = mean_squares(scores)
    sem = math.sqrt(squares.error)
    pairs = ((i, j) for i in range(columns) for j in range(i + 1, columns))
    absolute = icc_a_1(squares)
    return Reliability(
        squares,
        icc_1_1(squares),
        absolute,
        icc_c_1(squares),
        _sem(squares),
        NORMAL_95 * math.sqrt(2.0) * sem,
        tuple(limits_of_agreement(scores, i, j) for i, j in pairs),
        _warn(squares, absolute),
    )


def mean_squares(scores: Floats) -> MeanSquares:
    """Return the mean squares of one score in each cell, shape (people, columns) (Fisher's analysis of variance)."""
    people, columns = scores.shape
    mean = scores.mean()
    scores = scores - mean
    of_rows, of_columns = scores.mean(axis=1), scores.mean(axis=0)
    left = scores - of_rows[:, None] - of_columns[None, :]
    within = scores - of_rows[:, None]
    least = _NO_SPREAD * (mean * mean + float((scores**2).mean()))

    def part(total: float, dof: int) -> float:
        square = float(total) / dof
        return square if square > least else 0.0

    return MeanSquares(
        people,
        columns,
        part(columns * (of_rows @ of_rows), people - 1),
        part(people * (of_columns @ of_columns), columns - 1),
        part((left**2).sum(), (people - 1) * (columns - 1)),
        part((within**2).sum(), people * (columns - 1)),
    )


def icc_1_1(squares: MeanSquares) -> Interval:
    """Return ICC(1,1), each score by a measurement of its own: (MSR - MSW) / (MSR + (k - 1) MSW).

    Source: Shrout and Fleiss (1979), Psychol Bull 86:420; the interval from the F ratio as there.
    """
    return _by_ratio(squares, squares.within, squares.within_dof)


def icc_c_1(squares: MeanSquares) -> Interval:
    """Return ICC(C,1), the columns' own means left out: (MSR - MSE) / (MSR + (k - 1) MSE).

    Source: McGraw and Wong (1996), Psychol Methods 1:30, table 4, and table 7 for the interval; Shrout and Fleiss's
    ICC(3,1).
    """
    return _by_ratio(squares, squares.error, squares.error_dof)


def _by_ratio(squares: MeanSquares, noise: float, dof: int) -> Interval:
    """Return the ICC of the F ratio of rows to `noise`, whose degrees of freedom are `dof`."""
    k, rows_dof = squares.columns, squares.people - 1
    if noise == 0.0:
        return UNKNOWN if squares.rows == 0.0 else Interval(1.0, 1.0, 1.0)
    ratio = squares.rows / noise
    low, high = ratio / _f_quantile(rows_dof, dof), ratio * _f_quantile(dof, rows_dof)
    value, low, high = ((f - 1.0) / (f + k - 1.0) for f in (ratio, low, high))
    return Interval(value, low, high)


def icc_a_1(squares: MeanSquares) -> Interval:
    """Return ICC(A,1), the columns' own means counted as disagreement.

    (MSR - MSE) / (MSR + (k - 1) MSE + k / n (MSC - MSE)). Source: McGraw and Wong (1996), Psychol Methods 1:30, table
    4, and table 7 for the interval, with Satterthwaite's degrees of freedom; Shrout and Fleiss's ICC(2,1).
    """
    n, k = squares.people, squares.columns
    rows, columns, error = squares.rows, squares.between_columns, squares.error
    below = rows + (k - 1) * error + k / n * (columns - error)
    if below <= 0.0:
        return UNKNOWN
    value = (rows - error) / below
    if error == 0.0 and columns == 0.0:
        return Interval(1.0, 1.0, 1.0)
    dof = _satterthwaite(squares, value)
    others = k * columns + (k * n - k - n) * error
    wide, narrow = _f_quantile(n - 1, dof), _f_quantile(dof, n - 1)
    low = n * (rows - wide * error) / (wide * others + n * rows)
    high = n * (narrow * rows - error) / (others + n * narrow * rows)
    # of an ICC below 0 the approximate degrees of freedom may come to nothing: no interval is better than a wrong one
    return Interval(value, low, high) if low <= value <= high else Interval(value, None, None)


def _satterthwaite(squares: MeanSquares, value: float) -> float:
    """Return the degrees of freedom of a MSC + b MSE (McGraw and Wong, 1996, table 7)."""
    n, k = squares.people, squares.columns
    # both sides times (1 - value): so it stays finite where the value is 1
    a = k * value / n * squares.between_columns
    b = (1.0 - value + k * value * (n - 1) / n) * squares.error
    parts = a * a / (k - 1) + b * b / squares.error_dof
    return (a + b) ** 2 / parts if parts > 0.0 else math.nan


def _f_quantile(dof: float, other_dof: float) -> float:
    from scipy.special import fdtri

    return float(fdtri(dof, other_dof, _TAIL))


def _sem(squares: MeanSquares) -> Interval:
    """Return the standard error of measurement; its interval from chi-squared of the error's degrees of freedom."""
    from scipy.special import chdtri

    dof, value = squares.error_dof, math.sqrt(squares.error)
    least, most = float(chdtri(dof, _TAIL)), float(chdtri(dof, 1.0 - _TAIL))
    return Interval(value, value * math.sqrt(dof / most), value * math.sqrt(dof / least))


def limits_of_agreement(scores: Floats, first: int, second: int) -> Agreement:
    """Return the limits of agreement between two columns of `scores`, shape (people, columns).

    Mean difference -+ 1.96 SD; standard errors SD / sqrt(n) of the mean and sqrt(3 / n) SD of a limit, with Student's t
    of n - 1 degrees of freedom. Source: Bland and Altman (1986), Lancet 1:307; there 2 SD stands for 1.96 SD.
    """
    difference = scores[:, first] - scores[:, second]
    n, mean, sd = difference.size, float(difference.mean()), float(difference.std(ddof=1))
    t = coverage_factor(n - 1.0)
    half_mean, half_limit = t * sd / math.sqrt(n), t * sd * math.sqrt(3.0 / n)

    def about(value: float, half: float) -> Interval:
        return Interval(value, value - half, value + half)

    lower, upper = mean - NORMAL_95 * sd, mean + NORMAL_95 * sd
    return Agreement(first, second, about(mean, half_mean), sd, about(lower, half_limit), about(upper, half_limit))


def _warn(squares: MeanSquares, absolute: Interval) -> tuple[str, ...]:
    if squares.rows == 0.0 and squares.within == 0.0:
        return ("all scores are the same: there is no ICC without people who differ",)
    alike = "people differ by no more than the measuring does: an ICC at or below 0 is as good as none"
    failed = "the interval of ICC(A,1) is not known: its approximation fails for such an ICC"
    missing = absolute.value is not None and absolute.low is None
    return (*((alike,) if squares.rows <= squares.error else ()), *((failed,) if missing else ()))
