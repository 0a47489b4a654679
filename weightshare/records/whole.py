"""Files that are there whole or not at all, and that only their owner may read."""

from __future__ import annotations

import os
from io import FileIO
from pathlib import Path

FOLDER_MODE = 0o700
FILE_MODE = 0o600


def make_folder(folder: Path) -> None:
    """Make `folder` and what is above it; the folder itself only for its owner. Raises OSError."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    folder.mkdir(mode=FOLDER_MODE)


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` to `path` so that a reader, or a power cut, meets the old file or the new one. Raises OSError."""
    part = path.with_name(path.name + ".part")
    try:
        with open_private(part) as file:
            write_all(file, data)
            os.fsync(file.fileno())
        part.replace(path)
    except OSError:
        part.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def open_private(path: Path) -> FileIO:
    """Open `path` anew for writing bytes, unbuffered, readable by its owner only. Raises OSError."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)
    return FileIO(os.open(path, flags, FILE_MODE), "wb")


def write_all(file: FileIO, data: bytes) -> None:
    """Write all of `data`: a disk that is nearly full takes a part first, and fails on the rest. Raises OSError."""
    view = memoryview(data)
    while view:
        view = view[file.write(view) :]


def sync_file(path: Path) -> None:
    """Make what another program part wrote to `path` last through a power cut. Raises OSError."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def sync_folder(folder: Path) -> None:
    """Make new names in `folder` last through a power cut, where the system can (Windows cannot open a folder)."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        return
    finally:
        os.close(handle)
