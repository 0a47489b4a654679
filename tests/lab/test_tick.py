"""Ticks of a stream's stamps: exact where the stamps are, even where they jitter, with a gap where samples are lost."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.scales.lab.tick import ClockBackError, Ticks

RATE_HZ = 100.0
STEP = 10_000


def place(stamps: Floats, chunk: int = 2) -> Floats:
    """Return the tick of each sample, as a reader of frames gets it."""
    ticks = Ticks(RATE_HZ)
    got: list[int] = []
    for at in range(0, len(stamps), chunk):
        part = stamps[at : at + chunk].tolist()
        runs = ticks.place(part)
        assert runs[0].first == 0 and runs[-1].end == len(part)
        for run in runs:
            got += [run.tick + k * ticks.step for k in range(run.end - run.first)]
    return np.array(got, dtype=np.float64)


def even(count: int = 1000) -> Floats:
    return 5000.0 + np.arange(count) / RATE_HZ


def test_even_stamps_are_kept_to_the_tick() -> None:
    np.testing.assert_allclose(place(even()), even() * 1e6, atol=1.0)


def test_jitter_is_evened_out() -> None:
    jitter = np.random.default_rng(3).uniform(-0.002, 0.002, 1000)
    steps = np.diff(place(even() + jitter))
    assert np.abs(steps - STEP).max() < 0.1 * STEP < np.abs(np.diff(even() + jitter) * 1e6 - STEP).max()


@pytest.mark.parametrize("off_ppm", [-300.0, 300.0])
def test_a_rate_that_is_off_is_followed(off_ppm: float) -> None:
    stamps = 5000.0 + np.linspace(0.0, 200.0 * (1.0 + off_ppm * 1e-6), 20_001)
    assert np.abs(place(stamps)[-100:] - stamps[-100:] * 1e6).max() < 0.1 * STEP


@pytest.mark.parametrize("lost", [1, 5, 300])
def test_lost_samples_are_a_gap_of_their_length(lost: int) -> None:
    stamps = np.delete(even(), slice(500, 500 + lost))
    steps = np.diff(place(stamps))
    assert steps[499] == pytest.approx((lost + 1) * STEP, abs=2.0)
    assert np.abs(np.delete(steps, 499) - STEP).max() < 2.0


def test_samples_stamped_as_they_leave_many_at_once_stay_in_order() -> None:
    # ten at a time, each some microseconds after the other
    stamps = 5000.0 + np.repeat(np.arange(100), 10) * 0.1 + np.tile(np.arange(10) * 1e-5, 100)
    steps = np.diff(place(np.asarray(stamps, dtype=np.float64)))
    assert steps.min() > 0.4 * STEP and steps.max() < 2.0 * STEP


def test_a_clock_that_was_set_back_is_told() -> None:
    with pytest.raises(ClockBackError, match="went back"):
        place(np.concatenate([even(100), even(100) - 3600.0]))
