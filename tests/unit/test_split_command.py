"""`weightshare split`: two readings by eye."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from weightshare.cli import main
from weightshare.cli.split import split_load
from weightshare.errors import OptionError


def split(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main(["split", *arguments, "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    found: dict[str, Any] = json.loads(out)
    return found


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    try:
        ended: int | str | None = main(["split", *arguments])
    except SystemExit as leaving:
        ended = leaving.code
    out, err = capsys.readouterr()
    assert (ended, out) == (2, "")
    assert err.count("\n") == 1
    return err.rstrip("\n")


def test_share_and_symmetry_of_two_readings(capsys: pytest.CaptureFixture[str]) -> None:
    """Left 20, right 25, the left one injured: by hand 20/45, 20/25, 5/22.5 and 45 deg - atan(0.8)."""
    found = split(capsys, "20", "25", "--injured", "left")
    assert found["injured_side"] == "left"
    assert (found["left_kg"], found["right_kg"], found["total_kg"]) == (20.0, 25.0, 45.0)
    assert found["share_percent"] == pytest.approx(44.444444, abs=1e-6)
    assert found["limb_symmetry_index_percent"] == pytest.approx(80.0)
    assert found["symmetry_index_percent"] == pytest.approx(22.222222, abs=1e-6)
    assert found["symmetry_angle_percent"] == pytest.approx(7.0447, abs=1e-4)
    assert found["warnings"] == []


def test_the_injured_side_turns_the_figures(capsys: pytest.CaptureFixture[str]) -> None:
    found = split(capsys, "20", "25", "--injured", "right")
    assert found["share_percent"] == pytest.approx(55.555556, abs=1e-6)
    assert found["limb_symmetry_index_percent"] == pytest.approx(125.0)
    assert found["symmetry_index_percent"] == pytest.approx(-22.222222, abs=1e-6)
    assert found["symmetry_angle_percent"] == pytest.approx(-7.0447, abs=1e-4)


def test_twenty_and_sixty_is_three_quarters(capsys: pytest.CaptureFixture[str]) -> None:
    assert split(capsys, "20", "60", "--injured", "right")["share_percent"] == 75.0


def test_nothing_on_the_injured_side_is_a_share_of_0(capsys: pytest.CaptureFixture[str]) -> None:
    found = split(capsys, "0", "60", "--injured", "left")
    assert (found["share_percent"], found["limb_symmetry_index_percent"]) == (0.0, 0.0)


def test_an_index_that_cannot_be_had_is_null_and_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    found = split(capsys, "60", "0", "--injured", "left")
    assert found["share_percent"] == 100.0
    assert found["limb_symmetry_index_percent"] is None
    assert any("limb symmetry index" in warning for warning in found["warnings"])


def test_sums_are_printed_as_a_person_would(capsys: pytest.CaptureFixture[str]) -> None:
    assert split(capsys, "0.1", "0.2", "--injured", "left")["total_kg"] == 0.3


@pytest.mark.parametrize(
    ("left", "right", "named"),
    [
        ("-1", "30", "LEFT"),
        ("30", "-0.5", "RIGHT"),
        ("nan", "30", "LEFT"),
        ("30", "inf", "RIGHT"),
        ("30", "501", "RIGHT"),
        ("thirty", "30", "LEFT"),
        ("30,5", "30", "LEFT"),
        ("30", "", "RIGHT"),
        ("30kg", "30", "LEFT"),
    ],
)
def test_a_reading_that_is_none_is_named(capsys: pytest.CaptureFixture[str], left: str, right: str, named: str) -> None:
    assert named in refused(capsys, left, right, "--injured", "left")


def test_nobody_on_the_scales_has_no_share(capsys: pytest.CaptureFixture[str]) -> None:
    message = refused(capsys, "0", "0", "--injured", "left", "--json")
    assert "LEFT and RIGHT" in message
    with pytest.raises(OptionError, match="nobody"):
        split_load(0.0, 0.0, "left")


def test_what_is_left_out_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert "--injured" in refused(capsys, "20", "25")
    assert "RIGHT" in refused(capsys, "20", "--injured", "left")
    assert "--injured" in refused(capsys, "20", "25", "--injured", "both")


def test_a_person_gets_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["split", "31.5", "38.5", "--injured", "left"]) == 0
    out, _ = capsys.readouterr()
    lines = {line[:28].strip(): line[28:] for line in out.splitlines()}
    assert lines["share of the injured side"] == "45.0 %"
    assert lines["limb symmetry index"] == "81.8 %"
    assert lines["total"] == "70.0 kg"
    assert main(["split", "60", "0", "--injured", "left"]) == 0
    out, _ = capsys.readouterr()
    assert "not known" in out
    assert "None" not in out


def test_the_real_command(checkout: Path) -> None:
    command = [sys.executable, "-m", "weightshare", "split", "20", "60", "--injured", "right", "--json"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=checkout, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["share_percent"] == 75.0
