"""What is made of tables of standards; the tables themselves are held in tests/published."""

from __future__ import annotations

import math

import pytest

from weightshare.errors import InputError
from weightshare.metrology.standard import (
    MassClass,
    ScaleClass,
    certificate_uncertainty,
    local_gravity,
    lowest_load,
    mass_limit_kg,
    mass_uncertainty_part,
    scale_limit,
    standard_gravity,
    usual_interval,
)


def test_a_mass_that_the_table_does_not_have_takes_the_next_greater_limit() -> None:
    assert mass_limit_kg(25.0, MassClass.M1) == mass_limit_kg(50.0, MassClass.M1)
    assert mass_limit_kg(1.0 + 1e-12, MassClass.M1) == mass_limit_kg(1.0, MassClass.M1)


@pytest.mark.parametrize("kg", [0.0, -1.0, 0.05, 1500.0, math.nan])
def test_a_mass_out_of_the_table_is_refused(kg: float) -> None:
    with pytest.raises(InputError, match="has no class limit here"):
        mass_limit_kg(kg, MassClass.M1)


@pytest.mark.parametrize("finer", range(len(MassClass) - 1))
def test_a_finer_class_has_lower_limits_and_all_grow_with_the_mass(finer: int) -> None:
    one, other = list(MassClass)[finer : finer + 2]
    masses = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
    limits = [mass_limit_kg(kg, one) for kg in masses]
    assert limits == sorted(limits)
    assert all(mass_limit_kg(kg, one) < mass_limit_kg(kg, other) for kg in masses)


@pytest.mark.parametrize("mass_class", list(MassClass))
def test_no_mass_of_a_class_errs_by_more_than_its_part(mass_class: MassClass) -> None:
    part = mass_uncertainty_part(mass_class) * math.sqrt(3.0)
    assert all(
        mass_limit_kg(kg, mass_class) <= part * kg * (1 + 1e-12) for kg in (0.1, 1.0, 2.0, 5.0, 10.0, 20.0, 500.0)
    )


def test_what_a_certificate_says_is_divided_by_its_factor() -> None:
    assert certificate_uncertainty(0.1) == pytest.approx(0.05)
    assert certificate_uncertainty(0.1, 1.96) == pytest.approx(0.1 / 1.96)
    for expanded, coverage in ((0.1, 0.0), (-0.1, 2.0)):
        with pytest.raises(InputError, match="is no expanded uncertainty"):
            certificate_uncertainty(expanded, coverage)


def test_gravity_is_less_sure_in_the_mountains() -> None:
    sea, high = local_gravity(47.0), local_gravity(47.0, 2000.0)
    assert high.value < sea.value
    assert pytest.approx(sea.u) == 5e-4 and high.u > 2.0 * sea.u


def test_not_knowing_where_one_is_costs_a_sixth_of_a_percent() -> None:
    anywhere = standard_gravity()
    assert anywhere.value == 9.80665
    assert anywhere.u / anywhere.value == pytest.approx(0.00153, abs=1e-5)


@pytest.mark.parametrize(
    ("latitude_deg", "height_m", "words"),
    [
        (91.0, 0.0, "latitude of 91 degrees"), (math.nan, 0.0, "latitude of nan"),
        (0.0, 9000.0, "height of 9000 m"), (0.0, math.nan, "height of nan"),
    ],
)  # fmt: skip
def test_a_place_that_is_none_is_refused(latitude_deg: float, height_m: float, words: str) -> None:
    with pytest.raises(InputError, match=words):
        local_gravity(latitude_deg, height_m)


def test_a_class_ends() -> None:
    with pytest.raises(InputError, match="class IIII ends at 1,000 scale intervals; 1,200 are asked"):
        scale_limit(600.0, 0.5, ScaleClass.IIII)


@pytest.mark.parametrize("interval", [0.0, -1.0, math.nan])
def test_a_scale_interval_is_over_nothing(interval: float) -> None:
    with pytest.raises(InputError, match="scale interval of"):
        scale_limit(100.0, interval, ScaleClass.III)


@pytest.mark.parametrize(
    ("range_N", "scale_class", "interval_N"),
    [(600.0, "IIII", 1.0), (1000.0, "IIII", 1.0), (1001.0, "IIII", 2.0), (2000.0, "III", 1.0), (588.0, "III", 0.5)],
)
def test_the_usual_interval_is_a_round_one(range_N: float, scale_class: str, interval_N: float) -> None:
    assert usual_interval(range_N, ScaleClass(scale_class)) == pytest.approx(interval_N)


def test_a_range_of_nothing_has_no_interval() -> None:
    with pytest.raises(InputError, match="range of 0 is none"):
        usual_interval(0.0)


def test_there_are_two_classes_of_load_cells() -> None:
    with pytest.raises(InputError, match="classes A and AA, not B"):
        lowest_load(1.0, "B")
