"""A calibration by points that were taken elsewhere keeps them: file, certificate and history show what they tell."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.unit.points import GRAVITY, SLOPE, Plate, make_points, points_csv, write_points
from weightshare.cli import main
from weightshare.errors import CalibrationError
from weightshare.metrology.build import standard_side
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.fitted import Circumstance, fit_points
from weightshare.metrology.taken import TakenFit, keep_fit, worth_of_points
from weightshare.model import Side
from weightshare.records.bench import read_kept
from weightshare.records.plain import from_plain, to_plain
from weightshare.records.seal import sealed

DEVICE = "0011223344556677"
PLATE = Plate(sd_N=0.2, hysteresis_N=0.6, corners=(0.001, -0.001, 0.0, 0.002))
HERE = Circumstance(Estimate(GRAVITY, 1e-4))


@pytest.fixture
def taken(tmp_path: Path) -> TakenFit:
    made = keep_fit(fit_points(make_points(tmp_path / "p.csv", PLATE), 1, HERE), GRAVITY)
    assert made is not None
    return made


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's own place for the calibration of DEVICE."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    return tmp_path / "weightshare" / "calibrations" / f"{DEVICE}.json"


def write(own: Path, plate: Plate = PLATE, *options: str) -> None:
    points = write_points(own.parents[2] / "points.csv", plate)
    assert main(["calibrate", "fit", str(points), "--write", str(own), "--device-id", DEVICE, *options]) == 0


def test_points_and_fit_are_kept(taken: TakenFit) -> None:
    assert len(taken.points) == 30
    assert sum(point.in_middle for point in taken.points) == 26
    second = taken.points[1]
    assert (second.line, second.load, second.run, second.going, second.place_mm) == (3, 10.0, 1, 1, (0.0, 0.0))
    assert second.load_N == pytest.approx(10.0 * GRAVITY)
    c0, c1 = taken.coefficients
    assert second.residual_N == pytest.approx(c0 + c1 * second.counts - second.load_N)
    middle = np.array([point.residual_N for point in taken.points if point.in_middle])
    assert taken.residual_sd_N == pytest.approx(np.sqrt(np.sum(middle**2) / taken.dof))
    assert taken.slope.value == pytest.approx(SLOPE, abs=3.0 * taken.slope.u)


def test_what_masses_and_gravity_are_worth_is_in_the_slope(tmp_path: Path) -> None:
    points = make_points(tmp_path / "p.csv", PLATE)
    sure = keep_fit(fit_points(points, 1, HERE), GRAVITY)
    unsure = keep_fit(fit_points(points, 1, replace(HERE, mass_part=1e-3)), GRAVITY)
    assert sure is not None and unsure is not None
    assert unsure.slope.u**2 - sure.slope.u**2 == pytest.approx((1e-3 * sure.slope.value) ** 2, rel=1e-6)


def test_a_bent_curve_has_its_slope_without_load(tmp_path: Path) -> None:
    bent = make_points(tmp_path / "p.csv", Plate(sd_N=0.0, curve_per_N=1e-5))
    made = keep_fit(fit_points(bent, 2, HERE), GRAVITY)
    assert made is not None and made.degree == 2
    assert made.slope.value == pytest.approx(SLOPE, rel=1e-4)


def test_points_of_no_unit_leave_nothing(tmp_path: Path) -> None:
    path = tmp_path / "xy.csv"
    path.write_text("x,y\n0,1\n10,2\n20,3\n")
    from weightshare.records.points import read_points

    (points,) = read_points(path)
    assert keep_fit(fit_points(points, 1, HERE), GRAVITY) is None


def test_it_comes_back_from_json_as_it_was(taken: TakenFit) -> None:
    again = from_plain(TakenFit, json.loads(json.dumps(to_plain(taken))), "here")
    assert again == taken


def test_the_certificate_shows_figures_points_and_what_is_assumed(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(own, PLATE, "--latitude", "52")
    assert len(read_kept(own).taken[0].points) == 30
    capsys.readouterr()
    to = own.parents[2] / "c.md"
    assert main(["calibrate", "certificate", "--to", str(to)]) == 0
    said = to.read_text(encoding="utf-8")
    for words in (
        "30 points, loads by mass\\_kg, 4 of them off the middle and not fitted",
        "| slope | 1.2", "| hysteresis: down minus up, half-way to 589 N | 0.", "| ±0.5: undecided |",
        "for a scale interval e of 0.5 N, assumed",
        "The points do not say under which plate a channel is (column side).",
        "assumed and not measured here: masses and gravity, noise, creep", "The points were taken elsewhere",
    ):  # fmt: skip
        assert words in said
    assert (own.parents[2] / "c-residuals-channel-0.svg").exists()


def test_what_spoke_against_points_that_were_written_all_the_same_is_said(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(own, replace(PLATE, slope=-SLOPE), "--anyway")
    capsys.readouterr()
    assert main(["calibrate", "certificate"]) == 0
    said = capsys.readouterr().out
    assert said.index("Be careful") < said.index("the counts fall as the load grows") < said.index("Channels")


def test_the_history_tells_whether_a_slope_changed_by_more_than_chance(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(own, PLATE, "--latitude", "52")
    write(own, replace(PLATE, slope=1.01 * SLOPE), "--latitude", "52")
    capsys.readouterr()
    assert main(["calibrate", "history", "--json"]) == 0
    (scale,) = json.loads(capsys.readouterr().out)["scales"]
    assert [one["points"] for one in scale["calibrations"]] == [30, 30]
    (change,) = scale["changes"]
    assert change["slope_percent"] == pytest.approx(1.0, abs=0.05)
    assert change["beyond_doubt"] and 0.05 < change["half_width_percent"] < 0.2


def test_points_that_are_not_whole_are_refused_by_name(own: Path) -> None:
    write(own)
    value = json.loads(own.read_text())
    del value["points"][0]["slope"], value["checksum"]
    own.write_text(json.dumps(sealed(value)))
    with pytest.raises(CalibrationError, match=r"points\[0\].slope is missing"):
        read_kept(own)


def both(tmp_path: Path, plate: Plate = PLATE) -> Path:
    """Return a file with the points of two channels, one under each plate."""
    rows = points_csv(plate).splitlines()
    path = tmp_path / "both.csv"
    lines = [f"{number},{side},{row}" for number, side in enumerate(("left", "right")) for row in rows[1:]]
    path.write_text("\n".join([f"channel,side,{rows[0]}", *lines]) + "\n", encoding="utf-8")
    return path


def test_points_that_tell_their_plate_make_a_worth(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    points = both(own.parents[2])
    asked = ["--mass-class", "M1", "--latitude", "52", "--write", str(own), "--device-id", DEVICE]
    assert main(["calibrate", "fit", str(points), *asked]) == 0
    kept = read_kept(own)
    worth = kept.calibration.worth
    assert worth is not None
    assert worth.assumed == ("creep_part", "noise_N", "zero_drift_N")
    left, right = worth.sides
    assert (left.side, right.side) == (Side.LEFT, Side.RIGHT)
    figures = {figure.name: figure for figure in kept.taken[0].figures if figure.place_mm is None}
    assert left.repeatability_N == figures["repeatability"].estimate.value
    assert left.hysteresis_N == pytest.approx(figures["hysteresis"].estimate.value / np.sqrt(3.0))
    corners = [abs(f.estimate.value) / f.load_N for f in kept.taken[0].figures if f.place_mm is not None]
    assert left.corner_part == pytest.approx(max(corners) / np.sqrt(3.0))
    assert np.hypot(left.gain_part, worth.common_part) == pytest.approx(
        kept.taken[0].slope.u / kept.taken[0].slope.value
    )
    capsys.readouterr()
    assert main(["calibrate", "certificate"]) == 0
    said = capsys.readouterr().out
    assert "## Channel 1, the right plate" in said and "| 1 | right |" in said
    assert "assumed and not measured here: creep, noise, zero drift." in said


def test_what_points_do_not_tell_is_assumed_by_name(tmp_path: Path) -> None:
    bare = replace(make_points(tmp_path / "p.csv", PLATE), side=Side.LEFT, run=None, going=None, place_mm=None)
    made = keep_fit(fit_points(bare, 1, HERE), GRAVITY)
    assert made is not None
    worth = worth_of_points([made])
    assert worth is not None
    assert set(worth.assumed) == {
        "noise_N", "creep_part", "zero_drift_N", "hysteresis_N", "corner_part", "common_part",
    }  # fmt: skip
    assert worth.sides[0].repeatability_N == made.residual_sd_N
    assert worth.sides[0].corner_part == standard_side(Side.LEFT).corner_part
    assert worth_of_points([replace(made, side=None)]) is None and worth_of_points([]) is None
