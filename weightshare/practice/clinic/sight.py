"""One patient as the clinician sees them: sessions, figures over the days, evidence, decisions; and what is decided."""

from __future__ import annotations

import json
from dataclasses import dataclass

from weightshare.errors import StoreError
from weightshare.model import Side
from weightshare.practice.clinic.charge import Charge
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.reading import ProgrammeError
from weightshare.programme.shelf import Kept, find_programme
from weightshare.records.evidence import Evidence
from weightshare.records.setting import SessionHead
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.patient import Patient, inbox_of, patient_by_id
from weightshare.records.store.progress import Progress, progress_of
from weightshare.records.store.ruling import Choice, Ruling, doubt_of, keep_ruling, list_rulings, make_ruling
from weightshare.records.store.saying import find_morning_of
from weightshare.records.store.settled import Readings, list_readings
from weightshare.records.store.sheaf import gather, met_before
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import Step, note_trail, read_trail
from weightshare.records.store.visit import Visit, look_at
from weightshare.tongue import say


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen of a patient at once. `visits` are the newest first, `rulings` and `trail` in order of time.

    `troubles`: what of what waited could not be taken in, in words.
    """

    patient: Patient
    visits: tuple[Visit, ...] = ()
    rulings: tuple[Ruling, ...] = ()
    trends: tuple[Progress, ...] = ()
    trail: tuple[Step, ...] = ()
    troubles: tuple[str, ...] = ()
    readings: tuple[Readings, ...] = ()
    """Sessions of settled readings, the newest first."""
    morning: Visit | None = None
    """The session of a day before, of which the next morning was not told yet; None: it is not asked for."""


def find_again(store: Store, patient: Patient) -> Patient:
    """Return `patient` as the store has them now. Raises StoreError where they were deleted meanwhile."""
    found = patient_by_id(store, patient.id)
    if found is None:
        raise StoreError(say("{code} is no longer in the store", code=patient.code))
    return found


def look(store: Store, patient: Patient) -> Sight:
    """Return what is to be seen of `patient`; sessions that wait are taken in first, and the trail notes the look.

    Raises StoreError where something was altered, and OSError.
    """
    found = find_again(store, patient)
    emptied = take_inbox(store, found)
    visits, rulings = look_at(store, found), list_rulings(store, found)
    trends, trail = progress_of(store, found), read_trail(store, found.id)
    newest, readings = tuple(reversed(visits)), tuple(reversed(list_readings(store, found)))
    asked = find_morning_of(store, found, store.clock())
    troubles = (*emptied.troubles, *filter(None, [doubt_of(store, found)]))
    return Sight(found, newest, tuple(rulings), tuple(trends), tuple(trail), troubles, readings, asked)


def find_stage(patient: Patient) -> tuple[Kept, Prescription]:
    """Return the programme and the stage that `patient` is at. Raises ProgrammeError where none is told, or found."""
    if not patient.programme or not patient.stage:
        raise ProgrammeError(say("{code} has no stage of a programme yet: Change gives one", code=patient.code))
    kept = find_programme(patient.programme)
    return kept, kept.prescription(kept.find(patient.stage))


def weigh_evidence(store: Store, patient: Patient, tell: Tell = quiet) -> Evidence:
    """Return the evidence for the stage after that of `patient`; the trail notes that it was looked at.

    Raises ProgrammeError where there is no such stage, and StoreError.
    """
    kept, prescription = find_stage(patient)
    evidence = gather(store, patient, prescription, kept.sources(prescription.stage), tell=tell)
    note_trail(store, "looked at the evidence", patient.id, prescription.stage.key)
    return evidence


def charge_of(store: Store, patient: Patient, followed: Side) -> Charge:
    """Return what it takes to practise with `patient` by their stage: the folder, and the days on which it was met.

    Raises StoreError, OSError.
    """
    inbox = str(inbox_of(store, patient))
    try:
        _kept, prescription = find_stage(patient)
    except ProgrammeError:
        return Charge(patient.code, inbox)
    began = store.clock().isoformat(timespec="seconds")
    settings = prescribe(prescription.stage, followed)
    head = SessionHead(settings, goal_of(prescription.stage), started_at=began, prescription=prescription)
    return Charge(patient.code, inbox, met_before(store, patient, head))


def make_decision(at: str, by: str, choice: Choice, evidence: Evidence, reason: str) -> Ruling:
    """Return the decision as it would be kept, with the evidence that was seen. Raises what `make_ruling` does."""
    told = json.dumps(evidence.to_json(), ensure_ascii=False)
    return make_ruling(at, by, choice, evidence.prescription, reason=reason, evidence=told)


def keep_decision(store: Store, patient: Patient, ruling: Ruling) -> tuple[Ruling, ...]:
    """Keep `ruling`; return all decisions in order of time. Raises StoreError."""
    keep_ruling(store, patient, ruling)
    return tuple(list_rulings(store, patient))
