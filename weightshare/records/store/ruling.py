"""Decisions of the clinician: what was decided about a patient, by whom, and the numbers that it rested on.

None is ever changed: another one follows it. Each keeps the SHA-256 of the one before it, the first that of the
patient's id, and the trail has an entry for each. So one that was altered, taken out, put in or moved to somebody else
is found, unless whoever did it wrote all of them anew; that only a sealed store prevents. One that came with a bundle
stands as it was signed, in the same chain, and says in which store that was.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any
from uuid import uuid4

from weightshare.errors import OptionError, StoreError
from weightshare.programme.prescription import Prescription
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import read_trail, write_trail
from weightshare.records.value import from_plain, to_plain

DECIDED, TAKEN = "decided", "took in a decision"
LONGEST_REASON = 500
BEFORE, ORIGIN = "before", "store"
"""Keys beside those of a decision: the SHA-256 of the one before it; the id of the store that it was signed in."""


class Choice(StrEnum):
    """What can be decided of a stage."""

    GO_ON = "go-on"
    STAY = "stay"
    GO_BACK = "go-back"

    @property
    def words(self) -> str:
        """What the patient then does."""
        return {Choice.GO_ON: "goes on", Choice.STAY: "stays", Choice.GO_BACK: "goes back"}[self]


@dataclass(frozen=True, slots=True)
class Ruling:
    """One decision. `evidence` is text that the deciding part of the program made (a JSON object), kept as it was.

    `store`: the id of the store in which it was signed, where that is another one.
    """

    at: str
    by: str
    what: str
    stage_from: str = ""
    stage_to: str = ""
    note: str = ""
    evidence: str = ""
    store: str = ""

    @property
    def signer(self) -> str:
        """Who signed it, and that this was elsewhere."""
        return f"{self.by} (in another store)" if self.store else self.by

    def to_json(self) -> dict[str, str | None]:
        """Return it as plain values, without the evidence that was kept with it."""
        return {
            "at": self.at,
            "by": self.by,
            "decision": self.what,
            "stage_from": self.stage_from,
            "stage_to": self.stage_to,
            "reason": self.note,
            "other_store": self.store or None,
        }


def make_ruling(at: str, by: str, choice: Choice, kept: Prescription, *, reason: str, evidence: str) -> Ruling:
    """Return the decision about the stage of `kept`: the next one, the one before, or the same.

    Raises OptionError where nobody signs it, it has no reason, or the programme has no such stage.
    """
    for option, words in (("--by", by), ("--reason", reason)):
        if not words.strip() or not words.isprintable() or len(words) > LONGEST_REASON:
            raise OptionError(f"{option}: give words on one line, up to {LONGEST_REASON} letters")
    stage = {Choice.GO_ON: kept.following, Choice.STAY: kept.stage, Choice.GO_BACK: kept.before}[choice]
    if stage is None:
        place = "last" if choice is Choice.GO_ON else "first"
        raise OptionError(f"--decision {choice}: {kept.stage.key} is the {place} stage of {kept.programme}")
    return Ruling(at, by.strip(), choice.words, kept.stage.key, stage.key, reason.strip(), evidence)


def keep_ruling(store: Store, patient: Patient, ruling: Ruling) -> None:
    """Keep `ruling` about `patient` after all others; none is ever changed. Raises StoreError where one was."""
    with store.writing() as db:
        kept = read_chain(store, db, patient)
        plain = {key: value for key, value in to_plain(ruling).items() if key != ORIGIN}
        _insert(store, db, patient, {**plain, BEFORE: link_of(kept[-1]) if kept else first_link(patient)})
        write_trail(store, db, DECIDED, patient.id, ruling.what)


def add_ruling(store: Store, db: sqlite3.Connection, patient: Patient, plain: Mapping[str, Any]) -> None:
    """Add a decision of another store, as plain values of a chain, after the newest one here, which it follows."""
    bare = dict(plain)
    if bare.get(ORIGIN) == store.ident:  # it went away from here, and comes back
        del bare[ORIGIN]
    _insert(store, db, patient, bare)
    write_trail(store, db, TAKEN, patient.id, str(plain["what"]))


def _insert(store: Store, db: sqlite3.Connection, patient: Patient, plain: Mapping[str, Any]) -> None:
    ident = uuid4().hex
    body = store.seal(plain, f"decision {ident}")
    db.execute("INSERT INTO decision (id, patient, body) VALUES (?, ?, ?)", (ident, patient.id, body))


def list_rulings(store: Store, patient: Patient) -> list[Ruling]:
    """Return the decisions about `patient`, in order of time. Raises StoreError where one was altered or is missing."""
    with store.reading() as db:
        kept = read_chain(store, db, patient)
    try:
        bare = [{key: value for key, value in one.items() if key != BEFORE} for one in kept]
        return sorted((from_plain(Ruling, one) for one in bare), key=lambda ruling: ruling.at)
    except (TypeError, ValueError) as error:
        raise _altered(store, patient) from error


def read_chain(store: Store, db: sqlite3.Connection, patient: Patient) -> list[dict[str, Any]]:
    """Return the decisions as plain values in the order in which they were kept; each follows the one before.

    Raises StoreError where one was altered, put in or taken out.
    """
    rows = db.execute("SELECT id, body FROM decision WHERE patient = ?", (patient.id,)).fetchall()
    values = [store.open(body, f"decision {ident}") for ident, body in rows]
    if not all(isinstance(one, dict) for one in values):
        raise _altered(store, patient)
    after = {one.get(BEFORE): one for one in values}
    chain: list[dict[str, Any]] = []
    place = first_link(patient)
    while (found := after.pop(place, None)) is not None:
        chain.append(found)
        place = link_of(found)
    told = sum(step.what in (DECIDED, TAKEN) for step in read_trail(store, patient.id))
    if not len(chain) == len(rows) == told:
        raise _altered(store, patient)
    return chain


def _altered(store: Store, patient: Patient) -> StoreError:
    words = f"a decision about {patient.code} was altered, put in or taken out; restore a backup"
    return StoreError(f"{store.database}: {words}")


def first_link(patient: Patient) -> str:
    """Return what the first decision about `patient` follows."""
    return hashlib.sha256(patient.id.encode()).hexdigest()


def link_of(plain: Mapping[str, Any]) -> str:
    """Return the SHA-256 of a decision with that of the one before in it: keys in order, no spaces, ASCII.

    Where it was signed is no part of it: it is the same one in every store.
    """
    signed = {key: value for key, value in plain.items() if key != ORIGIN}
    return hashlib.sha256(json.dumps(signed, sort_keys=True, separators=(",", ":")).encode()).hexdigest()
