"""Calibrations in the store: those that its sessions were measured with, each once."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.records.calibration import CALIBRATION_NAMES
from weightshare.records.store.store import Store


def keep_device(store: Store, db: sqlite3.Connection, folder: Path) -> None:
    """Keep the calibrations that lie in a session's folder, within the change that takes it in."""
    for path in (folder / name for name in CALIBRATION_NAMES):
        if not path.is_file():
            continue
        data = path.read_bytes()
        ident, mark = uuid4().hex, store.box.mark(hashlib.sha256(data).hexdigest())
        body = store.seal(json.loads(data), f"calibration {ident}")
        db.execute("INSERT OR IGNORE INTO calibration (id, mark, body) VALUES (?, ?, ?)", (ident, mark, body))


def list_devices(store: Store) -> list[dict[str, Any]]:
    """Return the calibrations that sessions were measured with, as their files hold them, by scale and day."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM calibration").fetchall()
    found: list[dict[str, Any]] = [store.open(body, f"calibration {ident}") for ident, body in rows]
    return sorted(found, key=lambda one: (str(one["device_id"]), str(one["made_on"])))
