"""Creep and drift of a plate, from the stretches in which nothing was touched."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.metrology.settling import Loading, find_settling
from weightshare.model import Floats

LOAD_N = 500.0
LOADING = Loading(np.array([0.0, 70.0]), np.array([0.0, LOAD_N]))
EMPTY_S, ON_S = np.arange(0.5, 60.0), np.arange(70.5, 370.0)


def stretch(time_s: Floats, part: float, constant_s: float, drift: float, level: float = 0.0) -> tuple[Floats, Floats]:
    """Return instants and readings, as the loading above makes them."""
    return time_s, level + part * LOADING.crept_N(time_s, constant_s) + drift * time_s


def test_creep_follows_each_step_by_itself() -> None:
    two = Loading(np.array([0.0, 10.0]), np.array([100.0, 0.0]))
    crept = two.crept_N(np.array([10.0, 30.0]), 20.0)
    up = 1 - np.exp(-0.5)
    assert crept == pytest.approx([100 * up, 100 * (1 - np.exp(-1.5)) - 100 * (1 - np.exp(-1.0))])


@pytest.mark.parametrize("constant_s", [8.0, 35.0, 200.0])
def test_part_constant_and_drift_are_found(constant_s: float) -> None:
    stretches = [stretch(time_s, 7e-4, constant_s, 5e-4, level) for time_s, level in ((EMPTY_S, 0.0), (ON_S, LOAD_N))]
    found = find_settling(LOADING, stretches, 300.0)
    assert (found.part, found.constant_s) == pytest.approx((7e-4, constant_s), rel=1e-3)
    assert found.drift_N_per_min.value == pytest.approx(0.03, rel=1e-3)
    whole = found.change_N(LOAD_N, 0.0, 1e6)
    assert whole.value == pytest.approx(7e-4 * LOAD_N, rel=1e-3)


def test_without_a_load_left_on_only_drift_is_told() -> None:
    found = find_settling(LOADING, [stretch(EMPTY_S, 0.0, 30.0, 1e-3)], 0.0)
    assert not found.creeps
    assert found.drift_N_per_s == pytest.approx(1e-3)
    assert found.off_N(LOADING, np.array([100.0])) == pytest.approx(0.1)


def test_nothing_left_alone_tells_nothing() -> None:
    found = find_settling(LOADING, [], 0.0)
    assert found.covariance is None
    assert found.off_N(LOADING, ON_S) == pytest.approx(0.0)


def test_intervals_cover_what_is_there() -> None:
    """Of 200 noisy stretches, the 95 % intervals of creep and drift cover it in 180 to 199: binomial, 1 in 1000."""
    rng = np.random.default_rng(5)
    hits = np.zeros(2, dtype=int)
    for _ in range(200):
        stretches = [stretch(time_s, 6e-4, 40.0, 3e-4) for time_s in (EMPTY_S, ON_S)]
        noisy = [(time_s, seen_N + 0.03 * rng.standard_normal(time_s.size)) for time_s, seen_N in stretches]
        found = find_settling(LOADING, noisy, 300.0)
        creep, drift = found.change_N(LOAD_N, 10.0, 300.0).interval(), found.drift_N_per_min.interval()
        true = 6e-4 * LOAD_N * (np.exp(-10.0 / 40.0) - np.exp(-300.0 / 40.0))
        hits += [creep[0] <= true <= creep[1], drift[0] <= 0.018 <= drift[1]]
    assert (hits >= 180).all() and (hits <= 199).all(), hits
