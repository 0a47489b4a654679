"""The store on disk: made, opened, refused, brought up to date."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest

from tests.bench.bench_patients import read_page
from tests.unit.kept import NOW, PASSPHRASE, clock, everything, new_store, old_store, session, store_with
from weightshare.errors import StoreError
from weightshare.records.store import cipher
from weightshare.records.store.patient import add_patient, find_patient, inbox_of, list_patients, make_patient
from weightshare.records.store.schema import DATABASE_NAME, VERSIONS, migrate
from weightshare.records.store.store import Store, is_store, make_store, open_store
from weightshare.records.store.trail import note_trail, read_trail
from weightshare.records.store.visit import list_visits, take_in


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


def test_a_store_is_its_owners_alone(tmp_path: Path) -> None:
    place = tmp_path / "deep" / "store"
    with store_with(place) as (store, patient):
        take_in(store, patient, session(tmp_path))
        inbox_of(store, patient)
        paths = [place, *place.rglob("*")]
        # while it is open, the log lies beside it
        assert {path.name for path in paths} >= {"store.sqlite3-wal", "store.sqlite3-shm", "sessions", "inbox"}
        assert {oct(path.stat().st_mode & 0o777) for path in paths if path.is_dir()} == {"0o700"}
        assert {oct(path.stat().st_mode & 0o777) for path in paths if path.is_file()} == {"0o600"}


def test_what_was_kept_is_there_again(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "A-1", name="Zoë") as (_, patient):
        pass
    with old_store(tmp_path / "s") as store:
        assert list_patients(store) == [patient]


def test_there_is_one_store_in_a_folder(tmp_path: Path) -> None:
    new_store(tmp_path / "s").close()
    with pytest.raises(StoreError, match="there is a store already"):
        new_store(tmp_path / "s")
    (tmp_path / "x").mkdir()
    (tmp_path / "x" / "letter.txt").write_text("dear")
    with pytest.raises(StoreError, match="holds other files"):
        new_store(tmp_path / "x")
    with pytest.raises(StoreError, match="holds no store"):
        old_store(tmp_path / "none")


def test_a_store_whose_making_was_cut_short_is_made_to_its_end(tmp_path: Path) -> None:
    place = tmp_path / "s"
    place.mkdir()
    (place / DATABASE_NAME).touch()
    with pytest.raises(StoreError, match="cut short"):
        old_store(place)
    with sqlite3.connect(place / DATABASE_NAME, isolation_level=None) as half:
        migrate(half, "half")
    half.close()
    with pytest.raises(StoreError, match="cut short"):
        old_store(place)
    new_store(place).close()
    with old_store(place) as store:
        assert list_patients(store) == []


def test_a_newer_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    new_store(tmp_path / "s").close()
    path = tmp_path / "s" / DATABASE_NAME
    with sqlite3.connect(path) as db:
        db.execute(f"PRAGMA user_version = {len(VERSIONS) + 1}")
    db.close()
    before = path.read_bytes()
    with pytest.raises(StoreError, match=r"newer than this program knows.*use the newer weightshare"):
        old_store(tmp_path / "s")
    assert path.read_bytes() == before


def test_another_programs_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / DATABASE_NAME
    with sqlite3.connect(path) as db:
        db.execute("CREATE TABLE recipes (name TEXT)")
    db.close()
    before = path.read_bytes()
    for way in (old_store, new_store):
        with pytest.raises(StoreError, match=r"another program|already"):
            way(tmp_path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("damage", ["text", "header", "page"])
def test_a_damaged_database_is_told_in_one_line(damage: str, tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, _):
        for number in range(200):
            add_patient(store, make_patient(f"B-{number}", NOW.date()))
    path = tmp_path / "s" / DATABASE_NAME
    data = bytearray(path.read_bytes())
    if damage == "text":
        data[:] = b"this is a letter, no database at all" * 100
    elif damage == "header":
        data[18:30] = b"\xff" * 12
    else:
        data[4096:] = b"\x5a" * (len(data) - 4096)
    path.write_bytes(data)
    with pytest.raises(StoreError) as told, old_store(tmp_path / "s") as store:
        list_patients(store)
    assert "\n" not in str(told.value) and str(path) in str(told.value)


def test_an_altered_row_is_told_of(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, _), store.writing() as db:
        db.execute("UPDATE patient SET body = ?", (b"{not json",))
    with old_store(tmp_path / "s") as store, pytest.raises(StoreError, match="was altered; restore a backup"):
        list_patients(store)


def test_a_sealed_store_takes_its_passphrase(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "Käthe-7", PASSPHRASE, name="Zoë Übel") as (store, patient):
        take_in(store, patient, session(tmp_path, percent=61.25))
    kept = everything(tmp_path / "s")
    for secret in ("Käthe-7", "Zoë", "raise", "2026-03-02", "0011223344556677", "time_s", "tester"):
        assert secret.encode() not in kept, secret
    with pytest.raises(StoreError, match="this store is sealed"):
        old_store(tmp_path / "s")
    with pytest.raises(StoreError, match="the passphrase is wrong"):
        old_store(tmp_path / "s", "some other words")
    with old_store(tmp_path / "s", PASSPHRASE) as store:
        assert find_patient(store, "Käthe-7").name == "Zoë Übel"


def test_an_older_store_is_brought_up_to_date_with_all_that_is_in_it(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite3"
    db = sqlite3.connect(path, isolation_level=None)
    migrate(db, "old", VERSIONS[:1])
    db.execute("INSERT INTO patient (id, mark, body) VALUES ('1', 'A', x'00')")
    assert db.execute("PRAGMA user_version").fetchone() == (1,)
    migrate(db, "old")
    assert db.execute("PRAGMA user_version").fetchone() == (len(VERSIONS),)
    assert db.execute("SELECT id, mark FROM patient").fetchall() == [("1", "A")]
    assert db.execute("SELECT count(*) FROM decision").fetchone() == (0,)
    db.close()


def test_a_step_that_fails_leaves_the_store_as_it_was(tmp_path: Path) -> None:
    db = sqlite3.connect(tmp_path / "old.sqlite3", isolation_level=None)
    migrate(db, "old")
    tables = "SELECT name FROM sqlite_schema ORDER BY name"
    before = db.execute(tables).fetchall()
    with pytest.raises(sqlite3.OperationalError):
        migrate(db, "old", (*VERSIONS, "CREATE TABLE more (a); CREATE NONSENSE"))
    assert db.execute(tables).fetchall() == before
    assert db.execute("PRAGMA user_version").fetchone() == (len(VERSIONS),)
    db.close()


def test_a_change_that_fails_is_no_change(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        with pytest.raises(RuntimeError), store.writing() as db:
            db.execute("DELETE FROM patient")
            raise RuntimeError
        assert list_patients(store) == [patient]


def test_files_of_which_no_row_speaks_are_swept_away(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        take_in(store, patient, session(tmp_path))
        stray = store.sessions / ("0" * 32)
        stray.mkdir()
        (stray / "raw.wsr").write_bytes(b"copied by a program that was killed")
        (store.sessions / "notes.txt").write_text("somebody's own")
    with old_store(tmp_path / "s") as store:
        assert not stray.exists()
        assert (store.sessions / "notes.txt").exists()
        assert len(list_visits(store, patient)) == 1


def test_another_program_that_writes_is_waited_for_and_then_told_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("weightshare.records.store.store.WAIT_S", 0.05)
    with store_with(tmp_path / "s") as (store, _), old_store(tmp_path / "s") as other, store.writing():
        assert len(list_patients(other)) == 1
        with pytest.raises(StoreError, match="another program is writing"):
            note_trail(other, "saw", None)


def test_several_programs_write_one_after_the_other(tmp_path: Path) -> None:
    new_store(tmp_path / "s").close()

    def add(name: str) -> None:
        with old_store(tmp_path / "s") as store:
            for number in range(5):
                patient = add_patient(store, make_patient(f"{name}-{number}", NOW.date()))
                take_in(store, patient, session(tmp_path / name, number, percent=50.0 + ord(name)))

    threads = [threading.Thread(target=add, args=(name,)) for name in "ABCD"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with old_store(tmp_path / "s") as store:
        assert len(list_patients(store)) == 20
        assert [len(list_visits(store, patient)) for patient in list_patients(store)] == [1] * 20
        assert len(list(store.sessions.iterdir())) == 20


def test_the_trail_tells_who_and_when(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        note_trail(store, "saw", patient.id)
        other = Store(store.place, store.connection, store.box, "somebody else", clock)
        note_trail(other, "exported", patient.id, "visits.zip")
        steps = [(step.who, step.what, step.detail) for step in read_trail(store, patient.id)]
        assert steps == [("tester", "added", ""), ("tester", "saw", ""), ("somebody else", "exported", "visits.zip")]
        assert {step.at for step in read_trail(store)} == {NOW.isoformat()}


def test_a_place_that_cannot_be_used_is_an_operating_systems_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(OSError, match="file"):
        make_store(tmp_path / "file" / "s", "tester", clock)
    assert not is_store(tmp_path / "file" / "s")
    with pytest.raises(StoreError):
        open_store(tmp_path / "file", "tester", clock)


def test_a_patients_page_reads_no_row_of_others(tmp_path: Path) -> None:
    """Of each question that a page asks the database says how it will look: by an index, never row by row."""
    with store_with(tmp_path / "s") as (store, patient):
        asked: list[str] = []
        store.connection.set_trace_callback(asked.append)
        read_page(store, patient.code)
        store.connection.set_trace_callback(None)
        plans = [store.connection.execute(f"EXPLAIN QUERY PLAN {one}").fetchall() for one in asked]
    assert len(asked) > 4
    assert {row[-1].split()[0] for plan in plans for row in plan} <= {"SEARCH", "USE"}
