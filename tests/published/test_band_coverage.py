"""Bands and intervals of 95 % cover the truth in 95 % of many made-up calibrations.

Of 400 draws 365 to 392 are covered with probability 0.9988 (binomial, p = 0.95).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from weightshare.metrology.estimate import coverage_factor
from weightshare.metrology.fit import Fit, fit_polynomial
from weightshare.model import Floats

DRAWS = 400
AT_LEAST, AT_MOST = 365, 392
LOADS = np.repeat(np.linspace(0.0, 600.0, 7), 2)
SCATTER = 250.0
PLACE_N = 310.0


def truth(load_N: Floats | float) -> Floats:
    counts: Floats = 8000.0 + 800.0 * np.asarray(load_N) - 4e-3 * np.asarray(load_N) ** 2
    return counts


def covered_in(covers: Callable[[Fit, np.random.Generator], bool]) -> int:
    count = 0
    for seed in range(DRAWS):
        rng = np.random.default_rng([seed, 5])
        count += covers(fit_polynomial(LOADS, truth(LOADS) + SCATTER * rng.standard_normal(LOADS.size), 2), rng)
    return count


def test_the_confidence_band_covers_the_curve() -> None:
    def covers(fit: Fit, _rng: np.random.Generator) -> bool:
        said = fit.predict(PLACE_N)
        return bool(abs(said.value - truth(PLACE_N)) <= said.confidence)

    assert AT_LEAST <= covered_in(covers) <= AT_MOST


def test_the_prediction_band_covers_one_more_reading() -> None:
    def covers(fit: Fit, rng: np.random.Generator) -> bool:
        said = fit.predict(PLACE_N)
        return bool(abs(said.value - truth(PLACE_N) - SCATTER * rng.standard_normal()) <= said.prediction)

    assert AT_LEAST <= covered_in(covers) <= AT_MOST


@pytest.mark.parametrize("readings", [1, 25])
def test_the_load_of_a_reading_is_covered(readings: int) -> None:
    def covers(fit: Fit, rng: np.random.Generator) -> bool:
        counts = float(truth(PLACE_N)) + SCATTER / readings**0.5 * float(rng.standard_normal())
        low, high = fit.inverse(counts, readings).interval()
        return low <= PLACE_N <= high

    assert AT_LEAST <= covered_in(covers) <= AT_MOST


@pytest.mark.parametrize("degree", [0, 1, 2])
def test_each_coefficient_is_covered(degree: int) -> None:
    true = (8000.0, 800.0, -4e-3)[degree]

    def covers(fit: Fit, _rng: np.random.Generator) -> bool:
        half = coverage_factor(float(fit.dof)) * fit.standard_errors[degree]
        return abs(fit.coefficients[degree] - true) <= half

    assert AT_LEAST <= covered_in(covers) <= AT_MOST
