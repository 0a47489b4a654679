"""C3D files of sessions, written by a process of its own: whatever happens there, this one can say it in a line."""

from __future__ import annotations

import errno
import json
import os
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from weightshare import __version__
from weightshare.errors import InputError, RecordError
from weightshare.records.c3d.process import run_child
from weightshare.records.export.column import Column, Kind, Table
from weightshare.records.export.dictionary import Filed
from weightshare.records.export.folder import Folder
from weightshare.records.export.lab import Recording, Size, make_recording
from weightshare.records.export.saved import SavedSession, named
from weightshare.records.whole import naming

TIME_LIMIT_S = 120.0
MEND = 'python -m pip install "ezc3d>=1.5"'
_BLOCK = 512
COMMAND = (sys.executable, "-m", "weightshare.records.export.child")


def write_recordings(
    sessions: Iterable[SavedSession], folder: Folder, size: Size | None, notes: list[str]
) -> list[Filed]:
    """Write a C3D file of each session into `folder`; return what was filed. notes: takes what a reader has to know.

    Raises InputError where the library is missing, RecordError where a session cannot be written so, and OSError.
    """
    if find_spec("ezc3d") is None:
        raise InputError(f"writing C3D needs a package that is not installed: {MEND}")
    filed = []
    for stamp, session in named(sessions):
        name = f"session-{stamp}.c3d"
        recording = make_recording(session.trace, session.channels, session.content, size, str(session.folder))
        write_recording(replace(recording, is_virtual=session.origin.is_virtual), folder.place / name)
        folder.keep(name)
        filed.append(Filed(_channels(recording), (name,), recording.analog.shape[1]))
        notes += _notes(recording, name)
    return filed


def _notes(recording: Recording, name: str) -> list[str]:
    found = []
    if recording.left_out:
        found.append(f"{name}: {recording.left_out} events had no room: the phases of repetitions are in the tables")
    if recording.off_ms > 0.5:
        found.append(f"{name}: C3D knows an even rate alone: times are off by up to {recording.off_ms:.1f} ms")
    if not recording.corners_mm.any():
        found.append(f"{name}: has no corners: --plates-mm WIDTH,DEPTH,GAP tells how large the plates are")
    return found


def _channels(recording: Recording) -> Table:
    """Return the analog channels as a table, for the data dictionary."""
    told = zip(recording.labels, recording.units, recording.meanings, strict=True)
    columns = tuple(Column(label, f"{words}{f', {unit}' if unit else ''}", Kind.NUMBER) for label, unit, words in told)
    return Table("channels", "analog channels; one row a sample at an even rate, four-byte numbers", columns)


def write_recording(recording: Recording, path: Path, command: Iterable[str] = COMMAND) -> None:
    """Write `recording` to the C3D file `path`. Raises RecordError, and OSError where the disk is full."""
    head = {
        "rate_Hz": recording.rate_Hz,
        "frame_samples": recording.frame_samples,
        "labels": recording.labels,
        "units": recording.units,
        "meanings": recording.meanings,
        "events": [(one.time_s, one.label, one.context) for one in recording.events],
        "virtual": recording.is_virtual,
        "program": "weightshare",
        "version": __version__,
    }
    data = np.frombuffer(json.dumps(head).encode(), dtype=np.uint8)
    with tempfile.TemporaryDirectory(prefix="weightshare-") as place:
        given = Path(place) / "recording.npz"
        with naming(given):
            np.savez(given, head=data, analog=recording.analog, corners=recording.corners_mm)
        trouble = run_child([*command, str(given), str(path)], TIME_LIMIT_S, "writer")
    if trouble or not path.exists():
        raise RecordError(f"{path.name}: this C3D file cannot be written: {trouble or 'nothing came of it'}")
    if not _is_whole(path, recording.analog.size):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))


def _is_whole(path: Path, values: int) -> bool:
    """Return whether all of the file `path` is there: its library says nothing where a disk took a part of it.

    Word 9 of the header is the block of 512 bytes, from 1 on, in which the data begin, after header and parameters (C3D
    user guide, header); the library fills it in last. The data are `values` four-byte numbers.
    """
    with path.open("rb") as file:
        first = int.from_bytes(file.read(_BLOCK)[16:18], "little")
    return first > 2 and path.stat().st_size >= (first - 1) * _BLOCK + 4 * values
