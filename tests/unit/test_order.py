"""What is to be calibrated is read and checked before a scale is touched."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from weightshare.errors import InputError, OptionError, WeightshareError
from weightshare.metrology.standard import MassClass, local_gravity, mass_uncertainty_kg, standard_gravity
from weightshare.workbench.order import Order, bench_source, check_total, parse_masses
from weightshare.workbench.plan import Wanted

ORDER = Order("rig:bench", Wanted(tuple(parse_masses("10,20"))))


def test_masses_are_read_with_the_uncertainty_of_their_class() -> None:
    ten, twenty = parse_masses("10, 20.5", MassClass.F1)
    assert (ten.name, ten.kg, ten.u_kg) == ("10 kg", 10.0, mass_uncertainty_kg(10.0, MassClass.F1))
    assert (twenty.name, twenty.kg) == ("20.5 kg", 20.5)


def test_a_class_is_m1_unless_it_is_told_and_an_own_uncertainty_wins() -> None:
    assert parse_masses("10")[0].u_kg == mass_uncertainty_kg(10.0, MassClass.M1)
    assert parse_masses("10", MassClass.M1, 0.05)[0].u_kg == 0.05


@pytest.mark.parametrize("text", ["", "10,", "ten", "10;20", "-5", "1e3", "0", "5000", "nan", "10 kg"])
def test_what_is_no_mass_is_refused_with_the_list(text: str) -> None:
    with pytest.raises(OptionError, match="--masses"):
        parse_masses(text)


def test_gravity_is_that_of_the_place_where_it_is_told() -> None:
    assert ORDER.gravity() == standard_gravity()
    assert replace(ORDER, latitude_deg=52.5, height_m=40.0).gravity() == local_gravity(52.5, 40.0)
    assert replace(ORDER, latitude_deg=52.5).gravity() == local_gravity(52.5, 0.0)


@pytest.mark.parametrize(
    ("how", "words"),
    [
        ({"valid_days": 0}, "--valid-days"),
        ({"height_m": 40.0}, "--height"),
        ({"latitude_deg": 91.0}, "latitude"),
        ({"wanted": replace(ORDER.wanted, runs=0)}, "--runs"),
        ({"wanted": replace(ORDER.wanted, drift_s=1.0)}, "--drift-seconds"),
        ({"wanted": replace(ORDER.wanted, creep_s=-60.0)}, "--creep-minutes"),
        ({"wanted": replace(ORDER.wanted, creep_s=float("nan"))}, "--creep-minutes"),
    ],
)
def test_what_cannot_be_is_refused(how: dict[str, Any], words: str) -> None:
    ORDER.check()
    with pytest.raises(InputError, match=words):
        replace(ORDER, **how).check()


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("10000,10000", "were they grams? Divide them by 1000"),
        ("500,500", "were they grams? Divide them by 1000"),
        ("98.1,98.1,196.2", "all are round over 9.81: were they newtons? Divide them by 9.81"),
        ("100,150", "are they told in the right unit?"),
    ],
)
def test_masses_in_another_unit_come_with_a_hint_at_it(text: str, hint: str) -> None:
    with pytest.raises(WeightshareError) as refused:
        check_total(parse_masses(text), 200.0)
    assert str(refused.value).endswith(hint)


def test_a_mass_of_nothing_comes_without_a_hint_at_units() -> None:
    with pytest.raises(OptionError, match=r"each may be over 0 to 1000 kg$"):
        parse_masses("10,0")


def test_a_virtual_person_makes_room_for_hands_on_the_very_same_scale() -> None:
    assert bench_source("rig:") == bench_source("rig:steered") == "rig:bench"
    assert bench_source("rig:person=steady,cells=hidden,seed=3") == "rig:bench,cells=hidden,seed=3"
    assert bench_source("rig:steady,rate=10,stage=raise,truth=t.csv,speed=20") == "rig:bench,rate=10,speed=20"
    for source in ("rig:bench,speed=20", "serial:COM3", "tcp://127.0.0.1:7000", "COM3"):
        assert bench_source(source) == source


def test_neither_an_unknown_person_nor_an_unknown_wish_is_lost() -> None:
    with pytest.raises(OptionError, match="nobody"):
        bench_source("rig:nobody,seed=3")
    assert bench_source("rig:steady,sed=3") == "rig:bench,sed=3"
