"""Load cells on a converter, against circuit laws, arithmetic by hand, and noise that is really drawn."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from weightshare.errors import InputError
from weightshare.metrology.bridge import (
    Cells,
    Converter,
    bridge_ratio,
    counts_per_newton,
    effective_bits,
    noise_free_bits,
    noise_N,
    parallel_ratio,
    shunt_ohm,
    shunt_ratio,
    thermal_noise_V,
)
from weightshare.model import Floats

SLOW = Converter(excitation_V=3.0, gain=128, noise_V=90e-9, rate_Hz=80)
PAIR = Cells(rated_N=2500.0, mV_per_V=2.0, count=2)
OHMS = st.floats(10.0, 1e5)


def solve_network(arms_ohm: tuple[float, float, float, float]) -> Floats:
    """Return the voltages of signal plus and minus at 1 V across the bridge, by Kirchhoff's law at both nodes."""
    to_plus_1, to_plus_2, to_minus_2, to_minus_1 = (1.0 / ohm for ohm in arms_ohm)
    conductances = np.array([[to_plus_1 + to_minus_1, 0.0], [0.0, to_plus_2 + to_minus_2]])
    voltages: Floats = np.linalg.solve(conductances, np.array([to_plus_1, to_plus_2]))
    return voltages


@given(st.tuples(OHMS, OHMS, OHMS, OHMS))
def test_a_bridge_gives_what_kirchhoff_says(arms_ohm: tuple[float, float, float, float]) -> None:
    plus, minus = solve_network(arms_ohm)
    assert bridge_ratio(arms_ohm) == pytest.approx(plus - minus, abs=1e-12)


@given(st.floats(50.0, 5000.0), st.floats(0.01, 400.0))
def test_a_shunt_stands_for_what_it_was_chosen_for(bridge_ohm: float, mV_per_V: float) -> None:
    resistor = shunt_ohm(bridge_ohm, mV_per_V)
    assert shunt_ratio(bridge_ohm, resistor) == pytest.approx(1e-3 * mV_per_V, rel=1e-9)
    shunted = bridge_ohm * resistor / (bridge_ohm + resistor)
    plus, minus = solve_network((shunted, bridge_ohm, bridge_ohm, bridge_ohm))
    assert plus - minus == pytest.approx(1e-3 * mV_per_V, rel=1e-9)


def test_counts_come_out_of_volts_step_by_step() -> None:
    """100 N on one of two cells, 2 mV/V at 2,500 N, 3 V: 3 x 0.002 x 100 / 2,500 / 2 = 120 uV; of 3 / 128 / 2 V."""
    volts = 3.0 * 0.002 * 100.0 / 2500.0 / 2
    assert volts == pytest.approx(120e-6)
    assert 100.0 * counts_per_newton(PAIR, SLOW) == pytest.approx(volts / (3.0 / 128 / 2) * 2**23)


def test_the_excitation_does_not_change_the_counts() -> None:
    other = Converter(excitation_V=2.7, gain=128, noise_V=90e-9, rate_Hz=80)
    assert counts_per_newton(PAIR, other) == counts_per_newton(PAIR, SLOW)
    assert noise_N(PAIR, other) > noise_N(PAIR, SLOW)


def test_the_noise_in_newtons_is_that_of_the_counts() -> None:
    in_counts = SLOW.noise_V / SLOW.excitation_V * SLOW.counts_per_ratio
    assert noise_N(PAIR, SLOW) == pytest.approx(in_counts / counts_per_newton(PAIR, SLOW))


def test_steps_of_so_many_bits_stand_still_999_times_of_a_thousand() -> None:
    sd = 1.0
    span = 6.6 * sd
    assert noise_free_bits(span, sd) == pytest.approx(0.0)
    noise = np.random.default_rng(7).standard_normal(1_000_000)
    assert np.mean(np.abs(noise) <= span / 2) == pytest.approx(0.99903, abs=2e-4)


def test_standing_still_takes_2_7_bits() -> None:
    """Data sheets give both; the difference is log2(6.6) = 2.722 (common practice of converters' makers)."""
    assert effective_bits(1e6, 3.0) - noise_free_bits(1e6, 3.0) == pytest.approx(2.722, abs=5e-4)


def test_cells_in_parallel_give_their_mean_and_an_unequal_one_tilts_it() -> None:
    assert parallel_ratio((1e-3, 3e-3), (350.0, 350.0)) == pytest.approx(2e-3)
    # Kirchhoff at the joined node: (v - 1)/350 + (v - 3)/351 = 0
    assert parallel_ratio((1.0, 3.0), (350.0, 351.0)) == pytest.approx((1 / 350 + 3 / 351) / (1 / 350 + 1 / 351))


def test_noise_of_heat_is_that_of_the_physicists_rule_of_thumb() -> None:
    """4 nV in a root hertz for 1 kilohm at room temperature (4.07 at 300 K), from memory."""
    assert thermal_noise_V(1000.0, 1.0, 300.0) == pytest.approx(4.07e-9, rel=1e-3)
    assert thermal_noise_V(350.0, 40.0) < SLOW.noise_V


@pytest.mark.parametrize(("span", "sd"), [(0.0, 1.0), (1.0, 0.0), (math.nan, 1.0)])
def test_bits_of_nothing_are_refused(span: float, sd: float) -> None:
    with pytest.raises(InputError, match="both have to be above 0"):
        noise_free_bits(span, sd)


@pytest.mark.parametrize("mV_per_V", [0.0, -1.0, 500.0])
def test_a_shunt_that_cannot_be_is_refused(mV_per_V: float) -> None:
    with pytest.raises(InputError, match="above 0 and under 500"):
        shunt_ohm(350.0, mV_per_V)


def read_pair(cells: tuple[tuple[float, float], tuple[float, float]], open_lead: int | None = None) -> float:
    """Return what two bridges in parallel give, V for each V, by Kirchhoff at both signal nodes.

    cells: of each, how far its gauges change under load, and how far one arm is off at rest (parts of 350 ohm).
    open_lead: the cell whose S+ is broken.
    """
    sums = np.zeros((2, 2))
    for number, (strain, off) in enumerate(cells):
        arms = (350 * (1 - strain), 350 * (1 + strain), 350 * (1 - strain), 350 * (1 + strain + off))
        to_plus, to_minus = np.array([1 / arms[0], 1 / arms[1]]), np.array([1 / arms[3], 1 / arms[2]])
        wired = np.array([number != open_lead, True])
        sums += np.array([to_plus, to_plus + to_minus]) * wired
    plus, minus = sums[0] / sums[1]
    return float(plus - minus)


def test_a_broken_lead_of_one_cell_of_a_pair_shows_as_a_wrong_reading_not_as_none() -> None:
    """What hardware/README.md warns of: the pair goes on reading, with another zero and another slope for each cell."""
    rest = ((0.0, 0.004), (0.0, -0.002))
    whole, broken = read_pair(rest), read_pair(rest, open_lead=0)
    assert abs(broken - whole) > 0.2e-3  # of 2 mV/V at the rated load: a tenth of it and more
    strained = 0.002
    first, second = (
        [read_pair(cells, lead) - read_pair(((0.0, 0.0), (0.0, 0.0)), lead) for lead in (None, 0)]
        for cells in (((strained, 0.0), (0.0, 0.0)), ((0.0, 0.0), (strained, 0.0)))
    )
    assert first[0] == pytest.approx(second[0])
    assert first[1] < 0.6 * first[0] and second[1] > 1.4 * second[0]
