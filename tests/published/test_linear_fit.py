"""Certified and worked least-squares fits, and a reference library, against our own."""

from __future__ import annotations

import io

import numpy as np
import pytest

from weightshare.metrology.advice import advise
from weightshare.metrology.fit import Fit, fit_polynomial
from weightshare.model import Floats

NINE_DIGITS = 1e-9

PONTIUS_Y = """
.11019 .21956 .32949 .43899 .54803 .65694 .76562 .87487 .98292 1.09146
1.20001 1.30822 1.41599 1.52399 1.63194 1.73947 1.84646 1.95392 2.06128 2.16844
.11052 .22018 .32939 .43886 .54798 .65739 .76596 .87474 .98300 1.09150
1.20004 1.30818 1.41613 1.52408 1.63159 1.73965 1.84696 1.95445 2.06177 2.16829
"""
"""NIST StRD, data set Pontius (P. Pontius, National Bureau of Standards): the deflection of a load cell under 150,000
to 3,000,000, twice. In the public domain."""

NORRIS = """
0.2 0.1
337.4 338.8
118.2 118.1
884.6 888.0
10.1 9.2
226.5 228.1
666.3 668.5
996.3 998.5
448.6 449.1
777.0 778.9
558.2 559.2
0.4 0.3
0.6 0.1
775.5 778.1
666.9 668.8
338.0 339.3
447.5 448.9
11.6 10.8
556.0 557.7
228.1 228.3
995.8 998.0
887.6 888.8
120.2 119.6
0.3 0.3
0.3 0.6
556.8 557.6
339.1 339.3
887.2 888.0
999.0 998.5
779.0 778.9
11.1 10.2
118.3 117.6
229.2 228.9
669.1 668.4
448.9 449.2
0.5 0.2
"""
"""NIST StRD, data set Norris (J. Norris, NIST): the calibration of ozone monitors, x and y. From memory, both the data
and the certified values; that they agree to nine digits speaks for both."""

GUM_H3 = """
21.521 -0.171
22.012 -0.169
22.512 -0.166
23.003 -0.159
23.507 -0.164
23.999 -0.165
24.513 -0.156
25.002 -0.157
25.503 -0.159
26.010 -0.161
26.511 -0.160
"""
"""GUM (JCGM 100:2008), table H.6: a thermometer's readings and corrections, degrees Celsius."""


def pairs(text: str) -> tuple[Floats, Floats]:
    table = np.loadtxt(io.StringIO(text))
    return table[:, 0], table[:, 1]


def pontius(degree: int) -> Fit:
    return fit_polynomial(*pontius_points(), degree)


def pontius_points() -> tuple[Floats, Floats]:
    return np.tile(150_000.0 * np.arange(1.0, 21.0), 2), np.loadtxt(io.StringIO(PONTIUS_Y)).ravel()


def nine(value: object) -> object:
    return pytest.approx(value, rel=NINE_DIGITS, abs=0.0)


def test_pontius_to_nine_digits() -> None:
    """NIST StRD, Pontius, certified values of y = B0 + B1 x + B2 x^2; x in its own units, a million times too great."""
    fit = pontius(2)
    assert fit.coefficients == nine((6.73565789473684e-04, 7.32059160401003e-07, -3.16081871345029e-15))
    assert fit.standard_errors == nine((1.07938612033077e-04, 1.57817399981659e-10, 4.86652849992036e-17))
    assert fit.residual_sd == nine(2.05177424076185e-04)
    assert (fit.n, fit.dof) == (40, 37)


def test_a_straight_line_through_pontius_is_advised_against() -> None:
    """It leaves a residual standard deviation ten times as large; the certified curve is left in peace."""
    assert pontius(1).residual_sd / pontius(2).residual_sd == pytest.approx(10.6, abs=0.05)
    words = advise(*pontius_points(), 1)
    assert words is not None and "straight line does not do" in words and "take degree 2" in words
    assert advise(*pontius_points(), 2) is None
    needless = advise(*pontius_points(), 3)
    assert needless is not None and "degree 2 says as much" in needless


