"""`weightshare calibrate fit`."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.unit.points import GRAVITY, SLOPE, Plate, write_points
from weightshare.cli import main
from weightshare.records.calibration import read_calibration

DEVICE = "0011223344556677"
GOOD = Plate(corners=(0.001, -0.001, 0.0, 0.002))


@pytest.fixture
def points(tmp_path: Path) -> Path:
    return write_points(tmp_path / "points.csv", GOOD)


def fit(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    assert main(["calibrate", "fit", *map(str, arguments)]) == 0
    return capsys.readouterr().out


def fit_json(capsys: pytest.CaptureFixture[str], *arguments: object) -> dict[str, Any]:
    out = fit(capsys, *arguments, "--json")
    assert out.count("\n") == 1
    found: dict[str, Any] = json.loads(out)
    return found


def refused(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    try:
        ended: int | str | None = main(["calibrate", "fit", *map(str, arguments)])
    except SystemExit as leaving:
        ended = leaving.code
    out, err = capsys.readouterr()
    assert (ended, out) == (2, "")
    assert err.count("\n") == 1
    return err.rstrip("\n")


def test_the_numbers_are_those_of_the_files_own_units(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """y = 3 + 2 x - 0.5 x^2, exactly."""
    path = tmp_path / "xy.csv"
    path.write_text("x,y\n" + "".join(f"{x},{3 + 2 * x - 0.5 * x * x}\n" for x in range(6)))
    found = fit_json(capsys, path, "--degree", 2)
    assert found["schema"] == "weightshare.fit/1"
    assert (found["degree"], found["n"], found["advice"]) == (2, 6, None)
    assert found["coefficients"] == [3.0, 2.0, -0.5]
    assert found["residual_sd"] == 0.0 and found["standard_errors"] == [0.0] * 3
    assert [len(row) for row in found["covariance"]] == [3, 3, 3]
    assert found["force"] is None and found["figures"] == [] and found["warnings"] == []


def test_the_degree_is_one_unless_asked(capsys: pytest.CaptureFixture[str], points: Path) -> None:
    found = fit_json(capsys, points)
    assert found["degree"] == 1 and len(found["coefficients"]) == 2
    assert (found["x"], found["y"], found["channel"]) == ("mass_kg", "counts", None)
    assert found["coefficients"][1] == pytest.approx(GRAVITY / SLOPE, rel=1e-3)
    assert (found["n"], found["left_out"]) == (26, 4)
    assert [band["x"] for band in found["bands"]] == [0.0, 15.0, 30.0, 45.0, 60.0]


def test_masses_become_newtons_by_the_gravity_of_the_place(capsys: pytest.CaptureFixture[str], points: Path) -> None:
    anywhere = fit_json(capsys, points)["force"]
    pole = fit_json(capsys, points, "--latitude", 90, "--mass-class", "M1")["force"]
    assert pole["newton_per_count"] / anywhere["newton_per_count"] == pytest.approx(9.8321849 / 9.80665, rel=1e-7)
    assert "masses" in pole["parts_N"] and "masses" not in anywhere["parts_N"]
    assert anywhere["parts_N"]["gravity"] > 10.0 * pole["parts_N"]["gravity"]
    high = fit_json(capsys, points, "--latitude", 90, "--height", 2000)["force"]
    assert high["newton_per_count"] < pole["newton_per_count"]


def test_figures_come_with_the_json(capsys: pytest.CaptureFixture[str], points: Path) -> None:
    found = fit_json(capsys, points)
    names = [figure["name"] for figure in found["figures"]]
    assert names == ["non-linearity", "hysteresis", "repeatability", *["corner error"] * 4, "return to zero"]
    assert found["force"]["lower_limit_factor_N"] == pytest.approx(2.4 * found["force"]["residual_sd_N"])


def test_several_channels_are_a_list(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    rows = [f"{channel},{load},{(channel + 1) * 800 * load}\n" for load in range(0, 500, 100) for channel in (0, 3)]
    path.write_text("channel,load_N,counts\n" + "".join(rows))
    found = fit_json(capsys, path)
    assert [found[key] for key in ("coefficients", "standard_errors", "residual_sd", "covariance", "n")] == [None] * 5
    assert [one["channel"] for one in found["channels"]] == [0, 3]
    assert found["channels"][1]["coefficients"] == pytest.approx([0.0, 3200.0])
    alone = fit_json(capsys, path, "--channel", 3)
    assert alone["channel"] == 3 and alone["coefficients"] == found["channels"][1]["coefficients"]
    assert "has no such channel, only 0, 3" in refused(capsys, path, "--channel", 1)


def test_the_table_says_what_it_is(capsys: pytest.CaptureFixture[str], points: Path) -> None:
    out = fit(capsys, points, "--degree", 2, "--mass-class", "M1", "--latitude", 52)
    for words in (
        "26 points; 4 off the middle, not fitted; counts = c0 + c1 x + c2 x^2, with x = mass_kg",
        "residual standard deviation", "curve +-", "reading +-", "lower limit factor (ASTM E74)", "hysteresis",
        "of the masses", "of gravity", "As information: this is no approval.",
        "advice: the term of degree 2 cannot be told from 0",
    ):  # fmt: skip
        assert words in out
    # each class at its own usual interval, as in the certificate
    assert "OIML R 76-1 at e = 0.5 N (class III, 1177 e) and e = 1 N (class IIII, 589 e)" in out
    assert max(len(line) for line in out.splitlines() if not line.startswith(("advice", "note"))) < 160


def test_what_speaks_against_the_points_is_a_note(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = write_points(tmp_path / "points.csv", Plate(slope=-SLOPE))
    assert "note: the counts fall as the load grows" in fit(capsys, path)


def test_a_calibration_is_written(capsys: pytest.CaptureFixture[str], points: Path, tmp_path: Path) -> None:
    to = tmp_path / "scale.json"
    fit(capsys, points, "--degree", 2, "--write", to, "--device-id", DEVICE.upper(), "--channel", 2, "--valid-days", 30)
    made = read_calibration(to)
    assert (made.device_id, made.made_on) == (DEVICE, date.today())
    assert made.valid_until == date.today() + timedelta(days=30)
    (channel,) = made.channels
    assert channel.index == 2
    assert channel.newton_per_count == pytest.approx(SLOPE, rel=2e-3)
    assert channel.range_N == pytest.approx(60.0 * 9.80665)
    assert channel.standard_uncertainty_N is not None and 0.2 < channel.standard_uncertainty_N < 3.0


def test_one_that_is_there_is_kept(capsys: pytest.CaptureFixture[str], points: Path, tmp_path: Path) -> None:
    to = tmp_path / "scale.json"
    fit(capsys, points, "--write", to, "--device-id", DEVICE)
    before = to.read_bytes()
    assert main(["calibrate", "fit", str(points), "--degree", "2", "--write", str(to), "--device-id", DEVICE]) == 0
    kept = tmp_path / f"scale-{date.today()}.json"
    assert f"kept the one before: {kept}" in capsys.readouterr().err
    assert kept.read_bytes() == before != to.read_bytes()


def test_a_doubt_keeps_it_from_being_written(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = write_points(tmp_path / "points.csv", replace(GOOD, column="load_N"))
    asked = (path, "--write", tmp_path / "scale.json", "--device-id", DEVICE)
    assert "were they kilograms (a factor of 9.81)?" in refused(capsys, *asked)
    assert not (tmp_path / "scale.json").exists()
    fit(capsys, *asked, "--expect", SLOPE / GRAVITY)
    fit(capsys, *asked, "--anyway")
    assert read_calibration(tmp_path / "scale.json").device_id == DEVICE


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--write", "c.json"), "--write needs --device-id"),
        (("--write", "c.json", "--device-id", "0011"), "--device-id 0011: this is no 16 hexadecimal digits"),
        (("--write", "c.json", "--device-id", DEVICE, "--degree", "3"), "so --degree 3 is too much"),
        (("--write", "c.json", "--device-id", DEVICE, "--valid-days", "0"), "--valid-days 0 is out of range"),
        (("--height", "100"), "--height needs --latitude"),
        (("--latitude", "91"), "--latitude 91 is out of range"),
        (("--latitude", "nan"), "--latitude nan is out of range"),
        (("--latitude", "50", "--height", "9000"), "--height 9000 is out of range"),
        (("--expect", "0"), "--expect 0 is no slope"),
        (("--expect", "inf"), "--expect inf is out of range"),
        (("--channel", "16"), "--channel 16 is none"),
        (("--degree", "4"), "argument --degree: invalid choice: 4"),
        (("--mass-class", "M9"), "argument --mass-class: invalid choice"),
    ],
)
def test_wrong_options_are_refused(
    capsys: pytest.CaptureFixture[str], points: Path, options: tuple[str, ...], words: str
) -> None:
    assert words in refused(capsys, points, *options)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("0,1\n10,2\n", "line 3, column load_N: 2 points are too few: a fit of degree 1 needs 3 or more"),
        ("5,1\n5,2\n5,3\n5,4\n", "line 5, column load_N: all points are at one load"),
        ("0,1\n10,2\n10,x\n", "line 4, column counts: 'x' is not a number"),
    ],
)
def test_points_that_do_not_do_are_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, rows: str, words: str
) -> None:
    path = tmp_path / "points.csv"
    path.write_text("load_N,counts\n" + rows)
    assert refused(capsys, path).startswith(f"weightshare: {path}, {words}")


def test_x_and_y_make_no_calibration(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "xy.csv"
    path.write_text("x,y\n0,1\n10,2\n20,3\n")
    words = refused(capsys, path, "--write", tmp_path / "c.json", "--device-id", DEVICE, "--anyway")
    assert "x and y do not say newtons" in words and words.endswith("nothing was written")
    assert not (tmp_path / "c.json").exists()
