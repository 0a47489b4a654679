"""Files that are there whole or not at all, and that only their owner may read.

Where a disk is full the system says so of no file by name; here each error names the file that was asked for.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
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
    with naming(path):
        try:
            with new_file(part) as file:
                write_all(file, data)
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    sync_folder(path.parent)


@contextlib.contextmanager
def new_file(path: Path) -> Iterator[FileIO]:
    """Hand out the new file `path` for `write_all`, readable by its owner only, synced at the end; where that fails it
    is gone. Raises OSError, which names it."""
    try:
        with open_private(path) as file:
            yield file
            with naming(path):
                os.fsync(file.fileno())
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def open_private(path: Path) -> FileIO:
    """Open `path` anew for writing bytes, unbuffered, readable by its owner only. Raises OSError."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)
    return FileIO(str(path), "wb", opener=lambda name, _flags: os.open(name, flags, FILE_MODE))


def write_all(file: FileIO, data: bytes) -> None:
    """Write all of `data`: a disk that is nearly full takes a part first, and fails on the rest.

    Raises OSError, which names the file where it was opened by its name.
    """
    view = memoryview(data)
    try:
        while view:
            view = view[file.write(view) :]
    except OSError as error:
        name = file.name if isinstance(file.name, str) else None
        raise OSError(error.errno, error.strerror, name) from error


@contextlib.contextmanager
def naming(path: Path, part: Path | None = None) -> Iterator[None]:
    """Have an OSError that names no file name `path`; one of `part` (a file or a folder; else what lies beside `path`
    with .part after its name) names what would have come of it: nobody knows of that."""
    part = part or path.with_name(path.name + ".part")
    try:
        yield
    except OSError as error:
        name = str(path) if error.filename is None else str(error.filename)
        if name == str(part) or name.startswith(f"{part}{os.sep}"):
            name = f"{path}{name[len(str(part)) :]}"
        if name == error.filename:
            raise
        raise OSError(error.errno, error.strerror or str(error), name) from error


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
