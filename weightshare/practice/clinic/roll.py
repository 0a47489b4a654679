"""The list of patients: what a line says of each, and which lines have the words that are looked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from weightshare.records.store.patient import Patient, list_patients
from weightshare.records.store.store import Store
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import count_visits, last_visits
from weightshare.tongue import say


@dataclass(frozen=True, slots=True)
class Row:
    """One patient. `last`: when the newest session began, ISO 8601; empty where there is none, or not yet known."""

    patient: Patient
    sessions: int = 0
    last: str = ""

    @property
    def cells(self) -> tuple[str, ...]:
        """What the list shows: code, name, side, stage, sessions, last session."""
        one = self.patient
        side = "" if one.affected is None else say(one.affected)
        return one.code, one.name, side, one.stage, str(self.sessions), self.last[:16].replace("T", " ")


def list_roll(store: Store) -> tuple[Row, ...]:
    """Return all patients by code, with how many sessions each has; the trail notes that somebody saw the list."""
    counts = count_visits(store)
    note_trail(store, "listed the patients", None)
    return tuple(Row(one, counts.get(one.id, 0)) for one in list_patients(store))


def find_last(store: Store) -> dict[str, str]:
    """Return when each patient's newest session began, by the patient's id."""
    return last_visits(store)


def with_last(rows: Sequence[Row], last: Mapping[str, str]) -> tuple[Row, ...]:
    """Return `rows` with when each one's newest session began."""
    return tuple(replace(row, last=last.get(row.patient.id, "")) for row in rows)


def newest_first(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Return those with the newest session first; who has none comes last, by code."""
    return tuple(sorted(rows, key=lambda row: row.last, reverse=True))


class Index:
    """The rows, ready to be searched: each word that is typed has to stand somewhere in a line."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.rows = tuple(rows)
        self._lines = [(row, "\n".join(row.cells).casefold()) for row in rows]

    def find(self, words: str) -> tuple[Row, ...]:
        """Return the rows in which every one of `words` is found, in their order."""
        found = self._lines
        for one in words.casefold().split():
            found = [line for line in found if one in line[1]]
        return tuple(row for row, _text in found)
