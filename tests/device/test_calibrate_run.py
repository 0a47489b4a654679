"""`weightshare calibrate run` as a user runs it: a process of its own, on the rig's bench, much faster than time."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

TIMEOUT_S = 90.0
BENCH, SLOWER = "rig:bench,speed=50,rate=10", "rig:bench,speed=15,rate=10"
BODY_N = 712.0
"""What the steady person of the rig weighs."""
SHORT = ("--masses", "10,20", "--side", "left", "--brief", "--drift-seconds", "5", "--creep-minutes", "0.4")


def command(*arguments: str) -> subprocess.Popen[str]:
    """Start the program."""
    line = [sys.executable, "-W", "error", "-m", "weightshare", *arguments]
    return subprocess.Popen(line, text=True, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def start(*arguments: str) -> subprocess.Popen[str]:
    """Start the command."""
    return command("calibrate", "run", *arguments)


def run(*arguments: str) -> tuple[int, str, str]:
    """Return the exit status, what it printed, and what it told."""
    return finish(start(*arguments))


def finish(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    """Return the exit status, what it printed, and what it told."""
    out, told = process.communicate(timeout=TIMEOUT_S)
    return process.returncode, out, told


def test_it_says_what_to_lay_where_and_prints_what_came_of_it(tmp_path: Path) -> None:
    # each step is told, where it lasts long enough for a busy computer to see it
    status, out, told = run("--source", SLOWER, *SHORT, "--folder", str(tmp_path), "--made-by", "somebody")
    assert status == 0, told
    assert "Lay the 10 kg mass on the middle of the LEFT plate" in told
    assert "Move the 10 kg mass to the rear right quarter of the LEFT plate" in told
    assert told.rstrip().endswith(f"written: {tmp_path}/5053000000000001.json")
    for words in ("95 % interval", "% of range", "R 76 III", "lower limit factor", "for information", "no approval"):
        assert words in out
    assert json.loads((tmp_path / "5053000000000001.json").read_text())["made_by"] == "somebody"


def test_json_is_one_object_and_the_one_before_is_kept(tmp_path: Path) -> None:
    arguments = ("--source", BENCH, *SHORT, "--folder", str(tmp_path), "--json", "--latitude", "52.5", "--height", "40")
    first: dict[str, Any] = json.loads(run(*arguments)[1])
    second: dict[str, Any] = json.loads(run(*arguments)[1])
    assert first["schema"] == "weightshare.bench/1"
    assert first["kept"] is None
    assert first["calibration"]["gravity_m_s2"] == pytest.approx(9.8127, abs=2e-4)
    assert {figure["name"] for figure in first["figures"]} >= {"slope", "hysteresis", "corner error", "creep"}
    assert Path(second["kept"]).exists()
    assert second["place"] == first["place"]


def test_ctrl_c_writes_nothing(tmp_path: Path) -> None:
    process = start("--source", "rig:bench", *SHORT, "--folder", str(tmp_path))
    assert process.stderr is not None
    assert process.stderr.readline().startswith("1/")
    process.send_signal(signal.SIGINT)
    _out, told = process.communicate(timeout=TIMEOUT_S)
    assert process.returncode == 130, told
    assert "Traceback" not in told
    assert list(tmp_path.glob("*.json")) == []


@pytest.mark.soak
def test_what_a_refused_practice_says_is_done_and_then_it_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Calibrate and practise on the same hidden cells, one after the other; hands make room for the person."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    source = "rig:steady,cells=hidden,seed=6"
    practice = ("--source", source, "--headless", "--injured", "left", "--seconds", "9", "--json")
    status, _out, told = finish(command("practise", *practice))
    assert status == 3
    assert f"weightshare calibrate run --source {source}" in told
    both = ("--masses", "10,20", "--brief", "--drift-seconds", "5", "--creep-minutes", "0.4")
    status, _out, told = run("--source", f"{source},rate=10,speed=50", *both)
    assert status == 0, told
    assert "virtual hands lay the masses on" in told
    status, out, told = finish(command("practise", *practice))
    assert status == 0, told
    # what stands there weighs what the cells were calibrated to show
    assert json.loads(out)["body_weight_N"] == pytest.approx(BODY_N, rel=0.005)


def test_the_plate_that_was_left_out_is_said_to_be_of_the_earlier_calibration(tmp_path: Path) -> None:
    status, out, told = run("--source", BENCH, *SHORT, "--folder", str(tmp_path))
    assert status == 0, told
    words = "Not calibrated this time: channels 2 and 3, as found by the earlier calibration of 2026-01-01."
    assert words in told and words in out
    assert [line.split("|")[2].strip() for line in out.splitlines() if line.startswith(("| 2 |", "| 3 |"))] == [
        "earlier",
        "earlier",
    ]


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (("--source", BENCH, "--masses", "10"), 2, "too few"),
        (("--source", BENCH, "--masses", "10;20"), 2, "is no mass in kg"),
        (("--source", BENCH, "--masses", "10,-20"), 2, "is no mass in kg"),
        (("--source", BENCH, "--masses", "98,196"), 2, "are they told in the right unit"),
        (("--source", "rig:steady,sed=3", "--masses", "10,20"), 2, "is no wish"),
        (("--source", "rig:nobody", "--masses", "10,20"), 2, "nobody"),
        (("--source", BENCH, "--masses", "10000,10000"), 2, "were they grams?"),
        (
            ("--source", BENCH, "--masses", "10,20", "--mass-class", "M1", "--mass-uncertainty", "0.1"),
            2,
            "--mass-uncertainty: not allowed with argument --mass-class",
        ),
        (("--source", BENCH, "--masses", "10,20", "--height", "40"), 2, "--height needs --latitude"),
        (("--source", BENCH, "--masses", "10,20", "--latitude", "95"), 2, "latitude"),
        (("--source", BENCH, "--masses", "10,20", "--valid-days", "0"), 2, "--valid-days"),
        (("--source", BENCH, "--masses", "10,20", "--mass-uncertainty", "-1"), 2, "--mass-uncertainty"),
    ],
)
def test_what_cannot_be_done_is_one_line(arguments: tuple[str, ...], status: int, words: str, tmp_path: Path) -> None:
    code, out, told = run(*arguments, "--folder", str(tmp_path))
    assert (code, out) == (status, "")
    assert words in told
    assert len(told.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []
