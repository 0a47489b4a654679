"""What came with a bundle, put beside what is here: nothing is written over, and nothing is signed anew.

Diaries are joined: what was said at either place stands in both. Corrections and decisions are chains, each entry tied
to the one before it: a longer chain goes on from the one here, and of two that parted this one stays, which is told.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weightshare.errors import StoreError
from weightshare.records.correction import read_corrections
from weightshare.records.diary import join, read_diary
from weightshare.records.store.chain import BEFORE, ORIGIN, first_link, link_of, read_chain
from weightshare.records.store.correcting import read_corrected, take_corrected
from weightshare.records.store.patient import Patient
from weightshare.records.store.ruling import Ruling, add_ruling
from weightshare.records.store.saying import keep_said, read_said
from weightshare.records.store.store import Store
from weightshare.records.store.visit import Visit
from weightshare.records.value import from_plain

RULINGS_NAME = "decisions.json"
SCHEMA = "weightshare.decisions/1"
_ID = re.compile(r"[0-9a-f]{32}")

Chain = Sequence[Mapping[str, Any]]
"""Decisions as plain values, in the order in which they were signed."""


@dataclass(frozen=True, slots=True)
class Joined:
    """What came of one thing: how many entries are new here, and in words why others are not."""

    added: int = 0
    conflict: str = ""


def join_said(store: Store, patient: Patient, visit: Visit, folder: Path) -> Joined:
    """Put what was said in `folder`, the session `visit` from elsewhere, to what was said here, whole or not at all.

    Raises StoreError or RecordError where a diary was altered, and OSError.
    """
    here = read_said(store, visit)
    both = join(here, read_diary(folder))
    if both != here:
        keep_said(store, patient, visit, both)
    return Joined(len(both.entries) - len(here.entries))


def join_corrected(store: Store, patient: Patient, visit: Visit, folder: Path) -> Joined:
    """Take what was corrected in `folder`, the session `visit` from elsewhere, where it goes on from what was corrected
    here. Raises as `join_said` does."""
    here, there = read_corrected(store, visit).entries, read_corrections(folder).entries
    if there == here[: len(there)]:
        return Joined()
    if here == there[: len(here)]:
        take_corrected(store, patient, visit, folder)
        return Joined(len(there) - len(here))
    words = f"the session of {visit.started_at} was corrected here and, otherwise, there: what was corrected here stays"
    return Joined(conflict=words)


def tell_rulings(store: Store, patient: Patient) -> bytes:
    """Return the decisions about `patient` as a file, each with the store that it was signed in; empty: there is none.

    Raises StoreError where one was altered.
    """
    with store.reading() as db:
        chain = read_chain(store, db, patient)
    told = [{**one, ORIGIN: one.get(ORIGIN) or store.ident} for one in chain]
    return json.dumps({"schema": SCHEMA, "decisions": told}, indent=1).encode() + b"\n" if told else b""


def read_rulings(data: bytes, patient: Patient, origin: str) -> Chain:
    """Return the decisions in a file that `tell_rulings` made of `patient`; origin: where it is from, for errors.

    Raises StoreError where one was altered, taken out, put in or is about somebody else.
    """
    try:
        value = json.loads(data)
        if value["schema"] != SCHEMA:
            raise StoreError(f"{origin}: is of another version ({value['schema']}); this program reads {SCHEMA}")
        chain: list[dict[str, Any]] = list(value["decisions"])
        link = first_link(patient)
        for one in chain:
            if one[BEFORE] != link or not _ID.fullmatch(one[ORIGIN]):
                raise ValueError("altered")
            from_plain(Ruling, {key: part for key, part in one.items() if key != BEFORE})
            link = link_of(one)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        words = "a decision in it was altered, put in or taken out; nothing was taken in"
        raise StoreError(f"{origin}: {words}") from error
    return chain


def join_rulings(store: Store, patient: Patient, there: Chain) -> Joined:
    """Take the decisions `there`, which `read_rulings` gave, where they go on from those here: as they were signed, and
    marked as signed elsewhere, all of them or none. Raises StoreError where one here was altered."""
    with store.writing() as db:
        here = read_chain(store, db, patient)
        links = [link_of(one) for one in here]
        place = next((k for k, (ours, one) in enumerate(zip(links, there, strict=False)) if ours != link_of(one)), -1)
        if place >= 0:
            return Joined(conflict=_say_conflict(here[place], there[place]))
        for one in there[len(here) :]:
            add_ruling(store, db, patient, one)
    return Joined(max(0, len(there) - len(here)))


def _say_conflict(here: Mapping[str, Any], there: Mapping[str, Any]) -> str:
    ours, theirs = (f"{one['by']} of {one['at'][:10]} ({one['what']})" for one in (here, there))
    return f"decisions parted: here {ours}, there {theirs}; those here stay, and none from there on was taken in"
