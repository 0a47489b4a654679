"""Sessions in the store: taken in whole or not at all, known again, listed, opened."""

from __future__ import annotations

import json
import shutil
import zipfile
from pathlib import Path

import pytest

from tests.unit.kept import NOW, PASSPHRASE, TODAY, old_store, seal_anew, session, store_with
from weightshare.errors import RecordError, StoreError
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.records.figure import LOAD_TRAVEL, MEAN_SHARE, REPETITIONS, figures_of
from weightshare.records.manifest import verify
from weightshare.records.store import cipher
from weightshare.records.store.backup import backup_store
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.check import check_store
from weightshare.records.store.device import list_devices
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.patient import Patient, add_patient, inbox_of, make_patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import (
    delete_visit,
    list_figures,
    list_visits,
    look_at,
    opened,
    take_in,
    unlay,
)


def test_a_session_is_taken_in_with_all_its_files(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    folder = session(tmp_path)
    taken = take_in(store, patient, folder)
    assert taken.is_new
    (visit,) = list_visits(store, patient)
    assert visit == taken.visit
    assert (visit.exercise, visit.injured, visit.repetitions, visit.sets) == (Exercise.RAISE, Side.LEFT, 6, 1)
    assert visit.devices == ("0011223344556677",)
    with opened(store, visit) as inside:
        verify(inside)
        assert {path.name for path in inside.iterdir()} == {path.name for path in folder.iterdir()}
        assert (inside / "raw.wsr").read_bytes() == (folder / "raw.wsr").read_bytes()
    assert inside.exists() is not store.box.is_sealed
    assert folder.exists()


def test_taking_it_in_again_changes_nothing(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    folder = session(tmp_path)
    first = take_in(store, patient, folder)
    copy = shutil.copytree(folder, tmp_path / "copy")
    again = take_in(store, patient, copy, move=True)
    assert not again.is_new and again.visit == first.visit
    assert not copy.exists()
    assert len(list_visits(store, patient)) == 1
    assert len(list(store.sessions.iterdir())) == 1


def test_two_sessions_with_one_raw_record_cannot_both_be_right(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    folder = session(tmp_path)
    take_in(store, patient, folder)
    other = shutil.copytree(folder, tmp_path / "other")
    (other / "trace.csv").write_text("time_s,left_N,right_N\n0,1,2\n1,1,2\n")
    seal_anew(other)
    with pytest.raises(StoreError, match="another session with the same raw record is there"):
        take_in(store, patient, other)
    second = add_patient(store, make_patient("B", TODAY))
    with pytest.raises(StoreError, match="another patient's in this store; nothing was taken in"):
        take_in(store, second, folder)
    assert list_visits(store, second) == []


@pytest.mark.parametrize("name", ["raw.wsr", "trace.csv", "settings.json", "analysis.json", "manifest.json"])
def test_an_altered_session_is_not_taken_in(name: str, kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    folder = session(tmp_path)
    data = bytearray((folder / name).read_bytes())
    data[len(data) // 2] ^= 1
    (folder / name).write_bytes(data)
    with pytest.raises(RecordError, match=name):
        take_in(store, patient, folder)
    assert list_visits(store, patient) == []
    assert list(store.sessions.iterdir()) == []


def test_a_sealed_file_that_was_altered_is_told_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(tmp_path / "s", passphrase=PASSPHRASE) as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        path = store.sessions / visit.id / "raw.wsr"
        shutil.copy(store.sessions / visit.id / "trace.csv", path)
        with pytest.raises(StoreError, match=r"raw\.wsr: was altered; restore a backup"), opened(store, visit):
            pass


def test_what_was_left_half_written_beside_a_session_is_no_part_of_it(
    kept: tuple[Store, Patient], tmp_path: Path
) -> None:
    store, patient = kept
    visit = take_in(store, patient, session(tmp_path)).visit
    (store.sessions / visit.id / "diary.json.part").write_bytes(b"half")
    assert check_store(store).faults == ()
    (tmp_path / "out").mkdir()
    unlay(store, visit, tmp_path / "out")
    assert not (tmp_path / "out" / "diary.json.part").exists()
    write_bundle(store, patient, tmp_path / "a.zip")
    backup_store(store, tmp_path / "b.zip")
    for name in ("a.zip", "b.zip"):
        with zipfile.ZipFile(tmp_path / name) as archive:
            assert not [one for one in archive.namelist() if one.endswith(".part")]


def test_a_session_without_its_raw_record_is_none(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    folder = session(tmp_path)
    (folder / "raw.wsr").unlink()
    seal_anew(folder)
    with pytest.raises(RecordError, match=r"raw\.wsr: is missing"):
        take_in(store, patient, folder)


def test_the_inbox_is_emptied_into_the_store(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    inbox = inbox_of(store, patient)
    for day in (0, 1):
        session(inbox, day)
    half_gone = session(tmp_path, 5)
    (half_gone / "raw.wsr").unlink()
    half_gone.rename(inbox / f"gone-{half_gone.name}")
    (inbox / "session-being-recorded").mkdir()
    altered = session(inbox, 7)
    (altered / "trace.csv").write_text("")
    emptied = take_inbox(store, patient)
    assert [taken.is_new for taken in emptied.taken] == [True, True]
    assert len(emptied.troubles) == 1 and "trace.csv" in emptied.troubles[0]
    assert {path.name for path in inbox.iterdir()} == {"session-being-recorded", altered.name}
    assert take_inbox(store, patient).taken == ()


def test_sessions_are_listed_in_order_of_time(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    assert list_visits(store, patient) == []
    for day in (9, 2, 5):
        take_in(store, patient, session(tmp_path, day))
    days = [visit.started_at[:10] for visit in look_at(store, patient)]
    assert days == ["2026-03-04", "2026-03-07", "2026-03-11"]
    assert read_trail(store, patient.id)[-1].what == "saw"


def test_a_session_that_is_dated_in_the_future_is_kept_and_known(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    past, future = (take_in(store, patient, session(tmp_path, day)).visit for day in (1, 365))
    assert not past.is_future(NOW) and future.is_future(NOW)


def test_one_session_can_be_deleted(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    first, second = (take_in(store, patient, session(tmp_path, day)).visit for day in (1, 2))
    delete_visit(store, patient, first)
    assert list_visits(store, patient) == [second]
    assert [path.name for path in store.sessions.iterdir()] == [second.id]


def test_a_disk_that_fills_leaves_nothing_half_taken_in(
    kept: tuple[Store, Patient], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stand-in: the box fails where the disk would, since a test cannot fill one."""
    store, patient = kept
    folder = session(tmp_path)

    def full(source: Path, target: Path, about: str) -> None:
        target.write_bytes(b"half")
        raise OSError(28, "No space left on device", str(target))

    with monkeypatch.context() as patch:
        patch.setattr(store.box, "put", full)
        with pytest.raises(OSError, match="No space left"):
            take_in(store, patient, folder)
    assert list(store.sessions.iterdir()) == []
    assert take_in(store, patient, folder).is_new


def test_calibrations_are_kept_once(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    for day in (1, 2):
        take_in(store, patient, session(tmp_path, day))
    (one,) = list_devices(store)
    assert one["device_id"] == "0011223344556677"


def test_figures_are_kept_beside(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    visit = take_in(store, patient, session(tmp_path, percent=51.5)).visit
    figures = {(one.name, one.side): one for one in list_figures(store, patient)[visit.id]}
    assert figures["mean share in the lowering", Side.LEFT].value == 51.5
    assert figures[MEAN_SHARE, Side.LEFT].u == pytest.approx(0.0293, abs=1e-3)
    assert figures[REPETITIONS, None].value == 3.0
    assert (LOAD_TRAVEL, Side.RIGHT) in figures


def test_what_cannot_be_had_is_left_out(tmp_path: Path) -> None:
    content = json.loads((session(tmp_path) / "analysis.json").read_text())
    content["repetitions"][0]["height_injured_mm"] = None
    content["share_percent"]["mean"] = None
    names = {(one.name, one.side) for one in figures_of(content)}
    assert ("mean heel height", Side.LEFT) not in names
    assert ("mean heel height", Side.RIGHT) in names
    assert (MEAN_SHARE, Side.LEFT) not in names


def test_of_work_on_one_leg_the_heel_in_the_air_tells_nothing(tmp_path: Path) -> None:
    """A raise on one leg lifts the other foot off the plate: its height is none of a raise."""
    content = json.loads((session(tmp_path) / "analysis.json").read_text())
    content["repetitions"] = lifts = content["repetitions"][:3]
    for place, heights in enumerate(((60.0, 105.0), (64.0, 52.0), (110.0, 80.0))):
        lifts[place] |= dict(zip(("height_injured_mm", "height_uninjured_mm"), heights, strict=True))
    bare = {**content["sets"][0], "to_s": None}
    legs = [
        {**bare, "number": 1, "working": "left", "repetitions": [0, 1]},
        {**bare, "number": 2, "working": "right", "repetitions": [2]},
    ]
    content |= {"exercise": "single-raise", "sets": legs, "decisions": [], "height_worth": None}
    found = {(one.name, one.side): one for one in figures_of(content)}
    left, right = (found["mean heel height", side] for side in (Side.LEFT, Side.RIGHT))
    assert (left.value, right.value) == (62.0, 80.0)
    assert left.u == pytest.approx(2.0) and left.dof == 1.0 and right.u is None
    assert "mean heel height" not in {one.name for one in figures_of({**content, "sets": []})}


def test_a_patients_sessions_stay_after_opening_again(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    visit = take_in(store, patient, session(tmp_path)).visit
    store.close()
    with old_store(store.place, PASSPHRASE if store.box.is_sealed else None) as again:
        assert list_visits(again, patient) == [visit]
