"""What a person said of a session that is in the store: its diary, read and added to."""

from __future__ import annotations

import tempfile
from datetime import datetime
from pathlib import Path

from weightshare.records.diary import DIARY_NAME, MORNING_WITHIN, About, Diary, Entry, read_diary, write_diary
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import PART, Visit, about_file, list_visits
from weightshare.records.whole import naming, sync_folder


def read_said(store: Store, visit: Visit) -> Diary:
    """Return the diary of a session, empty where nothing was said. Raises StoreError, RecordError: it was altered."""
    with tempfile.TemporaryDirectory(prefix="weightshare-") as name:
        _fetch(store, visit, Path(name))
        return read_diary(Path(name))


def say(store: Store, patient: Patient, visit: Visit, *entries: Entry) -> Diary:
    """Put `entries` at the end of the diary of a session of `patient`, whole or not at all; return it.

    Raises StoreError or RecordError where the diary was altered, and OSError.
    """
    diary = Diary((*read_said(store, visit).entries, *entries))
    keep_said(store, patient, visit, diary)
    return diary


def keep_said(store: Store, patient: Patient, visit: Visit, diary: Diary) -> None:
    """Have `diary` take the place of the one of a session of `patient`, whole or not at all. Raises OSError."""
    target = store.sessions / visit.id / DIARY_NAME
    part = target.with_name(f"{DIARY_NAME}{PART}")
    with tempfile.TemporaryDirectory(prefix="weightshare-") as name:
        write_diary(Path(name), diary)
        with naming(target):
            store.box.put(Path(name) / DIARY_NAME, part, about_file(visit.id, DIARY_NAME))
            part.replace(target)
        sync_folder(target.parent)
    note_trail(store, "wrote in a diary", patient.id, visit.started_at)


def _fetch(store: Store, visit: Visit, folder: Path) -> None:
    kept = store.sessions / visit.id / DIARY_NAME
    if kept.exists():
        store.box.get(kept, folder / DIARY_NAME, about_file(visit.id, DIARY_NAME))


def find_morning_of(store: Store, patient: Patient, now: datetime) -> Visit | None:
    """Return the newest session of `patient` of a day before `now` whose next morning was not told; None: none within
    48 h."""
    for visit in reversed(list_visits(store, patient)):
        began = datetime.fromisoformat(visit.started_at)
        if began > now or began.astimezone(now.tzinfo).date() == now.date():
            continue
        told = read_said(store, visit).newest(About.PAIN_NEXT_MORNING)
        return visit if told is None and now - began <= MORNING_WITHIN else None
    return None
