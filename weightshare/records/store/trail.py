"""The trail: who saw, changed or exported what, and when. It is only ever added to."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from getpass import getuser

from weightshare.records.store.store import Store
from weightshare.records.value import to_plain


@dataclass(frozen=True, slots=True)
class Step:
    """One entry: at `at` (local time with its offset), `who` did `what`; `detail` holds no name.

    `seal`: of a decision that was kept, its SHA-256.
    """

    at: str
    who: str
    what: str
    detail: str = ""
    seal: str = ""


def user_name() -> str:
    """Return who stands in the trail where nobody said so: the user of this computer."""
    try:
        return getuser()
    except (KeyError, OSError):  # a user without a name
        return "unknown"


def write_trail(
    store: Store, db: sqlite3.Connection, what: str, patient: str | None, detail: str = "", *, seal: str = ""
) -> None:
    """Add an entry, within the change that it tells of; patient: the id of whom it is about. Raises sqlite3.Error."""
    step = Step(store.clock().isoformat(timespec="seconds"), store.who, what, detail, seal)
    row = db.execute("INSERT INTO trail (patient, body) VALUES (?, ?)", (patient, b""))
    body = store.seal(to_plain(step), f"trail {row.lastrowid}")
    db.execute("UPDATE trail SET body = ? WHERE number = ?", (body, row.lastrowid))


def note_trail(store: Store, what: str, patient: str | None, detail: str = "") -> None:
    """Add an entry about what changed nothing: somebody looked, or exported. Raises StoreError."""
    with store.writing() as db:
        write_trail(store, db, what, patient, detail)


def read_trail(store: Store, patient: str | None = None) -> list[Step]:
    """Return the entries about `patient` (an id), or all, in order."""
    where = "" if patient is None else "WHERE patient = ?"
    with store.reading() as db:
        rows = db.execute(
            f"SELECT number, body FROM trail {where} ORDER BY number", () if patient is None else (patient,)
        ).fetchall()
    return [store.read(Step, body, f"trail {number}") for number, body in rows]
