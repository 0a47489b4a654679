"""The decisions about a patient, tied together, and held against what stands of them elsewhere.

Each keeps the SHA-256 of the one before it, the first that of the patient's id. The trail's entry that tells of one has
its SHA-256, and the patient's head has how many there are and that of the newest. So one that was altered, taken out,
put in or moved to somebody else is found, unless whoever did it wrote decisions, trail and head anew. An earlier
version of the store kept neither head nor SHA-256 in the trail: there the newest decision stands unsealed.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from weightshare.errors import StoreError
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import Step, read_trail, write_trail

DECIDED, TAKEN = "decided", "took in a decision"
BEFORE, ORIGIN = "before", "store"
"""Keys beside those of a decision: the SHA-256 of the one before it; the id of the store that it was signed in."""

Plain = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Chain:
    """The decisions about a patient as plain values, in the order in which they were kept; those out of it come last.

    sound: of each, whether another place vouches for it. lost: what the trail tells of those that are not there, None
    where it does not. unread: how many rows cannot be read. fault: what is wrong, in words; empty where nothing is.
    is_sealed: whether a head vouches for the newest.
    """

    values: tuple[Plain, ...] = ()
    sound: tuple[bool, ...] = ()
    lost: tuple[Step | None, ...] = ()
    unread: int = 0
    fault: str = ""
    is_sealed: bool = True


@dataclass(frozen=True, slots=True)
class _Head:
    count: int
    newest: str


def look_chain(store: Store, db: sqlite3.Connection, patient: Patient) -> Chain:
    """Return the decisions about `patient`, whatever was done to them. Raises sqlite3.Error."""
    values, unread = _read_rows(store, db, patient)
    try:
        steps = [step for step in read_trail(store, patient.id) if step.what in (DECIDED, TAKEN)]
        head = _read_head(store, db, patient)
    except StoreError as error:
        return Chain(tuple(values), (False,) * len(values), (), unread, str(error))
    chain = _walk(values, patient)
    links = [link_of(one) for one in chain]
    if not unread and len(chain) == len(values) == len(steps) and _agree(links, steps, head):
        return Chain(tuple(chain), (True,) * len(chain), is_sealed=head is not None or not chain)
    seals = [step.seal for step in steps] + ([] if head is None else [head.newest])
    rest = [one for one in values if not any(one is other for other in chain)]
    ordered = (*chain, *rest)
    missing = max(len(steps), head.count if head else 0) - len(values) - unread
    words = f"a decision about {patient.code} was altered, put in or taken out; restore a backup"
    fault = f"{store.database}: {words}"
    return Chain(ordered, _sound(ordered, seals), _lost(ordered, steps, missing), unread, fault, head is not None)


def read_chain(store: Store, db: sqlite3.Connection, patient: Patient) -> list[Plain]:
    """Return the decisions as plain values in the order in which they were kept; each follows the one before.

    Raises StoreError where one was altered, put in or taken out.
    """
    found = look_chain(store, db, patient)
    if found.fault:
        raise StoreError(found.fault)
    return list(found.values)


def add_link(store: Store, db: sqlite3.Connection, patient: Patient, plain: Plain, what: str) -> None:
    """Add a decision, which follows the newest one there is, with what vouches for it. Raises sqlite3.Error."""
    ident, link = uuid4().hex, link_of(plain)
    body = store.seal(plain, f"decision {ident}")
    db.execute("INSERT INTO decision (id, patient, body) VALUES (?, ?, ?)", (ident, patient.id, body))
    write_trail(store, db, what, patient.id, str(plain["what"]), seal=link)
    (count,) = db.execute("SELECT count(*) FROM decision WHERE patient = ?", (patient.id,)).fetchone()
    head = store.seal({"decisions": count, "newest": link}, _about(patient))
    db.execute("INSERT OR REPLACE INTO head (patient, body) VALUES (?, ?)", (patient.id, head))


def first_link(patient: Patient) -> str:
    """Return what the first decision about `patient` follows."""
    return hashlib.sha256(patient.id.encode()).hexdigest()


def link_of(plain: Mapping[str, Any]) -> str:
    """Return the SHA-256 of a decision with that of the one before in it: keys in order, no spaces, ASCII.

    Where it was signed is no part of it: it is the same one in every store.
    """
    signed = {key: value for key, value in plain.items() if key != ORIGIN}
    return hashlib.sha256(json.dumps(signed, sort_keys=True, separators=(",", ":")).encode()).hexdigest()


def _about(patient: Patient) -> str:
    return f"head {patient.id}"


def _read_rows(store: Store, db: sqlite3.Connection, patient: Patient) -> tuple[list[Plain], int]:
    """Return the decisions in the order of their rows, and how many cannot be read."""
    found, unread = [], 0
    for ident, body in db.execute("SELECT id, body FROM decision WHERE patient = ? ORDER BY rowid", (patient.id,)):
        try:
            value = store.open(body, f"decision {ident}")
        except StoreError:
            value = None
        if isinstance(value, dict):
            found.append(value)
        else:
            unread += 1
    return found, unread


def _read_head(store: Store, db: sqlite3.Connection, patient: Patient) -> _Head | None:
    """Return the head of `patient`; None where there is none. Raises StoreError where it was altered."""
    row = db.execute("SELECT body FROM head WHERE patient = ?", (patient.id,)).fetchone()
    if row is None:
        return None
    try:
        value = store.open(row[0], _about(patient))
        return _Head(int(value["decisions"]), str(value["newest"]))
    except (StoreError, KeyError, TypeError, ValueError) as error:
        words = f"how many decisions there are about {patient.code} was altered; restore a backup"
        raise StoreError(f"{store.database}: {words}") from error


def _walk(values: Sequence[Plain], patient: Patient) -> list[Plain]:
    """Return those decisions that follow each other from the first one on."""
    after = {str(one.get(BEFORE)): one for one in values}
    chain: list[Plain] = []
    place = first_link(patient)
    while (found := after.pop(place, None)) is not None:
        chain.append(found)
        place = link_of(found)
    return chain


def _agree(links: Sequence[str], steps: Sequence[Step], head: _Head | None) -> bool:
    """Return whether trail and head tell of the decisions `links`, no more and no less."""
    sealed = [bool(step.seal) for step in steps]
    if sealed != sorted(sealed) or any(step.seal not in ("", link) for step, link in zip(steps, links, strict=True)):
        return False
    if head is None:
        return not any(sealed)
    return bool(sealed and sealed[-1]) and (head.count, head.newest) == (len(links), links[-1])


def _sound(values: Sequence[Plain], seals: Iterable[str]) -> tuple[bool, ...]:
    """Return of each decision whether one of `seals` is of it, or one that is sound follows it."""
    links = [link_of(one) for one in values]
    known = dict(zip(links, values, strict=True))
    found: set[str] = set()
    asked = list(seals)
    while asked:
        link = asked.pop()
        if link in known and link not in found:
            found.add(link)
            asked.append(str(known[link].get(BEFORE)))
    # of one that stands twice, the second was put in
    return tuple(link in found and link not in links[:place] for place, link in enumerate(links))


def _lost(values: Iterable[Plain], steps: Iterable[Step], count: int) -> tuple[Step | None, ...]:
    """Return what the trail tells of the `count` decisions that are not there."""
    links = {link_of(one) for one in values}
    known = [step for step in steps if step.seal and step.seal not in links]
    return tuple(known[-count:] + [None] * (count - len(known))) if count > 0 else ()
