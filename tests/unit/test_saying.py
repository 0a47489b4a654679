"""The diary of a session that a patient's store holds: taken in with it, added to, sealed with it."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.unit.kept import NOW, PASSPHRASE, TODAY, everything, new_store, session, store_with
from weightshare.errors import WeightshareError
from weightshare.records.diary import DIARY_NAME, About, Diary, Entry, add_entries, read_diary
from weightshare.records.store import cipher
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.saying import find_morning_of, read_said, say
from weightshare.records.store.trail import read_trail
from weightshare.records.store.unbundle import take_bundle
from weightshare.records.store.visit import opened, take_in

AT = NOW.isoformat()
BEFORE = Entry(About.PAIN_BEFORE, AT, 3)
MORNING = Entry(About.PAIN_NEXT_MORNING, AT, 2)


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE])
def test_a_diary_goes_in_with_its_session_and_is_added_to(tmp_path: Path, passphrase: str | None) -> None:
    folder = session(tmp_path)
    add_entries(folder, BEFORE)
    with store_with(tmp_path / "s", passphrase=passphrase) as (store, patient):
        visit = take_in(store, patient, folder).visit
        assert read_said(store, visit) == Diary((BEFORE,))
        assert say(store, patient, visit, MORNING) == read_said(store, visit) == Diary((BEFORE, MORNING))
        with opened(store, visit) as out:
            assert read_diary(out) == Diary((BEFORE, MORNING))
        assert [step.what for step in read_trail(store, patient.id)][-1] == "wrote in a diary"
        assert not list((store.sessions / visit.id).glob("*.part"))
    assert (b"pain-next-morning" in everything(tmp_path / "s")) is (passphrase is None)


def test_a_session_of_which_nothing_was_said_gets_its_first_word(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        assert read_said(store, visit) == Diary()
        say(store, patient, visit, MORNING)
        assert (store.sessions / visit.id / DIARY_NAME).is_file()


def test_an_altered_diary_is_refused(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", passphrase=PASSPHRASE) as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        say(store, patient, visit, MORNING)
        path = store.sessions / visit.id / DIARY_NAME
        path.write_bytes(path.read_bytes()[:-1] + b"x")
        with pytest.raises(WeightshareError):
            read_said(store, visit)


def test_the_morning_is_asked_for_once(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        began = datetime.fromisoformat(visit.started_at)
        assert find_morning_of(store, patient, began + timedelta(hours=2)) is None, "it is the same day"
        assert find_morning_of(store, patient, began + timedelta(hours=22)) == visit
        assert find_morning_of(store, patient, began + timedelta(hours=49)) is None
        say(store, patient, visit, MORNING)
        assert find_morning_of(store, patient, began + timedelta(hours=22)) is None


def test_a_diary_travels_with_its_session(tmp_path: Path) -> None:
    with store_with(tmp_path / "here") as (store, patient):
        say(store, patient, take_in(store, patient, session(tmp_path)).visit, BEFORE)
        write_bundle(store, patient, tmp_path / "a.zip")
    with new_store(tmp_path / "there") as store:
        arrived = take_bundle(store, tmp_path / "a.zip", TODAY)
        (taken,) = arrived.taken
        assert read_said(store, taken.visit) == Diary((BEFORE,))
