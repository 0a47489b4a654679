"""A store on disk: its folder, its database, its transactions.

    store.sqlite3     who, which sessions, decisions, the trail; each row's content is one JSON object, sealed or not
    sessions/ID/      the files of a session, as they were recorded, sealed or not
    inbox/ID/         sessions of a patient that are being recorded

Files come first, then the row that speaks of them; on the way out the row goes first. So a program that is killed
leaves at worst files of which no row speaks, and those are swept away: what they were copied from is still there.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any, TypeAlias, TypeVar
from uuid import uuid4

from weightshare.errors import StoreError
from weightshare.records.store.cipher import Box, Plain, Sealed, check_passphrase, make_lock
from weightshare.records.store.latch import told, unlock
from weightshare.records.store.schema import APPLICATION_ID, DATABASE_NAME, WAIT_S, is_new, migrate
from weightshare.records.value import from_plain
from weightshare.records.whole import FILE_MODE, FOLDER_MODE, sync_folder

SESSIONS_NAME, INBOX_NAME = "sessions", "inbox"
_ID = re.compile(r"[0-9a-f]{32}")

Value = TypeVar("Value")
Tell: TypeAlias = Callable[[int, int], None]
"""Told of long work how much of it is done, and of how much."""


def quiet(_done: int, _of: int) -> None:
    """Tell nobody."""


class Store:
    """An open store. Has to be closed, or used with `with`; to be used from one thread.

    `who` stands in the trail; `clock` gives local time with its offset.
    """

    def __init__(
        self, place: Path, connection: sqlite3.Connection, box: Box, who: str, clock: Callable[[], datetime]
    ) -> None:
        self.place = place
        self.box = box
        self.who = who
        self.clock = clock
        self._connection = connection

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_error: object) -> None:
        self.close()

    def close(self) -> None:
        """Close it; doing so twice is nothing."""
        self._connection.close()

    @property
    def database(self) -> Path:
        """The database's file."""
        return self.place / DATABASE_NAME

    @property
    def ident(self) -> str:
        """Its id, which it has from its making: random digits that tell nothing. Raises StoreError."""
        with self.reading() as db:
            (value,) = db.execute("SELECT value FROM setting WHERE name = 'id'").fetchone()
        return str(json.loads(value))

    @property
    def sessions(self) -> Path:
        """Where the files of sessions lie, a folder each."""
        return self.place / SESSIONS_NAME

    @property
    def connection(self) -> sqlite3.Connection:
        """The database, for reading, and for writing within `writing`."""
        return self._connection

    @contextlib.contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Hand out the database for reading. Raises StoreError where it is damaged or locked."""
        with told(self.database):
            yield self._connection

    @contextlib.contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Hand out the database for one change, which is made whole or not at all. Raises StoreError as `reading`."""
        with told(self.database):
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield self._connection
                self._connection.execute("COMMIT")
            except BaseException:
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise

    def seal(self, value: object, about: str) -> bytes:
        """Return plain values as a row keeps them; `about` is the row's table and id."""
        return self.box.seal(json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode(), about)

    def open(self, body: bytes, about: str) -> Any:
        """Return the plain values of a row. Raises StoreError where they were altered."""
        try:
            return json.loads(self.box.open(body, about))
        except (StoreError, ValueError) as error:
            raise StoreError(f"{self.database}: {about} was altered; restore a backup") from error

    def read(self, kind: type[Value], body: bytes, about: str) -> Value:
        """Return the frozen value of class `kind` that a row holds. Raises StoreError where it was altered."""
        try:
            return from_plain(kind, self.open(body, about))
        except (TypeError, ValueError) as error:
            raise StoreError(f"{self.database}: {about} cannot be read; restore a backup") from error

    def sweep(self) -> int:
        """Remove the files of which no row speaks; return how many folders that were."""
        if not self._strays():
            return 0
        with self.writing():
            # looked at again, now that nobody else can be bringing one in
            strays = self._strays()
            for folder in strays:
                shutil.rmtree(folder, ignore_errors=True)
        return len(strays)

    def _strays(self) -> list[Path]:
        with self.reading() as db:
            sessions = {name for (name,) in db.execute("SELECT id FROM session")}
            patients = {name for (name,) in db.execute("SELECT id FROM patient")}
        known = ((self.sessions, sessions), (self.place / INBOX_NAME, patients))
        return [folder for place, names in known for folder in _folders(place) if folder.name not in names]


