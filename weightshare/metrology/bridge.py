"""Load cells on a converter: from millivolts for each volt to counts, noise and the bits that stand still.

A load cell is a Wheatstone bridge: what comes out, for each volt that goes in, is in proportion to the load. Most
formulas here are those of any handbook of strain gauges, as K. Hoffmann, An introduction to measurements using strain
gages (1989), and of converters' data sheets; from memory, and each held against circuit laws or arithmetic in the
tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.errors import InputError

BOLTZMANN_J_K = 1.380649e-23
"""Exact, by the definition of the kelvin (SI, 2019)."""
PEAK_TO_PEAK = 6.6
"""Standard deviations from lowest to highest reading: normal noise stays within them in 999 of 1,000 readings."""


@dataclass(frozen=True, slots=True)
class Cells:
    """`count` equal load cells read as one: their bridges in parallel, or their half bridges joined to one.

    Their output is the mean of what each gives, so each newton on any one of them counts a `count`-th.
    """

    rated_N: float
    """What one cell is rated for."""
    mV_per_V: float
    """What one bridge gives at its rated load, mV for each V of excitation."""
    count: int = 1

    @property
    def ratio_per_newton(self) -> float:
        """The output for one newton on any of them, V for each V."""
        return 1e-3 * self.mV_per_V / (self.rated_N * self.count)


@dataclass(frozen=True, slots=True)
class Converter:
    """A bridge converter that takes the excitation for its reference, so that the excitation's value cancels."""

    excitation_V: float
    gain: float
    noise_V: float
    """Standard deviation of one reading, as a voltage at the input."""
    rate_Hz: float
    bits: int = 24
    half_range_part: float = 0.5
    """The input may go so far to each side, in parts of excitation / gain."""

    @property
    def half_range_ratio(self) -> float:
        """The greatest input to each side, V for each V of excitation."""
        return self.half_range_part / self.gain

    @property
    def counts_per_ratio(self) -> float:
        """Counts for an input of 1 V for each V: 2^(bits - 1) at the end of the range."""
        return float(2 ** (self.bits - 1)) / self.half_range_ratio


def counts_per_newton(cells: Cells, converter: Converter) -> float:
    """Return counts for each newton; its inverse is a calibration's `newton_per_count`, before anybody measured it."""
    return cells.ratio_per_newton * converter.counts_per_ratio


def noise_N(cells: Cells, converter: Converter) -> float:
    """Return the standard deviation of one reading, N: the converter's noise over volts for each newton."""
    return converter.noise_V / (converter.excitation_V * cells.ratio_per_newton)


def noise_free_bits(span: float, sd: float) -> float:
    """Return log2(span / (6.6 sd)): as many bits of `span` stand still under noise of `sd`, in the same unit.

    Raises InputError unless both are above 0.
    """
    return effective_bits(span, sd) - math.log2(PEAK_TO_PEAK)


def effective_bits(span: float, sd: float) -> float:
    """Return log2(span / sd), as data sheets give it: 2.7 bits more than stand still. Raises as noise_free_bits."""
    if not (span > 0 and sd > 0):
        raise InputError(f"bits of a span of {span:g} with noise of {sd:g}: both have to be above 0")
    return math.log2(span / sd)


def thermal_noise_V(ohm: float, bandwidth_Hz: float, kelvin: float = 298.15) -> float:
    """Return sqrt(4 k T R B), V: no bridge of `ohm` is quieter (Nyquist, 1928, Phys. Rev. 32, 110)."""
    return math.sqrt(4.0 * BOLTZMANN_J_K * kelvin * ohm * bandwidth_Hz)


def bridge_ratio(arms_ohm: tuple[float, float, float, float]) -> float:
    """Return what a bridge puts out for each volt of excitation, V for each V: R4 / (R1 + R4) - R3 / (R2 + R3).

    arms_ohm: R1 from plus to signal plus, R2 from plus to signal minus, R3 from signal minus to minus, R4 from signal
    plus to minus. Two voltage dividers side by side, nothing drawn from between them.
    """
    r1, r2, r3, r4 = arms_ohm
    return r4 / (r1 + r4) - r3 / (r2 + r3)


def shunt_ratio(bridge_ohm: float, shunt_ohm: float) -> float:
    """Return what a resistor across one arm does to the output, V for each V: R / (4 Rs + 2 R), exactly.

    bridge_ohm: of each arm, where all four are alike.
    """
    return bridge_ohm / (4.0 * shunt_ohm + 2.0 * bridge_ohm)


def shunt_ohm(bridge_ohm: float, mV_per_V: float) -> float:
    """Return the resistor across one arm that stands for `mV_per_V`, ohm: R / 4 (1000 / (mV/V) - 2).

    Raises InputError where no resistor does: at 0 or less, or at 500 mV/V and more.
    """
    if not 0 < mV_per_V < 500:
        raise InputError(f"a shunt for {mV_per_V:g} mV/V: it has to be above 0 and under 500")
    return bridge_ohm / 4.0 * (1000.0 / mV_per_V - 2.0)


def parallel_ratio(ratios: tuple[float, ...], ohms: tuple[float, ...]) -> float:
    """Return the output of bridges in parallel, V for each V: their mean, weighted by 1 / ohm (Millman, 1940).

    ratios: what each gives alone; ohms: each one's output resistance. So unequal resistances make corners unequal.
    """
    weights = 1.0 / np.asarray(ohms, dtype=np.float64)
    return float(np.average(np.asarray(ratios, dtype=np.float64), weights=weights))
