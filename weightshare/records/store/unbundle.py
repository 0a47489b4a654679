"""A bundle taken in: all of it is checked first, then each session that is not there yet is."""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from weightshare.errors import OptionError, RecordError, StoreError
from weightshare.records.manifest import Entry
from weightshare.records.store.bundle import LIST_NAME, PATIENT_NAME, SCHEMA
from weightshare.records.store.correcting import take_longer
from weightshare.records.store.envelope import is_envelope, unseal_file
from weightshare.records.store.parcel import Parcel, open_parcel
from weightshare.records.store.patient import Patient, add_patient, check_patient, patient_by_id
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import Taken, read_visit, take_in
from weightshare.records.value import from_plain

_NAMES = re.compile(r"datapackage\.json|patient\.json|data/[a-z]{1,30}\.csv|sessions/[0-9a-f]{32}/\w[\w.-]{0,99}")
_ID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Arrived:
    """What came of a bundle: whose it is, whether they were new, and its sessions."""

    patient: Patient
    is_new: bool
    taken: tuple[Taken, ...]


def is_bundle(path: Path) -> bool:
    """Return whether the file at `path` looks like a bundle, sealed or not. Raises OSError."""
    with path.open("rb") as file:
        return file.read(4) == b"PK\x03\x04" or is_envelope(path)


def take_bundle(
    store: Store,
    path: Path,
    today: date,
    *,
    code: str | None = None,
    passphrase: str | None = None,
    tell: Tell = quiet,
) -> Arrived:
    """Take in the bundle at `path`. A patient who is there already gets the sessions that are missing; code: by which a
    new one is to go here.

    Raises StoreError or RecordError where anything of it was altered or cannot be, before anything is taken in, and
    OSError.
    """
    with _unsealed(path, passphrase) as plain, open_parcel(plain, _NAMES) as parcel, TemporaryDirectory() as name:
        entries = parcel.read_list(
            LIST_NAME, SCHEMA, lambda value: map(_entry, value["resources"]), "nothing was taken in"
        )
        parcel.check(entries, frozenset({LIST_NAME}))
        patient, is_new = _whose(store, _read_patient(parcel, today), code, today)
        folders = _unpack(parcel, entries, Path(name))
        _check_sessions(folders)
        if is_new:
            patient = add_patient(store, patient)
        taken = []
        for done, folder in enumerate(folders):
            tell(done, len(folders))
            one = take_in(store, patient, folder)
            if not one.is_new:
                take_longer(store, patient, one.visit, folder)
            taken.append(one)
    note_trail(store, "imported", patient.id, path.name)
    return Arrived(patient, is_new, tuple(taken))


@contextlib.contextmanager
def _unsealed(path: Path, passphrase: str | None) -> Iterator[Path]:
    """Hand out the archive in `path`; where that is sealed, a copy that is gone afterwards."""
    if not is_envelope(path):
        yield path
        return
    if passphrase is None:
        raise StoreError(f"{path}: is sealed; it takes its passphrase")
    with TemporaryDirectory(prefix="weightshare-") as name:
        plain = Path(name) / path.name
        unseal_file(path, plain, passphrase)
        yield plain


def _entry(row: Mapping[str, Any]) -> Entry:
    return Entry(str(row["path"]), int(row["bytes"]), str(row["hash"]).removeprefix("sha256:"))


def _read_patient(parcel: Parcel, today: date) -> Patient:
    try:
        patient = from_plain(Patient, json.loads(parcel.read(PATIENT_NAME)))
        if not _ID.fullmatch(patient.id):
            raise ValueError("no id")
        return check_patient(patient, today)
    except (ValueError, TypeError, RecursionError, OptionError) as error:
        raise StoreError(f"{parcel.path}: {PATIENT_NAME} cannot be used; nothing was taken in") from error


def _whose(store: Store, patient: Patient, code: str | None, today: date) -> tuple[Patient, bool]:
    """Return the patient to whom the bundle belongs here, and whether they are new.

    One is known again by the id alone: two places may use one code for two people. Raises StoreError where the code is
    somebody else's here.
    """
    known = patient_by_id(store, patient.id)
    if known is not None:
        return known, False
    asked = patient if code is None else check_patient(replace(patient, code=code), today)
    with store.reading() as db:
        if db.execute("SELECT 1 FROM patient WHERE mark = ?", (store.box.mark(asked.code),)).fetchone():
            raise StoreError(f"the code {asked.code} is another patient's here; take the bundle in with --as CODE")
    return asked, True


def _unpack(parcel: Parcel, entries: Mapping[str, Entry], place: Path) -> list[Path]:
    names = [name for name in entries if name.startswith("sessions/")]
    for name in names:
        parcel.unpack(name, place / name)
    return sorted({(place / name).parent for name in names})


def _check_sessions(folders: list[Path]) -> None:
    """Raise RecordError where a session is none, or is not the one that its folder says."""
    for folder in folders:
        visit, _figures = read_visit(folder)
        if visit.record != folder.name:
            raise RecordError(f"{folder.name}: is another session than it says; nothing was taken in")
