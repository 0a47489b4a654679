"""`weightshare practise --headless` as a user runs it: a process of its own, real sockets, real exit statuses."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from weightshare.records.manifest import Ending, verify
from weightshare.records.session import analyse_session, appraise_session

TIMEOUT_S = 60.0


class Command:
    """Runs the program with the tests' calibration and a place of its own."""

    def __init__(self, place: Path, calibration: Path) -> None:
        self.place = place
        self.calibration = calibration
        self.running: list[subprocess.Popen[str]] = []

    def start(self, *arguments: str, **kwargs: Any) -> subprocess.Popen[str]:
        command = [sys.executable, "-W", "error", "-m", "weightshare", "practise", "--headless", *arguments]
        streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        self.running.append(subprocess.Popen(command, text=True, **streams | kwargs))
        return self.running[-1]

    def run(self, *arguments: str, **kwargs: Any) -> subprocess.CompletedProcess[str]:
        process = self.start(*arguments, **kwargs)
        out, told = process.communicate(timeout=TIMEOUT_S)
        return subprocess.CompletedProcess(process.args, process.returncode, out, told)

    def practise(self, source: str, *arguments: str, **kwargs: Any) -> subprocess.CompletedProcess[str]:
        return self.run(*self.on(source), *arguments, **kwargs)

    def on(self, source: str) -> list[str]:
        right = ["--injured", "right", "--target", "75", "--save", str(self.place)]
        return ["--source", source, "--calibration", str(self.calibration), *right]


@pytest.fixture
def command(tmp_path: Path, tiny_calibration: Path) -> Iterator[Command]:
    made = Command(tmp_path / "place", tiny_calibration)
    yield made
    for process in made.running:
        process.kill()
        process.communicate(timeout=20)


def test_a_session_ends_with_one_json_object_and_its_place(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=10)
    done = command.practise(host.source, "--seconds", "12", "--json")
    assert done.returncode == 0
    analysis = json.loads(done.stdout)
    assert done.stdout.count("\n") == 1
    assert analysis["schema"] == "weightshare.analysis/1"
    assert analysis["share_percent"]["mean"] == pytest.approx(75.0, abs=0.2)
    assert analysis["duration_s"] == pytest.approx(12.0, abs=1.0)
    (folder,) = command.place.iterdir()
    told = done.stderr.splitlines()
    assert told[-1] == f"saved: {folder}"
    (asks,) = [line for line in told if "calibrate check" in line]
    assert asks.endswith(f"weightshare calibrate check --source {host.source}"), "nobody is asked to shift there"
    words = [line.split(maxsplit=2)[-1] for line in told[:-1] if line != asks]
    assert words == ["taking zero", "nobody on the scales", "warm-up stand: weighing", "in the band"] or words[1:] == [
        "nobody on the scales",
        "warm-up stand: weighing",
        "in the band",
    ]
    verify(folder)
    assert appraise_session(folder).to_json() == analysis


def test_a_session_without_json_ends_with_a_table(
    tiny_pty: Callable[..., Any], stand: Callable[..., Any], command: Command
) -> None:
    host = tiny_pty(stand(2.0, 20.0, 60.0), speed=5)
    done = command.practise(host.source, "--seconds", "9", "--hold-goal", "2", "--holds", "1")
    assert done.returncode == 0
    assert "share of the injured side" in done.stdout
    assert re.search(r"mean 75\.0\d \+- 0\.\d\d %", done.stdout)


def heed_ctrl_c() -> None:
    # a shell lets what it runs in the background ignore Ctrl-C, and so would this test's program there
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is sent as a signal here")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_ctrl_c_ends_and_saves_the_session(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command, wait_until: Any, number: signal.Signals
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=5)
    process = command.start(*command.on(host.source), "--json", preexec_fn=heed_ctrl_c)
    host.scale.wait_for(0x82, timeout_s=TIMEOUT_S)
    wait_until(lambda: host.scale.frames_sent > 120, within_s=TIMEOUT_S)
    process.send_signal(number)
    out, told = process.communicate(timeout=TIMEOUT_S)
    assert process.returncode == 130
    assert json.loads(out)["share_percent"]["mean"] == pytest.approx(75.0, abs=1.0)
    assert "Traceback" not in told
    (folder,) = command.place.iterdir()
    verify(folder)
    assert host.scale.heard[-1][0] == 0x83


def test_nothing_is_kept_where_that_is_wished(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command, tmp_path: Path
) -> None:
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=20)
    arguments = [
        "--calibration",
        str(command.calibration),
        "--injured",
        "right",
        "--no-save",
        "--seconds",
        "5",
        "--json",
    ]
    env = os.environ | {"XDG_DATA_HOME": str(tmp_path / "data")}
    done = command.run("--source", host.source, *arguments, env=env)
    assert done.returncode == 0
    assert json.loads(done.stdout)["samples"] > 200
    assert "saved" not in done.stderr
    assert not (tmp_path / "data").exists()


def test_the_default_place_is_the_users_own(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command, tmp_path: Path
) -> None:
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=20)
    arguments = ["--calibration", str(command.calibration), "--injured", "right", "--seconds", "5", "--json"]
    env = os.environ | {"XDG_DATA_HOME": str(tmp_path / "data")}
    done = command.run("--source", host.source, *arguments, env=env)
    assert done.returncode == 0
    if sys.platform.startswith("linux"):
        (folder,) = (tmp_path / "data" / "weightshare" / "sessions").iterdir()
        assert done.stderr.endswith(f"saved: {folder}\n")


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX's")
def test_a_disk_that_fills_up_is_told_and_practice_goes_on(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command
) -> None:
    import resource

    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (6000, 6000))

    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=10)
    done = command.practise(host.source, "--seconds", "12", "--json", preexec_fn=limit)
    assert done.returncode == 3
    assert json.loads(done.stdout)["duration_s"] == pytest.approx(12.0, abs=1.0)
    assert done.stderr.count("nothing is recorded any more (File too large)") == 1
    (folder,) = command.place.iterdir()
    assert done.stderr.endswith(f"saved in part: {folder}\n")
    assert verify(folder).ending is Ending.CUT_SHORT
    part = analyse_session(folder)
    assert 50 < part.samples < json.loads(done.stdout)["samples"]
    assert "recording stopped before the session did" in part.warnings[-1]


def test_a_place_that_cannot_be_written_to_is_told_and_practice_goes_on(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], command: Command
) -> None:
    command.place.write_text("a file stands here")
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=10)
    done = command.practise(host.source, "--seconds", "6", "--json")
    assert done.returncode == 3
    assert json.loads(done.stdout)["samples"] > 300
    assert done.stderr.count("nothing is recorded any more") == 1
    assert done.stderr.endswith("not saved\n")


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are POSIX's")
def test_in_a_terminal_one_line_is_written_over(command: Command) -> None:
    far, near = os.openpty()
    try:
        process = command.start("--seconds", "2", "--no-save", stderr=near)
        os.close(near)
        near = -1
        shown = b""
        with pytest.raises(OSError):
            while True:
                shown += os.read(far, 4096)
        assert process.wait(TIMEOUT_S) == 0
    finally:
        os.close(far)
        if near >= 0:
            os.close(near)
    drawn = shown.decode().split("\r\x1b[K")
    assert len(drawn) > 5
    assert any(line.startswith("taking zero") for line in drawn)
    assert all("\n" not in line for line in drawn[:-1])
