"""Whether all in a store is what it was when it was taken in."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from weightshare.errors import WeightshareError
from weightshare.records.diary import read_diary
from weightshare.records.manifest import verify
from weightshare.records.session import unfinished
from weightshare.records.store.chain import Chain, look_chain
from weightshare.records.store.correcting import check_corrected
from weightshare.records.store.patient import Patient, inbox_path
from weightshare.records.store.settled import list_readings
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import Visit, list_figures, opened


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check came to: how many there are, read or not. `faults` are in words, each with its file; `notes` are no
    faults."""

    patients: int
    sessions: int
    faults: tuple[str, ...]
    notes: tuple[str, ...]


def check_store(store: Store, tell: Tell = quiet) -> Finding:
    """Read everything in the store, and each session's files against its seal: one fault keeps it from no other.

    Raises StoreError where the database cannot be read at all.
    """
    with store.reading() as db:
        found = [str(row[0]) for row in db.execute("PRAGMA integrity_check")]
        (sessions,) = db.execute("SELECT count(*) FROM session").fetchone()
    faults = [] if found == ["ok"] else [f"{store.database}: {line}" for line in found]
    patients = list(_patients(store, faults))
    visits = [(patient, visit) for patient in patients for visit in _visits(store, patient, faults)]
    for patient in patients:
        faults += _check_beside(store, patient)
    for done, (patient, visit) in enumerate(visits):
        tell(done, len(visits))
        faults += (f"{patient.code}: {words}" for words in check_visit(store, patient, visit))
    notes = [words for patient in patients for words in _notes(store, patient)]
    now = store.clock()
    notes += [
        f"{patient.code}: {visit.started_at} lies in the future" for patient, visit in visits if visit.is_future(now)
    ]
    return Finding(_count_patients(store), sessions, tuple(faults), tuple(notes))


def _count_patients(store: Store) -> int:
    with store.reading() as db:
        return int(db.execute("SELECT count(*) FROM patient").fetchone()[0])


def _patients(store: Store, faults: list[str]) -> Iterator[Patient]:
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


def _visits(store: Store, patient: Patient, faults: list[str]) -> Iterator[Visit]:
    """Yield the sessions of `patient` whose rows can be read; of the others `faults` gets a line."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM session WHERE patient = ?", (patient.id,)).fetchall()
    for ident, body in rows:
        try:
            yield store.read(Visit, body, f"session {ident}")
        except WeightshareError as error:
            faults.append(f"{patient.code}: {error}")


def _check_beside(store: Store, patient: Patient) -> Iterator[str]:
    """Yield what is wrong with what is kept of `patient` beside the sessions."""
    ways: tuple[Callable[[Store, Patient], object], ...] = (
        list_figures,
        lambda store, patient: read_trail(store, patient.id),
        list_readings,
    )
    for way in ways:
        try:
            way(store, patient)
        except WeightshareError as error:
            yield f"{patient.code}: {error}"
    if words := _look(store, patient).fault:
        yield f"{patient.code}: {words}"


def _look(store: Store, patient: Patient) -> Chain:
    with store.reading() as db:
        return look_chain(store, db, patient)


def check_visit(store: Store, patient: Patient, visit: Visit) -> Iterator[str]:
    """Yield what is wrong with the files of a session of `patient`, in words."""
    try:
        with opened(store, visit) as folder:
            verify(folder)
            read_diary(folder)
            yield from check_corrected(store, patient, visit, folder)
    except (WeightshareError, OSError) as error:
        yield str(error)


def _notes(store: Store, patient: Patient) -> Iterator[str]:
    for folder in unfinished(inbox_path(store, patient)):
        yield f"{patient.code}: {folder} was cut short; weightshare patient show {patient.code} finishes it"
    chain = _look(store, patient)
    if chain.values and not chain.is_sealed and not chain.fault:
        words = "nothing tells whether the newest was altered since, and the next one that is signed seals it"
        yield f"{patient.code}: decisions were signed by an earlier version: {words}"
