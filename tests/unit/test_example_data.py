"""The example data in calibration/data are what they are said to be, and give what is said of them."""

from __future__ import annotations

import json
import math
import runpy
from collections.abc import Callable
from pathlib import Path
from typing import Any, cast

import pytest

from weightshare import cli

INVENTED = ("good-plate.csv", "loose-foot.csv", "newtons-as-kg.csv", "grams-as-kg.csv")
CORNER_N = 20.0 * 9.80665


@pytest.fixture(scope="module")
def folder(checkout: Path) -> Path:
    return checkout / "calibration" / "data"


@pytest.fixture(scope="module")
def expected(folder: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    return told


def fit(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, Any]:
    assert cli.main(["calibrate", "fit", str(path), "--json", *options]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_invented_sets_come_again_byte_by_byte(checkout: Path, folder: Path) -> None:
    make = cast(
        Callable[[], dict[str, str]], runpy.run_path(str(checkout / "calibration" / "make_examples.py"))["examples"]
    )
    again = make()
    assert set(again) == set(INVENTED)
    for name, text in again.items():
        assert (folder / name).read_bytes() == text.encode(), name


def test_something_is_expected_of_each(folder: Path, expected: dict[str, Any]) -> None:
    assert set(expected) == {path.name for path in folder.glob("*.csv")}


@pytest.mark.parametrize("name", ["good-plate.csv", "loose-foot.csv"])
def test_every_interval_covers_what_went_in(
    folder: Path, expected: dict[str, Any], name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    found, told = fit(folder / name, capsys, "--mass-class", "M1"), expected[name]["went_in"]
    slope = found["force"]["newton_per_count"]
    reach = 2.1 * found["standard_errors"][1] / found["coefficients"][1]  # Student's t for 26 degrees of freedom
    assert slope == pytest.approx(told["newton_per_count"], rel=reach)
    corners = [figure for figure in found["figures"] if figure["name"] == "corner error"]
    assert len(corners) == 4
    for figure in found["figures"]:
        assert figure["low_N"] <= hidden_N(told, figure) <= figure["high_N"], figure


def hidden_N(told: dict[str, Any], figure: dict[str, Any]) -> float:
    if figure["name"] != "corner error":
        return float(told[figure["name"]])
    parts = told["corner error, part of the load"]
    (part,) = [part for place, part in parts.items() if "x {}, y {} mm ".format(*place.split(",")) in figure["about"]]
    return CORNER_N * float(part)


@pytest.mark.parametrize("name", ["good-plate.csv", "loose-foot.csv", "newtons-as-kg.csv"])
def test_what_speaks_against_each_is_said(
    folder: Path, expected: dict[str, Any], name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    warnings = fit(folder / name, capsys, "--mass-class", "M1")["warnings"]
    told = expected[name]["warnings"]
    assert len(warnings) == len(told)
    for words, said in zip(told, warnings, strict=True):
        assert words in said


def test_no_calibration_is_written_of_a_plate_with_a_loose_foot(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = tmp_path / "scale.json"
    arguments = ["--write", str(where), "--device-id", "0011223344556677", "--mass-class", "M1"]
    for name in ("loose-foot.csv", "newtons-as-kg.csv"):
        assert cli.main(["calibrate", "fit", str(folder / name), *arguments]) == 2
        assert "nothing was written" in capsys.readouterr().err
        assert not where.exists()
    assert cli.main(["calibrate", "fit", str(folder / "good-plate.csv"), *arguments]) == 0
    assert where.exists()


def test_grams_are_refused_with_their_factor(
    folder: Path, expected: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["calibrate", "fit", str(folder / "grams-as-kg.csv")]) == 2
    assert expected["grams-as-kg.csv"]["refused"] in capsys.readouterr().err


def test_pontius_gives_the_certified_values(
    folder: Path, expected: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    found, told = fit(folder / "pontius.csv", capsys, "--degree", "2"), expected["pontius.csv"]
    assert found["n"] == 40
    for key in ("coefficients", "standard_errors", "residual_sd"):
        assert found[key] == pytest.approx(told[key], rel=1e-9, abs=0.0), key
    assert "degree 2" in fit(folder / "pontius.csv", capsys)["advice"]


def test_the_thermometer_gives_what_the_guide_prints(
    folder: Path, expected: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    found, told = fit(folder / "gum-h3.csv", capsys), expected["gum-h3.csv"]
    rounding = told["rounding"]
    for key in ("coefficients", "standard_errors"):
        for value, printed, half in zip(found[key], told[key], rounding[key], strict=True):
            assert abs(value - printed) <= half, (key, value)
    assert abs(found["residual_sd"] - told["residual_sd"]) <= rounding["residual_sd"]
    (a, b), (_, d) = found["covariance"]
    assert abs(b / math.sqrt(a * d) - told["correlation"]) <= rounding["correlation"]
