"""What speaks against points taken elsewhere."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.points import GRAVITY, SLOPE, Plate, make_points
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.fitted import Circumstance, Fitted, fit_points
from weightshare.model import STANDARD_GRAVITY
from weightshare.records.points import read_points

HERE = Circumstance(Estimate(GRAVITY, 5e-4), 1e-4)


def fitted(tmp_path: Path, plate: Plate, known: Circumstance = HERE) -> Fitted:
    return fit_points(make_points(tmp_path / "points.csv", plate), 1, known)


def test_good_points_raise_no_doubt(tmp_path: Path) -> None:
    result = fitted(tmp_path, Plate(corners=(0.001, -0.001, 0.002, 0.0)))
    assert (result.doubts, result.remarks, result.advice) == ((), (), None)
    assert result.left_out == 4
    assert result.uncertainty_N is not None and 0.25 < result.uncertainty_N < 1.0


@pytest.mark.parametrize(
    ("unit", "column", "words"),
    [
        (STANDARD_GRAVITY, "mass_kg", "588.399 kg, and all are round over 9.81: newtons belong in column load_N"),
        (STANDARD_GRAVITY / 4.0, "mass_kg", "147.1 kg, and all are round over 9.81: newtons belong in column load_N"),
        (100.0, "load_N", "6000 N (612 kg): were they grams?"),
        (1.0, "load_N", "60 N (6.1 kg): were they kilograms (a factor of 9.81)? Column mass_kg"),
        (7.0, "mass_kg", "420 kg: were they grams (over 1000), or newtons (column load_N)?"),
    ],
)
def test_a_strange_load_is_told_with_its_factor(tmp_path: Path, unit: float, column: str, words: str) -> None:
    (doubt,) = fitted(tmp_path, Plate(unit=unit, column=column)).doubts
    assert words in doubt


@pytest.mark.parametrize("unit", [0.25, 1.0, 1.37, 4.9])
def test_masses_that_could_be_masses_are_left_in_peace(tmp_path: Path, unit: float) -> None:
    assert fitted(tmp_path, Plate(unit=unit)).doubts == ()


@pytest.mark.parametrize(
    ("factor", "words"),
    [
        (9.80665, "close to 9.81 (newtons taken for kilograms?)"),
        (1.0 / 9.80665, "close to 1/9.81 (kilograms taken for newtons?)"),
        (1000.0, "close to 1000 (grams taken for kilograms?)"),
        (102.0, "close to 1000/9.81 (grams taken for newtons?)"),
        (0.001, "close to 1/1000 (kilonewtons taken for newtons?)"),
        (3.0, "the slope is 2.999 times what is expected"),
        (-1.0, "the slope has the other sign than expected: signal wires exchanged, or a cell upside down"),
    ],
)
def test_a_slope_that_was_not_expected_is_told(tmp_path: Path, factor: float, words: str) -> None:
    (doubt,) = fitted(tmp_path, Plate(), replace(HERE, expected_N_per_count=SLOPE / factor)).doubts
    assert doubt.endswith(words)


def test_an_expected_slope_settles_what_looks_strange(tmp_path: Path) -> None:
    plate = Plate(column="load_N")
    assert len(fitted(tmp_path, plate).doubts) == 1
    assert fitted(tmp_path, plate, replace(HERE, expected_N_per_count=SLOPE / GRAVITY)).doubts == ()


def test_counts_that_fall_are_told(tmp_path: Path) -> None:
    (doubt,) = fitted(tmp_path, Plate(slope=-SLOPE)).doubts
    assert doubt.startswith("the counts fall as the load grows")


def test_a_loose_foot_is_told(tmp_path: Path) -> None:
    (doubt,) = fitted(tmp_path, Plate(corners=(0.0, 0.0, 0.0, 0.02))).doubts
    assert "look for a loose foot" in doubt


def test_a_mass_on_the_wrong_plate_is_told_with_its_line(tmp_path: Path) -> None:
    """30 kg on the way up of the first run: line 5 reads as if nothing more had come."""
    path = tmp_path / "points.csv"
    make_points(path, Plate())
    lines = path.read_text().split("\n")
    fields, before = lines[4].split(","), lines[3].split(",")
    lines[4] = ",".join([fields[0], before[1], *fields[2:]])
    path.write_text("\n".join(lines))
    (points,) = read_points(path)
    (doubt,) = fit_points(points, 1, HERE).doubts
    assert doubt.startswith("line 5 does not fit the others")


def test_what_is_not_known_is_remarked(tmp_path: Path) -> None:
    result = fit_points(make_points(tmp_path / "points.csv", Plate()), 3, Circumstance(Estimate(GRAVITY, 0.0)))
    masses, degree = result.remarks
    assert "--mass-class" in masses
    assert "degree 2, the most that a calibration file holds" in degree


def test_points_without_a_zero_are_remarked(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    path.write_text("load_N,counts\n" + "".join(f"{load},{800 * load}\n" for load in (100, 200, 300, 400)))
    (points,) = read_points(path)
    (remark,) = fit_points(points, 1, HERE).remarks
    assert remark.startswith("no point has nothing on")


def test_loads_under_nothing_make_no_calibration(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    path.write_text("load_N,counts\n" + "".join(f"{-load},{800 * load}\n" for load in (0, 100, 200, 300)))
    (points,) = read_points(path)
    assert fit_points(points, 1, HERE).doubts == ("no load is over 0",)
