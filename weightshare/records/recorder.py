"""Writes a session down as it happens: a thread and a queue of its own, served before anything is computed."""

from __future__ import annotations

import contextlib
import errno
import os
import threading
import time
from collections.abc import Callable
from datetime import datetime
from io import FileIO
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Protocol

from weightshare.model import Calibration
from weightshare.records.calibration import CALIBRATION_NAMES, write_calibration
from weightshare.records.lock import FolderLock
from weightshare.records.raw import RAW_NAME
from weightshare.records.setting import SessionHead, write_head
from weightshare.records.whole import make_folder, open_private, sync_folder
from weightshare.scales.capture import RawWriter
from weightshare.scales.link import Tap

SYNC_S = 1.0
_MOST_A_SECOND = 100
"""Sessions that may begin in one second in one place."""


class Recording(Tap, Protocol):
    """Where a session is written down, or not."""

    folder: Path | None
    trouble: str
    """What is being lost, in words; empty while all is written."""

    def start(self) -> None:
        """Begin."""

    def tap(self, source: int) -> Tap:
        """Return where that goes which goes over the link to `source`."""

    def note(self, arrival_ns: int, text: str) -> None:
        """Write a remark between the bytes."""

    def keep_calibration(self, calibration: Calibration, source: int = 0) -> None:
        """Lay the calibration that is used for `source` beside the record."""

    def keep_head(self, head: SessionHead) -> None:
        """Write the settings anew."""

    def close(self, arrival_ns: int, timeout_s: float) -> bool:
        """Write what is left and the end mark; return whether that was done in time."""

    def release(self) -> None:
        """Give the folder free for others."""


class Unrecorded:
    """Writes nothing down: the user wished so."""

    folder: Path | None = None
    trouble = ""

    def start(self) -> None:
        """Do nothing."""

    def tap(self, source: int) -> Tap:
        """Return this: nothing of any source is kept."""
        return self

    def up(self, arrival_ns: int) -> None:
        """Do nothing."""

    def down(self, arrival_ns: int, reason: str) -> None:
        """Do nothing."""

    def received(self, arrival_ns: int, data: bytes) -> None:
        """Do nothing."""

    def sent(self, arrival_ns: int, data: bytes) -> None:
        """Do nothing."""

    def note(self, arrival_ns: int, text: str) -> None:
        """Do nothing."""

    def keep_calibration(self, calibration: Calibration, source: int = 0) -> None:
        """Do nothing."""

    def keep_head(self, head: SessionHead) -> None:
        """Do nothing."""

    def close(self, arrival_ns: int, timeout_s: float) -> bool:
        """Return True: nothing is left."""
        return True

    def release(self) -> None:
        """Do nothing."""


