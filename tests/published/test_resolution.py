"""Counts, noise and shunts of load cells, against figures that handbooks and data sheets give, from memory.

Handbooks of strain gauges (as K. Hoffmann, An introduction to measurements using strain gages, 1989) give the output of
a bridge with one active gauge and the shunts for round values of mV/V; data sheets of 24-bit bridge converters on two
wires give the input range. All from memory; what can be had from circuit laws alone is in tests/unit/test_bridge.py.
"""

from __future__ import annotations

import numpy as np
import pytest

from hardware.make.plan import FIGURES, rated_N
from hardware.make.table import converters, pair, resolution_rows, shunt_rows
from weightshare.metrology.bridge import (
    Cells,
    Converter,
    bridge_ratio,
    counts_per_newton,
    noise_free_bits,
    noise_N,
    shunt_ohm,
    shunt_ratio,
)


def test_a_gauge_of_factor_2_at_1000_microstrain_gives_half_a_millivolt_for_each_volt() -> None:
    """0.5 mV/V, less 0.1 % for one active arm of four: k e / 4 x 1 / (1 + k e / 2). From memory."""
    gauge = 350.0 * (1 + 2.0 * 1000e-6)
    assert 1e3 * bridge_ratio((350.0, 350.0, 350.0, gauge)) == pytest.approx(0.5 / 1.001, rel=1e-9)


@pytest.mark.parametrize(
    ("bridge", "mV_per_V", "ohm"),
    [(350.0, 1.0, 87_325.0), (350.0, 2.0, 43_575.0), (120.0, 1.0, 29_940.0), (1000.0, 1.0, 249_500.0)],
)
def test_shunts_are_those_of_the_tables(bridge: float, mV_per_V: float, ohm: float) -> None:
    """87.325 kilohm for 1 mV/V of 350 ohm stands in many tables. From memory."""
    assert shunt_ohm(bridge, mV_per_V) == pytest.approx(ohm, abs=0.5)
    assert 1e3 * shunt_ratio(bridge, ohm) == pytest.approx(mV_per_V, rel=1e-6)


@pytest.mark.parametrize(("gain", "range_mV"), [(128, 20.0), (64, 40.0), (32, 80.0)])
def test_the_inputs_range_is_what_data_sheets_round_to(gain: float, range_mV: float) -> None:
    """At 5 V: 20, 40 and 80 mV to each side at gains of 128, 64 and 32 (25, 27 and 26 pulses). From memory."""
    converter = Converter(excitation_V=5.0, gain=gain, noise_V=50e-9, rate_Hz=10)
    assert 1e3 * 5.0 * converter.half_range_ratio == pytest.approx(range_mV, rel=0.025)


def test_half_of_a_cells_range_is_about_half_of_its_converters() -> None:
    """2 mV/V of 3.9: a usual figure for such cells at gain 128 (common practice, no source)."""
    one = Cells(rated_N(), 2.0)
    converter = converters()[0][1]
    assert counts_per_newton(one, converter) * rated_N() / 2**23 == pytest.approx(0.512)


def test_the_table_stands_for_noise_that_is_really_drawn() -> None:
    """Volts of noise, quantised by the converter, through the slope: the spread in newtons is the table's."""
    rng = np.random.default_rng(3)
    for (name, converter), row in zip(converters(), resolution_rows()[1:4], strict=True):
        volts = 50.0 * pair().ratio_per_newton * converter.excitation_V + converter.noise_V * rng.standard_normal(
            200_000
        )
        counts = np.rint(volts / converter.excitation_V * converter.counts_per_ratio)
        newtons = counts / counts_per_newton(pair(), converter)
        assert row[:2] == ("pair", name)
        assert newtons.mean() == pytest.approx(50.0, abs=0.003)
        assert float(row[3]) == pytest.approx(newtons.std(), abs=6e-4)
        inside = np.mean(np.abs(newtons - newtons.mean()) <= float(row[4]) / 2)
        assert inside == pytest.approx(0.999, abs=1e-3)


def test_bits_that_stand_still_are_so_many_steps_of_the_range() -> None:
    row = resolution_rows()[2]
    steps = 2 * rated_N() / (6.6 * noise_N(pair(), converters()[1][1]))
    assert float(row[5]) == pytest.approx(np.log2(steps), abs=0.05)
    assert noise_free_bits(2 * rated_N(), float(row[3])) == pytest.approx(float(row[5]), abs=0.06)


def test_the_standard_builds_noise_is_within_what_the_budget_takes() -> None:
    """Two pairs at 80 a second, scaled to 100 as white noise, against the budget's 0.17 N and the bench's limit."""
    from weightshare.metrology.build import standard_side
    from weightshare.model import Side

    plate_N = 2**0.5 * noise_N(pair(), converters()[1][1])
    assert plate_N * (100 / 80) ** 0.5 < standard_side(Side.LEFT).noise_N
    assert plate_N < FIGURES["bench"]["noise_N"]


def test_the_shunts_of_the_table_stand_for_the_loads_beside_them() -> None:
    for row in shunt_rows()[1:4]:
        ohm, mV_per_V, load_N = (float(cell.split()[0].replace(",", "")) for cell in row[:3])
        assert 1e3 * shunt_ratio(350.0, ohm) == pytest.approx(mV_per_V, rel=1e-4)
        assert load_N == pytest.approx(mV_per_V / 2.0 * rated_N(), abs=0.5)
