"""Programs at work on a store, each killed (SIGKILL) at a random instant: the store is never broken, nothing is lost.

Real processes on real files, plain and sealed: sessions saved, a bundle taken in, an older store brought up to date, a
backup written, a decision signed, a patient deleted; `make soak` kills 100 of each. What a power cut does to a disk is
not shown by this.
"""

from __future__ import annotations

import random
import shutil
import sqlite3
import statistics
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.device.store_victim import open_in
from tests.unit.kept import NOW, PASSPHRASE, TODAY, new_store, session
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.store import cipher
from weightshare.records.store.backup import backup_store, restore_store
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.check import check_store
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.patient import (
    add_patient,
    delete_patient,
    find_patient,
    inbox_of,
    list_patients,
    make_patient,
)
from weightshare.records.store.ruling import Ruling, keep_ruling, list_rulings
from weightshare.records.store.saying import read_said, say
from weightshare.records.store.schema import DATABASE_NAME, VERSIONS
from weightshare.records.store.store import Store
from weightshare.records.store.unbundle import take_bundle
from weightshare.records.store.visit import list_visits, take_in

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="children are forked, and killed by SIGKILL"),
    pytest.mark.timeout(600),
]
MANY, FEW, FEWEST = 100, 8, 5
WHOLE = 3
"""So many are left to come to their end first, to see how long that takes."""


