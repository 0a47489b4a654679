"""Sessions in the store: taken in whole, listed without opening their files, opened again."""

from __future__ import annotations

import contextlib
import hashlib
import json
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

from weightshare.errors import RecordError, StoreError
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.records.begun import is_broken_off, is_future
from weightshare.records.calibration import CALIBRATION_NAMES, read_calibration
from weightshare.records.correction import CORRECTIONS_NAME
from weightshare.records.current import read_current
from weightshare.records.diary import DIARY_NAME
from weightshare.records.figure import Figure, figures_of
from weightshare.records.manifest import MANIFEST_NAME, Manifest, verify
from weightshare.records.raw import RAW_NAME
from weightshare.records.repeat import read_done
from weightshare.records.session import ANALYSIS_NAME
from weightshare.records.setting import SessionHead, read_head
from weightshare.records.store.device import keep_device
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import note_trail, write_trail
from weightshare.records.value import from_plain, to_plain
from weightshare.records.whole import FOLDER_MODE, sync_folder

_ID_DIGITS = 32
GONE = "gone-"
"""Begins the name of a folder that was taken in and is being removed."""
PART = ".part"


@dataclass(frozen=True, slots=True)
class Visit:
    """One session, as lists show it. `record`: 32 digits of the SHA-256 of its raw record, by which it is known again.

    `seal`: the SHA-256 of its manifest, which changes with any of its files. `task`: what has to be the same for two
    sessions to be repeats of each other. Percentages are of the load.
    """

    id: str
    record: str
    seal: str
    started_at: str
    ending: str
    exercise: Exercise
    injured: Side
    target_percent: float | None
    steered: bool
    task: str
    duration_s: float
    share_percent: float | None = None
    longest_hold_s: float | None = None
    total_held_s: float | None = None
    repetitions: int = 0
    sets: int = 0
    devices: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    broken_off: bool = False
    """Nothing of it can be compared (`records.begun`); not known of what an earlier version took in."""

    def is_future(self, now: datetime) -> bool:
        """Return whether it is dated after `now`: a clock was wrong."""
        return is_future(self.started_at, now)


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a session that was to be taken in: `is_new` is False where it was there already."""

    visit: Visit
    is_new: bool


def read_visit(folder: Path) -> tuple[Visit, tuple[Figure, ...]]:
    """Return what is kept of the finished session in `folder` beside its files, each of which is checked first.

    Raises RecordError, which names the file, where one is missing or was altered.
    """
    manifest, done, head = verify(folder), read_done(folder), read_head(folder)
    path = folder / ANALYSIS_NAME
    try:
        content = read_current(folder)
        task = json.dumps([str(part) for part in done.task])
        return _make_visit(folder, manifest, head, content, task), figures_of(content)
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no analysis of a session") from error


def _make_visit(folder: Path, manifest: Manifest, head: SessionHead, content: dict[str, Any], task: str) -> Visit:
    record = next((entry.sha256 for entry in manifest.files if entry.name == RAW_NAME), None)
    if record is None:
        raise RecordError(f"{folder / RAW_NAME}: is missing; a session is kept with its raw record")
    present = [folder / name for name in CALIBRATION_NAMES if (folder / name).is_file()]
    return Visit(
        id=uuid4().hex,
        record=record[:_ID_DIGITS],
        seal=hashlib.sha256((folder / MANIFEST_NAME).read_bytes()).hexdigest(),
        started_at=head.started_at,
        ending=str(manifest.ending),
        exercise=head.settings.exercise or Exercise.HOLD,
        injured=head.settings.injured,
        target_percent=head.settings.target_percent,
        steered=bool(content["symmetry"]["steered"]),
        task=task,
        duration_s=float(content["duration_s"]),
        share_percent=content["share_percent"]["mean"],
        longest_hold_s=content["longest_hold_s"],
        total_held_s=content["total_held_s"],
        repetitions=len(content["repetitions"]),
        sets=len(content.get("sets") or ()),
        devices=tuple(read_calibration(each).device_id for each in present),
        warnings=tuple(content["warnings"]),
        broken_off=is_broken_off(head.settings, head.goal, content["repetitions"], content["holds"]),
    )


def take_in(store: Store, patient: Patient, folder: Path, *, move: bool = False) -> Taken:
    """Take the finished session in `folder` in as one of `patient`, whole or not at all; with `move` it then leaves.

    A session that is there already is left as it is. Raises RecordError where it was altered or not finished,
    StoreError where it is another patient's, or where another one with the same raw record is there, and OSError.
    """
    visit, figures = read_visit(folder)
    with _swept(store), store.writing() as db:
        kept = find_same(store, patient, visit, folder)
        if kept is None:
            _lay(store, folder, visit)
            about = f"session {visit.id}"
            bodies = store.seal(to_plain(visit), about), store.seal(to_plain(figures), f"{about} figures")
            row = visit.id, patient.id, store.box.mark(visit.record), *bodies
            db.execute("INSERT INTO session (id, patient, mark, body, figures) VALUES (?, ?, ?, ?, ?)", row)
            keep_device(store, db, folder)
            write_trail(store, db, "took in a session", patient.id, visit.started_at)
    if move:
        _leave(folder)
    return Taken(kept or visit, kept is None)


@contextlib.contextmanager
def _swept(store: Store) -> Iterator[None]:
    """Leave no files of which no row speaks where a change fails; else the next opening removes them."""
    try:
        yield
    except BaseException:
        with contextlib.suppress(StoreError):
            store.sweep()
        raise


def _leave(folder: Path) -> None:
    """Remove a folder that was taken in; renamed first, so that a half-removed one is not taken for a session."""
    gone = folder.with_name(f"{GONE}{folder.name}")
    folder.replace(gone)
    shutil.rmtree(gone)


def find_same(store: Store, patient: Patient, visit: Visit, folder: Path) -> Visit | None:
    """Return the session of `patient` that is the one in `folder`; None where there is none of the same raw record.

    Raises StoreError where it is another patient's, or another one with the same raw record is there."""
    asked = "SELECT patient, id, body FROM session WHERE mark = ?", (store.box.mark(visit.record),)
    with store.reading() as db:
        row = db.execute(*asked).fetchone()
    if row is None:
        return None
    owner, kept = row[0], _read(store, *row[1:])
    if owner != patient.id:
        raise StoreError(f"{folder}: this session is another patient's in this store; nothing was taken in")
    if kept.seal != visit.seal:
        raise StoreError(f"{folder}: another session with the same raw record is there; both cannot be right")
    return kept


