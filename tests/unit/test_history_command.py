"""`weightshare calibrate certificate` and `history`, as a user runs them, and what is told of bad input."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.unit.benches import Plate, make_record
from weightshare.cli import main
from weightshare.metrology.evaluate import evaluate
from weightshare.model import Calibration
from weightshare.records.bench import keep_calibration
from weightshare.records.calibration import write_calibration
from weightshare.records.drift import Entry, append_entry
from weightshare.records.place import calibration_folder

ID = "0011223344556677"
OTHER = "00112233445566aa"
AT = datetime(2025, 11, 2, 10, 15, tzinfo=UTC)


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of one's own calibrations, with two of one scale and its log."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    folder = calibration_folder()
    assert tmp_path in folder.parents
    for year, slope in enumerate((0.00125, 0.001255)):
        record = make_record(Plate((slope, 0.00124), scatter_N=[0.03 * math.sin(7.0 * i) for i in range(60)]))
        found, at = evaluate(record), AT + timedelta(days=365 * year)
        calibration = Calibration(ID, at.date(), found.channels, date(2027, 11, 2), 9.81, found.worth)
        keep_calibration(calibration, record, found, "the workshop", at=at)
    for week in range(3):
        append_entry(ID, Entry(AT + timedelta(days=7 * week), "session", AT.date(), 0.5 * week, 0.0))
    return folder


def test_the_history_is_told(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calibrate", "history"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"scale {ID}"
    assert [line.split()[0] for line in lines[2:4]] == ["2025-11-02", "2026-11-02"]
    (changed,) = [line for line in lines if line.startswith("2025-11-02    2026-11-02           0")]
    assert changed.split()[3].startswith("+0.4")
    assert changed.endswith("more than by chance")
    assert lines[-1] == "drift log: 3 entries"


def test_the_history_as_json(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (own / "history" / ID / "x.json").write_text("{")
    assert main(["calibrate", "history", "--all", "--json"]) == 0
    told = json.loads(capsys.readouterr().out, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))
    assert told["schema"] == "weightshare.history/1"
    (scale,) = told["scales"]
    assert [one["made_on"] for one in scale["calibrations"]] == ["2025-11-02", "2026-11-02"]
    assert [one["on_bench"] for one in scale["calibrations"]] == [True, True]
    change = scale["changes"][0]
    assert change["slope_percent"] == pytest.approx(0.4, abs=change["half_width_percent"])
    assert change["beyond_doubt"] is True
    assert scale["log_entries"] == 3
    (words,) = scale["passed_over"]
    assert words.startswith(str(own / "history" / ID / "x.json"))


@pytest.mark.parametrize("name", ["d.svg", "d.pdf", "D.SVG"])
def test_the_history_is_drawn(own: Path, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / name
    assert main(["calibrate", "history", "--device", ID.upper(), "--plot", str(path)]) == 0
    assert capsys.readouterr().err == f"written: {path}\n"
    assert path.read_bytes()[:5] == (b"%PDF-" if name == "d.pdf" else b"<?xml")


def test_the_certificate_is_printed_without_pictures(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calibrate", "certificate"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("# Calibration record\n")
    assert "2026-11-02" in said
    assert "![" not in said


def test_the_certificate_is_written(own: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = own / "history" / ID / "2025-11-02T10-15-00.json"
    paper, text = tmp_path / "c.pdf", tmp_path / "c.md"
    assert main(["calibrate", "certificate", str(old), "--to", str(paper), "--paper", "letter"]) == 0
    assert main(["calibrate", "certificate", "--device", ID, "--to", str(text)]) == 0
    assert paper.read_bytes().startswith(b"%PDF-")
    assert "2026-11-02" in text.read_text(encoding="utf-8")
    assert (tmp_path / "c-residuals-left.svg").exists()
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["certificate", "nowhere.json"], "nowhere.json: there is no such file"),
        (["certificate", "--device", "12"], f"--device 12: nothing is kept of this scale; kept here: {ID}"),
        (["certificate", "x.json", "--device", ID], "give a calibration FILE or --device, not both"),
        (["certificate", "a.md", "--to", "a.md"], "--to a.md: this is the calibration itself; choose another name"),
        (["certificate", "--to", "x.json"], "has to end in .pdf or .md"),
        (["certificate", "--to", "no/such/folder/x.pdf"], "there is no folder"),
        (["history", "--device", "12"], "--device 12: nothing is kept of this scale"),
        (["history", "--all", "--plot", "x.svg"], "--plot draws one scale"),
        (["history", "--plot", "x.png"], "has to end in .svg or .pdf"),
    ],
)
def test_bad_input_is_one_line(
    own: Path,
    arguments: list[str],
    words: str,
    *,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.rglob("*"))
    assert main(["calibrate", *arguments]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert words in told.err
    assert sorted(tmp_path.rglob("*")) == before


def test_an_altered_calibration_makes_no_certificate(
    own: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = own / f"{ID}.json"
    path.write_text(path.read_text().replace("the workshop", "the Workshop"))
    assert main(["calibrate", "certificate", "--to", str(tmp_path / "c.pdf")]) == 2
    assert "the file was altered" in capsys.readouterr().err
    assert not (tmp_path / "c.pdf").exists()


def test_two_scales_have_to_be_named(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = evaluate(make_record(Plate()))
    calibration = Calibration(OTHER, date(2026, 11, 2), found.channels)
    write_calibration(own / f"{OTHER}.json", calibration)
    assert main(["calibrate", "certificate"]) == 2
    assert f"name a scale with --device; kept here: {ID}, {OTHER}" in capsys.readouterr().err
    assert main(["calibrate", "history", "--device", OTHER, "--plot", "x.svg"]) == 2
    assert "nothing to draw yet" in capsys.readouterr().err


def test_nothing_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert main(["calibrate", "history", "--all"]) == 0
    folder = tmp_path / "weightshare" / "calibrations"
    words = f"no scale has a calibration here yet ({folder}); make one with `weightshare calibrate run`\n"
    assert capsys.readouterr().out == words
    for way in ("history", "certificate"):
        assert main(["calibrate", way]) == 2
        assert capsys.readouterr().err == f"weightshare: {words}"


def test_without_a_way_the_ways_are_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calibrate"]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "run, fit, check, certificate or history" in told


def test_paper_is_loaded_only_when_it_is_written() -> None:
    script = "import sys, weightshare.report.pdf, weightshare.report.letter; print('reportlab' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout == "False\n"
