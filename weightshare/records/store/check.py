"""Whether all in a store is what it was when it was taken in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weightshare.errors import WeightshareError
from weightshare.records.diary import read_diary
from weightshare.records.manifest import verify
from weightshare.records.session import unfinished
from weightshare.records.store.correcting import check_corrected
from weightshare.records.store.patient import Patient, inbox_path, list_patients
from weightshare.records.store.ruling import list_rulings
from weightshare.records.store.settled import list_readings
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import Visit, list_figures, list_visits, opened


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check came to. `faults` are in words, each with its file; `notes` are no faults."""

    patients: int
    sessions: int
    faults: tuple[str, ...]
    notes: tuple[str, ...]


def check_store(store: Store, tell: Tell = quiet) -> Finding:
    """Read everything in the store, and each session's files against its seal. Raises StoreError where nothing can be
    read at all."""
    with store.reading() as db:
        found = [str(row[0]) for row in db.execute("PRAGMA integrity_check")]
    faults = [] if found == ["ok"] else [f"{store.database}: {line}" for line in found]
    patients = list_patients(store)
    visits = [(patient, visit) for patient in patients for visit in _visits(store, patient, faults)]
    for done, (patient, visit) in enumerate(visits):
        tell(done, len(visits))
        faults += _check_visit(store, patient, visit)
    notes = [words for patient in patients for words in _notes(store, patient)]
    now = store.clock()
    notes += [
        f"{patient.code}: {visit.started_at} lies in the future" for patient, visit in visits if visit.is_future(now)
    ]
    return Finding(len(patients), len(visits), tuple(faults), tuple(notes))


def _visits(store: Store, patient: Patient, faults: list[str]) -> list[Visit]:
    try:
        list_figures(store, patient)
        list_rulings(store, patient)
        read_trail(store, patient.id)
        list_readings(store, patient)
        return list_visits(store, patient)
    except WeightshareError as error:
        faults.append(f"{patient.code}: {error}")
        return []


def _check_visit(store: Store, patient: Patient, visit: Visit) -> Iterator[str]:
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
