"""Facts about Butterworth filters from outside, against the live filter's design."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import signal

from weightshare.pipeline.lowpass import delay_s, design


def gain(cutoff_Hz: float, rate_Hz: float, at_Hz: float) -> float:
    b, a = np.split(design(cutoff_Hz, rate_Hz)[0], 2)
    _, response = signal.freqz(b, a, worN=[at_Hz], fs=rate_Hz)
    return float(abs(response[0]))


@pytest.mark.parametrize("rate_Hz", [40.0, 80.0, 1000.0])
def test_half_the_power_is_left_at_the_cut_off(rate_Hz: float) -> None:
    """Butterworth (1930), On the theory of filter amplifiers: the gain is 1 / sqrt(1 + (f / fc)^2n) (from memory)."""
    assert gain(6.0, rate_Hz, 6.0) == pytest.approx(1.0 / math.sqrt(2.0), rel=1e-9)
    assert gain(6.0, rate_Hz, 1e-6) == pytest.approx(1.0, rel=1e-9)


def test_far_below_half_the_rate_the_gain_is_butterworths() -> None:
    """The same equation, second order, where the bilinear transform bends the frequencies by under 1 in 1,000."""
    for at_Hz in (1.0, 3.0, 12.0, 24.0):
        assert gain(6.0, 10_000.0, at_Hz) == pytest.approx(1.0 / math.sqrt(1.0 + (at_Hz / 6.0) ** 4), rel=1e-4)


def test_a_step_overshoots_by_4_3_percent() -> None:
    """A second-order system with damping zeta = 1 / sqrt(2): exp(-pi zeta / sqrt(1 - zeta^2)) = exp(-pi) = 4.3 %
    (Ogata, Modern Control Engineering, transient response of second-order systems; from memory).
    """
    response = signal.sosfilt(design(6.0, 10_000.0), np.ones(10_000))
    assert response.max() - 1.0 == pytest.approx(math.exp(-math.pi), abs=2e-5)


def test_two_passes_need_winters_correction() -> None:
    """Winter (2009), Biomechanics and Motor Control of Human Movement, correction of a dual pass: (sqrt(2) - 1)^(1/4) =
    0.802243, applied to tan(pi fc / fs); at 100 Hz and 10 Hz the design frequency is 12.249241 Hz. Two passes of our
    design at that frequency leave half the power at 10 Hz.
    """
    correction = (math.sqrt(2.0) - 1.0) ** 0.25
    assert correction == pytest.approx(0.802243, abs=5e-7)
    design_Hz = math.atan(math.tan(math.pi * 0.1) / correction) * 100.0 / math.pi
    assert design_Hz == pytest.approx(12.249241, abs=5e-7)
    assert gain(12.249241, 100.0, 10.0) ** 2 == pytest.approx(1.0 / math.sqrt(2.0), rel=1e-6)


def test_the_delay_at_6_hz_is_37_5_ms() -> None:
    """The phase of 1 / (s^2 + sqrt(2) s + 1) falls by sqrt(2) at 0 rad/s (Butterworth's second-order polynomial)."""
    assert delay_s(6.0) == pytest.approx(0.0375, abs=5e-5)
    frequencies = np.array([1e-4, 2e-4])
    _, response = signal.freqs([1.0], [1.0, math.sqrt(2.0), 1.0], worN=frequencies)
    slope = -np.diff(np.unwrap(np.angle(response)))[0] / np.diff(frequencies)[0]
    assert slope / (2.0 * math.pi * 6.0) == pytest.approx(delay_s(6.0), rel=1e-6)
