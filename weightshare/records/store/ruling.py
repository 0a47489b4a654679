"""Decisions of the clinician: what was decided about a patient, by whom, and the numbers that it rested on.

None is ever changed: another one follows it, tied to the one before. One that came with a bundle stands as it was
signed, in the same chain, and says in which store that was. One that nothing vouches for is told as in doubt, and
nothing is signed after it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from weightshare.errors import OptionError
from weightshare.programme.prescription import Prescription
from weightshare.records.store.chain import (
    BEFORE,
    DECIDED,
    ORIGIN,
    TAKEN,
    Chain,
    add_link,
    first_link,
    link_of,
    look_chain,
    read_chain,
)
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import Step
from weightshare.records.value import from_plain, to_plain

IN_DOUBT, MISSING = "in doubt", "missing"
UNKNOWN = "not known"
LONGEST_REASON = 500


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

    `store`: the id of the store in which it was signed, where that is another one. `doubt`: why nothing is built upon
    it, in words; empty where it is as it was signed.
    """

    at: str
    by: str
    what: str
    stage_from: str = ""
    stage_to: str = ""
    note: str = ""
    evidence: str = ""
    store: str = ""
    doubt: str = ""

    @property
    def signer(self) -> str:
        """Who signed it, that this was elsewhere, and what is wrong with it."""
        marks = [*(["in another store"] if self.store else []), *([self.doubt] if self.doubt else [])]
        return f"{self.by} ({', '.join(marks)})" if marks else self.by

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
            "doubt": self.doubt or None,
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
        plain = {key: value for key, value in to_plain(ruling).items() if key not in (ORIGIN, "doubt")}
        plain[BEFORE] = link_of(kept[-1]) if kept else first_link(patient)
        add_link(store, db, patient, plain, DECIDED)


def add_ruling(store: Store, db: sqlite3.Connection, patient: Patient, plain: Mapping[str, Any]) -> None:
    """Add a decision of another store, as plain values of a chain, after the newest one here, which it follows."""
    bare = dict(plain)
    if bare.get(ORIGIN) == store.ident:  # it went away from here, and comes back
        del bare[ORIGIN]
    add_link(store, db, patient, bare, TAKEN)


def list_rulings(store: Store, patient: Patient) -> list[Ruling]:
    """Return the decisions about `patient`, in order of time. Those that are in doubt say so; one that is missing, or
    cannot be read, has a place of its own. Raises StoreError where the database cannot be read."""
    with store.reading() as db:
        found = look_chain(store, db, patient)
    told = sorted(_tell(found), key=lambda ruling: ruling.at)
    # of when nothing is known: it may be the newest
    return [one for one in told if one.at] + [one for one in told if not one.at]


def doubt_of(store: Store, patient: Patient) -> str:
    """Return what is wrong with the decisions about `patient`, in words; empty where nothing is. Raises StoreError."""
    with store.reading() as db:
        return look_chain(store, db, patient).fault


def _tell(chain: Chain) -> Iterator[Ruling]:
    for one, is_sound in zip(chain.values, chain.sound, strict=True):
        try:
            ruling = from_plain(Ruling, {key: value for key, value in one.items() if key != BEFORE})
            yield replace(ruling, doubt="" if is_sound else IN_DOUBT)
        except (TypeError, ValueError):
            yield Ruling("", UNKNOWN, "cannot be read", doubt=IN_DOUBT)
    for step in chain.lost:
        yield Ruling("", UNKNOWN, "no longer there", doubt=MISSING) if step is None else _miss(step)
    yield from [Ruling("", UNKNOWN, "cannot be read", doubt=IN_DOUBT)] * chain.unread


def _miss(step: Step) -> Ruling:
    return Ruling(step.at, step.who, step.detail, doubt=MISSING)
