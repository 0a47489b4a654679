"""What stands before a store: its passphrase, and what SQLite says, in words."""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.errors import StoreError
from weightshare.records.store.cipher import Box, Plain, Sealed, check_passphrase, make_lock, open_lock
from weightshare.records.store.schema import APPLICATION_ID, DATABASE_NAME, WAIT_S, is_new

if TYPE_CHECKING:
    from weightshare.records.store.store import Store


@contextlib.contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what SQLite says into one line that names the database."""
    try:
        yield
    except sqlite3.OperationalError as error:
        if "locked" in str(error):
            raise StoreError(f"{path}: another program is writing to it; try again once it is done") from error
        if "full" in str(error):
            raise StoreError(f"{path}: the disk is full; free some space on it") from error
        raise StoreError(f"{path}: cannot be used ({error})") from error
    except sqlite3.DatabaseError as error:
        raise StoreError(f"{path}: is damaged or no store ({error}); restore a backup") from error


def read_lock(connection: sqlite3.Connection, path: Path) -> dict[str, Any] | None:
    """Return the lock of a store; None where it is not sealed. Raises StoreError where the store was not begun."""
    row = None if is_new(connection) else connection.execute("SELECT value FROM setting WHERE name = 'lock'").fetchone()
    if row is None:
        raise StoreError(f"{path}: the making of this store was cut short; weightshare store make finishes it")
    value = json.loads(row[0])
    return value if isinstance(value, dict) else None


def unlock(connection: sqlite3.Connection, passphrase: str | None, path: Path) -> Box:
    """Return how the store at `path` keeps bytes. Raises StoreError where its passphrase is missing or wrong."""
    lock = read_lock(connection, path)
    if lock is None:
        return Plain()
    if passphrase is None:
        raise StoreError(f"{path.parent}: this store is sealed; it takes its passphrase")
    try:
        return Sealed(open_lock(lock, passphrase))
    except StoreError as error:
        raise StoreError(f"{path.parent}: {error}") from error


def needs_passphrase(place: Path) -> bool:
    """Return whether the store in `place` is sealed; False where there is none. Raises StoreError for a damaged one."""
    path = place / DATABASE_NAME
    if not path.is_file():
        return False
    with told(path), contextlib.closing(sqlite3.connect(path, timeout=WAIT_S)) as connection:
        # what else may be wrong with it is said when it is opened
        known = not is_new(connection) and connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        row = connection.execute("SELECT value FROM setting WHERE name = 'lock'").fetchone() if known else None
    return row is not None and json.loads(row[0]) is not None


def change_passphrase(store: Store, now: str, passphrase: str) -> None:
    """Put another passphrase before a sealed store, in place of that of `now`; what is sealed stays as it is.

    Raises StoreError where the store has none, or one of the two cannot be.
    """
    check_passphrase(passphrase)
    with store.writing() as db:
        lock = read_lock(db, store.database)
        if lock is None:
            raise StoreError(f"{store.place}: this store has no passphrase; one is chosen when it is made")
        new, _key = make_lock(passphrase, open_lock(lock, now))
        db.execute("UPDATE setting SET value = ? WHERE name = 'lock'", (json.dumps(new),))
