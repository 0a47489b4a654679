"""A disk that fills: it is told with the file's name, nothing half written is left, and what was there stays."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import gettempdir

import pytest

from tests.scarce import FULL, scarce, tiny_disk
from tests.unit.kept import PASSPHRASE, TODAY, new_store, old_store, seal_anew, session, store_with
from weightshare.cli import main
from weightshare.errors import StoreError
from weightshare.records.diary import About, Entry
from weightshare.records.store import cipher
from weightshare.records.store.backup import backup_store, restore_store
from weightshare.records.store.bundle import write_bundle, write_sessions
from weightshare.records.store.check import check_store
from weightshare.records.store.cipher import Plain, Sealed
from weightshare.records.store.patient import Patient, find_patient
from weightshare.records.store.saying import read_said, say
from weightshare.records.store.store import Store
from weightshare.records.store.unbundle import take_bundle
from weightshare.records.store.visit import list_visits, take_in
from weightshare.records.whole import naming, write_whole

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the limit on a file's size is POSIX's")
ROOM, LARGE = 400_000, 600_000
"""What a file may become, bytes: a store's database has room, the record of these sessions has none."""


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


def large_session(place: Path, day: int = 0) -> Path:
    """Make a session whose record has no room."""
    folder = session(place, day)
    (folder / "raw.wsr").write_bytes(hashlib.shake_256(bytes([day])).digest(LARGE))
    seal_anew(folder)
    return folder


@pytest.fixture(params=[None, PASSPHRASE], ids=["plain", "sealed"])
def kept(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Patient]]:
    """A store with one large session, in the folder `s`."""
    with store_with(tmp_path / "s", passphrase=request.param) as (store, patient):
        take_in(store, patient, large_session(tmp_path / "made"))
        yield store, patient


def names(place: Path) -> set[str]:
    return {path.name for path in place.iterdir()}


Work = Callable[[Store, Patient, Path], object]
AWAY: dict[str, Work] = {
    "backup": lambda store, _patient, target: backup_store(store, target),
    "bundle": write_bundle,
    "sessions": write_sessions,
}


@pytest.mark.parametrize("way", AWAY)
def test_what_is_taken_away_is_named_and_nothing_of_it_is_left(
    way: str, kept: tuple[Store, Patient], tmp_path: Path
) -> None:
    store, patient = kept
    target, before = tmp_path / "away", names(tmp_path)
    with scarce(ROOM), pytest.raises(OSError, match=FULL) as told:
        AWAY[way](store, patient, target)
    name = str(told.value.filename)
    # of a sealed store, what is read is opened in the folder for temporary files first
    is_opened = store.box.is_sealed and way in ("backup", "bundle")
    assert name.startswith(gettempdir() if is_opened else str(target))
    assert ".part" not in name
    assert names(tmp_path) == before
    assert check_store(store).faults == ()
    AWAY[way](store, patient, target)
    assert target.exists()


def test_a_bundle_that_is_sealed_on_the_way_names_the_place_that_is_full(tmp_path: Path) -> None:
    """What is sealed is packed in the folder for temporary files first."""
    with store_with(tmp_path / "s") as (store, patient):
        take_in(store, patient, large_session(tmp_path / "made"))
        with scarce(ROOM), pytest.raises(OSError, match=FULL) as told:
            write_bundle(store, patient, tmp_path / "b.zip", passphrase=PASSPHRASE)
    assert Path(str(told.value.filename)).name == "bundle.zip" and names(tmp_path) == {"s", "made"}


