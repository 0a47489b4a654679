"""What a list of thousands of patients costs: to search it while somebody types, to find each one's last session."""

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
from weightshare.records.store.patient import make_patient
from weightshare.records.store.store import Store, make_store
from weightshare.records.store.visit import Visit
from weightshare.records.value import to_plain

PATIENTS, SESSIONS = 5000, 20
ROUNDS = 3
BEGAN = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)


def measure() -> list[dict[str, Any]]:
    """Return the ratios of the medians to what reading the list takes, of a plain and of a sealed store."""
    return [*_measure("plain", None), *_measure("sealed", "four words of mine")]


def _measure(name: str, passphrase: str | None) -> list[dict[str, Any]]:
    listed, searched, last = [], [], []
    with tempfile.TemporaryDirectory() as folder, _filled(Path(folder), passphrase) as store:
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
        {"name": f"{what} / read it, {name}", "value": spent_s / list_s, "limit": limit, **shared}
        for what, spent_s, limit in figures
    ]


def _seconds(task: Callable[[], object]) -> float:
    begin = time.perf_counter()
    task()
    return time.perf_counter() - begin


def _filled(place: Path, passphrase: str | None) -> Store:
    """Return a store with so many patients and sessions, without files: a list opens none."""
    store = make_store(place, "bench", lambda: BEGAN + timedelta(days=400), passphrase)
    made = [make_patient(f"P-{number:05}", BEGAN.date(), name=f"Demo {number}") for number in range(PATIENTS)]
    rows = [(one.id, store.box.mark(one.code), store.seal(to_plain(one), f"patient {one.id}")) for one in made]
    with store.writing() as db:
        db.executemany("INSERT INTO patient (id, mark, body) VALUES (?, ?, ?)", rows)
        for one in made:
            sessions = [_row(store, one.id, number) for number in range(SESSIONS)]
            db.executemany("INSERT INTO session (id, patient, mark, body, figures) VALUES (?, ?, ?, ?, ?)", sessions)
    return store


def _row(store: Store, patient: str, number: int) -> tuple[str, str, str, bytes, bytes]:
    ident, at = uuid4().hex, (BEGAN + timedelta(days=number)).isoformat()
    visit = Visit(ident, ident, "0" * 64, at, "complete", Exercise.RAISE, Side.LEFT, 50.0, False, "raise", 60.0, 51.2)
    return ident, patient, store.box.mark(ident), store.seal(to_plain(visit), f"session {ident}"), b"[]"
