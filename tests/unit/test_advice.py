"""Advice on the degree of a fit, and on its points."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from weightshare.metrology.advice import advise, odd_points, runs_chance
from weightshare.metrology.fit import fit_polynomial
from weightshare.model import Floats

LOADS = np.repeat(np.linspace(0.0, 600.0, 12), 2)


def scattered(y: Floats, seed: int = 3) -> Floats:
    readings: Floats = y + 0.3 * np.random.default_rng(seed).standard_normal(y.size)
    return readings


def test_a_line_through_a_line_is_left_in_peace() -> None:
    assert advise(LOADS, scattered(2.0 * LOADS), 1) is None


def test_points_without_scatter_are_left_in_peace() -> None:
    assert advise(LOADS, 0.1 * LOADS, 1) is None
    assert advise(LOADS, 0.1 * LOADS, 3) is None


def test_a_bend_asks_for_the_second_degree() -> None:
    words = advise(LOADS, scattered(LOADS + 2e-5 * LOADS**2), 1)
    assert words is not None and words.startswith("a straight line does not do") and words.endswith("take degree 2")


def test_a_bend_both_ways_asks_for_the_third_degree() -> None:
    middle = LOADS - 300.0
    words = advise(LOADS, scattered(LOADS + 2e-7 * middle**3), 1)
    assert words is not None and words.endswith("take degree 3")


def test_a_bend_that_drowns_in_the_scatter_is_no_matter() -> None:
    """6,000 points make a bend of a third of the scatter sure, and it still changes no reading."""
    loads = np.linspace(0.0, 600.0, 6_000)
    bent = scattered(loads + 0.1 * np.square((loads - 300.0) / 300.0))
    better, line = fit_polynomial(loads, bent, 2), fit_polynomial(loads, bent, 1)
    assert better.coefficients[2] > 5.0 * better.standard_errors[2] and better.residual_sd < line.residual_sd
    assert advise(loads, bent, 1) is None


def test_a_needless_term_is_told() -> None:
    words = advise(LOADS, scattered(LOADS), 2)
    assert words is not None and "cannot be told from 0" in words and "degree 1 says as much" in words


def test_a_step_in_the_points_is_told() -> None:
    """No polynomial to the third degree follows a wave of many loads."""
    loads = np.repeat(np.linspace(0.0, 600.0, 24), 2)
    words = advise(loads, scattered(loads + 2.0 * np.sign(np.sin(loads / 40.0))), 1)
    assert words is not None and "runs of one sign" in words


def test_few_points_give_no_advice() -> None:
    assert advise(np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 2.5]), 1) is None


def test_advice_by_chance_is_rare() -> None:
    """At 1 % for each of three looks, 200 straight lines are called bent, or in runs, in at most 12."""
    assert sum(advise(LOADS, scattered(LOADS, seed), 1) is not None for seed in range(200)) <= 12


@pytest.mark.parametrize(("over", "under"), [(1, 1), (3, 2), (4, 4), (0, 3), (5, 2)])
def test_the_chance_of_few_runs_is_counted_by_hand(over: int, under: int) -> None:
    orders = set(itertools.permutations([True] * over + [False] * under))
    counts = [1 + sum(a != b for a, b in itertools.pairwise(order)) for order in orders]
    for runs in range(1, over + under + 1):
        by_hand = sum(count <= runs for count in counts) / len(orders)
        assert runs_chance(runs, over, under) == pytest.approx(by_hand)


def test_a_point_that_does_not_belong_is_found() -> None:
    readings = scattered(LOADS)
    readings[7] += 4.0
    assert odd_points(LOADS, readings, fit_polynomial(LOADS, readings, 1)) == [7]


def test_points_that_belong_are_not_called_odd() -> None:
    found = [odd_points(LOADS, y, fit_polynomial(LOADS, y, 1)) for y in (scattered(LOADS, s) for s in range(200))]
    assert sum(bool(odd) for odd in found) <= 7


def test_too_few_points_have_no_odd_one() -> None:
    x, y = np.array([0.0, 1.0, 2.0, 3.0]), np.array([0.0, 1.0, 9.0, 3.0])
    assert odd_points(x, y, fit_polynomial(x, y, 1)) == []
