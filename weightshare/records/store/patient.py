"""Patients: a code, and what is needed to practise with them. A name is optional, and never leaves by itself."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.errors import OptionError, StoreError
from weightshare.model import Side
from weightshare.records.store.store import INBOX_NAME, Store
from weightshare.records.store.trail import write_trail
from weightshare.records.value import to_plain
from weightshare.records.whole import FOLDER_MODE, sync_folder

LONGEST_CODE, LONGEST_TEXT = 64, 200
EARLIEST = date(1900, 1, 1)
_JOINERS = "\u200c\u200d"
"""Invisible, but part of how some scripts are written."""


class Affected(StrEnum):
    """Which side is injured."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"

    @property
    def side(self) -> Side | None:
        """The one injured side; None where both are: a share needs one to be a share of."""
        return None if self is Affected.BOTH else Side(self.value)


@dataclass(frozen=True, slots=True)
class Patient:
    """A patient. Texts are empty where nothing is known; `injured_on` is the day of injury or operation, ISO 8601.

    `id` is random and tells nothing; it is what a bundle is known by again.
    """

    id: str
    code: str
    name: str = ""
    affected: Affected | None = None
    injured_on: str = ""
    programme: str = ""
    stage: str = ""
    added_at: str = ""

    @property
    def injured(self) -> Side | None:
        """The injured side; None where it is not known, or both are."""
        return None if self.affected is None else self.affected.side


def make_patient(code: str, today: date, **details: Any) -> Patient:
    """Return a new patient with an id of their own. Raises OptionError as `check_patient`."""
    return check_patient(Patient(uuid4().hex, code, **details), today)


def check_patient(patient: Patient, today: date) -> Patient:
    """Return `patient` with each text in one form. Raises OptionError, which names the option, where one cannot be."""
    code = _check_text("CODE", patient.code, LONGEST_CODE)
    if not code or code.startswith("-"):
        raise OptionError(f"CODE {code!r}: a code has a letter or a digit first, as in A-017")
    day = patient.injured_on
    if day:
        _check_day(day, today)
    return replace(
        patient,
        code=code,
        name=_check_text("--name", patient.name, LONGEST_TEXT),
        programme=_check_text("--programme", patient.programme, LONGEST_TEXT),
        stage=_check_text("--stage", patient.stage, LONGEST_TEXT),
    )


def _check_day(day: str, today: date) -> None:
    try:
        found = date.fromisoformat(day)
    except ValueError as error:
        raise OptionError(f"--injured-on {day}: is no date like 2026-11-24") from error
    if found > today:
        raise OptionError(f"--injured-on {day}: lies in the future")
    if found < EARLIEST:
        raise OptionError(f"--injured-on {day}: lies before {EARLIEST.year}")


def _check_text(option: str, text: str, longest: int) -> str:
    """Return `text` in normal form C (Unicode Standard Annex 15), of any script. Raises OptionError."""
    text = unicodedata.normalize("NFC", text).strip()
    bad = [letter for letter in text if letter not in _JOINERS and unicodedata.category(letter)[0] == "C"]
    if bad:
        raise OptionError(f"{option}: holds a character that cannot be written (U+{ord(bad[0]):04X})")
    if len(text) > longest:
        raise OptionError(f"{option}: has {len(text)} characters; {longest} are allowed")
    return text


def add_patient(store: Store, patient: Patient) -> Patient:
    """Add `patient`, and return it with the time of that. Raises StoreError where the code is another patient's."""
    added = replace(patient, added_at=patient.added_at or store.clock().isoformat(timespec="seconds"))
    with store.writing() as db:
        if db.execute("SELECT 1 FROM patient WHERE mark = ?", (store.box.mark(added.code),)).fetchone():
            raise StoreError(f"there is a patient {added.code} already; choose another code")
        row = added.id, store.box.mark(added.code), _body(store, added)
        db.execute("INSERT INTO patient (id, mark, body) VALUES (?, ?, ?)", row)
        write_trail(store, db, "added", added.id)
    return added


def change_patient(store: Store, patient: Patient, today: date, **details: Any) -> Patient:
    """Change `details` of `patient`, and return them as they are now. Raises OptionError and StoreError as adding."""
    changed = check_patient(replace(patient, **details), today)
    with store.writing() as db:
        mark = store.box.mark(changed.code)
        if db.execute("SELECT 1 FROM patient WHERE mark = ? AND id <> ?", (mark, changed.id)).fetchone():
            raise StoreError(f"there is a patient {changed.code} already; choose another code")
        db.execute("UPDATE patient SET mark = ?, body = ? WHERE id = ?", (mark, _body(store, changed), changed.id))
        write_trail(store, db, "changed", changed.id, ", ".join(sorted(details)))
    return changed


def _body(store: Store, patient: Patient) -> bytes:
    return store.seal(to_plain(patient), f"patient {patient.id}")


def find_patient(store: Store, code: str) -> Patient:
    """Return the patient whose code is `code`. Raises StoreError where there is none."""
    mark = store.box.mark(unicodedata.normalize("NFC", code).strip())
    with store.reading() as db:
        row = db.execute("SELECT id, body FROM patient WHERE mark = ?", (mark,)).fetchone()
    if row is None:
        raise StoreError(f"there is no patient {code} in {store.place}; weightshare patient list shows all")
    return _read(store, *row)


def patient_by_id(store: Store, ident: str) -> Patient | None:
    """Return the patient whose id is `ident`; None where there is none."""
    with store.reading() as db:
        row = db.execute("SELECT id, body FROM patient WHERE id = ?", (ident,)).fetchone()
    return None if row is None else _read(store, *row)


def list_patients(store: Store) -> list[Patient]:
    """Return all patients, by code."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM patient").fetchall()
    return sorted((_read(store, *row) for row in rows), key=lambda patient: patient.code)


def _read(store: Store, ident: str, body: bytes) -> Patient:
    return store.read(Patient, body, f"patient {ident}")


def inbox_path(store: Store, patient: Patient) -> Path:
    """Return the folder in which sessions of `patient` are recorded, whether it is there or not."""
    return store.place / INBOX_NAME / patient.id


def inbox_of(store: Store, patient: Patient) -> Path:
    """Return the folder in which sessions of `patient` are recorded, made where there is none. Raises OSError."""
    folder = inbox_path(store, patient)
    if not folder.is_dir():
        for each in (folder.parent, folder):
            each.mkdir(mode=FOLDER_MODE, exist_ok=True)
        sync_folder(folder.parent)
    return folder


def delete_patient(store: Store, patient: Patient) -> None:
    """Delete all that there is of `patient`: sessions with their files, decisions, trail. Of it nothing comes back.

    That somebody was deleted stays in the trail, without a word of who. Backups and bundles elsewhere are not reached.
    """
    with store.writing() as db:
        (count,) = db.execute("SELECT count(*) FROM session WHERE patient = ?", (patient.id,)).fetchone()
        db.execute("DELETE FROM patient WHERE id = ?", (patient.id,))
        write_trail(store, db, "deleted", None, f"a patient with {count} session{'s' if count != 1 else ''}")
    store.sweep()
    with store.reading() as db:
        # what was written before lies in the log until that is taken in
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
