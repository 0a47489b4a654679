"""Looks at the machine, check by check, for `weightshare selfcheck`: Python, packages, disk, clock and text.

What might crash (a graphics library, a broken wheel) is tried in a process of its own, so that it can be told.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

PYTHONS = ((3, 11), (3, 13))
PROBE_TIMEOUT_S = 60.0
NEEDED_FREE_BYTES = 200_000_000
"""An hour of raw record of four channels at 80 Hz is under 10 MB; this leaves room for many."""

BUILT_YEAR = 2026
"""A clock that shows an earlier year is wrong: sessions would be misdated, and calibrations look valid."""

IMPORT_NAMES = {"pyserial": "serial", "PySide6-Essentials": "PySide6.QtCore", "dbus-fast": "dbus_fast"}
"""What a package is imported as, where that is not its own name."""
_PLATFORM = re.compile(r"sys_platform == ['\"](\w+)['\"]")


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at. `mend` is empty where nothing needs mending."""

    name: str
    needed: bool
    ok: bool
    found: str
    mend: str = ""


@dataclass(frozen=True, slots=True)
class Probe:
    """How a trial in another process went: its output, and where it failed the reason in one line."""

    ok: bool
    output: str
    reason: str = ""


def all_checks() -> Iterator[Check]:
    """Yield every check, in the order in which a person would mend them."""
    from weightshare.cli import peripheral

    yield check_python()
    yield from check_packages()
    yield from peripheral.check_drawing()
    yield peripheral.check_display()
    yield peripheral.check_sound()
    yield peripheral.check_serial()
    yield peripheral.check_bluetooth()
    yield from check_laboratory()
    yield check_folder()
    yield check_clock(time.time())
    yield check_encoding(sys.stdout.encoding or "")


def probe(code: str, **environment: str) -> Probe:
    """Run Python `code` in a process of its own with `environment` added; never raises."""
    try:
        done = subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, **environment},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            errors="replace",
            timeout=PROBE_TIMEOUT_S,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        return Probe(False, "", str(error))
    said = [line.strip() for line in done.stderr.splitlines() if line.strip()]
    reason = said[-1] if said else f"it ended with status {done.returncode}"
    return Probe(done.returncode == 0, done.stdout, "" if done.returncode == 0 else reason)


def check_python(version: tuple[int, int, int] | None = None) -> Check:
    """Say whether `version` (this Python's where none is given) is one that the package is made for."""
    major, minor, micro = version or sys.version_info[:3]
    low, high = (".".join(map(str, pair)) for pair in PYTHONS)
    fits = PYTHONS[0] <= (major, minor) <= PYTHONS[1]
    mend = "" if fits else f"install a Python from {low} to {high} and make the virtual environment with it"
    return Check("Python", True, fits, f"{major}.{minor}.{micro}", mend)


def check_packages() -> Iterator[Check]:
    """Yield one check for each package that weightshare needs: there, of a fitting version, and importable."""
    wanted = requirements()
    if not wanted:
        yield Check("packages", True, False, "weightshare is not installed", "python -m pip install .")
        return
    trial = probe(_IMPORT_TRIAL.format(names=[IMPORT_NAMES.get(name, name) for name in wanted]))
    told = dict(line.split(" ", 1) for line in trial.output.splitlines() if " " in line)
    for name, bounds in wanted.items():
        yield check_package(name, bounds, told.get(IMPORT_NAMES.get(name, name), trial.reason or "not tried"))


_IMPORT_TRIAL = """
import importlib
for name in {names}:
    try:
        importlib.import_module(name)
    except BaseException as error:
        print(name, str(error).splitlines()[0] if str(error) else type(error).__name__, flush=True)
    else:
        print(name, "imported", flush=True)
"""


def requirements() -> dict[str, str]:
    """Return the packages that weightshare needs here, by name, with their bounds: `numpy` -> `>=1.26`."""
    try:
        lines = metadata.requires("weightshare") or []
    except metadata.PackageNotFoundError:
        return {}
    return needed_here(lines, sys.platform)


def needed_here(lines: Iterable[str], platform: str) -> dict[str, str]:
    """Return the packages of requirement `lines` that are needed on `platform`, with their bounds; no extras."""
    found = {}
    for line in lines:
        wanted, _, marker = line.partition(";")
        elsewhere = _PLATFORM.search(marker)
        if "extra ==" in marker or (elsewhere and elsewhere[1] != platform):
            continue
        cut = min((wanted.index(mark) for mark in "<>=!~" if mark in wanted), default=len(wanted))
        found[wanted[:cut].strip()] = wanted[cut:].strip()
    return found