class Victim:
    """The process whose children are killed."""

    def __init__(self, checkout: Path) -> None:
        path = Path(__file__).with_name("store_victim.py")
        command = [
            sys.executable,
            "-c",
            f"import sys; sys.path.insert(0, {str(checkout)!r}); import runpy; "
            f"runpy.run_path({str(path)!r}, run_name='__main__')",
        ]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert self._read() == "ready"

    def _read(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline().strip()

    def kill(self, task: str, folder: Path, after_s: float) -> tuple[bool, float]:
        """Return whether the child came to its end before it was killed, and how long it lived, s."""
        assert self._process.stdin is not None
        self._process.stdin.write(f"{task}\t{folder}\t{after_s}\n")
        self._process.stdin.flush()
        done, took_s = self._read().split()
        return done == "True", float(took_s)

    def close(self) -> None:
        self._process.communicate(timeout=60)


@pytest.fixture(scope="module")
def victim(checkout: Path) -> Iterator[Victim]:
    """A process whose children are killed."""
    found = Victim(checkout)
    yield found
    found.close()


@pytest.fixture(params=[FEW, pytest.param(MANY, marks=pytest.mark.soak)])
def kills(request: pytest.FixtureRequest) -> int:
    """How many are killed."""
    found: int = request.param
    return found


@pytest.fixture(params=[None, PASSPHRASE], ids=["plain", "sealed"])
def passphrase(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str | None:
    """Of a sealed store its passphrase, with the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    found: str | None = request.param
    return found


def kill_often(victim: Victim, task: str, start: Path, seed: int, kills: int) -> Iterator[Path]:
    """Have `task` done on copies of the folder `start` until `kills` were hit at a random instant; yield what is left
    of each. An instant is drawn from the time that the task usually takes."""
    work = start.with_name("work")
    hits, draw = 0, random.Random(seed)
    usual_s: list[float] = []
    for number in range(5 * kills):
        shutil.copytree(start, work)
        after_s = -1.0 if number < WHOLE else draw.uniform(0.0, statistics.median(usual_s))
        done, took_s = victim.kill(task, work, after_s)
        if done:
            usual_s.append(took_s)
        hits += not done
        yield work
        shutil.rmtree(work)
        if hits == kills:
            return
    raise AssertionError(f"{hits} of {5 * kills} hit")


def is_sound(store: Store) -> bool:
    """Return whether all that a row speaks of is there and whole, and nothing else is."""
    rows = {visit.id for patient in list_patients(store) for visit in list_visits(store, patient)}
    return check_store(store).faults == () and {path.name for path in store.sessions.iterdir()} == rows


def test_saving(victim: Victim, kills: int, passphrase: str | None, tmp_path: Path) -> None:
    with new_store(tmp_path / "start" / "s", passphrase) as store:
        patient = add_patient(store, make_patient("A-1", TODAY))
        take_in(store, patient, session(tmp_path, 1))
        session(inbox_of(store, patient), 2)
    for work in kill_often(victim, "save", tmp_path / "start", 1, kills):
        with open_in(work) as store:
            assert is_sound(store)
            patient = find_patient(store, "A-1")
            assert take_inbox(store, patient).troubles == ()
            days = [visit.started_at[:10] for visit in list_visits(store, patient)]
            assert days == ["2026-03-03", "2026-03-04"]
            assert is_sound(store) and list(inbox_of(store, patient).iterdir()) == []


def test_importing(victim: Victim, kills: int, passphrase: str | None, tmp_path: Path) -> None:
    """A session that is there, of which more was said since; one that is not; and two decisions."""
    said = Entry(About.EFFORT, NOW.isoformat(), 5)
    with new_store(tmp_path / "from") as store, new_store(tmp_path / "start" / "s", passphrase) as other:
        patient = add_patient(store, make_patient("B-1", TODAY))
        first = take_in(store, patient, session(tmp_path, 1)).visit
        write_bundle(store, patient, tmp_path / "first.zip")
        take_bundle(other, tmp_path / "first.zip", TODAY)
        say(store, patient, first, said)
        take_in(store, patient, session(tmp_path, 2))
        for word in ("first", "second"):
            keep_ruling(store, patient, Ruling(NOW.isoformat(), "C. L.", "stays", "a", "a", word))
        write_bundle(store, patient, tmp_path / "start" / "a.zip")
    counts = set()
    for work in kill_often(victim, "bring", tmp_path / "start", 2, kills):
        with open_in(work) as store:
            assert is_sound(store)
            (patient,) = list_patients(store)
            counts.add((len(list_visits(store, patient)), len(list_rulings(store, patient))))
            take_bundle(store, work / "a.zip", TODAY)
            known, _new = list_visits(store, patient)
            assert read_said(store, known) == Diary((said,)) and len(list_rulings(store, patient)) == 2
            assert len(list_patients(store)) == 1 and is_sound(store)
    assert counts <= {(1, 0), (2, 0), (2, 2)} and (2, 2) in counts
    assert kills < MANY or (1, 0) in counts


def test_bringing_an_older_store_up_to_date(victim: Victim, kills: int, passphrase: str | None, tmp_path: Path) -> None:
    with new_store(tmp_path / "start" / "s", passphrase) as store:
        for number in range(40):
            add_patient(store, make_patient(f"C-{number}", TODAY))
        take_in(store, find_patient(store, "C-7"), session(tmp_path, 1))
        with store.writing() as db:
            # as the first version left it
            for table in ("decision", "calibration", "reading", "head"):
                db.execute(f"DROP TABLE {table}")
            db.execute("PRAGMA user_version = 1")
    versions = set()
    for work in kill_often(victim, "update", tmp_path / "start", 3, kills):
        path = work / "s" / DATABASE_NAME
        with sqlite3.connect(path) as db:
            versions.add(db.execute("PRAGMA user_version").fetchone()[0])
            tables = {name for (name,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
            assert ("decision" in tables) is ("calibration" in tables)
        db.close()
        with open_in(work) as store:
            assert len(list_patients(store)) == 40 and is_sound(store)
            assert store.connection.execute("PRAGMA user_version").fetchone() == (len(VERSIONS),)
    assert versions <= set(range(1, len(VERSIONS) + 1)) and len(VERSIONS) in versions
    assert kills < MANY or 1 in versions


@pytest.fixture(
    params=[
        pytest.param((FEWEST, None), id="plain"),
        pytest.param((MANY, None), id="100-plain", marks=pytest.mark.soak),
        pytest.param((MANY, PASSPHRASE), id="100-sealed", marks=pytest.mark.soak),
    ]
)
def start(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, int]:
    """A folder with a store, of A-1 two sessions and two decisions, of B-1 one session; and how many are killed."""
    kills, passphrase = request.param
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with new_store(tmp_path / "start" / "s", passphrase) as store:
        patient, other = (add_patient(store, make_patient(code, TODAY)) for code in ("A-1", "B-1"))
        for day, whose in enumerate((patient, patient, other)):
            take_in(store, whose, session(tmp_path, day))
        for day, word in enumerate(("first", "second"), 1):
            keep_ruling(store, patient, Ruling(f"2026-05-0{day}", "C. L.", "stays", "a", "a", word))
    return tmp_path / "start", kills


def test_backing_up(victim: Victim, start: tuple[Path, int]) -> None:
    there = set()
    for work in kill_often(victim, "back up", start[0], 4, start[1]):
        archive = work / "b.zip"
        there.add(archive.exists())
        with open_in(work) as store:
            assert is_sound(store)
            if not archive.exists():
                assert backup_store(store, archive).faults == ()
                # what the killed one left was written over
                assert not (work / "b.zip.part").exists()
        assert restore_store(archive, work / "again").sessions == 3
    assert there == {True, False}


def test_deciding(victim: Victim, start: tuple[Path, int]) -> None:
    words = set()
    for work in kill_often(victim, "decide", start[0], 5, start[1]):
        with open_in(work) as store:
            patient = find_patient(store, "A-1")
            kept = list_rulings(store, patient)
            words.add(tuple(one.note for one in kept))
            assert is_sound(store) and not any(one.doubt for one in kept)
            keep_ruling(store, patient, Ruling("2026-05-04", "C. L.", "stays", "a", "a", "fourth"))
            assert len(list_rulings(store, patient)) == len(kept) + 1 and is_sound(store)
    assert words <= {("first", "second"), ("first", "second", "third")} and ("first", "second", "third") in words


def test_deleting_a_patient(victim: Victim, start: tuple[Path, int]) -> None:
    counts = set()
    for work in kill_often(victim, "delete", start[0], 6, start[1]):
        with open_in(work) as store:
            codes = [patient.code for patient in list_patients(store)]
            counts.add((len(codes), len(list(store.sessions.iterdir()))))
            assert is_sound(store)
            if "A-1" in codes:
                patient = find_patient(store, "A-1")
                assert len(list_visits(store, patient)) == len(list_rulings(store, patient)) == 2
                delete_patient(store, patient)
            assert [patient.code for patient in list_patients(store)] == ["B-1"]
            assert len(list(store.sessions.iterdir())) == 1 and is_sound(store)
    assert counts <= {(2, 3), (1, 1)} and (1, 1) in counts
