"""The live filter: its design against scipy's, its start, its gaps."""

from __future__ import annotations

import importlib.util
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import signal

from tests.unit.plates import make_block, seconds
from weightshare.model import Floats
from weightshare.pipeline.block import Block
from weightshare.pipeline.fill import Fill
from weightshare.pipeline.lowpass import LowPass, can_filter, delay_s, design, load_kernel, public_kernel, steady_state

RATES = st.floats(15.0, 5000.0)


@given(RATES, st.floats(0.001, 0.49))
def test_the_design_is_scipys(rate_Hz: float, part: float) -> None:
    """Bilinear transform with prewarping, as scipy.signal.butter(2, f, fs=rate) computes it by poles and zeros."""
    ours = design(part * rate_Hz, rate_Hz)
    np.testing.assert_allclose(ours, signal.butter(2, part * rate_Hz, fs=rate_Hz, output="sos"), rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("rate_Hz", [40.0, 80.0, 100.0, 1000.0])
def test_the_design_at_6_hz_is_scipys_to_twelve_digits(rate_Hz: float) -> None:
    theirs = signal.butter(2, 6.0, fs=rate_Hz, output="sos")
    np.testing.assert_allclose(design(6.0, rate_Hz), theirs, rtol=0.0, atol=1e-12)


@given(RATES, st.floats(0.01, 0.49))
def test_the_steady_state_is_scipys(rate_Hz: float, part: float) -> None:
    section = design(part * rate_Hz, rate_Hz)
    np.testing.assert_allclose(steady_state(section), signal.sosfilt_zi(section)[0], rtol=1e-6, atol=1e-9)


def test_a_steady_input_stays_what_it_is() -> None:
    filtered = LowPass(6.0).push(make_block(seconds(0, 5), 431.7, 268.3))
    np.testing.assert_allclose(filtered.values[0], 431.7, rtol=1e-12)
    np.testing.assert_allclose(filtered.values[1], 268.3, rtol=1e-12)


@given(st.integers(0, 2**32 - 1), st.integers(1, 8), st.integers(1, 3000))
def test_the_compiled_kernel_and_the_public_function_give_the_same_bits(seed: int, rows: int, count: int) -> None:
    kernel = load_kernel()
    assert kernel is not public_kernel, "scipy's compiled filter was not found; live, its import would take a second"
    rng = np.random.default_rng(seed)
    section, x, state = design(6.0, 80.0), rng.normal(300, 90, (rows, count)), rng.normal(0, 90, (rows, 1, 2))
    copies = (x.copy(), state.copy())
    kernel(section, x, state)
    public_kernel(section, *copies)
    np.testing.assert_array_equal(x, copies[0])
    np.testing.assert_array_equal(state, copies[1])


def test_without_the_compiled_file_the_public_function_serves(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    assert load_kernel() is public_kernel


@pytest.mark.parametrize("cutoff_Hz", [3.0, 6.0, 12.0])
def test_the_delay_is_that_of_low_frequencies(cutoff_Hz: float) -> None:
    """scipy's group delay at 0.1 Hz of the filter at 10 kHz, where the bilinear transform bends nothing."""
    b, a = signal.butter(2, cutoff_Hz, fs=10_000.0)
    _, samples = signal.group_delay((b, a), w=[0.1], fs=10_000.0)
    assert delay_s(cutoff_Hz) == pytest.approx(samples[0] / 10_000.0, rel=2e-3)


def test_the_delay_at_6_hz_is_37_5_ms_and_none_without_a_filter() -> None:
    assert delay_s(6.0) == pytest.approx(math.sqrt(2.0) / (2.0 * math.pi * 6.0))
    assert delay_s(6.0) == pytest.approx(0.0375, abs=5e-5)
    assert delay_s(None) == 0.0


def test_a_slow_ramp_comes_out_late_by_the_delay() -> None:
    times = seconds(0, 10)
    filtered = LowPass(6.0).push(make_block(times, 100.0 + 20.0 * times, 300.0))
    late_s = (times - (filtered.values[0] - 100.0) / 20.0)[200:]
    np.testing.assert_allclose(late_s, delay_s(6.0), atol=0.0005)  # the bilinear transform bends it a little


def test_a_cut_off_has_to_lie_under_half_the_rate() -> None:
    assert can_filter(6.0, 0.08)
    assert not can_filter(6.25, 0.08)
    assert not can_filter(7.0, 0.08)
    interval_s = float(np.diff([1000.0, 1000.01])[0])
    assert not can_filter(50.0, interval_s), "rounded times: half the rate is half the rate"


def expected(values: Floats, rate_Hz: float = 100.0) -> Floats:
    """One gap-free stretch through scipy alone, from its steady state."""
    section = signal.butter(2, 6.0, fs=rate_Hz, output="sos")
    filtered, _ = signal.sosfilt(section, values, zi=signal.sosfilt_zi(section) * values[0])
    return np.asarray(filtered, dtype=np.float64)


def passed(block: Block) -> Block:
    """Return all that the filter gives of a block, at the stream's end too."""
    stage = LowPass(6.0)
    given_out = [stage.push(block), stage.finish()]
    parts = [part for part in given_out if part is not None]
    return Block(
        block.interval_s,
        block.columns,
        np.concatenate([part.time_s for part in parts]),
        np.concatenate([part.values for part in parts], axis=1),
        np.concatenate([part.flags for part in parts]),
    )


def noisy(count: int, seed: int = 1) -> Floats:
    return np.random.default_rng(seed).normal(400.0, 30.0, count)


def test_it_starts_in_its_steady_state_at_the_first_reading() -> None:
    left = noisy(200)
    left[:20] = np.nan
    filtered = passed(make_block(seconds(0, 2), left, 300.0))
    assert np.isnan(filtered.values[0, :20]).all()
    np.testing.assert_allclose(filtered.values[0, 20:], expected(left[20:]), rtol=1e-12)
    np.testing.assert_allclose(filtered.values[1], 300.0, rtol=1e-12)


@pytest.mark.parametrize("lost", [1, 2])
def test_a_missing_run_of_up_to_three_intervals_is_bridged_for_the_filter_alone(lost: int) -> None:
    left = noisy(200)
    bridged = left.copy()
    bridged[100 : 100 + lost] = np.interp(np.arange(100, 100 + lost), [99, 100 + lost], left[[99, 100 + lost]])
    left[100 : 100 + lost] = np.nan
    filtered = passed(make_block(seconds(0, 2), left, 300.0)).values[0]
    assert np.isnan(filtered[100 : 100 + lost]).all()
    assert np.isnan(filtered).sum() == lost
    known = ~np.isnan(filtered)
    np.testing.assert_allclose(filtered[known], expected(bridged)[known], rtol=1e-12)


def test_after_a_gap_it_starts_anew() -> None:
    left = noisy(200)
    left[100:103] = np.nan  # four intervals from reading to reading
    filtered = passed(make_block(seconds(0, 2), left, 300.0)).values[0]
    np.testing.assert_allclose(filtered[:100], expected(left[:100]), rtol=1e-12)
    assert np.isnan(filtered[100:103]).all()
    np.testing.assert_allclose(filtered[103:], expected(left[103:]), rtol=1e-12)
    assert filtered[103] == pytest.approx(left[103])


def test_rows_that_are_not_there_are_a_gap_too() -> None:
    times = np.concatenate((seconds(0, 1), seconds(1.5, 2.5)))
    left = noisy(200)
    filtered = passed(Fill().push(make_block(times, left, 300.0))).values[0]
    np.testing.assert_allclose(filtered[:100], expected(left[:100]), rtol=1e-12)
    assert np.isnan(filtered[100]), "the row that stands for the gap"
    np.testing.assert_allclose(filtered[101:], expected(left[100:]), rtol=1e-12)


def test_each_channel_has_its_own_gaps() -> None:
    left, right = noisy(200), noisy(200, 2)
    left[50:60] = np.nan
    right[120:130] = np.nan
    filtered = passed(make_block(seconds(0, 2), left, right)).values
    np.testing.assert_allclose(filtered[0, 60:], expected(left[60:]), rtol=1e-12)
    np.testing.assert_allclose(filtered[1, :120], expected(right[:120]), rtol=1e-12)
    np.testing.assert_allclose(filtered[1, 130:], expected(right[130:]), rtol=1e-12)


def test_what_may_yet_be_bridged_waits_and_a_gap_does_not() -> None:
    stage = LowPass(6.0)
    times = seconds(0, 1)
    stage.push(make_block(times[:50], 400.0, 300.0))
    lost = [np.nan]
    assert stage.push(make_block(times[50:51], lost, 300.0)).time_s.size == 0
    assert stage.push(make_block(times[51:52], lost, 300.0)).time_s.size == 0
    given_out = stage.push(make_block(times[52:53], lost, 300.0))
    np.testing.assert_array_equal(given_out.time_s, times[50:53])
    assert np.isnan(given_out.values[0]).all()


def test_without_a_cut_off_nothing_changes_but_what_is_missing() -> None:
    left = noisy(100)
    left[40] = np.nan
    stage = LowPass(None)
    filtered = stage.push(make_block(seconds(0, 1), left, 300.0))
    np.testing.assert_array_equal(filtered.values[0], left)


def test_nothing_that_is_pushed_is_changed() -> None:
    block = make_block(seconds(0, 1), noisy(100), noisy(100, 2))
    before = block.values.copy()
    LowPass(6.0).push(block)
    np.testing.assert_array_equal(block.values, before)


def test_reset_forgets_the_state() -> None:
    stage = LowPass(6.0)
    first = stage.push(make_block(seconds(0, 1), noisy(100), 300.0))
    stage.reset()
    again = stage.push(make_block(seconds(0, 1), noisy(100), 300.0))
    np.testing.assert_array_equal(first.values, again.values)