def check_package(name: str, bounds: str, trial: str) -> Check:
    """Judge one package from its installed version, `bounds` such as `>=6.10,<6.12` and how importing it went."""
    try:
        version = metadata.version(name)
    except metadata.PackageNotFoundError:
        return Check(name, True, False, "not installed", f'python -m pip install "{name}{bounds}"')
    if not within(version, bounds):
        return Check(name, True, False, f"{version}, needs {bounds}", f'python -m pip install "{name}{bounds}"')
    # PortAudio is a system library, and practice goes on without sound: see check_sound
    needed = name != "sounddevice"
    if trial != "imported":
        mend = f'python -m pip install --force-reinstall "{name}{bounds}"' if needed else "see sound below"
        return Check(name, needed, False, f"{version}, {trial}", mend)
    return Check(name, needed, True, version)


def within(version: str, bounds: str) -> bool:
    """Tell whether `version` keeps to `bounds`, a list of >=, <= , <, >, == and != with plain numbers."""
    compare = {
        ">=": lambda a, b: a >= b,
        "<=": lambda a, b: a <= b,
        "==": lambda a, b: a == b,
        "!=": lambda a, b: a != b,
        ">": lambda a, b: a > b,
        "<": lambda a, b: a < b,
    }
    for bound in filter(None, bounds.split(";", maxsplit=1)[0].split(",")):
        mark = next(mark for mark in compare if bound.strip().startswith(mark))
        if not compare[mark](_numbers(version), _numbers(bound.strip()[len(mark) :])):
            return False
    return True


def _numbers(version: str) -> tuple[int, ...]:
    parts = [part for part in version.strip().split(".") if part.isdigit()]
    numbers = [int(part) for part in parts]
    while numbers and numbers[-1] == 0:  # 6.10 and 6.10.0 are the same version
        numbers.pop()
    return tuple(numbers)


LABORATORY = {
    "pylsl": ("laboratory streams", "1.18"),
    "ezc3d": ("C3D recordings", "1.5"),
    "c3d": ("other C3D files", "0.5"),
}
"""What the packages of the extras `lsl` and `c3d` are for, and from which version on."""


def check_laboratory() -> Iterator[Check]:
    """Yield one check for each package of a laboratory's; the program runs without them."""
    for package, (what, least) in LABORATORY.items():
        try:
            yield Check(what, False, True, f"{package} {metadata.version(package)}")
        except metadata.PackageNotFoundError:
            yield Check(
                what, False, False, f"{package} is not installed", f'python -m pip install "{package}>={least}"'
            )


def check_folder(folder: Path | None = None) -> Check:
    """Say whether sessions can be written to `folder` (or to where it will be made), and how much room is left."""
    from weightshare.records.place import session_place

    try:
        folder = folder or session_place()
    except ImportError:
        return Check("sessions", True, False, "not known where: platformdirs is missing", "see the packages above")
    place = next(parent for parent in (folder, *folder.parents) if parent.exists())
    try:
        with tempfile.TemporaryFile(dir=place):
            free = _free_bytes(place)
    except OSError as error:
        mend = f"make {place} writable for you, or name another folder with --save"
        return Check("sessions", True, False, f"{folder}: {error.strerror or error}", mend)
    room = f"{folder}, {free / 1e9:.1f} GB free"
    if free < NEEDED_FREE_BYTES:
        return Check("sessions", True, False, room, "make room on this disk, or name another folder with --save")
    return Check("sessions", True, True, room)


def _free_bytes(place: Path) -> int:
    import shutil

    return shutil.disk_usage(place).free


def check_clock(now_s: float) -> Check:
    """Say whether the wall clock (`now_s`, s since 1970) can be right: sessions are dated by it."""
    shown = time.strftime("%Y-%m-%d %H:%M %z", time.localtime(now_s))
    right = time.gmtime(now_s).tm_year >= BUILT_YEAR
    return Check("clock", True, right, shown, "" if right else "set the date: sessions are dated by it")


def check_encoding(encoding: str) -> Check:
    """Say whether the terminal takes every letter of a name (UTF-8); not needed."""
    full = encoding.lower().replace("-", "") == "utf8"
    mend = "" if full else "set PYTHONUTF8=1, else letters outside ASCII may be shown as ?"
    return Check("text", False, full, encoding or "unknown", mend)
