"""Polynomials through points."""

from __future__ import annotations

import math

import numpy as np
import pytest

from weightshare.errors import InputError
from weightshare.metrology.fit import fit_polynomial
from weightshare.model import Floats

LOADS = np.linspace(0.0, 600.0, 13)


def noisy(y: Floats, sd: float = 0.5, seed: int = 1) -> Floats:
    noise: Floats = y + sd * np.random.default_rng(seed).standard_normal(y.size)
    return noise


def test_points_on_a_line_give_the_line() -> None:
    fit = fit_polynomial(LOADS, 3.0 + 0.25 * LOADS, 1)
    assert fit.coefficients == (3.0, 0.25)
    assert (fit.residual_sd, fit.n, fit.dof, fit.degree) == (0.0, 13, 11, 1)
    assert (fit.low, fit.high) == (0.0, 600.0)


def test_five_points_by_hand() -> None:
    """x 0 to 4, y 1 3 2 5 4: means 2 and 3, Sxx 10, Sxy 8; slope 0.8, intercept 1.4, sum of squares 3.6."""
    fit = fit_polynomial(np.arange(5.0), np.array([1.0, 3.0, 2.0, 5.0, 4.0]), 1)
    assert fit.coefficients == pytest.approx((1.4, 0.8))
    assert fit.residual_sd == pytest.approx(math.sqrt(3.6 / 3.0))
    assert fit.standard_errors == pytest.approx((math.sqrt(1.2 * (0.2 + 4.0 / 10.0)), math.sqrt(1.2 / 10.0)))
    assert fit.covariance[0, 1] == pytest.approx(-1.2 * 2.0 / 10.0)


def test_the_bands_by_hand() -> None:
    """The same points at x = 3: leverage 1/5 + 1/10, Student's t for 3 degrees of freedom 3.182446 (tables)."""
    said = fit_polynomial(np.arange(5.0), np.array([1.0, 3.0, 2.0, 5.0, 4.0]), 1).predict(3.0)
    sd = math.sqrt(1.2)
    assert float(said.value) == pytest.approx(3.8)
    assert float(said.u) == pytest.approx(sd * math.sqrt(0.3))
    assert float(said.confidence) == pytest.approx(3.182446 * sd * math.sqrt(0.3), rel=1e-6)
    assert float(said.prediction) == pytest.approx(3.182446 * sd * math.sqrt(1.3), rel=1e-6)


def test_bands_have_the_shape_of_what_is_asked_for() -> None:
    said = fit_polynomial(LOADS, noisy(LOADS), 2).predict(np.zeros((2, 3)))
    assert [part.shape for part in (said.value, said.u, said.confidence, said.prediction)] == [(2, 3)] * 4


def test_the_slope_is_the_derivative() -> None:
    fit = fit_polynomial(LOADS, 1.0 + 2.0 * LOADS + 1e-3 * LOADS**2, 2)
    np.testing.assert_allclose(fit.slope(LOADS), 2.0 + 2e-3 * LOADS, rtol=1e-12)


def test_residuals_of_a_billion_from_zero_keep_their_digits() -> None:
    """Counts far from zero, loads far from zero: the bends of a straight line are those of the same points at home."""
    counts = np.round(noisy(8000.0 * LOADS, 300.0))
    near, far = fit_polynomial(LOADS, counts, 3), fit_polynomial(LOADS + 1e7, counts + 1e9, 3)
    assert far.residual_sd == pytest.approx(near.residual_sd, rel=1e-12)
    assert far.coefficients[3] == pytest.approx(near.coefficients[3], rel=1e-12)
    assert far.standard_errors[3] == pytest.approx(near.standard_errors[3], rel=1e-12)
    np.testing.assert_allclose(far.value(LOADS + 1e7) - 1e9, near.value(LOADS), atol=1e-5)
    np.testing.assert_allclose(far.predict(LOADS + 1e7).u, near.predict(LOADS).u, rtol=1e-8)


