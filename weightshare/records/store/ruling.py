"""Decisions of the clinician: what was decided about a patient, by whom, and the numbers that it rested on."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import uuid4

from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import write_trail
from weightshare.records.value import to_plain


@dataclass(frozen=True, slots=True)
class Ruling:
    """One decision. `evidence` is text that the deciding part of the program made (a JSON object), kept as it was."""

    at: str
    by: str
    what: str
    stage_from: str = ""
    stage_to: str = ""
    note: str = ""
    evidence: str = ""


def keep_ruling(store: Store, patient: Patient, ruling: Ruling) -> None:
    """Keep `ruling` about `patient`; none is ever changed. Raises StoreError."""
    ident = uuid4().hex
    body = store.seal(to_plain(ruling), f"decision {ident}")
    with store.writing() as db:
        db.execute("INSERT INTO decision (id, patient, body) VALUES (?, ?, ?)", (ident, patient.id, body))
        write_trail(store, db, "decided", patient.id, ruling.what)


def list_rulings(store: Store, patient: Patient) -> list[Ruling]:
    """Return the decisions about `patient`, in order of time. Raises StoreError where one was altered."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM decision WHERE patient = ?", (patient.id,)).fetchall()
    return sorted((store.read(Ruling, body, f"decision {ident}") for ident, body in rows), key=lambda ruling: ruling.at)