def _folders(place: Path) -> list[Path]:
    """Return the folders that a store made in `place`: what else lies there is left alone."""
    return sorted(path for path in place.iterdir() if _ID.fullmatch(path.name)) if place.is_dir() else []


def is_store(place: Path) -> bool:
    """Return whether there is a store in `place`."""
    return (place / DATABASE_NAME).is_file()


def make_store(place: Path, who: str, clock: Callable[[], datetime], passphrase: str | None = None) -> Store:
    """Make a store in the folder `place`, sealed by `passphrase` where one is given, and return it open.

    Raises StoreError where there is one already, or the folder holds other things, and OSError.
    """
    if is_store(place):
        if _was_begun(place / DATABASE_NAME):
            raise StoreError(f"{place}: there is a store already")
    elif place.is_dir() and any(path.name not in (SESSIONS_NAME, INBOX_NAME) for path in place.iterdir()):
        raise StoreError(f"{place}: holds other files; choose a folder of its own for the store")
    if passphrase is not None:
        check_passphrase(passphrase)
    return _open(place, who, clock, passphrase, make=True)


def _was_begun(path: Path) -> bool:
    """Return whether the store was made to its end, or holds anything else. Raises StoreError where it is damaged."""
    with told(path), contextlib.closing(sqlite3.connect(path, timeout=WAIT_S)) as connection:
        if is_new(connection):
            return False
        (owner,) = connection.execute("PRAGMA application_id").fetchone()
        return bool(owner != APPLICATION_ID or connection.execute("SELECT 1 FROM setting").fetchone())


def open_store(place: Path, who: str, clock: Callable[[], datetime], passphrase: str | None = None) -> Store:
    """Open the store in `place`, bring it up to date, and sweep up what a killed program left.

    Raises StoreError where there is none, it is newer, another program's or damaged, or the passphrase is missing or
    wrong, and OSError.
    """
    if not is_store(place):
        raise StoreError(f"{place}: holds no store of patients; weightshare store make begins one")
    store = _open(place, who, clock, passphrase, make=False)
    try:
        store.sweep()
    except BaseException:
        store.close()
        raise
    return store


def _open(place: Path, who: str, clock: Callable[[], datetime], passphrase: str | None, *, make: bool) -> Store:
    path = place / DATABASE_NAME
    if make:
        _make_folders(place)
    _make_private(path)
    with told(path):
        connection = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
    try:
        with told(path):
            _prepare(connection, path)
            box = _begin(connection, clock, passphrase, path) if make else unlock(connection, passphrase, path)
    except BaseException:
        connection.close()
        raise
    return Store(place, connection, box, who, clock)


def _make_folders(place: Path) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    for folder in (place, place / SESSIONS_NAME, place / INBOX_NAME):
        folder.mkdir(mode=FOLDER_MODE, exist_ok=True)
    sync_folder(place.parent)


def _make_private(path: Path) -> None:
    """Have the database, and what SQLite lays beside it, be readable by its owner only. Raises OSError."""
    os.close(os.open(path, os.O_RDWR | os.O_CREAT, FILE_MODE))


def _prepare(connection: sqlite3.Connection, path: Path) -> None:
    connection.execute("PRAGMA foreign_keys = ON")
    # what is deleted is written over, not only forgotten
    connection.execute("PRAGMA secure_delete = ON")
    migrate(connection, str(path))
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")


def _begin(connection: sqlite3.Connection, clock: Callable[[], datetime], passphrase: str | None, path: Path) -> Box:
    """Write what a new store is, and return how it keeps bytes."""
    lock, key = (None, b"") if passphrase is None else make_lock(passphrase)
    settings = {"id": uuid4().hex, "made_at": clock().isoformat(timespec="seconds"), "lock": lock}
    connection.execute("BEGIN IMMEDIATE")
    rows = [(name, json.dumps(value)) for name, value in settings.items()]
    connection.executemany("INSERT INTO setting (name, value) VALUES (?, ?)", rows)
    connection.execute("COMMIT")
    sync_folder(path.parent)
    return Plain() if lock is None else Sealed(key)
