"""What is typed about masses, and figures in words."""

from __future__ import annotations

import math

import pytest

from tests.window.benching import found
from weightshare.errors import OptionError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.found import CORNER, DRIFT, HYSTERESIS, Figure
from weightshare.model import Side
from weightshare.window.benchmass import masses_of, place_of, uncertainty_of
from weightshare.window.benchtable import cell_of, decimals_of, number, rows_of


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("5, 10, 20", [5.0, 10.0, 20.0]),
        ("5;10.5 kg; 20 kg", [5.0, 10.5, 20.0]),
        ("2,5; 10,25 kg; 20", [2.5, 10.25, 20.0]),
        ("10 10 20", [10.0, 10.0, 20.0]),
        ("10 kg 20 kg", [10.0, 20.0]),
        ("0.1,199.9", [0.1, 199.9]),
    ],
)
def test_masses_are_read_as_people_write_them(text: str, kilograms: list[float]) -> None:
    masses = masses_of(text, "M1")
    assert [mass.kg for mass in masses] == kilograms
    assert [mass.name for mass in masses] == [f"{kg:g} kg" for kg in kilograms], "as it is written on them"


@pytest.mark.parametrize(
    ("text", "known", "said"),
    [
        ("", "M1", "two masses at least"),
        ("20", "M1", "two masses at least"),
        ("10, -5", "M1", "\u201c-5\u201d is no mass"),
        ("10, 1e3", "M1", "\u201c1e3\u201d is no mass"),
        ("500, 1000", "M1", "500 kg is more than 200 kg"),
        ("5000, 10000", "M1", "5000 g would be 5"),
        ("0.01, 10", "M1", "0.01 kg is less than 0.1 kg"),
        (", ".join(["1"] * 31), "M1", "31 masses are too many"),
        ("100, 101", "M1", "together they are 201 kg"),
        ("10, 20", "", "a class as in M1"),
        ("10, 20", "M4", "a class as in M1"),
        ("10, 20", "5 N", "a class as in M1"),
        ("10, 20", "3 kg", "3 kg is a fifth of 10 kg or more"),
        ("10, 20", "nan %", "a class as in M1"),
    ],
)
def test_what_is_no_list_of_masses_is_said(text: str, known: str, said: str) -> None:
    with pytest.raises(OptionError) as refused:
        masses_of(text, known)
    assert said in str(refused.value)


def test_how_well_a_mass_is_known() -> None:
    # OIML R 111-1:2004, table 1: 20 kg of class M1 may err by 1 g; the standard uncertainty is that over sqrt(3)
    assert uncertainty_of("m1", 20.0) == pytest.approx(0.001 / math.sqrt(3.0))
    assert uncertainty_of("50 g", 20.0) == uncertainty_of("0,05 kg", 20.0) == pytest.approx(0.05)
    assert uncertainty_of("\u00b1 1 %", 20.0) == pytest.approx(0.2)


def test_a_place_is_read_or_refused() -> None:
    assert place_of("", -90, 90, "\u00b0") is None
    assert place_of("\u221233.9\u00b0", -90, 90, "\u00b0") == -33.9
    for text, said in (("91", "may be -90 to 90"), ("north", "is no number"), ("nan", "may be"), ("inf", "may be")):
        with pytest.raises(OptionError, match=said):
            place_of(text, -90, 90, "\u00b0")


def test_a_figure_has_two_digits_of_its_interval_and_percent_of_range() -> None:
    figure = Figure(HYSTERESIS, Side.LEFT, Estimate(0.27108, 0.128, 23), "N", 0.00635, 0.5358)
    told = cell_of(figure, 588.6)
    assert (told.value, told.interval, told.percent) == ("0.27", "0.01 to 0.54", "0.046")


def test_what_is_not_known_is_no_figure() -> None:
    figure = Figure(HYSTERESIS, Side.LEFT, Estimate(math.nan, math.nan), "N", math.nan, math.nan)
    told = cell_of(figure, 588.6)
    assert (told.value, told.interval, told.percent) == ("\u2013", "not known", "\u2013")


def test_figures_have_a_true_minus_and_no_minus_zero() -> None:
    assert [number(-1.25, 1), number(-0.0004, 2), number(3.0, 0)] == ["\u22121.2", "0.00", "3"]
    assert [decimals_of(width) for width in (52.0, 5.2, 0.52, 5e-9, 0.0, math.inf)] == [0, 1, 2, 3, 3, 3]


def test_each_figure_has_its_row_and_each_plate_its_cell() -> None:
    rows = rows_of(found())
    names = [row.name for row in rows]
    assert names[:2] == ["slope, cell 1, mN/count", "slope, cell 2, mN/count"]
    assert sum(name.startswith("quarter ") for name in names) == 4
    assert f"{DRIFT}, N/min" in names and f"{HYSTERESIS}, N" in names
    assert all(len(row.cells) == 2 and None not in row.cells for row in rows)
    figures = {(figure.name, figure.spot, figure.channel) for figure in found().figures}
    assert len(rows) == len({key for key in figures if key[0] == CORNER or key[2] is None or key[2] < 2})
