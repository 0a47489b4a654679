"""Whether all in a store is what it was when it was taken in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from weightshare.errors import WeightshareError
from weightshare.records.session import unfinished
from weightshare.records.store.audit import audit_sessions, mend_session
from weightshare.records.store.chain import Chain, look_chain
from weightshare.records.store.patient import Patient, inbox_path
from weightshare.records.store.settled import list_readings
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import read_trail


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check came to: how many there are, read or not. `faults` are in words, each with its file; `notes` are no
    faults. `mendable`: of how many sessions only the list is wrong."""

    patients: int
    sessions: int
    faults: tuple[str, ...]
    notes: tuple[str, ...]
    mendable: int = 0


def check_store(store: Store, tell: Tell = quiet, *, mend: bool = False) -> Finding:
    """Read everything in the store, and hold each session against its files: one fault keeps it from no other.

    mend: have lists and figures be what sound files say; what was mended is told, and is no fault any more. Raises
    StoreError where the database cannot be read at all.
    """
    with store.reading() as db:
        found = [str(row[0]) for row in db.execute("PRAGMA integrity_check")]
        (people,), (sessions,) = (
            db.execute(f"SELECT count(*) FROM {table}").fetchone() for table in ("patient", "session")
        )
    faults = [] if found == ["ok"] else [f"{store.database}: {line}" for line in found]
    patients = list(readable_patients(store, faults))
    for patient in patients:
        faults += _check_beside(store, patient)
    notes = [words for patient in patients for words in _notes(store, patient)]
    now, mendable = store.clock(), 0
    for one in audit_sessions(store, patients, tell):
        if mend and one.anew:
            mend_session(store, one)
            notes.append(f"{one.title}: its figures in the list were taken from its files")
        else:
            faults += (f"{one.title}: {words}" for words in one.faults)
            mendable += one.anew is not None
        if one.visit and one.visit.is_future(now):
            notes.append(f"{one.patient.code}: {one.visit.started_at} lies in the future")
    return Finding(people, sessions, tuple(faults), tuple(notes), mendable)


def readable_patients(store: Store, faults: list[str]) -> Iterator[Patient]:
    """Yield the patients whose rows can be read; of the others `faults` gets a line."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM patient").fetchall()
    found = []
    for ident, body in rows:
        try:
            found.append(store.read(Patient, body, f"patient {ident}"))
        except WeightshareError as error:
            faults.append(str(error))
    yield from sorted(found, key=lambda patient: patient.code)


def _check_beside(store: Store, patient: Patient) -> Iterator[str]:
    """Yield what is wrong with what is kept of `patient` beside the sessions."""
    for read in (partial(read_trail, store, patient.id), partial(list_readings, store, patient)):
        try:
            read()
        except WeightshareError as error:
            yield f"{patient.code}: {error}"
    if words := _look(store, patient).fault:
        yield f"{patient.code}: {words}"


def _look(store: Store, patient: Patient) -> Chain:
    with store.reading() as db:
        return look_chain(store, db, patient)


def _notes(store: Store, patient: Patient) -> Iterator[str]:
    for folder in unfinished(inbox_path(store, patient)):
        yield f"{patient.code}: {folder} was cut short; weightshare patient show {patient.code} finishes it"
    chain = _look(store, patient)
    if chain.values and not chain.is_sealed and not chain.fault:
        words = "nothing tells whether the newest was altered since, and the next one that is signed seals it"
        yield f"{patient.code}: decisions were signed by an earlier version: {words}"
