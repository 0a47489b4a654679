"""Reads a C3D file in a process of its own: whatever happens there, this one goes on and can say it in a line."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from weightshare.errors import InputError, RecordError
from weightshare.records.c3d.raw import RawC3d, read_raw

READERS = ("ezc3d", "c3d")
"""In the order in which they are tried: the one is quick, and may crash on other writers' files; the other is not."""
TIME_LIMIT_S = 120.0
MOST_BYTES = 1_000_000_000
MEND = 'python -m pip install "ezc3d>=1.5" "c3d>=0.5"'


def read_c3d(path: Path, readers: Sequence[Sequence[str]] | None = None, time_limit_s: float = TIME_LIMIT_S) -> RawC3d:
    """Return what the C3D file `path` holds of force platforms and markers.

    readers: commands that take the file and where to write to, one tried after another; those installed unless told.
    Raises RecordError where none of them can read it, InputError where none is installed.
    """
    _look_at(path)
    commands = installed_readers() if readers is None else readers
    if not commands:
        raise InputError(f"{path}: reading C3D needs a package that is not installed: {MEND}")
    said = []
    with tempfile.TemporaryDirectory(prefix="weightshare-") as place:
        for number, command in enumerate(commands):
            out = Path(place) / f"{number}.npz"
            trouble = run_child([*command, str(path), str(out)], time_limit_s)
            if not trouble and out.exists():
                return read_raw(out, str(path))
            said.append(trouble or "nothing came of it")
    raise RecordError(f"{path}: this C3D file cannot be read: {'; and then '.join(dict.fromkeys(said))}")


def installed_readers() -> list[list[str]]:
    """Return the commands of the readers that are installed."""
    there = [name for name in READERS if find_spec(name) is not None]
    return [[sys.executable, "-m", "weightshare.records.c3d.child", name] for name in there]


def _look_at(path: Path) -> None:
    """Raise RecordError for what is no C3D file at first sight: its second byte is 80 (C3D user guide, header)."""
    try:
        with path.open("rb") as file:
            head = file.read(512)
            size = os.fstat(file.fileno()).st_size
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    if len(head) < 512 or head[1] != 0x50:
        raise RecordError(f"{path}: this is no C3D file")
    if size > MOST_BYTES:
        raise RecordError(f"{path}: {size / 1e9:.1f} GB is more than is read; cut the recording down to what is needed")


def run_child(command: Sequence[str], time_limit_s: float, what: str = "reader") -> str:
    """Run a reader, or what `what` says; return what went wrong in words, empty where nothing did."""
    try:
        done = subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            # threads of linear algebra would each reserve memory, of which there is a bound
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            timeout=time_limit_s,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return f"its {what} did not end within {time_limit_s:g} s"
    except OSError as error:
        return f"its {what} cannot be started ({error.strerror or error})"
    lines = done.stderr.decode(errors="replace").split("\n")
    said = [line.strip() for line in lines if line.strip()]
    if done.returncode == 1 and said:
        return said[-1]
    return "" if done.returncode == 0 else f"its {what} ended abruptly, as on a damaged file"
