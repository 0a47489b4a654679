"""What the clinician corrects of a session that is in the store: kept with it, and its lists and figures anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from weightshare.records.appraisal import Appraisal
from weightshare.records.correction import CORRECTIONS_NAME, Corrections, read_corrections
from weightshare.records.current import Wish, correct
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import read_trail, write_trail
from weightshare.records.store.visit import PART, Visit, about_file, opened, read_visit, unlay
from weightshare.records.value import to_plain
from weightshare.records.whole import FOLDER_MODE, naming, sync_folder

CORRECTED = "corrected a session"


def read_corrected(store: Store, visit: Visit) -> Corrections:
    """Return what was corrected of a session. Raises StoreError, RecordError: it was altered."""
    with opened(store, visit) as folder:
        return read_corrections(folder)


def correct_visit(store: Store, patient: Patient, visit: Visit, wish: Wish) -> Appraisal:
    """Correct a session of `patient`, whole or not at all; return its analysis as it counts from now on.

    It stands in the trail. Raises OptionError where that cannot be, StoreError or RecordError where something was
    altered, and OSError.
    """
    with TemporaryDirectory(prefix="weightshare-") as name:
        folder = Path(name) / f"session-{visit.record}"
        folder.mkdir(mode=FOLDER_MODE)
        unlay(store, visit, folder)
        appraisal = correct(folder, wish, at=store.clock().isoformat(timespec="seconds"), by=store.who)
        take_corrected(store, patient, visit, folder)
    return appraisal


def take_corrected(store: Store, patient: Patient, visit: Visit, folder: Path) -> None:
    """Take what was corrected in `folder`, a copy of the session `visit`, into the store.

    Raises RecordError or StoreError where something was altered, and OSError.
    """
    found, figures = read_visit(folder)
    kept, about = replace(found, id=visit.id), f"session {visit.id}"
    # those that came with a bundle are told once, too
    entries, told = read_corrections(folder).entries, _count_told(store, patient, visit)
    target = store.sessions / visit.id / CORRECTIONS_NAME
    part = target.with_name(f"{CORRECTIONS_NAME}{PART}")
    try:
        with naming(target), store.writing() as db:
            store.box.put(folder / CORRECTIONS_NAME, part, about_file(visit.id, CORRECTIONS_NAME))
            bodies = store.seal(to_plain(kept), about), store.seal(to_plain(figures), f"{about} figures")
            db.execute("UPDATE session SET body = ?, figures = ? WHERE id = ?", (*bodies, visit.id))
            for one in entries[told:]:
                write_trail(store, db, CORRECTED, patient.id, f"{visit.started_at}, {one.words}")
            part.replace(target)
            sync_folder(target.parent)
    finally:
        part.unlink(missing_ok=True)


def check_corrected(store: Store, patient: Patient, visit: Visit, folder: Path) -> Iterator[str]:
    """Yield what is wrong with the corrections of a session whose files lie in `folder`. Raises RecordError."""
    path = store.sessions / visit.id / CORRECTIONS_NAME
    there, told = len(read_corrections(folder).entries), _count_told(store, patient, visit)
    if there < told:
        yield f"{path}: corrections are missing: the trail tells of {told}, and {there} are there; restore a backup"


def _count_told(store: Store, patient: Patient, visit: Visit) -> int:
    """Return how many corrections of a session stand in the trail."""
    steps = read_trail(store, patient.id)
    return sum(step.what == CORRECTED and step.detail.startswith(f"{visit.started_at}, ") for step in steps)
