"""The sessions in a store's own folder, to be taken into another store where its database is lost."""

from __future__ import annotations

import contextlib
import re
import sqlite3
from pathlib import Path

from weightshare.errors import StoreError
from weightshare.records.manifest import MANIFEST_NAME
from weightshare.records.store.schema import DATABASE_NAME

_ID = re.compile(r"[0-9a-f]{32}")


def find_kept(place: Path) -> list[Path]:
    """Return the sessions' folders in `place`, the folder `sessions` of a store; none where it is no such folder.

    Raises StoreError where they are sealed: nobody opens them without their store.
    """
    found = sorted(path for path in place.iterdir() if _ID.fullmatch(path.name) and (path / MANIFEST_NAME).is_file())
    for folder in found:
        with (folder / MANIFEST_NAME).open("rb") as file:
            # as a manifest is written; what is sealed begins with random bytes
            if file.read(3) != b"{\n ":
                words = "is sealed, and opens only in its own store: restore a backup, and export --sessions from that"
                raise StoreError(f"{folder}: {words}")
    return found


def count_owners(place: Path) -> int | None:
    """Return of how many patients the sessions in `place` are by the database beside it; None where it does not say."""
    path = place.absolute().parent / DATABASE_NAME
    if not path.is_file():
        return None
    try:
        with contextlib.closing(sqlite3.connect(path)) as db:
            return int(db.execute("SELECT count(DISTINCT patient) FROM session").fetchone()[0])
    except sqlite3.Error:
        return None