def test_norris_to_nine_digits() -> None:
    """NIST StRD, Norris, certified values of y = B0 + B1 x (from memory)."""
    fit = fit_polynomial(*pairs(NORRIS), 1)
    assert fit.coefficients == nine((-0.262323073774029, 1.00211681802045))
    assert fit.standard_errors == nine((0.232818234301152, 0.429796848199937e-03))
    assert fit.residual_sd == nine(0.884796396144373)
    assert (fit.n, fit.dof) == (36, 34)


def test_the_thermometer_of_the_gum() -> None:
    """GUM (JCGM 100:2008), H.3.3 and H.3.4: y1, y2, their uncertainties, r, s, and the correction at 30 degrees C."""
    reading, correction = pairs(GUM_H3)
    fit = fit_polynomial(reading - 20.0, correction, 1)
    errors = fit.standard_errors
    assert fit.coefficients == pytest.approx((-0.1712, 0.00218), abs=5e-5)
    assert round(fit.coefficients[1], 5) == 0.00218
    assert (round(errors[0], 4), round(errors[1], 5)) == (0.0029, 0.00067)
    assert round(float(fit.covariance[0, 1]) / (errors[0] * errors[1]), 3) == -0.930
    assert round(fit.residual_sd, 4) == 0.0035
    at_30 = fit.predict(10.0)
    assert (round(float(at_30.value), 4), round(float(at_30.u), 4)) == (-0.1494, 0.0041)
    assert fit.dof == 9


def test_the_thermometer_of_the_gum_from_any_origin() -> None:
    """GUM, H.3.5: with the mean reading as origin, intercept and slope are not correlated; what is said at 30 degrees
    C, and how sure that is, stays what it was.
    """
    reading, correction = pairs(GUM_H3)
    fit = fit_polynomial(reading - reading.mean(), correction, 1)
    errors = fit.standard_errors
    assert abs(float(fit.covariance[0, 1])) < 1e-12 * errors[0] * errors[1]
    assert (round(fit.coefficients[0], 4), round(errors[0], 4)) == (-0.1625, 0.0011)
    at_30 = fit.predict(30.0 - float(reading.mean()))
    assert (round(float(at_30.value), 4), round(float(at_30.u), 4)) == (-0.1494, 0.0041)


@pytest.mark.parametrize("degree", [1, 2, 3])
def test_statsmodels_says_the_same(degree: int) -> None:
    """Ordinary least squares of statsmodels: coefficients, covariance, and both bands at three places."""
    import statsmodels.api as sm

    rng = np.random.default_rng(7)
    x = np.repeat(np.linspace(0.0, 6.0, 9), 2)
    y = 3.0 + 2.0 * x - 0.05 * x**2 + 0.1 * rng.standard_normal(x.size)
    fit = fit_polynomial(x, y, degree)
    reference = sm.OLS(y, np.vander(x, degree + 1, increasing=True)).fit()
    assert fit.coefficients == pytest.approx(tuple(reference.params), rel=1e-8)
    np.testing.assert_allclose(fit.covariance, reference.cov_params(), rtol=1e-7)
    assert fit.residual_sd == pytest.approx(float(np.sqrt(reference.mse_resid)), rel=1e-10)
    places = np.array([0.3, 3.1, 7.0])
    for level in (0.95, 0.99):
        theirs = reference.get_prediction(np.vander(places, degree + 1, increasing=True)).summary_frame(1.0 - level)
        ours = fit.predict(places, level)
        np.testing.assert_allclose(ours.value, theirs["mean"], rtol=1e-9)
        np.testing.assert_allclose(ours.u, theirs["mean_se"], rtol=1e-7)
        np.testing.assert_allclose(ours.value + ours.confidence, theirs["mean_ci_upper"], rtol=1e-9)
        np.testing.assert_allclose(ours.value - ours.prediction, theirs["obs_ci_lower"], rtol=1e-9)
