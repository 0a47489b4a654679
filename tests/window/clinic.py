"""The clinician who comes to the patients in the window, by keys alone; and a store with a few of them."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.unit.kept import session as fake_session
from tests.unit.kept import store_with
from tests.window.conftest import Bench
from tests.window.test_keyboard import press
from weightshare.records.passphrase import set_passphrase
from weightshare.records.place import store_place
from weightshare.records.store.patient import Affected, add_patient, find_patient, make_patient
from weightshare.records.store.store import open_store
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import take_in
from weightshare.window.main import PracticeWindow
from weightshare.window.patientdoor import PatientDoor

Key = Qt.Key
WORDS = "a rail within reach"


def now() -> Any:
    from datetime import datetime

    return datetime.now().astimezone()


def few(secret: str | None = None) -> None:
    """Make a store with three patients, of whom one has sessions on five days."""
    with store_with(store_place(), "A-1", secret, affected=Affected.LEFT, name="Demo One") as (store, patient):
        for day in range(5):
            take_in(store, patient, fake_session(store.place.parent / f"made-{day}", day, 50.0 + day % 3))
        for code, side in (("B-2", Affected.RIGHT), ("C-3", Affected.BOTH)):
            add_patient(store, make_patient(code, store.clock().date(), affected=side))


def come_in(bench: Bench) -> tuple[PracticeWindow, PatientDoor]:
    """Open the window, unlock it, and ask for the patients; come back when the list, or what is before it, is there."""
    set_passphrase(WORDS)
    window = bench.open()
    press(bench, Key.Key_F6)
    assert window.ward.lock_page.is_open, "the patients are the clinician's to see"
    QTest.keyClicks(window.ward.lock_page.first, WORDS)
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._patients is not None and window._annex._patients.list.is_open)
    door = window._annex.patients
    bench.until(lambda: not door.clerk.is_busy)
    return window, door


def see(bench: Bench, door: PatientDoor, words: str) -> None:
    """Look for a patient, open the page, and wait until all of it is there."""
    QTest.keyClicks(door.list.words, words)
    press(bench, Key.Key_Return)
    bench.until(lambda: door.page.sight is not None and not door.clerk.is_busy, 60.0)


def steps(code: str) -> list[str]:
    with open_store(store_place(), "tester", now) as store:
        return [step.what for step in read_trail(store, find_patient(store, code).id)]
