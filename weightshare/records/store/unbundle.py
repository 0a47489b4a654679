"""A bundle taken in: all of it is checked first, then what is not there yet is taken in beside what is."""

from __future__ import annotations

import contextlib
import json
import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from weightshare.errors import OptionError, RecordError, StoreError
from weightshare.records.diary import read_diary
from weightshare.records.manifest import Entry
from weightshare.records.store.bundle import LIST_NAME, PATIENT_NAME, SCHEMA
from weightshare.records.store.envelope import is_envelope, unseal_file
from weightshare.records.store.joining import (
    RULINGS_NAME,
    Chain,
    Joined,
    join_corrected,
    join_rulings,
    join_said,
    read_rulings,
)
from weightshare.records.store.parcel import Parcel, open_parcel
from weightshare.records.store.patient import Patient, add_patient, check_patient, patient_by_id
from weightshare.records.store.settled import are_there, read_readings, take_readings
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import Taken, find_same, read_visit, take_in
from weightshare.records.value import from_plain

_NAMES = re.compile(
    r"datapackage\.json|patient\.json|decisions\.json|data/[a-z]{1,30}\.csv|readings/[0-9a-f]{32}\.txt|"
    r"sessions/[0-9a-f]{32}/\w[\w.-]{0,99}"
)
_ID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Arrived:
    """What came of a bundle: whose it is, whether they were new, and its sessions.

    said, corrected, decisions, readings: how many entries of diaries, corrections and decisions joined those that were
    here, and how many sessions of settled readings were taken in. conflicts: what was not, and why, in words.
    """

    patient: Patient
    is_new: bool
    taken: tuple[Taken, ...]
    said: int = 0
    corrected: int = 0
    decisions: int = 0
    readings: int = 0
    conflicts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Content:
    """What lies in a bundle, unpacked and checked."""

    folders: tuple[Path, ...]
    readings: tuple[Path, ...]
    rulings: Chain


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
    """Take in the bundle at `path`. A patient who is there already gets what is missing; code: by which a new one is to
    go here. What was said, corrected and decided joins what is here, and writes over none of it.

    Raises StoreError or RecordError where anything of it was altered or cannot be, before anything is taken in, and
    OSError.
    """
    with (
        _unsealed(path, passphrase) as plain,
        TemporaryDirectory(prefix="weightshare-") as name,
        _named(path, plain, Path(name)),
        open_parcel(plain, _NAMES) as parcel,
    ):
        entries = parcel.read_list(
            LIST_NAME, SCHEMA, lambda value: map(_entry, value["resources"]), "nothing was taken in"
        )
        parcel.check(entries, frozenset({LIST_NAME}))
        there = _read_patient(parcel, today)
        patient, is_new = _whose(store, there, code, today)
        content = _open(parcel, entries, patient, Path(name))
        _check(store, patient, content)
        if is_new:
            patient = add_patient(store, patient)
        arrived = _take(store, patient, content, tell)
    note_trail(store, "imported", patient.id, path.name)
    return replace(arrived, is_new=is_new, conflicts=(*_differ(patient, there), *arrived.conflicts))


def _differ(here: Patient, there: Patient) -> Iterator[str]:
    """Yield what two stores say differently of one patient, where it has to be the same; what is said here stays."""
    told = (
        ("the injured side", here.affected, there.affected),
        ("the day of injury or operation", here.injured_on, there.injured_on),
    )
    for words, ours, theirs in told:
        if ours and theirs and ours != theirs:
            yield f"{words} of {here.code} is {ours} here and {theirs} there: that here stays; find out which is right"


def _take(store: Store, patient: Patient, content: _Content, tell: Tell) -> Arrived:
    taken, said, corrected = [], [Joined()], [Joined()]
    for done, folder in enumerate(content.folders):
        tell(done, len(content.folders))
        one = take_in(store, patient, folder)
        if not one.is_new:
            corrected.append(join_corrected(store, patient, one.visit, folder))
            said.append(join_said(store, patient, one.visit, folder))
        taken.append(one)
    new = [path for path in content.readings if not are_there(store, patient, read_readings(path), path)]
    for path in new:
        take_readings(store, patient, path)
    ruled = join_rulings(store, patient, content.rulings)
    return Arrived(
        patient,
        False,
        tuple(taken),
        sum(one.added for one in said),
        sum(one.added for one in corrected),
        ruled.added,
        len(new),
        tuple(one.conflict for one in (*corrected, ruled) if one.conflict),
    )


@contextlib.contextmanager
def _named(path: Path, plain: Path, place: Path) -> Iterator[None]:
    """Have an error name the bundle at `path`, and what lies in it, where it names `plain`, its copy, or what was
    unpacked in `place`: neither is there any more."""
    try:
        yield
    except (StoreError, RecordError) as error:
        words = str(error).replace(str(plain), str(path)).replace(f"{place}{os.sep}", f"{path}: ")
        raise type(error)(words) from error


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


def _open(parcel: Parcel, entries: Mapping[str, Entry], patient: Patient, place: Path) -> _Content:
    """Unpack the bundle into the folder `place`. Raises StoreError where its decisions were altered, and OSError."""
    names = [name for name in entries if name.startswith(("sessions/", "readings/"))]
    for name in names:
        parcel.unpack(name, place / name)
    folders = {(place / name).parent for name in names if name.startswith("sessions/")}
    readings = sorted(place / name for name in names if name.startswith("readings/"))
    rulings: Chain = ()
    if RULINGS_NAME in entries:
        rulings = read_rulings(parcel.read(RULINGS_NAME), patient, f"{parcel.path}: {RULINGS_NAME}")
    return _Content(tuple(sorted(folders)), tuple(readings), rulings)


def _check(store: Store, patient: Patient, content: _Content) -> None:
    """Raise RecordError where a session is none, or is not the one that its folder says, and StoreError where something
    is another patient's here."""
    for folder in content.folders:
        visit, _figures = read_visit(folder)
        read_diary(folder)
        if visit.record != folder.name:
            raise RecordError(f"{folder.name}: is another session than it says; nothing was taken in")
        find_same(store, patient, visit, folder)
    for path in content.readings:
        are_there(store, patient, read_readings(path), path)