def test_a_store_that_cannot_be_restored_is_not_there(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, _patient = kept
    backup_store(store, tmp_path / "b.zip")
    with scarce(ROOM), pytest.raises(OSError, match=FULL) as told:
        restore_store(tmp_path / "b.zip", tmp_path / "again")
    assert str(told.value.filename).startswith(str(tmp_path / "again" / "sessions"))
    assert names(tmp_path) == {"s", "made", "b.zip"}


def test_a_session_that_has_no_room_is_not_taken_in(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    write_bundle(store, patient, tmp_path / "b.zip")
    folder = large_session(tmp_path / "more", 1)
    with scarce(ROOM), pytest.raises(OSError, match=FULL) as told:
        take_in(store, patient, folder)
    assert str(told.value.filename).startswith(str(store.sessions))
    assert len(list_visits(store, patient)) == len(names(store.sessions)) == 1
    with new_store(tmp_path / "other") as other:
        with scarce(ROOM), pytest.raises(OSError, match=rf"{FULL}.*raw\.wsr"):
            take_bundle(other, tmp_path / "b.zip", TODAY)
        assert names(other.sessions) == set()
    assert take_in(store, patient, folder).is_new


def test_the_database_itself_may_be_what_has_no_room(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        with scarce(20_000), pytest.raises(StoreError, match=r"store\.sqlite3: cannot be used|the disk is full"):
            for day in range(20):
                take_in(store, patient, session(tmp_path / "made", day))
        assert check_store(store).faults == ()
        assert len(list_visits(store, patient)) == len(names(store.sessions))


def test_what_was_said_before_stays(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    (visit,) = list_visits(store, patient)
    note = Entry(About.NOTE, "2026-03-02T11:00:00+02:00", words="x" * 480)
    diary = say(store, patient, visit, *(note for _ in range(40)))
    with scarce(20_000), pytest.raises((OSError, StoreError)):
        say(store, patient, visit, *(note for _ in range(40)))
    assert read_said(store, visit) == diary
    assert not list(store.sessions.rglob("*.part"))


@pytest.mark.parametrize("box", [Plain(), Sealed(bytes(32))], ids=["plain", "sealed"])
def test_the_last_piece_may_be_cut_short_without_a_word(box: Plain | Sealed, tmp_path: Path) -> None:
    """The system takes a part of it, and says so only by a number: a copy that is not whole was taken for one."""
    (tmp_path / "a").write_bytes(bytes(20_000))
    with scarce(8_000), pytest.raises(OSError, match=FULL) as told:
        box.put(tmp_path / "a", tmp_path / "b", "x")
    assert told.value.filename == str(tmp_path / "b") and names(tmp_path) == {"a"}


def test_an_old_file_stays_and_the_new_one_is_named(tmp_path: Path) -> None:
    write_whole(tmp_path / "a", b"old")
    with scarce(1_000), pytest.raises(OSError, match=FULL) as told:
        write_whole(tmp_path / "a", bytes(2_000))
    assert told.value.filename == str(tmp_path / "a")
    assert names(tmp_path) == {"a"} and (tmp_path / "a").read_bytes() == b"old"


def test_an_error_about_another_file_keeps_its_name(tmp_path: Path) -> None:
    for given, expected in (("other", "other"), ("t.part", "t"), ("t.part/x", "t/x"), ("t.parts", "t.parts")):
        path = tmp_path / given
        with pytest.raises(OSError) as told, naming(tmp_path / "t"):
            path.read_bytes() if path.parent.is_dir() else path.touch()
        assert told.value.filename == str(tmp_path / expected)


def test_a_disk_of_its_own_that_is_full_costs_the_command_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A real file system of 500 kB, where this user may make one: backup and bundle fill it, and leave it empty."""
    with store_with(tmp_path / "s") as (store, patient):
        take_in(store, patient, large_session(tmp_path / "made"))
    with tiny_disk(tmp_path / "disk", 500) as mounted:
        if not mounted:
            pytest.skip("only the superuser may mount, and not everywhere")
        target = tmp_path / "disk" / "b.zip"
        ways = ["store", "backup", str(target)], ["export", patient.code, "--bundle", str(target)]
        for way in ways:
            assert main([*way, "--store", str(tmp_path / "s")]) == 3
            assert capsys.readouterr().err == f"weightshare: {target}: No space left on device\n"
            assert names(target.parent) == set()
    with old_store(tmp_path / "s") as store:
        assert find_patient(store, patient.code) == patient and check_store(store).faults == ()
