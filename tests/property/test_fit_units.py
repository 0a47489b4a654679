"""What holds of every fit: units and origins do not matter, and an exact curve is given back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.metrology.advice import advise
from weightshare.metrology.fit import fit_polynomial
from weightshare.model import Floats

CLOSE = 1e-9
SCALES = st.floats(-9.0, 9.0).map(lambda power: 10.0**power)
DEGREES = st.integers(1, 3)


@st.composite
def points(draw: st.DrawFn) -> tuple[Floats, Floats]:
    """Loads, some of them twice, and counts with a bend and scatter."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    loads = np.sort(rng.uniform(0.0, 600.0, draw(st.integers(5, 20))))
    x = np.repeat(loads, draw(st.integers(1, 2)))
    x = np.append(x, [0.0, 700.0])
    return x, 8000.0 + 800.0 * x + 1e-2 * x**2 + 200.0 * rng.standard_normal(x.size)


@given(points(), DEGREES, SCALES, SCALES, st.booleans())
def test_units_scale_the_coefficients(
    data: tuple[Floats, Floats], degree: int, x_unit: float, y_unit: float, turned: bool
) -> None:
    """c_k in other units is c_k y_unit / x_unit^k, and its standard error alike."""
    x, y = data
    y_unit = -y_unit if turned else y_unit
    fit, other = fit_polynomial(x, y, degree), fit_polynomial(x_unit * x, y_unit * y, degree)
    factors = np.array([y_unit / x_unit**k for k in range(degree + 1)])
    errors = np.array(fit.standard_errors)
    # x and y were rounded once more when they were scaled: against the standard errors that is nothing
    off = np.array(other.coefficients) / factors - np.array(fit.coefficients)
    assert np.all(np.abs(off) <= 1e-6 * errors)
    np.testing.assert_allclose(other.standard_errors, np.abs(factors) * errors, rtol=CLOSE)
    assert other.residual_sd == pytest.approx(abs(y_unit) * fit.residual_sd, rel=CLOSE)
    np.testing.assert_allclose(
        other.predict(x_unit * x).prediction, abs(y_unit) * fit.predict(x).prediction, rtol=CLOSE
    )


@given(points(), DEGREES, st.integers(-(10**7), 10**7), st.integers(-(10**7), 10**7))
def test_origins_do_not_matter(data: tuple[Floats, Floats], degree: int, x_off: int, y_off: int) -> None:
    """Ten million off, in both: residuals and bands are the same, and so is the highest coefficient."""
    x, y = np.round(data[0]), np.round(data[1])
    fit, far = fit_polynomial(x, y, degree), fit_polynomial(x + x_off, y + y_off, degree)
    assert far.residual_sd == pytest.approx(fit.residual_sd, rel=CLOSE)
    assert far.coefficients[-1] == pytest.approx(fit.coefficients[-1], rel=CLOSE, abs=CLOSE * fit.standard_errors[-1])
    assert far.standard_errors[-1] == pytest.approx(fit.standard_errors[-1], rel=CLOSE)
    np.testing.assert_allclose(far.value(x + x_off) - y_off, fit.value(x), atol=1e-4)
    np.testing.assert_allclose(far.predict(x + x_off).confidence, fit.predict(x).confidence, rtol=1e-7)


@given(st.lists(st.integers(-1000, 1000), min_size=2, max_size=4), st.integers(-(10**6), 10**6))
def test_whole_numbers_are_given_back_exactly(coefficients: list[int], start: int) -> None:
    """Points that lie on a curve of whole numbers: not one digit is lost, wherever they begin."""
    x = np.arange(float(start), float(start) + 7.0)
    exact = [sum(c * int(place) ** k for k, c in enumerate(coefficients)) for place in x]
    y = np.array([float(value) for value in exact])
    if any(int(value) != whole for value, whole in zip(y, exact, strict=True)):
        return  # no double holds them
    fit = fit_polynomial(x, y, len(coefficients) - 1)
    assert fit.coefficients == tuple(float(c) for c in coefficients)
    assert fit.residual_sd == 0.0


@given(points(), DEGREES)
def test_the_order_of_the_points_does_not_matter(data: tuple[Floats, Floats], degree: int) -> None:
    x, y = data
    fit, turned = fit_polynomial(x, y, degree), fit_polynomial(x[::-1], y[::-1], degree)
    assert turned.coefficients == fit.coefficients
    np.testing.assert_array_equal(turned.covariance, fit.covariance)


@given(points(), DEGREES)
def test_a_prediction_is_never_surer_than_the_curve(data: tuple[Floats, Floats], degree: int) -> None:
    fit = fit_polynomial(*data, degree)
    said = fit.predict(np.linspace(-100.0, 800.0, 20))
    assert np.all(said.prediction > said.confidence) and np.all(said.confidence > 0.0)
    assert np.all(fit.predict(data[0], 0.99).confidence > fit.predict(data[0], 0.95).confidence)


@given(points(), st.floats(0.0, 700.0))
def test_the_inverse_undoes_the_fit(data: tuple[Floats, Floats], load: float) -> None:
    fit = fit_polynomial(*data, 2)
    assert fit.inverse(float(fit.value(load))).value == pytest.approx(load, abs=1e-6)


@given(points(), DEGREES, st.sampled_from([-3, 0, 4]))
@settings(max_examples=30)
def test_advice_does_not_depend_on_the_unit(data: tuple[Floats, Floats], degree: int, power: int) -> None:
    x, y = data
    said, other = advise(x, y, degree), advise(x * 2.0**power, y, degree)
    assert (said is None) == (other is None)
    assert said is None or other is None or said.split(":")[0] == other.split(":")[0]
