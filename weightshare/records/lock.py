"""A lock that a living process holds on a session's folder, and that dies with it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from weightshare.records.whole import FILE_MODE

LOCK_NAME = "open.lock"


class FolderLock:
    """Held from `take` to `release`, or to the end of the process however it ends."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / LOCK_NAME
        self._handle: int | None = None

    def take(self) -> bool:
        """Take the lock; return whether it was free. Raises OSError where the folder cannot be written to."""
        handle = os.open(self.path, os.O_RDWR | os.O_CREAT, FILE_MODE)
        if not hold(handle):
            os.close(handle)
            return False
        self._handle = handle
        return True

    def release(self) -> None:
        """Give the lock back and remove its file; doing so twice is nothing."""
        handle, self._handle = self._handle, None
        if handle is None:
            return
        # Windows removes no open file; elsewhere, removing first leaves no moment in which another takes a dead name.
        if sys.platform != "win32":
            self.path.unlink(missing_ok=True)
        os.close(handle)
        if sys.platform == "win32":
            self.path.unlink(missing_ok=True)


def is_held(folder: Path) -> bool:
    """Return whether a living process holds the lock on `folder`."""
    return is_file_held(folder / LOCK_NAME)


def is_file_held(path: Path) -> bool:
    """Return whether a living process holds the lock on the file at `path`."""
    try:
        handle = os.open(path, os.O_RDWR)
    except OSError:
        return False
    try:
        return not hold(handle)
    finally:
        os.close(handle)


def hold(handle: int) -> bool:
    """Take the system's lock on an open file, which goes with that; return whether it was free."""
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