def _lay(store: Store, folder: Path, visit: Visit) -> None:
    """Lay the session's files into the store; where that fails, nothing of them is left. Raises OSError."""
    target = store.sessions / visit.id
    try:
        target.mkdir(mode=FOLDER_MODE)
        for name in _names(folder):
            store.box.put(folder / name, target / name, about_file(visit.id, name))
        for each in (target, store.sessions):
            sync_folder(each)
    except BaseException:
        shutil.rmtree(target, ignore_errors=True)
        raise


def _names(folder: Path) -> list[str]:
    """Return the names of a session's files, of its diary and corrections: nothing else there is part of it."""
    beside = [name for name in (DIARY_NAME, CORRECTIONS_NAME) if (folder / name).is_file()]
    return [*(entry.name for entry in verify(folder, ()).files), *beside, MANIFEST_NAME]


def about_file(ident: str, name: str) -> str:
    """Return what a file of the session `ident` is sealed for: it opens in no other's place."""
    return f"session {ident} file {name}"


def list_visits(store: Store, patient: Patient) -> list[Visit]:
    """Return the sessions of `patient` in order of time. Raises StoreError where one was altered."""
    with store.reading() as db:
        rows = db.execute("SELECT id, body FROM session WHERE patient = ?", (patient.id,)).fetchall()
    return sorted((_read(store, *row) for row in rows), key=lambda visit: visit.started_at)


def count_visits(store: Store) -> dict[str, int]:
    """Return how many sessions each patient has, by the patient's id; who has none is not among them."""
    with store.reading() as db:
        return dict(db.execute("SELECT patient, count(*) FROM session GROUP BY patient").fetchall())


def last_visits(store: Store) -> dict[str, str]:
    """Return when each patient's newest session began, by the patient's id; one dated in the future tells nothing.

    Raises StoreError where a session was altered.
    """
    found: dict[str, str] = {}
    with store.reading() as db:
        rows = db.execute("SELECT id, patient, body FROM session").fetchall()
    now = store.clock()
    for ident, patient, body in rows:
        began = str(store.open(body, f"session {ident}")["started_at"])
        # only what may be the newest is worth reading as a time
        if began > found.get(patient, "") and not is_future(began, now):
            found[patient] = began
    return found


def _read(store: Store, ident: str, body: bytes) -> Visit:
    return store.read(Visit, body, f"session {ident}")


def list_figures(store: Store, patient: Patient) -> dict[str, tuple[Figure, ...]]:
    """Return the figures of each session of `patient`, by the session's id."""
    with store.reading() as db:
        rows = db.execute("SELECT id, figures FROM session WHERE patient = ?", (patient.id,)).fetchall()
    opened = ((ident, store.open(body, f"session {ident} figures")) for ident, body in rows)
    return {ident: tuple(from_plain(Figure, one) for one in each) for ident, each in opened}


@contextlib.contextmanager
def opened(store: Store, visit: Visit) -> Iterator[Path]:
    """Hand out the folder of a session; of a sealed store it is a copy that only its owner can read, gone afterwards.

    Raises StoreError where it was altered, and OSError.
    """
    if not store.box.is_sealed:
        yield store.sessions / visit.id
        return
    with tempfile.TemporaryDirectory(prefix="weightshare-") as name:
        folder = Path(name) / f"session-{visit.record}"
        folder.mkdir(mode=FOLDER_MODE)
        unlay(store, visit, folder)
        yield folder


def unlay(store: Store, visit: Visit, folder: Path) -> None:
    """Copy the files of a session out of the store into `folder`. Raises StoreError for an altered one, and OSError."""
    for path in kept_files(store.sessions / visit.id):
        try:
            store.box.get(path, folder / path.name, about_file(visit.id, path.name))
        except StoreError as error:
            raise StoreError(f"{path}: was altered; restore a backup") from error


def kept_files(folder: Path) -> list[Path]:
    """Return the files of a session in its folder, without what a program that was killed left half written.

    Raises StoreError where there is no such folder.
    """
    if not folder.is_dir():
        raise StoreError(f"{folder}: is missing; restore a backup")
    return sorted(path for path in folder.iterdir() if path.suffix != PART)


def delete_visit(store: Store, patient: Patient, visit: Visit) -> None:
    """Delete one session of `patient` with its files. Raises StoreError."""
    with store.writing() as db:
        db.execute("DELETE FROM session WHERE id = ? AND patient = ?", (visit.id, patient.id))
        write_trail(store, db, "deleted a session", patient.id, visit.started_at)
    store.sweep()


def look_at(store: Store, patient: Patient) -> list[Visit]:
    """Return the sessions of `patient`, and note in the trail that somebody saw them."""
    note_trail(store, "saw", patient.id)
    return list_visits(store, patient)
