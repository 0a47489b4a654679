"""Finished sessions for tests of the store, made quickly: real files and seals, a raw record of arbitrary bytes."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from tests.unit.test_answer import BOTH, RAISE, RAISED, asked
from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.appraisal import Appraisal
from weightshare.records.calibration import write_calibration
from weightshare.records.manifest import Ending, seal
from weightshare.records.setting import SessionHead, write_head
from weightshare.records.store.patient import Patient, add_patient, make_patient
from weightshare.records.store.store import Store, make_store, open_store
from weightshare.task import Settings

NOW = datetime(2026, 6, 1, 12, 0, tzinfo=timezone(timedelta(hours=2)))
TODAY = NOW.date()
PASSPHRASE = "four words of mine"
SOFAR = asked(RAISED, RAISE, BOTH[:1])
TRACE = "time_s,left_N,right_N\n0,300.0,400.0\n0.01,301.5,398.5\n0.02,,\n0.03,299.0,401.0\n"
CALIBRATION = Calibration("0011223344556677", date(2026, 1, 2), (ChannelCalibration(0, 0.0, 0.001),))


def clock() -> datetime:
    return NOW


def new_store(place: Path, passphrase: str | None = None) -> Store:
    return make_store(place, "tester", clock, passphrase)


def old_store(place: Path, passphrase: str | None = None) -> Store:
    return open_store(place, "tester", clock, passphrase)


@contextmanager
def store_with(
    place: Path, code: str = "A-1", passphrase: str | None = None, **details: Any
) -> Iterator[tuple[Store, Patient]]:
    """Hand out a new store with one patient in it."""
    with new_store(place, passphrase) as store:
        yield store, add_patient(store, make_patient(code, TODAY, **details))


def session(
    place: Path,
    day: int = 0,
    percent: float = 50.0,
    settings: Settings = RAISE,
    appraisal: Appraisal = SOFAR,
    **changes: Any,
) -> Path:
    """Make a finished session that began `day` days after 2 March 2026, and return its folder."""
    started_at = (datetime(2026, 3, 2, 10, 0, tzinfo=NOW.tzinfo) + timedelta(days=day)).isoformat()
    folder = place / f"session-{started_at[:19].replace(':', '')}"
    folder.mkdir(parents=True)
    answers = tuple(replace(one, value_percent=percent) for one in appraisal.answers)
    content = {**replace(appraisal, answers=answers).to_json(), **changes}
    write_head(folder, SessionHead(settings, started_at=started_at, program="weightshare 0"))
    (folder / "analysis.json").write_text(json.dumps(content))
    (folder / "trace.csv").write_text(TRACE)
    (folder / "raw.wsr").write_bytes(hashlib.shake_256(f"{day} {percent}".encode()).digest(20_000))
    write_calibration(folder / "calibration.json", CALIBRATION)
    seal_anew(folder)
    return folder


def seal_anew(folder: Path) -> None:
    names = [path.name for path in folder.iterdir() if path.name != "manifest.json"]
    seal(folder, names, Ending.COMPLETE, "weightshare 0")


def everything(place: Path) -> bytes:
    """Return the bytes of every file under `place`, and their names."""
    files = [path for path in sorted(place.rglob("*")) if path.is_file()]
    return b"\n".join(path.read_bytes() + str(path.relative_to(place)).encode() for path in files)
