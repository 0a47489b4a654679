"""Looks at what is around the machine, for `weightshare selfcheck`: what it draws with, sound, ports, Bluetooth."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from weightshare.cli.machine import Check, Probe, probe
from weightshare.window.display import names_display

OFFSCREEN_LIBRARIES: Mapping[str, str] = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libxkbcommon.so.0": "libxkbcommon0",
}
"""What Qt loads even without a screen, and the Debian package that has it."""

WINDOW_LIBRARIES: Mapping[str, str] = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""What Qt loads besides for a window on X; the message it gives names libxcb-cursor0 whichever of them is missing."""

_QT_TRIAL = """
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication
app = QApplication([])
print(app.platformName(), len(QFontDatabase.families()))
"""

_SOUND_TRIAL = """
import sounddevice
print(sounddevice.query_devices(kind="output")["name"])
"""

_AIR_TRIAL = """
from weightshare.scales.air.search import look
print(look())
"""


def check_drawing() -> Iterator[Check]:
    """Yield whether Qt can draw without a screen, and whether there are letters to draw with."""
    trial = probe(_QT_TRIAL, QT_QPA_PLATFORM="offscreen")
    if not trial.ok:
        yield Check("drawing", True, False, f"Qt does not start: {trial.reason}", _mend(trial, OFFSCREEN_LIBRARIES))
        return
    fonts = int(trial.output.split()[-1])
    yield Check("drawing", True, True, "Qt starts without a screen")
    mend = "" if fonts else "install a font (Debian: apt-get install fonts-dejavu-core)"
    yield Check("fonts", True, fonts > 0, f"{fonts} families", mend)


def check_display(environment: Mapping[str, str] = os.environ) -> Check:
    """Say whether a window can be opened here; not needed, since practice also runs in the terminal."""
    if not names_display(environment):
        mend = "start it on a desktop; without one, use weightshare practise --headless"
        return Check("display", False, False, "none (neither DISPLAY nor WAYLAND_DISPLAY is set)", mend)
    trial = try_window()
    if trial.ok:
        return Check("display", False, True, f"Qt opens windows through {trial.output.split()[0]}")
    return Check("display", False, False, f"Qt opens no window: {trial.reason}", _mend(trial, WINDOW_LIBRARIES))


def try_window() -> Probe:
    """Start Qt in another process on the display that the system names."""
    return probe(_QT_TRIAL)


def missing_libraries(libraries: Mapping[str, str]) -> list[str]:
    """Return the Debian packages of those `libraries` (file name -> package) that cannot be loaded on this Linux."""
    if not sys.platform.startswith("linux"):
        return []
    return [package for library, package in libraries.items() if not _loads(library)]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _mend(trial: Probe, libraries: Mapping[str, str]) -> str:
    if trial.reason.startswith("ModuleNotFoundError"):
        return "see the packages above"
    missing = missing_libraries(libraries)
    if missing:
        return "install what Debian calls " + " ".join(missing)
    return "set QT_DEBUG_PLUGINS=1 and start again: Qt then says what it could not load"


def check_sound() -> Check:
    """Say whether there is a sound output; not needed: practice then is silent."""
    trial = probe(_SOUND_TRIAL)
    if trial.ok:
        return Check("sound", False, True, trial.output.strip())
    mend = "practice will be silent; for sound, plug in a speaker"
    if missing_libraries({"libportaudio.so.2": "libportaudio2"}):
        mend += " and install what Debian calls libportaudio2"
    return Check("sound", False, False, trial.reason, mend)


def check_bluetooth() -> Check:
    """Say whether scales can be looked for by Bluetooth; not needed: a scale may be on a cable."""
    trial = probe(_AIR_TRIAL)
    words = trial.output.strip() if trial.ok else trial.reason
    if not words:
        return Check("Bluetooth", False, True, "scales can be looked for")
    found, _, mend = words.partition("; ")
    return Check("Bluetooth", False, False, found, mend)


def check_serial() -> Check:
    """Say whether the serial ports of this machine may be opened; not needed: a scale may be on the network."""
    try:
        from serial.tools.list_ports import comports
    except ImportError:
        return Check("serial ports", False, False, "cannot be listed: pyserial is missing", "see the packages above")
    ports = sorted(port.device for port in comports())
    closed = [port for port in ports if not _may_open(port)]
    if closed:
        mend = f"let your user open it (Debian: adduser YOUR-NAME {_group(closed[0])}, then log in again)"
        return Check("serial ports", False, False, f"no permission for {', '.join(closed)}", mend)
    return Check("serial ports", False, True, ", ".join(ports) or "none plugged in")


def _may_open(port: str) -> bool:
    return sys.platform == "win32" or os.access(port, os.R_OK | os.W_OK)


def _group(port: str) -> str:
    try:
        return Path(port).group()
    except (OSError, KeyError, NotImplementedError):
        return "dialout"
