"""A board at its MicroPython prompt, through the package mpremote, which runs as a program of its own.

Its command line is what its authors keep stable. A board is never reset before its files are whole.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from weightshare.errors import DeviceError, OptionError
from weightshare.scales.board.carried import Carried

MEND = 'python -m pip install "mpremote>=1.24"'
OLDEST = (1, 22)
"""The oldest MicroPython that the firmware is written for."""
ASK_WITHIN_S = 20.0
COPY_WITHIN_S = 180.0
NEEDED = ("bluetooth", "machine", "micropython", "select", "struct", "binascii", "json")

_ASK = f"""
import sys
lacks = []
for name in {NEEDED!r}:
    try:
        __import__(name)
    except ImportError:
        lacks.append(name)
print("board:", sys.platform, sys.implementation.name, *sys.implementation.version[:2], *lacks)
"""
_BLANK = "put MicroPython on the board first, by its maker's way, or choose another --port"
_FOLDER = "import os\nif 'scale' not in os.listdir(): os.mkdir('scale')"


@dataclass(frozen=True, slots=True)
class Facts:
    """What a board at its prompt says of itself."""

    platform: str
    language: str
    version: tuple[int, int]
    lacks: tuple[str, ...]
    """Modules that the firmware may need, and this board's MicroPython does not have."""


def require_mpremote() -> None:
    """Raise OptionError where the package mpremote is not installed."""
    if find_spec("mpremote") is None:
        raise OptionError(f"putting firmware on a board needs a package that is not installed: {MEND}")


def ask_board(port: str) -> Facts:
    """Return what the board on `port` says of itself. Raises DeviceError where nobody is at a prompt there."""
    try:
        done = _run(port, ["exec", _ASK], ASK_WITHIN_S)
    except subprocess.TimeoutExpired as error:
        raise DeviceError(f"{port}: no MicroPython prompt answers there; {_BLANK}") from error
    words = [line.split() for line in done.stdout.splitlines() if line.startswith("board:")]
    if done.returncode or not words:
        raise DeviceError(f"{port}: no MicroPython prompt answers there ({_last_line(done)}); {_BLANK}")
    _, platform, language, major, minor, *lacks = words[0]
    return Facts(platform, language, (int(major), int(minor)), tuple(lacks))


def check_facts(port: str, facts: Facts, links: Sequence[str]) -> None:
    """Raise DeviceError where the firmware cannot run on such a board, and say what to do."""
    if facts.language != "micropython":
        raise DeviceError(f"{port}: the board runs {facts.language}, not MicroPython; put MicroPython on it first")
    if facts.version < OLDEST:
        has, needs = ".".join(map(str, facts.version)), ".".join(map(str, OLDEST))
        raise DeviceError(
            f"{port}: the board runs MicroPython {has}; the firmware needs {needs} or newer: update it first"
        )
    missing = [name for name in facts.lacks if name != "bluetooth" or "bluetooth" in links]
    if missing == ["bluetooth"]:
        raise DeviceError(f"{port}: the board has no Bluetooth; take another board, or leave it out: --links usb")
    if missing:
        raise DeviceError(
            f"{port}: the board's MicroPython lacks {', '.join(missing)}; take a build for this very board"
        )


def put_firmware(port: str, carried: Carried, settings: dict[str, Any]) -> None:
    """Copy firmware and settings; the file that starts it goes last. Raises DeviceError."""
    with tempfile.TemporaryDirectory(prefix="weightshare-flash-") as folder:
        written = Path(folder) / "settings.json"
        written.write_text(json.dumps(settings, indent=1) + "\n", encoding="utf-8")
        words = ["exec", _FOLDER, "+", "fs", "cp", *map(str, carried.modules), ":scale/"]
        words += ["+", "fs", "cp", str(written), ":settings.json", "+", "fs", "cp", str(carried.main), ":main.py"]
        done = _run(port, words, COPY_WITHIN_S)
    if done.returncode:
        raise DeviceError(
            f"{port}: the firmware could not be copied ({_last_line(done)}); check the cable and try again"
        )


def restart(port: str) -> None:
    """Have the board start again. Raises DeviceError."""
    _do(port, ["reset"], ASK_WITHIN_S, "the board did not restart")


def _run(port: str, words: Sequence[str], within_s: float) -> subprocess.CompletedProcess[str]:
    """Run mpremote. Raises subprocess.TimeoutExpired."""
    command = [sys.executable, "-m", "mpremote", "connect", port, "resume", *words]
    return subprocess.run(command, capture_output=True, text=True, timeout=within_s, check=False)


def _do(port: str, words: Sequence[str], within_s: float, trouble: str) -> None:
    """Run mpremote. Raises DeviceError, beginning with `trouble`, where it fails or takes longer."""
    try:
        done = _run(port, words, within_s)
    except subprocess.TimeoutExpired as error:
        raise DeviceError(f"{port}: {trouble} within {within_s:g} s; unplug it and try again") from error
    if done.returncode:
        raise DeviceError(f"{port}: {trouble} ({_last_line(done)}); check the cable and try again")


def _last_line(done: subprocess.CompletedProcess[str]) -> str:
    said = [line.strip() for line in (done.stdout + done.stderr).splitlines() if line.strip()]
    return said[-1].removeprefix("mpremote: ") if said else "it said nothing"
