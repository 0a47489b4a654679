"""How long it takes to list a patient's thousands of sessions, against reading the same rows and JSON alone."""

from __future__ import annotations

import json
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.records.store.patient import add_patient, list_patients, make_patient
from weightshare.records.store.store import Store, make_store
from weightshare.records.store.visit import Visit, list_visits
from weightshare.records.value import to_plain

SESSIONS = 5000
ROUNDS = 7
BEGAN = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)


def measure() -> list[dict[str, Any]]:
    """Return the ratios of the medians, of a plain and of a sealed store."""
    return [_measure("plain", None, 8.0), _measure("sealed", "four words of mine", 8.0)]


def _measure(name: str, passphrase: str | None, limit: float) -> dict[str, Any]:
    """Return one ratio; the rounds alternate, so that a busy moment meets both."""
    ours, bare = [], []
    with tempfile.TemporaryDirectory() as folder, _filled(Path(folder), passphrase) as store:
        (patient,) = list_patients(store)
        for _ in range(ROUNDS):
            ours.append(_seconds(lambda: list_visits(store, patient)))
            bare.append(_seconds(lambda: _bare(store.database)))
    ours_s, bare_s = statistics.median(ours), statistics.median(bare)
    note = f"{SESSIONS} sessions in {ours_s * 1e3:.0f} ms, their rows in {bare_s * 1e3:.0f} ms"
    figure = {"name": f"list sessions, {name} / read rows", "value": ours_s / bare_s, "limit": limit}
    return {**figure, "direction": "at most", "note": note}


def _bare(database: Path) -> list[Any]:
    """Read every row, and as many JSON objects of their size."""
    with closing(sqlite3.connect(database)) as db:
        rows = db.execute("SELECT id, body FROM session").fetchall()
    return [json.loads(TEMPLATE) for _ in rows]


def _seconds(task: Callable[[], object]) -> float:
    begin = time.perf_counter()
    task()
    return time.perf_counter() - begin


def _visit(number: int) -> Visit:
    at = (BEGAN + timedelta(hours=number)).isoformat()
    return Visit(
        uuid4().hex, uuid4().hex, "0" * 64, at, "complete", Exercise.RAISE, Side.LEFT, 50.0, False, "raise", 60.0, 51.2,
        None, None, 30, 3, ("0011223344556677",), ("a warning such as there are",),
    )  # fmt: skip


TEMPLATE = json.dumps(to_plain(_visit(0)))


def _filled(place: Path, passphrase: str | None) -> Store:
    """Return a store with one patient of so many sessions, without their files: a list opens none."""
    store = make_store(place, "bench", lambda: BEGAN, passphrase)
    patient = add_patient(store, make_patient("A-1", BEGAN.date()))
    with store.writing() as db:
        for number in range(SESSIONS):
            one = _visit(number)
            body = store.seal(to_plain(one), f"session {one.id}")
            row = one.id, patient.id, store.box.mark(one.record), body, b"[]"
            db.execute("INSERT INTO session (id, patient, mark, body, figures) VALUES (?, ?, ?, ?, ?)", row)
    return store