class Recorder:
    """Takes everything that goes over a link, and writes it to a new session's folder under `parent`.

    Its methods may be called from any thread and never wait for the disk. Where the disk fails, `trouble` says so in
    words and nothing more is written; the session goes on.
    """

    def __init__(self, parent: Path, head: SessionHead, started_at: datetime) -> None:
        self.folder: Path | None = None
        self.trouble = ""
        """What is being lost, in words; empty while all is written."""
        self._parent = parent
        self._head = head
        self._stamp = started_at.strftime("%Y-%m-%d-%H%M%S")
        self._queue: SimpleQueue[Callable[[RawWriter], object] | None] = SimpleQueue()
        self._lock: FolderLock | None = None
        self._file: FileIO | None = None
        self._raw: RawWriter | None = None
        self._synced_s = time.monotonic()
        self._thread = threading.Thread(target=self._run, name="recorder", daemon=True)

    def start(self) -> None:
        """Make the folder and begin to write. A folder that cannot be made is a trouble, not an error."""
        try:
            self._open()
        except OSError as error:
            self._fail(error)
            self._withdraw()
        self._thread.start()

    def _open(self) -> None:
        self.folder = _make_session_folder(self._parent, self._stamp)
        self._lock = FolderLock(self.folder)
        self._lock.take()
        write_head(self.folder, self._head)
        self._file = open_private(self.folder / RAW_NAME)
        self._raw = RawWriter(self._file)

    def _withdraw(self) -> None:
        """Leave nothing half begun."""
        folder, self.folder = self.folder, None
        self._close_file()
        self.release()
        if folder is not None:
            with contextlib.suppress(OSError):
                for path in folder.iterdir():
                    path.unlink()
                folder.rmdir()

    # Tap: called from a link's thread.

    def up(self, arrival_ns: int, source: int = 0) -> None:
        """The stream was opened."""
        self._queue.put(lambda raw: raw.up(arrival_ns, source))

    def down(self, arrival_ns: int, reason: str, source: int = 0) -> None:
        """The stream was lost or closed."""
        self._queue.put(lambda raw: raw.down(arrival_ns, reason, source))

    def received(self, arrival_ns: int, data: bytes, source: int = 0) -> None:
        """Bytes came from the scale."""
        self._queue.put(lambda raw: raw.received(arrival_ns, data, source))

    def sent(self, arrival_ns: int, data: bytes, source: int = 0) -> None:
        """Bytes went to the scale."""
        self._queue.put(lambda raw: raw.sent(arrival_ns, data, source))

    def tap(self, source: int) -> Tap:
        """Return where that goes which goes over the link to `source`."""
        return _SourceTap(self, source)

    def note(self, arrival_ns: int, text: str) -> None:
        """Write a remark between the bytes."""
        self._queue.put(lambda raw: raw.note(arrival_ns, text))

    def keep_calibration(self, calibration: Calibration, source: int = 0) -> None:
        """Lay the calibration that is used for `source` beside the record."""
        self._lay(lambda folder: write_calibration(folder / CALIBRATION_NAMES[source], calibration))

    def keep_head(self, head: SessionHead) -> None:
        """Write the settings anew."""
        self._lay(lambda folder: write_head(folder, head))

    def close(self, arrival_ns: int, timeout_s: float) -> bool:
        """Write what is left and the end mark; return whether that was done in time. The folder stays locked."""
        self._queue.put(lambda raw: raw.end(arrival_ns))
        self._queue.put(None)
        if self._thread.ident is not None:
            self._thread.join(timeout_s)
        return not self._thread.is_alive()

    def release(self) -> None:
        """Give the folder free for others."""
        if self._lock is not None:
            self._lock.release()

    def _lay(self, write: Callable[[Path], None]) -> None:
        """Write a file beside the record, in its turn."""

        def lay(_raw: RawWriter) -> None:
            if self.folder is not None:
                write(self.folder)

        self._queue.put(lay)

    def _run(self) -> None:
        try:
            while self._write_next():
                if time.monotonic() - self._synced_s >= SYNC_S:
                    self._guard(self._sync)
        except Exception:
            self.trouble = f"{self.folder}: nothing is recorded any more; the program failed inside"
            raise
        finally:
            self._close_file()

    def _write_next(self) -> bool:
        try:
            task = self._queue.get(timeout=SYNC_S / 4)
        except Empty:
            return True
        if task is None:
            return False
        self._guard(lambda: self._raw and task(self._raw))
        return True

    def _guard(self, task: Callable[[], object]) -> None:
        """Do `task`, unless the disk has failed already; where it fails now, remember that."""
        if self.trouble:
            return
        try:
            task()
        except OSError as error:
            self._fail(error)

    def _sync(self) -> None:
        self._synced_s = time.monotonic()
        if self._raw is not None:
            self._raw.sync()

    def _close_file(self) -> None:
        file, self._file = self._file, None
        if file is None:
            return
        try:
            if not self.trouble:
                os.fsync(file.fileno())
        except OSError as error:
            self._fail(error)
        finally:
            file.close()

    def _fail(self, error: OSError) -> None:
        where = self.folder or self._parent
        self.trouble = f"{where}: nothing is recorded any more ({error.strerror or error}); {_mend(error)}"


class _SourceTap:
    """The tap of one of two links."""

    def __init__(self, recorder: Recorder, source: int) -> None:
        self._recorder, self._source = recorder, source

    def up(self, arrival_ns: int) -> None:
        """The stream was opened."""
        self._recorder.up(arrival_ns, self._source)

    def down(self, arrival_ns: int, reason: str) -> None:
        """The stream was lost or closed."""
        self._recorder.down(arrival_ns, reason, self._source)

    def received(self, arrival_ns: int, data: bytes) -> None:
        """Bytes came from the scale."""
        self._recorder.received(arrival_ns, data, self._source)

    def sent(self, arrival_ns: int, data: bytes) -> None:
        """Bytes went to the scale."""
        self._recorder.sent(arrival_ns, data, self._source)


def _make_session_folder(parent: Path, stamp: str) -> Path:
    """Make and return a folder of its own for a session that begins at `stamp`. Raises OSError."""
    if parent.exists() and not parent.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, "this is a file, not a folder")
    for number in range(1, _MOST_A_SECOND):
        folder = parent / (f"session-{stamp}" if number == 1 else f"session-{stamp}-{number}")
        with contextlib.suppress(FileExistsError):
            make_folder(folder)
            sync_folder(parent)
            return folder
    raise FileExistsError(errno.EEXIST, "too many sessions began in one second")


def _mend(error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return "free some space on that disk"
    return "choose a folder that can be written to with --save DIR"
