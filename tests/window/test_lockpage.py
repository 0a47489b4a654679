"""The page of the passphrase says why it is there, whoever asked for what is behind it."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QTest

from tests.window.conftest import Bench
from tests.window.test_keyboard import Key, press
from weightshare.practice.role import Role
from weightshare.records.passphrase import has_passphrase, set_passphrase
from weightshare.window.lockpage import PATIENTS_TITLE, SET_FOR_PATIENTS, SET_TITLE, UNLOCK_PATIENTS, UNLOCK_TITLE

WORDS = "four words of mine"


pytestmark = pytest.mark.usefixtures("own_place")


def test_who_asks_for_patients_first_of_all_is_told_to_set_a_passphrase_and_then_sees_them(bench: Bench) -> None:
    """The page said how a screen is left to a patient, to a clinician who had asked for the patients."""
    window = bench.open()
    press(bench, Key.Key_F6)
    page = window.ward.lock_page
    assert (page.title.text(), page.words.text()) == (PATIENTS_TITLE, SET_FOR_PATIENTS)
    for box in (page.first, page.second):
        QTest.keyClicks(box, WORDS)
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._patients is not None and window._annex._patients.list.is_open)
    assert has_passphrase() and window.ward.keeper.role is Role.CLINICIAN


def test_who_asked_for_patients_once_is_told_of_the_lock_alone_later(bench: Bench) -> None:
    window = bench.open()
    page = window.ward.lock_page
    press(bench, Key.Key_F6)
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_F3)
    assert page.title.text() == SET_TITLE


def test_behind_a_passphrase_the_patients_are_named_too(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    press(bench, Key.Key_F6)
    page = window.ward.lock_page
    assert (page.title.text(), page.words.text()) == (PATIENTS_TITLE, UNLOCK_PATIENTS)
    assert not page.second.isVisible()
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_F3)
    assert page.title.text() == UNLOCK_TITLE
