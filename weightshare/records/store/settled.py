"""Settled readings of store-bought scales in the store: each session of them as it was kept, line by line."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.errors import RecordError, StoreError
from weightshare.model import Side
from weightshare.records.reading import SCHEMA
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import write_trail
from weightshare.records.value import to_plain


@dataclass(frozen=True, slots=True)
class Readings:
    """One session of settled readings. `began`: local time with its offset, ISO 8601; `lines` as they were kept, a JSON
    object each, what they are of first."""

    id: str
    began: str
    injured: Side
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        """Its lines as a file holds them."""
        return "".join(f"{line}\n" for line in self.lines)

    @property
    def mark(self) -> str:
        """By what it is known again: the SHA-256 of its lines."""
        return hashlib.sha256("\n".join(self.lines).encode()).hexdigest()

    @property
    def count(self) -> int:
        """How many readings there are."""
        return sum("side" in one for one in self.content)

    @property
    def content(self) -> tuple[dict[str, Any], ...]:
        """What each line but the first holds."""
        return tuple(json.loads(line) for line in self.lines[1:])

    @property
    def share_percent(self) -> float | None:
        """The injured side's share that the newest two readings made; None where no two belonged together."""
        shares = [one["share_percent"] for one in self.content if one.get("share_percent") is not None]
        return float(shares[-1]) if shares else None

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values, without its lines."""
        return {"began": self.began, "readings": self.count, "share_percent": self.share_percent}


def read_readings(path: Path) -> Readings:
    """Return the settled readings in the file at `path`; a last line that was cut short is left out.

    Raises RecordError where it holds none.
    """
    try:
        text = path.read_text(encoding="utf-8")
        lines = tuple(text[: text.rfind("\n") + 1].splitlines())
        head, *rest = (json.loads(line) for line in lines)
        if head["schema"] != SCHEMA or not all(isinstance(one, dict) for one in rest):
            raise ValueError("another schema")
        return Readings(uuid4().hex, str(head["began"]), Side(head["injured_side"]), lines)
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no settled readings") from error


def take_readings(store: Store, patient: Patient, path: Path) -> Readings:
    """Take the settled readings in the file at `path` in as those of `patient`, and remove the file.

    The same ones again change nothing. Raises RecordError where there are none in it, StoreError where they are
    another patient's, and OSError.
    """
    found = read_readings(path)
    with store.writing() as db:
        if not are_there(store, patient, found, path):
            body = store.seal(to_plain(found), f"reading {found.id}")
            row = found.id, patient.id, store.box.mark(found.mark), body
            db.execute("INSERT INTO reading (id, patient, mark, body) VALUES (?, ?, ?, ?)", row)
            write_trail(store, db, "took in settled readings", patient.id, found.began)
    path.unlink()
    return found


def are_there(store: Store, patient: Patient, found: Readings, path: Path) -> bool:
    """Return whether the readings that were found at `path` are in the store as those of `patient`.

    Raises StoreError where they are another patient's.
    """
    with store.reading() as db:
        row = db.execute("SELECT patient FROM reading WHERE mark = ?", (store.box.mark(found.mark),)).fetchone()
    if row is not None and row[0] != patient.id:
        raise StoreError(f"{path}: these readings are another patient's in this store; nothing was taken in")
    return row is not None


def list_readings(store: Store, patient: Patient) -> list[Readings]:
    """Return the settled readings of `patient` in order of time. Raises StoreError where some were altered."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM reading WHERE patient = ?", (patient.id,)).fetchall()
    found = (store.read(Readings, body, f"reading {ident}") for ident, body in rows)
    return sorted(found, key=lambda one: one.began)
