"""The window's entry: with and without a display, and interrupted."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from weightshare.errors import DeviceError
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.window.app import DEFAULT_SOURCE, default_options, open_window

PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from weightshare.window.app import application, open_window
application()
QTimer.singleShot(1500, lambda: print("open", flush=True))
sys.exit(open_window(None))
"""


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="there is always a display")
def test_no_display_is_said_with_what_to_do_instead(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    with pytest.raises(DeviceError, match="--headless"):
        open_window(None)


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="displays are named otherwise there")
@pytest.mark.parametrize("named", [{"DISPLAY": ":7977"}, {"QT_QPA_PLATFORM": "nonsense"}])
def test_a_display_that_cannot_be_opened_takes_one_line(named: dict[str, str], tmp_path: Path) -> None:
    """Qt aborted, with status 134 and six lines of its own."""
    kept = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    kept.pop("QT_QPA_PLATFORM", None)
    command = [sys.executable, "-m", "weightshare"]
    environment = kept | named | {"XDG_DATA_HOME": str(tmp_path)}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (3, "", 1)
    assert "weightshare practise --headless" in done.stderr


def test_a_newcomer_meets_virtual_scales_and_a_target() -> None:
    options = default_options()
    assert options.sources == (DEFAULT_SOURCE,) and DEFAULT_SOURCE.startswith("rig:")
    assert options.settings.injured in Side and options.settings.target_percent == 75.0


def test_a_newcomers_holds_are_holds_and_no_repetitions_are_looked_for() -> None:
    """The exercise was left open, and each lean to the side was then a lift that was not counted."""
    assert default_options().settings.exercise is Exercise.HOLD


@pytest.mark.skipif(sys.platform == "win32", reason="interrupts are sent otherwise there")
def test_an_interrupt_closes_the_window_in_order(tmp_path: Path) -> None:
    """Exit status 130, nothing on stderr, and the session's folder is not left half-written."""
    places = {name: str(tmp_path / name) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    environment = os.environ | places | {"QT_QPA_PLATFORM": "offscreen"}
    with subprocess.Popen(
        [sys.executable, "-c", PROGRAM], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
    ) as program:
        assert program.stdout is not None and program.stderr is not None
        assert program.stdout.readline() == "open\n"
        program.send_signal(signal.SIGINT)
        assert program.wait(30) == 130
        said = [line for line in program.stderr if "propagateSizeHints" not in line]
    assert not said
    kept = list((tmp_path / "XDG_DATA_HOME").rglob("session-*/raw*"))
    sealed = list((tmp_path / "XDG_DATA_HOME").rglob("session-*/manifest*"))
    assert len(kept) == len(sealed) <= 1
