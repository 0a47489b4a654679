"""The versions of the store's database, and the way from each to the next.

A version that was given out is never changed: what comes after is added as a new one. A store of a newer version is
refused, since nobody knows what it means.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from weightshare.errors import StoreError

DATABASE_NAME = "store.sqlite3"
WAIT_S = 20.0
"""How long another program may be writing."""
APPLICATION_ID = 0x57534854
"""`WSHT`: tells the database from that of another program (PRAGMA application_id)."""

VERSIONS: tuple[str, ...] = (
    """
    CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
    CREATE TABLE patient (id TEXT PRIMARY KEY, mark TEXT NOT NULL UNIQUE, body BLOB NOT NULL) STRICT;
    CREATE TABLE session (
        id TEXT PRIMARY KEY,
        patient TEXT NOT NULL REFERENCES patient (id) ON DELETE CASCADE,
        mark TEXT NOT NULL UNIQUE,
        body BLOB NOT NULL,
        figures BLOB NOT NULL
    ) STRICT;
    CREATE INDEX session_patient ON session (patient);
    CREATE TABLE trail (
        number INTEGER PRIMARY KEY,
        patient TEXT REFERENCES patient (id) ON DELETE CASCADE,
        body BLOB NOT NULL
    ) STRICT;
    CREATE INDEX trail_patient ON trail (patient);
    """,
    """
    CREATE TABLE decision (
        id TEXT PRIMARY KEY,
        patient TEXT NOT NULL REFERENCES patient (id) ON DELETE CASCADE,
        body BLOB NOT NULL
    ) STRICT;
    CREATE INDEX decision_patient ON decision (patient);
    CREATE TABLE calibration (id TEXT PRIMARY KEY, mark TEXT NOT NULL UNIQUE, body BLOB NOT NULL) STRICT;
    """,
    """
    CREATE TABLE reading (
        id TEXT PRIMARY KEY,
        patient TEXT NOT NULL REFERENCES patient (id) ON DELETE CASCADE,
        mark TEXT NOT NULL UNIQUE,
        body BLOB NOT NULL
    ) STRICT;
    CREATE INDEX reading_patient ON reading (patient);
    """,
    """
    CREATE TABLE head (
        patient TEXT PRIMARY KEY REFERENCES patient (id) ON DELETE CASCADE,
        body BLOB NOT NULL
    ) STRICT;
    """,
)


def is_new(connection: sqlite3.Connection) -> bool:
    """Return whether there is nothing in the database yet. Raises sqlite3.Error."""
    return bool(connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0] == 0)


def migrate(connection: sqlite3.Connection, name: str, versions: Sequence[str] = VERSIONS) -> None:
    """Bring the database to the newest of `versions`, each step whole or not at all.

    `connection` is in no transaction; `name` is said in errors. Raises StoreError where it is another program's, or
    newer than this one, and sqlite3.Error.
    """
    if _check(connection, name, versions) == len(versions):
        return
    while (version := _check(connection, name, versions)) < len(versions):
        connection.execute("BEGIN IMMEDIATE")
        try:
            # another program may have been quicker
            if _check(connection, name, versions) == version:
                for statement in filter(str.strip, versions[version].split(";")):
                    connection.execute(statement)
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.execute(f"PRAGMA user_version = {version + 1}")
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise


def _check(connection: sqlite3.Connection, name: str, versions: Sequence[str]) -> int:
    """Return the version of the database, 0 for a new one. Raises StoreError where it cannot be used."""
    (owner,), (version,) = (
        connection.execute(f"PRAGMA {pragma}").fetchone() for pragma in ("application_id", "user_version")
    )
    if is_new(connection) and version == 0:
        return 0
    if owner != APPLICATION_ID:
        raise StoreError(f"{name}: is the database of another program, and left as it is; choose another folder")
    if not 0 < version <= len(versions):
        words = f"is of version {version}, newer than this program knows ({len(versions)})"
        raise StoreError(f"{name}: {words}; use the newer weightshare")
    return int(version)
