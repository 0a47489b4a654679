"""What points taken elsewhere tell beside their fit."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.unit.points import GRAVITY, Plate, make_points
from weightshare.errors import InputError
from weightshare.metrology import found
from weightshare.metrology.figure import PointFigure, class_limit, corner_part, loose_feet, point_figures
from weightshare.metrology.standard import ScaleClass
from weightshare.metrology.transfer import fit_transfer
from weightshare.records.points import read_points

GREATEST_N = 60.0 * GRAVITY
PLAIN = Plate()


def figures(tmp_path: Path, plate: Plate, degree: int = 1, seed: int = 1) -> tuple[PointFigure, ...]:
    points = make_points(tmp_path / "points.csv", plate, seed)
    transfer = fit_transfer(points, GRAVITY, degree)
    assert transfer is not None
    return point_figures(points, transfer, GRAVITY)


def one(tmp_path: Path, plate: Plate, name: str, degree: int = 1, seed: int = 1) -> PointFigure:
    (figure,) = [figure for figure in figures(tmp_path, plate, degree, seed) if figure.name == name]
    return figure


def test_a_curve_shows_as_non_linearity(tmp_path: Path) -> None:
    """Half-way, a chord over b F^2 is b F^2 / 4 off; with b 2e-5 and 588.6 N that is 1.73 N."""
    figure = one(tmp_path, replace(PLAIN, sd_N=0.0, curve_per_N=2e-5), found.NON_LINEARITY)
    assert figure.estimate.value == pytest.approx(2e-5 * GREATEST_N**2 / 4.0, rel=0.03)
    assert figure.percent_of(GREATEST_N) == pytest.approx(0.294, rel=0.03)
    assert figure.load_N == pytest.approx(0.5 * GREATEST_N)


def test_hysteresis_is_found_half_way(tmp_path: Path) -> None:
    figure = one(tmp_path, replace(PLAIN, sd_N=0.0, hysteresis_N=1.5), found.HYSTERESIS)
    assert figure.estimate.value == pytest.approx(1.5, rel=0.01)


def test_the_scatter_of_a_load_put_on_again_is_found(tmp_path: Path) -> None:
    figure = one(tmp_path, replace(PLAIN, sd_N=0.4, runs=20), found.REPEATABILITY)
    assert figure.estimate.value == pytest.approx(0.4, rel=0.15)
    assert figure.estimate.dof == 13 * (20 - 1)


def test_corners_are_told_one_by_one(tmp_path: Path) -> None:
    plate = replace(PLAIN, sd_N=0.0, corners=(0.001, -0.002, 0.0, 0.03))
    corners = [figure for figure in figures(tmp_path, plate) if figure.name == found.CORNER]
    found_N = {figure.place_mm: figure.estimate.value for figure in corners}
    assert found_N[(-100.0, 150.0)] == pytest.approx(0.001 * 20 * GRAVITY, abs=0.01)
    assert found_N[(100.0, -150.0)] == pytest.approx(0.03 * 20 * GRAVITY, abs=0.01)
    assert corner_part(corners) == pytest.approx(0.03, abs=1e-4)
    (words,) = loose_feet(corners)
    assert words.startswith("at x 100, y -150 mm the plate reads 3.0 % more than") and "loose foot" in words


def test_a_plate_that_is_even_has_no_loose_foot(tmp_path: Path) -> None:
    assert loose_feet(figures(tmp_path, replace(PLAIN, sd_N=0.0, corners=(0.001, -0.002, 0.0, 0.001)))) == []


def test_a_corner_without_its_load_in_the_middle_is_held_against_the_fit(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    rows = "".join(f"{load},{1000 * load + 5},0,0\n" for load in (0, 100, 200, 300, 400))
    path.write_text("load_N,counts,x_mm,y_mm\n" + rows + "150,152005,80,0\n")
    (points,) = read_points(path)
    transfer = fit_transfer(points, GRAVITY, 1)
    assert transfer is not None
    (corner,) = [figure for figure in point_figures(points, transfer, GRAVITY) if figure.name == found.CORNER]
    assert corner.estimate.value == pytest.approx(2.0)
    assert "less the fit, under 150 N" in corner.about


def test_zero_that_does_not_come_back_is_told(tmp_path: Path) -> None:
    figure = one(tmp_path, replace(PLAIN, sd_N=0.01, return_N=0.8), found.RETURN)
    assert figure.estimate.value == pytest.approx(0.8, abs=0.03)


def test_loads_of_a_reference_cell_are_the_same_within_a_little(tmp_path: Path) -> None:
    """The same points, each load read a little differently: no figure gets lost, and all stay what they were."""
    points = make_points(tmp_path / "points.csv", replace(PLAIN, hysteresis_N=1.0, corners=(0.01,)))
    wandering = 0.02 * np.sin(np.arange(points.x.size))
    read = replace(points, x=points.x * GRAVITY + wandering, y=points.y + wandering / 0.00125, x_name="load_N")
    transfers = fit_transfer(points, GRAVITY, 1), fit_transfer(read, GRAVITY, 1)
    assert transfers[0] is not None and transfers[1] is not None
    plain, other = point_figures(points, transfers[0], GRAVITY), point_figures(read, transfers[1], GRAVITY)
    assert [figure.name for figure in other] == [figure.name for figure in plain]
    assert len(other) == 5
    for one_figure, same in zip(plain, other, strict=True):
        assert same.estimate.value == pytest.approx(one_figure.estimate.value, abs=0.02)


def test_what_the_columns_do_not_tell_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    path.write_text("load_N,counts\n" + "".join(f"{load},{1000 * load}\n" for load in (100, 200, 300, 400)))
    (points,) = read_points(path)
    transfer = fit_transfer(points, GRAVITY, 1)
    assert transfer is not None
    assert [figure.name for figure in point_figures(points, transfer, GRAVITY)] == [found.NON_LINEARITY]


@pytest.mark.parametrize(
    ("name", "plate", "truth"),
    [
        (found.NON_LINEARITY, replace(PLAIN, curve_per_N=1e-5), 1e-5 * GREATEST_N**2 / 4.0),
        (found.HYSTERESIS, replace(PLAIN, hysteresis_N=0.7), 0.7),
        (found.REPEATABILITY, PLAIN, 0.25),
        (found.RETURN, replace(PLAIN, return_N=0.3), 0.3),
        (found.CORNER, replace(PLAIN, corners=(0.004,)), 0.004 * 20 * GRAVITY),
    ],
)
def test_the_interval_covers_the_truth(tmp_path: Path, name: str, plate: Plate, truth: float) -> None:
    """95 % of 200 draws are 190; binomially 180 to 198 are within three standard deviations."""
    found_there = [one(tmp_path, plate, name, 2 if "linear" in name else 1, seed) for seed in range(200)]
    assert 180 <= sum(figure.low <= truth <= figure.high for figure in found_there) <= 199


def test_class_limits_stand_at_each_figures_own_load(tmp_path: Path) -> None:
    named = {figure.name: figure for figure in figures(tmp_path, replace(PLAIN, corners=(0.001,)))}
    assert class_limit(named[found.REPEATABILITY], 1.0, ScaleClass.III) == 1.0
    assert class_limit(named[found.CORNER], 1.0, ScaleClass.III) == 0.5
    assert class_limit(named[found.CORNER], 1.0, ScaleClass.IIII) == 1.0
    assert class_limit(named[found.RETURN], 1.0, ScaleClass.III) == 0.5
    with pytest.raises(InputError, match="class IIII ends"):
        class_limit(named[found.REPEATABILITY], 0.5, ScaleClass.IIII)
