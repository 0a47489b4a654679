"""`weightshare decode`, as a user runs it: the table, the report, and what is told of a bad file."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from weightshare.cli import main
from weightshare.model import NO_READING, Channel, Condition, Identity, Quantity, Side
from weightshare.scales.capture import RawWriter
from weightshare.scales.frame import Echo, Ping, close_body, encode, encode_samples, to_stream

ROOT = Path(__file__).parents[2]
SCALE = Identity(
    "0011223344556677",
    (1, 2, 3),
    5,
    1_000_000,
    80.0,
    (
        Channel(Quantity.FORCE, Side.LEFT, 0, 140),
        Channel(Quantity.HEEL_HEIGHT, Side.RIGHT, 0, -90),
        Channel(Quantity.TEMPERATURE, None),
    ),
    "plates",
)
STEP = 12_500
LATE = 2**32 - 2 * STEP
"""A tick from which two rows go before ticks wrap."""


def samples(sequence: int, tick: int, first: int = 0, channels: int = 3) -> bytes:
    readings = first + np.arange(2 * channels, dtype=np.int32).reshape(2, channels)
    readings[1, 1] = NO_READING
    return to_stream(encode_samples(sequence, tick, STEP, readings))


def told(*messages: Identity | Condition | Echo | Ping) -> bytes:
    return b"".join(to_stream(encode(message)) for message in messages)


def write(path: Path, data: bytes) -> str:
    path.write_bytes(data)
    return str(path)


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(["decode", *arguments])
    shown = capsys.readouterr()
    return status, shown.out, shown.err


def report_of(capsys: pytest.CaptureFixture[str], path: str) -> dict[str, Any]:
    status, out, err = run(capsys, path, "--report", "--json")
    assert (status, err) == (0, "")
    report: dict[str, Any] = json.loads(out)
    return report


def test_readings_become_a_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write(tmp_path / "bare", told(SCALE) + samples(65535, LATE) + samples(0, 0, first=100))
    status, out, err = run(capsys, path)
    assert (status, err) == (0, "")
    assert out == (
        "time_s,tick,sequence,force_left_0,heel_height_right_1,temperature_unassigned_2\n"
        f"0.000000,{LATE},65535,0,1,2\n"
        f"0.012500,{LATE + STEP},65535,3,,5\n"
        "0.025000,0,0,100,101,102\n"
        "0.037500,12500,0,103,,105\n"
    )


def test_a_table_goes_on_over_conditions_and_gaps(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    stream = told(SCALE) + samples(0, 0) + told(Condition(1, 2, 3.0, 4, 5)) + samples(9, 18 * STEP)
    _, out, _ = run(capsys, write(tmp_path / "bare", stream))
    rows = list(csv.DictReader(StringIO(out)))
    assert [row["time_s"] for row in rows] == ["0.000000", "0.012500", "0.225000", "0.237500"]
    assert [row["sequence"] for row in rows] == ["0", "0", "9", "9"]


def test_time_begins_anew_where_the_scale_restarted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    again = replace(SCALE, boot_count=6)
    path = write(tmp_path / "bare", told(SCALE) + samples(0, LATE) + told(again) + samples(0, 500))
    status, out, err = run(capsys, path)
    assert status == 0
    assert [row["time_s"] for row in csv.DictReader(StringIO(out))] == ["0.000000", "0.012500"] * 2
    assert err == f"weightshare: {path}: the scale restarted, and time_s begins anew there\n"


def test_other_channels_bring_a_new_header(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    smaller = replace(SCALE, channels=SCALE.channels[:2])
    stream = told(SCALE) + samples(0, 0) + told(smaller) + samples(1, 2 * STEP, channels=2)
    _, out, _ = run(capsys, write(tmp_path / "bare", stream))
    lines = out.splitlines()
    assert lines[0].endswith("temperature_unassigned_2")
    assert lines[3] == "time_s,tick,sequence,force_left_0,heel_height_right_1"
    assert lines[4] == "0.025000,25000,1,0,1"


def write_session(path: Path) -> Path:
    with RawWriter(path) as raw:
        raw.up(1_000_000_000)
        raw.sent(1_000_000_001, told(Ping(1)))
        raw.received(1_500_000_000, told(SCALE) + samples(0, 0) + samples(1, 2 * STEP)[:-5])
        raw.down(2_000_000_000, "unplugged")
        raw.up(3_000_000_000)
        raw.received(3_500_000_000, told(SCALE, Echo(1, 2)) + samples(4, 8 * STEP) + b"\0noise\0")
        raw.received(4_000_000_000, samples(7, 14 * STEP), source=1)
        raw.end(5_000_000_000)
    return path


def test_the_report_counts_what_came_and_what_did_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_session(tmp_path / "raw")
    report = report_of(capsys, str(path))
    first, second = report.pop("sources")
    assert report == {
        "schema": "weightshare.decode/1",
        "capture": str(path),
        "form": "raw record",
        "complete": True,
        "damage": None,
    }
    assert first["scale"]["device_id"] == "0011223344556677"
    assert first["scale"]["channels"] == 3
    assert first["frames"] == {"identity": 2, "samples": 2, "condition": 0, "reply": 0, "echo": 1}
    assert {name: count for name, count in first["dropped"].items() if count} == {"damaged": 2}
    assert (first["gaps"], first["lost_frames"], first["restarts"], first["empty"]) == (0, 0, 0, 1)
    assert (first["links_opened"], first["links_closed"]) == (2, 1)
    assert (first["samples"], first["missing_readings"]) == (4, 2)
    assert first["duration_s"] == 10 * STEP / 1e6
    assert first["host_duration_s"] == 2.5
    assert second["scale"] is None
    assert second["dropped"]["before_identity"] == 1


def test_the_report_counts_lost_frames_and_restarts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    again = replace(SCALE, boot_count=6)
    stream = told(SCALE) + samples(65534, 0) + samples(1, 6 * STEP) + told(again) + samples(0, 10**9)
    report = report_of(capsys, write(tmp_path / "bare", stream + samples(1, 10**9 + 2 * STEP)[:20]))
    assert (report["form"], report["complete"]) == ("bare bytes", None)
    (source,) = report["sources"]
    assert (source["gaps"], source["lost_frames"], source["restarts"]) == (1, 2, 1)
    assert source["dropped"]["damaged"] == 1  # the frame that was cut at the end
    assert source["duration_s"] == (8 + 2) * STEP / 1e6
    assert source["host_duration_s"] is None


def test_the_report_can_be_read_by_a_person(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_session(tmp_path / "raw")
    status, out, err = run(capsys, str(path), "--report")
    assert (status, err) == (0, "")
    lines = {line[:28].strip(): line[28:] for line in out.splitlines()}
    assert lines["capture"] == str(path)
    assert lines["form"] == "raw record, complete"
    assert lines["scale 0"] == "plates 0011223344556677, 3 channels, 80 Hz"
    assert lines["scale 1"] == "never says who it is"
    assert "dropped, damaged or cut     2" in out
    assert "gaps                        none" in out
    assert "SAMPLES frames              2" in out
    assert "duration                    0.125 s by its ticks, 2.500 s on the host" in out


def test_one_source_can_be_chosen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with RawWriter(tmp_path / "raw") as raw:
        for source in (0, 1):
            raw.up(source, source)
            raw.received(10 + source, told(SCALE) + samples(source, source), source)
        raw.end(20)
    path = str(tmp_path / "raw")
    for arguments, number in (([path], "0"), ([path, "--source", "1"], "1")):
        status, out, err = run(capsys, *arguments)
        assert status == 0
        assert [row["sequence"] for row in csv.DictReader(StringIO(out))] == [number, number]
        assert ("--source chooses another" in err) == (number == "0")
    status, out, err = run(capsys, path, "--source", "2")
    assert (status, out) == (2, "")
    assert err == f"weightshare: --source 2 is not in {path}: it may be 0, 1\n"


def test_damage_is_reported_and_is_no_failure(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_session(tmp_path / "raw")
    data = bytearray(path.read_bytes())
    second_link = bytes(data).rindex(told(Echo(1, 2)))
    data[second_link] ^= 0x10
    path.write_bytes(data)
    status, out, err = run(capsys, str(path))
    assert status == 0
    assert len(out.splitlines()) == 3
    assert err.count("\n") == 1
    assert err.startswith(f"weightshare: {path}: the record was altered at byte ")
    report = report_of(capsys, str(path))
    assert report["complete"] is False
    assert "altered at byte" in report["damage"]
    _, out, _ = run(capsys, str(path), "--report")
    assert "damage                      the record was altered at byte" in out


def test_a_record_that_was_cut_is_read_as_far_as_it_goes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_session(tmp_path / "raw")
    path.write_bytes(path.read_bytes()[:-40])
    status, out, err = run(capsys, str(path), "--source", "0")
    assert (status, err) == (0, f"weightshare: {path}: the record was cut\n")
    assert len(out.splitlines()) == 5
    assert report_of(capsys, str(path))["complete"] is False


@pytest.mark.parametrize("options", [[], ["--report"], ["--json"]])
@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "cannot be read (No such file or directory)"),
        (b"", "not one valid frame of a scale was found (it is empty)"),
        (b"\0\0\0", "not one valid frame of a scale was found (3 bytes, 0 damaged frames)"),
        (b"time_s,left_N\n0,1\n" * 9, "not one valid frame of a scale was found (162 bytes, 1 damaged frames)"),
        (bytes(range(256)) * 40, "not one valid frame of a scale was found (10240 bytes, 40 damaged frames)"),
        (b"weightshare raw record 7\n", "another version of this program"),
    ],
)
def test_what_is_no_capture_is_told_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None, words: str, options: list[str]
) -> None:
    path = tmp_path / "no-capture"
    if content is not None:
        path.write_bytes(content)
    status, out, err = run(capsys, str(path), *options)
    assert (status, out) == (2, "")
    assert words in err
    assert str(path) in err
    assert err.count("\n") == 1


def test_a_folder_is_no_capture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, str(tmp_path))
    assert (status, out) == (2, "")
    assert err == f"weightshare: {tmp_path}: is a folder; name the capture in it\n"


@pytest.mark.parametrize(
    ("stream", "words", "shown"),
    [
        (samples(0, 0), "never says who it is", "never says who it is"),
        (to_stream(close_body(b"\x01\x02 of tomorrow")) + samples(0, 0), "speaks protocol version 2", "version 2"),
    ],
)
def test_readings_of_nobody_known_are_not_guessed_at(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], stream: bytes, words: str, shown: str
) -> None:
    path = write(tmp_path / "bare", stream)
    status, out, err = run(capsys, path)
    assert (status, out) == (2, "")
    assert words in err
    assert "--report counts what came" in err
    status, out, err = run(capsys, path, "--report")
    assert (status, err) == (0, "")
    assert shown in out
    assert "before IDENTITY    1" in out


def test_many_readings_keep_their_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rng = np.random.default_rng(5)
    readings = rng.integers(-(2**31), 2**31, (40, 2, 3), dtype=np.int32)
    frames = [encode_samples(number, number * 2 * STEP, STEP, rows) for number, rows in enumerate(readings)]
    _, out, _ = run(capsys, write(tmp_path / "bare", told(SCALE) + b"".join(map(to_stream, frames))))
    rows = [list(map(int, line.split(",")[3:])) for line in out.splitlines()[1:]]
    np.testing.assert_array_equal(np.array(rows), readings.reshape(-1, 3))


def test_a_reader_that_leaves_ends_the_command_quietly(tmp_path: Path) -> None:
    stream = told(SCALE) + b"".join(samples(number, number * 2 * STEP) for number in range(20_000))
    path = write(tmp_path / "bare", stream)
    command = [sys.executable, "-c", "import sys; from weightshare.cli import main; sys.exit(main())", "decode", path]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.readline().startswith(b"time_s")
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=60) == 0
