"""The window on a real X server: it opens, a session runs behind it, Ctrl-C closes it and the session is kept."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from weightshare.cli import peripheral

pytestmark = pytest.mark.skipif(shutil.which("Xvfb") is None, reason="needs Xvfb")

WITHIN_S = 60.0


@pytest.fixture
def display() -> Iterator[str]:
    """A virtual screen of its own, by the name that X gave it."""
    read, write = os.pipe()
    command = ["Xvfb", "-displayfd", str(write), "-screen", "0", "1366x768x24", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=(write,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(write)
    with os.fdopen(read, encoding="ascii") as told:
        number = told.readline().strip()  # X writes it as soon as it listens; an empty line is its end
    assert number, "Xvfb did not start"
    yield f":{number}"
    server.terminate()
    server.wait(WITHIN_S)


def wait_until(true: Callable[[], bool], process: subprocess.Popen[str]) -> None:
    """Wait for a condition as long as `process` lives, and no longer than the bound."""
    until = time.monotonic() + WITHIN_S
    while not true():
        assert process.poll() is None, process.stderr.read() if process.stderr else ""
        assert time.monotonic() < until, "it did not come in time"
        time.sleep(0.05)


def test_the_window_opens_and_leaves_a_whole_session_behind(display: str, tmp_path: Path) -> None:
    environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    environment |= {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    environment.pop("WAYLAND_DISPLAY", None)
    # on the virtual scales at once: the bare command asks a newcomer first which scales there are
    command = [sys.executable, "-m", "weightshare", "practise"]
    program = subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True)
    try:
        wait_until(lambda: any(record.stat().st_size > 10_000 for record in tmp_path.rglob("raw.wsr")), program)
        program.send_signal(signal.SIGINT)
        _, said = program.communicate(timeout=WITHIN_S)
    finally:
        program.kill()
        program.wait(WITHIN_S)
    assert program.returncode == 130, said
    assert "Traceback" not in said
    assert list(tmp_path.rglob("manifest.json")), "the session was not finished"


def test_selfcheck_finds_the_display(display: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", display)
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    check = peripheral.check_display()
    assert check.ok, check.found
    assert check.found == "Qt opens windows through xcb"