@pytest.mark.parametrize("curve", [0.0, 2e-4, -2e-4])
def test_the_inverse_gives_the_load_back(curve: float) -> None:
    fit = fit_polynomial(LOADS, 8000.0 + 800.0 * LOADS + curve * 800.0 * LOADS**2, 2 if curve else 1)
    for load_N in (0.0, 123.4, 600.0):
        assert fit.inverse(float(fit.value(load_N))).value == pytest.approx(load_N, abs=1e-6)


def test_the_inverse_is_as_uncertain_as_its_parts() -> None:
    """On a line: sqrt(s^2 / m + u^2) over the slope; falling with the number of readings."""
    fit = fit_polynomial(LOADS, noisy(800.0 * LOADS, 400.0), 1)
    counts = float(fit.value(300.0))
    one, many = fit.inverse(counts), fit.inverse(counts, readings=100)
    assert one.u == pytest.approx(math.hypot(fit.residual_sd, float(fit.predict(300.0).u)) / fit.coefficients[1])
    assert many.u == pytest.approx(
        math.hypot(fit.residual_sd / 10.0, float(fit.predict(300.0).u)) / fit.coefficients[1]
    )
    assert one.dof == 11.0


def test_a_falling_fit_has_an_inverse_too() -> None:
    fit = fit_polynomial(LOADS, 5.0 - 2.0 * LOADS, 1)
    assert fit.rises_or_falls
    assert fit.inverse(5.0 - 2.0 * 250.0).value == pytest.approx(250.0, abs=1e-9)


def test_a_reading_a_little_under_zero_still_has_a_load() -> None:
    fit = fit_polynomial(LOADS, 2.0 * LOADS, 1)
    assert fit.inverse(-10.0).value == pytest.approx(-5.0)
    with pytest.raises(InputError, match="lies beyond the points"):
        fit.inverse(-100.0)


def test_a_fit_that_turns_has_no_inverse() -> None:
    fit = fit_polynomial(LOADS, (LOADS - 200.0) ** 2, 2)
    assert not fit.rises_or_falls
    with pytest.raises(InputError, match="turns between the points"):
        fit.inverse(100.0)


@pytest.mark.parametrize("value", [1e150, 1e300])
def test_numbers_whose_powers_are_no_numbers_are_refused(value: float) -> None:
    with pytest.raises(InputError, match="too great or too small"):
        fit_polynomial(LOADS / value, LOADS * value, 3)


@pytest.mark.parametrize(
    ("x", "degree", "words"),
    [
        ([0.0, 1.0], 1, "2 points are too few: a fit of degree 1 needs 3 or more"),
        ([5.0] * 6, 1, "all points are at one load: a fit of degree 1 needs 2 or more"),
        ([0.0, 5.0] * 4, 2, "only 2 of the loads are different: a fit of degree 2 needs 3 or more"),
        ([0.0, 1.0, math.inf, 3.0], 1, "not a finite number"),
        ([0.0, 1.0, 2.0, 3.0, 4.0, 5.0], 4, "degree 4 is not made here"),
    ],
)
def test_what_cannot_be_fitted_is_refused(x: list[float], degree: int, words: str) -> None:
    with pytest.raises(InputError, match=words):
        fit_polynomial(np.array(x), np.arange(float(len(x))), degree)


def test_zeros_among_the_points_do_no_harm() -> None:
    fit = fit_polynomial(np.array([0.0, 1e-3, 0.0, 2e-3]), np.zeros(4), 1)
    assert fit.coefficients == (0.0, 0.0)
    assert fit.residual_sd == 0.0


def test_one_x_a_billion_times_farther_than_the_others_spoils_no_band() -> None:
    """Rounding once made the square of the standard error negative there."""
    x = np.append(np.linspace(1.5e5, 3e6, 20), 1e15)
    said = fit_polynomial(x, noisy(np.linspace(0.1, 2.0, 21), 1e-3), 3).predict(x)
    assert np.all(said.u >= 0.0) and np.all(np.isfinite(said.prediction))
