"""Tables and formulas of standards: masses, gravity, classes of scales and of load cells."""

from __future__ import annotations

import math

import pytest

from weightshare.metrology.standard import (
    MassClass,
    ScaleClass,
    creep_limits,
    local_gravity,
    lower_limit_factor,
    lowest_load,
    mass_limit_kg,
    mass_uncertainty_kg,
    return_limit,
    scale_limit,
)

MILLIGRAM = 1e-6


@pytest.mark.parametrize(("kg", "mg"), [(5.0, 250.0), (10.0, 500.0), (20.0, 1000.0)])
def test_class_m1(kg: float, mg: float) -> None:
    """OIML R 111-1:2004, table 1, class M1: read there."""
    assert mass_limit_kg(kg, MassClass.M1) == pytest.approx(mg * MILLIGRAM)
    assert mass_uncertainty_kg(kg, MassClass.M1) == pytest.approx(mg * MILLIGRAM / math.sqrt(3.0))


@pytest.mark.parametrize(
    ("mass_class", "mg"),
    [("E2", (1.6, 8.0, 16.0, 30.0, 80.0)), ("F1", (5.0, 25.0, 50.0, 100.0, 250.0)),
     ("F2", (16.0, 80.0, 160.0, 300.0, 800.0)), ("M1", (50.0, 250.0, 500.0, 1000.0, 2500.0)),
     ("M2", (160.0, 800.0, 1600.0, 3000.0, 8000.0)),
     ("M3", (500.0, 2500.0, 5000.0, 10000.0, 25000.0))],
)  # fmt: skip
def test_the_other_classes(mass_class: str, mg: tuple[float, ...]) -> None:
    """OIML R 111-1:2004, table 1, at 1, 5, 10, 20 and 50 kg (from memory, but for M1 at 5, 10 and 20 kg)."""
    found = tuple(mass_limit_kg(kg, MassClass(mass_class)) / MILLIGRAM for kg in (1.0, 5.0, 10.0, 20.0, 50.0))
    assert found == pytest.approx(mg)


@pytest.mark.parametrize(
    ("latitude_deg", "gravity"), [(0.0, 9.7803253), (45.0, 9.8061978), (-45.0, 9.8061978), (90.0, 9.8321849)]
)
def test_normal_gravity(latitude_deg: float, gravity: float) -> None:
    """WGS 84 normal gravity on the ellipsoid (Somigliana's formula), to the seven decimals that are told."""
    assert local_gravity(latitude_deg).value == pytest.approx(gravity, abs=5e-8)


def test_gravity_falls_with_height() -> None:
    """The free-air gradient is 0.3086 mGal a metre (Heiskanen and Moritz, 1967, 2-7; from memory): 3.086e-6 m/s^2."""
    fallen = local_gravity(45.0, 0.0).value - local_gravity(45.0, 100.0).value
    assert fallen / 100.0 == pytest.approx(3.086e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("scale_class", "intervals", "times"),
    [("III", 0, 0.5), ("III", 500, 0.5), ("III", 501, 1.0), ("III", 2000, 1.0), ("III", 2001, 1.5),
     ("III", 10_000, 1.5), ("IIII", 50, 0.5), ("IIII", 51, 1.0), ("IIII", 200, 1.0), ("IIII", 201, 1.5),
     ("IIII", 1000, 1.5)],
)  # fmt: skip
def test_limits_of_a_scale(scale_class: str, intervals: int, times: float) -> None:
    """OIML R 76-1:2006, table 6, and 3.5.2: in service twice these."""
    interval_N = 0.2
    assert scale_limit(intervals * interval_N, interval_N, ScaleClass(scale_class)) == pytest.approx(times * interval_N)
    in_service = scale_limit(intervals * interval_N, interval_N, ScaleClass(scale_class), in_service=True)
    assert in_service == pytest.approx(2.0 * times * interval_N)


def test_creep_and_return_to_zero() -> None:
    """OIML R 76-1:2006, 3.9.4: at most 0.5 e in 30 min and 0.2 e from 15 to 30 min; zero within 0.5 e (from memory)."""
    assert creep_limits(2.0) == pytest.approx((1.0, 0.4))
    assert return_limit(2.0) == pytest.approx(1.0)


def test_the_lower_limit_factor() -> None:
    """ASTM E74: 2.4 times the standard deviation of the fit; class A from 400 times that, class AA from 2,000 times."""
    factor = lower_limit_factor(0.05)
    assert factor == pytest.approx(0.12)
    assert (lowest_load(factor, "A"), lowest_load(factor, "AA")) == pytest.approx((48.0, 240.0))
