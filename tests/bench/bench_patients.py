"""What thousands of patients and sessions cost: to search the list while somebody types, to find each one's last
session, to read one patient's page."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.clinic.roll import Index, find_last, list_roll, with_last
from weightshare.records.figure import Figure
from weightshare.records.store.patient import find_patient, make_patient
from weightshare.records.store.ruling import list_rulings
from weightshare.records.store.settled import list_readings
from weightshare.records.store.store import Store, make_store
from weightshare.records.store.visit import Visit, list_figures, list_visits
from weightshare.records.value import to_plain

PATIENTS, SESSIONS = 5000, 20
FEW_SESSIONS, MANY_SESSIONS = 20, 2000
ROUNDS = 3
BEGAN = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)


def measure() -> list[dict[str, Any]]:
    """Return the ratios of the medians to what reading the list takes, of a plain and of a sealed store."""
    return [*_measure("plain", None), *_measure("sealed", "four words of mine")]


def _measure(name: str, passphrase: str | None) -> list[dict[str, Any]]:
    listed, searched, last = [], [], []
    with tempfile.TemporaryDirectory() as folder, filled(Path(folder), passphrase) as store:
        page_s = page_seconds(store)
        for _ in range(ROUNDS):
            listed.append(_seconds(lambda: list_roll(store)))
            last.append(_seconds(lambda: find_last(store)))
            index = Index(with_last(list_roll(store), find_last(store)))
            searched.append(_seconds(lambda index=index: index.find("p-0123")))  # type: ignore[misc]
    list_s, search_s, last_s = map(statistics.median, (listed, searched, last))
    note = f"{PATIENTS} patients with {SESSIONS} sessions each: {list_s * 1e3:.0f} ms, {search_s * 1e3:.1f} ms"
    shared = {"direction": "at most", "note": note}
    figures = ("search the list", search_s, 0.2), ("find the last sessions", last_s, 30.0)
    return [
        *(
            {"name": f"{what} / read it, {name}", "value": spent_s / list_s, "limit": limit, **shared}
            for what, spent_s, limit in figures
        ),
        *_pages(name, passphrase, page_s),
    ]


def _pages(name: str, passphrase: str | None, many_s: float) -> list[dict[str, Any]]:
    """Return what a page takes among all patients, and of many sessions, in parts of one alone and of few; many_s: the
    first of them."""
    took_s = []
    for sessions in (FEW_SESSIONS, MANY_SESSIONS):
        with tempfile.TemporaryDirectory() as folder, filled(Path(folder), passphrase, 1, sessions) as store:
            took_s.append(page_seconds(store))
    few_s, long_s = took_s
    note = (
        f"{few_s * 1e3:.1f} ms alone, {many_s * 1e3:.1f} ms among {PATIENTS}; {long_s * 1e3:.0f} ms of {MANY_SESSIONS}"
    )
    shared = {"direction": "at most", "note": note}
    return [
        {"name": f"a patient's page among all / alone, {name}", "value": many_s / few_s, "limit": 2.0, **shared},
        {
            "name": f"a page of {MANY_SESSIONS} / of 20 sessions, {name}",
            "value": long_s / few_s,
            "limit": 150.0,
            **shared,
        },
    ]


def page_seconds(store: Store, rounds: int = 7) -> float:
    """Return what it takes to read all of one patient's page from the database, s: the least of some rounds."""
    return min(_seconds(lambda: read_page(store, "P-00000")) for _ in range(rounds))


def read_page(store: Store, code: str) -> None:
    """Read all that a patient's page shows from the database."""
    patient = find_patient(store, code)
    list_visits(store, patient)
    list_figures(store, patient)
    list_rulings(store, patient)
    list_readings(store, patient)


def _seconds(task: Callable[[], object]) -> float:
    begin = time.perf_counter()
    task()
    return time.perf_counter() - begin


def filled(place: Path, passphrase: str | None, patients: int = PATIENTS, sessions: int = SESSIONS) -> Store:
    """Return a store with so many patients, and sessions of each, without files: a list opens none."""
    store = make_store(place, "bench", lambda: BEGAN + timedelta(days=400), passphrase)
    made = [make_patient(f"P-{number:05}", BEGAN.date(), name=f"Demo {number}") for number in range(patients)]
    rows = [(one.id, store.box.mark(one.code), store.seal(to_plain(one), f"patient {one.id}")) for one in made]
    with store.writing() as db:
        db.executemany("INSERT INTO patient (id, mark, body) VALUES (?, ?, ?)", rows)
        for one in made:
            kept = [_row(store, one.id, number) for number in range(sessions)]
            db.executemany("INSERT INTO session (id, patient, mark, body, figures) VALUES (?, ?, ?, ?, ?)", kept)
    return store


def _row(store: Store, patient: str, number: int) -> tuple[str, str, str, bytes, bytes]:
    ident, at = uuid4().hex, (BEGAN + timedelta(days=number)).isoformat()
    visit = Visit(ident, ident, "0" * 64, at, "complete", Exercise.RAISE, Side.LEFT, 50.0, False, "raise", 60.0, 51.2)
    return (
        ident,
        patient,
        store.box.mark(ident),
        store.seal(to_plain(visit), f"session {ident}"),
        _figures(store, ident),
    )


def _figures(store: Store, ident: str) -> bytes:
    told = [Figure(f"figure {number}", "%", 50.0 + number, Side.LEFT, 0.03) for number in range(8)]
    return store.seal(to_plain(tuple(told)), f"session {ident} figures")
