"""`weightshare readings` over a real pseudo-terminal, with a scale that has nothing of the program's frames in it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from weightshare.cli import main, readings


def sawtooth(sample: int) -> tuple[int, int]:
    return 1000 + sample % 4, -500


def test_a_scale_without_a_calibration_is_read_channel_by_channel(
    tiny_pty: Callable[..., Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    host, record = tiny_pty(sawtooth), tmp_path / "bench.wsr"
    assert main(["readings", "--source", host.source, "--seconds", "2", "--record", str(record), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    left, right = found["channels"]
    assert (found["schema"], found["device_id"], found["boot_count"]) == (
        "weightshare.readings/1",
        "0011223344556677",
        5,
    )
    assert found["samples"] >= 160 and found["frames_lost"] == found["link_lost"] == 0
    assert left["mean"] == pytest.approx(1001.5, abs=1e-9) and (left["least"], left["greatest"]) == (1000, 1003)
    assert (right["mean"], right["sd"], right["side"]) == (-500, 0, "right")
    assert found["rate_Hz"] == pytest.approx(80.0, rel=0.1)
    assert main(["decode", str(record), "--report", "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert report["complete"] and report["sources"][0]["samples"] >= found["samples"]


def test_each_second_has_its_line_and_all_of_it_its_table(
    tiny_pty: Callable[..., Any], capsys: pytest.CaptureFixture[str]
) -> None:
    host = tiny_pty(lambda sample: (10 * (sample // 80), 0))
    assert main(["readings", "--source", host.source, "--seconds", "2"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == 'scale 0011223344556677 "tiny", firmware 1.2.3, boot count 5'
    seconds = [line.split() for line in lines if line.startswith(("    1 s", "    2 s"))]
    assert [float(words[2]) for words in seconds] == [0.0, 10.0]
    assert lines[-1] == "frames lost on the way 0, samples lost on the scale 0, link lost 0, restarts 0"


def test_a_record_is_played_back_to_its_end(
    tiny_pty: Callable[..., Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "short.wsr"
    assert main(["readings", "--source", tiny_pty(sawtooth).source, "--seconds", "1", "--record", str(record)]) == 0
    capsys.readouterr()
    assert main(["readings", "--source", f"file:{record}", "--seconds", "60", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["samples"] >= 80 and found["channels"][0]["mean"] == 1001.5 and found["link_lost"] == 0


def test_a_scale_that_says_nothing_is_a_device_failure(
    tiny_pty: Callable[..., Any], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(readings, "PATIENCE_S", 1.0)
    host = tiny_pty(sawtooth)
    host.scale.mute = True
    assert main(["readings", "--source", host.source]) == 3
    said = capsys.readouterr()
    assert said.out == "" and len(said.err.splitlines()) == 1 and host.port in said.err


def test_a_record_that_is_there_is_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = tmp_path / "kept.wsr"
    kept.write_bytes(b"of yesterday")
    assert main(["readings", "--record", str(kept)]) == 2
    assert kept.read_bytes() == b"of yesterday" and "kept.wsr" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["--seconds", "0"], ["--seconds", "nan"], ["--source", "nonsense"]])
def test_what_cannot_be_is_one_line(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readings", *words]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
