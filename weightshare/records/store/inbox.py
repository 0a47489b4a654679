"""What was recorded for a patient, and waits to be taken into the store."""

from __future__ import annotations

import shutil
from dataclasses import dataclass

from weightshare.errors import WeightshareError
from weightshare.records.lock import is_file_held
from weightshare.records.manifest import is_sealed
from weightshare.records.reading import FILE_PATTERN
from weightshare.records.session import FOLDER_PATTERN, recover, unfinished
from weightshare.records.store.patient import Patient, inbox_of
from weightshare.records.store.settled import Readings, take_readings
from weightshare.records.store.store import Store
from weightshare.records.store.visit import GONE, Taken, take_in


@dataclass(frozen=True, slots=True)
class Emptied:
    """What came out of an inbox, and what of it cannot be used, in words."""

    taken: tuple[Taken, ...]
    troubles: tuple[str, ...]
    readings: tuple[Readings, ...] = ()
    """Settled readings of store-bought scales."""


def take_inbox(store: Store, patient: Patient) -> Emptied:
    """Take in what was recorded for `patient`, settled readings too; sessions that were cut short are finished first.

    One that is still being recorded stays, and so does one that cannot be used, which is told. Raises OSError.
    """
    inbox = inbox_of(store, patient)
    for gone in inbox.glob(f"{GONE}*"):
        shutil.rmtree(gone)
    cut_short = unfinished(inbox)
    taken, troubles = [], []
    for folder in sorted(inbox.glob(FOLDER_PATTERN)):
        try:
            if folder in cut_short:
                recover(folder)
            if is_sealed(folder):
                taken.append(take_in(store, patient, folder, move=True))
        except WeightshareError as error:
            troubles.append(str(error))
    readings = []
    for path in sorted(inbox.glob(FILE_PATTERN)):
        try:
            if not is_file_held(path):
                readings.append(take_readings(store, patient, path))
        except WeightshareError as error:
            troubles.append(str(error))
    return Emptied(tuple(taken), tuple(troubles), tuple(readings))
