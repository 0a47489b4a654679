"""Bundles: what is in them, that they come in once, and that nothing altered does."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.unit.kept import PASSPHRASE, TODAY, new_store, session, store_with
from weightshare.cli import main
from weightshare.errors import RecordError, StoreError
from weightshare.records.seal import sealed
from weightshare.records.store import cipher
from weightshare.records.store.bundle import write_bundle, write_sessions
from weightshare.records.store.patient import add_patient, find_patient, list_patients, make_patient
from weightshare.records.store.trail import read_trail
from weightshare.records.store.unbundle import is_bundle, take_bundle
from weightshare.records.store.visit import list_figures, list_visits, opened, take_in

Capture = pytest.CaptureFixture[str]
BOX = pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


def bundled(folder: Path, sessions: int = 2, **options: Any) -> Path:
    """Return a bundle of a patient A-1 with so many sessions, from a store in `from`."""
    with store_with(folder / "from", "A-1", name="Zoë", injured_on="2026-02-01") as (store, patient):
        for day in range(sessions):
            take_in(store, patient, session(folder, day, 50.0 + day))
        assert write_bundle(store, patient, folder / "a.zip", **options) == sessions
        assert read_trail(store, patient.id)[-1].what == "exported"
    return folder / "a.zip"


@BOX
def test_sessions_come_in_as_they_were_and_once(passphrase: str | None, tmp_path: Path) -> None:
    bundle = bundled(tmp_path, passphrase=passphrase)
    assert is_bundle(bundle) and bundle.stat().st_mode & 0o777 == 0o600
    with new_store(tmp_path / "to", passphrase) as store:
        arrived = take_bundle(store, bundle, TODAY, passphrase=passphrase)
        assert arrived.is_new and [one.is_new for one in arrived.taken] == [True, True]
        again = take_bundle(store, bundle, TODAY, passphrase=passphrase)
        assert not again.is_new and [one.is_new for one in again.taken] == [False, False]
        (patient,) = list_patients(store)
        assert (patient.code, patient.name, patient.injured_on) == ("A-1", "", "2026-02-01")
        visits = list_visits(store, patient)
        assert len(visits) == 2 and len(list_figures(store, patient)) == 2
        with opened(store, visits[0]) as inside:
            made = tmp_path / "session-2026-03-02T100000"
            assert {path.name: path.read_bytes() for path in inside.iterdir()} == {
                path.name: path.read_bytes() for path in made.iterdir()
            }
        assert read_trail(store, patient.id)[-1].what == "imported"


def test_a_name_leaves_only_where_that_is_asked_for(tmp_path: Path) -> None:
    def says_it(bundle: Path) -> bool:
        with zipfile.ZipFile(bundle) as archive:
            return any("Zoë".encode() in archive.read(name) for name in archive.namelist())

    assert not says_it(bundled(tmp_path / "a"))
    assert says_it(bundled(tmp_path / "b", with_name=True))


def test_a_sealed_bundle_tells_nothing_and_takes_its_passphrase(tmp_path: Path) -> None:
    bundle = bundled(tmp_path, passphrase=PASSPHRASE)
    assert b"time_s" not in bundle.read_bytes() and b"A-1" not in bundle.read_bytes()
    with new_store(tmp_path / "to") as store:
        with pytest.raises(StoreError, match="is sealed; it takes its passphrase"):
            take_bundle(store, bundle, TODAY)
        with pytest.raises(StoreError, match="the passphrase is wrong"):
            take_bundle(store, bundle, TODAY, passphrase="not the passphrase")
        data = bytearray(bundle.read_bytes())
        for wrong in (data[:-1], data[:100], data[:40], data[: len(data) // 2] + b"x" + data[len(data) // 2 + 1 :]):
            bundle.write_bytes(wrong)
            with pytest.raises(StoreError, match="nothing was taken in"):
                take_bundle(store, bundle, TODAY, passphrase=PASSPHRASE)
        assert list_patients(store) == []


def test_a_patient_who_is_known_gets_what_is_missing(tmp_path: Path) -> None:
    bundle = bundled(tmp_path)
    with new_store(tmp_path / "to") as store:
        patient = take_bundle(store, bundle, TODAY).patient
        take_in(store, patient, session(tmp_path / "own", 9))
    with store_with(tmp_path / "third") as (store, stranger):
        with pytest.raises(StoreError, match="the code A-1 is another patient's here; take the bundle in with --as"):
            take_bundle(store, bundle, TODAY)
        assert list_visits(store, stranger) == []
        arrived = take_bundle(store, bundle, TODAY, code="A-2")
        assert arrived.patient.code == "A-2"
        # known again by the id, whatever the code
        assert take_bundle(store, bundle, TODAY).patient.code == "A-2"


def test_tables_hold_what_the_sessions_came_to(tmp_path: Path) -> None:
    with zipfile.ZipFile(bundled(tmp_path)) as archive:
        tables = {
            name: list(csv.DictReader(io.StringIO(archive.read(f"data/{name}.csv").decode())))
            for name in ("sessions", "repetitions", "events", "figures")
        }
        package = json.loads(archive.read("datapackage.json"))
        for resource in package["resources"]:
            data = archive.read(resource["path"])
            assert resource["bytes"] == len(data)
            assert resource["hash"] == f"sha256:{hashlib.sha256(data).hexdigest()}"
        assert {one["path"] for one in package["resources"]} | {"datapackage.json"} == set(archive.namelist())
    assert [row["injured_side"] for row in tables["sessions"]] == ["left", "left"]
    assert len(tables["repetitions"]) == 12
    first = tables["repetitions"][0]
    assert first["set"] == "1" and float(first["height_injured_mm"]) == pytest.approx(75.0, abs=0.1)
    assert {row["kind"] for row in tables["events"]} == {"set"}
    values = [float(row["value"]) for row in tables["figures"] if row["figure"] == "mean share in the lowering"]
    assert values == [50.0, 51.0]


def test_there_has_to_be_something_to_export(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        with pytest.raises(StoreError, match="has no sessions yet"):
            write_bundle(store, patient, tmp_path / "a.zip")
        take_in(store, patient, session(tmp_path))
        (tmp_path / "a.zip").write_text("mine")
        with pytest.raises(StoreError, match="such a file already"):
            write_bundle(store, patient, tmp_path / "a.zip")
    assert (tmp_path / "a.zip").read_text() == "mine"


def test_an_altered_session_is_not_exported(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        (store.sessions / visit.id / "trace.csv").write_text("time_s\n")
        with pytest.raises(RecordError, match=r"trace\.csv"):
            write_bundle(store, patient, tmp_path / "a.zip")
    assert not (tmp_path / "a.zip").exists() and not (tmp_path / "a.zip.part").exists()


@BOX
def test_sessions_are_laid_down_as_they_were(passphrase: str | None, tmp_path: Path) -> None:
    with store_with(tmp_path / "s", passphrase=passphrase) as (store, patient):
        with pytest.raises(StoreError, match="has no sessions yet"):
            write_sessions(store, patient, tmp_path / "out")
        made = [session(tmp_path / "made", day) for day in (1, 2)]
        twin = session(tmp_path / "twin", 2, 77.0)
        for folder in (*made, twin):
            take_in(store, patient, folder)
        assert write_sessions(store, patient, tmp_path / "out") == 3
        names = ["session-2026-03-03-100000", "session-2026-03-04-100000", "session-2026-03-04-100000-2"]
        assert sorted(path.name for path in (tmp_path / "out").iterdir()) == names
        first = tmp_path / "out" / names[0]
        assert (first / "raw.wsr").read_bytes() == (made[0] / "raw.wsr").read_bytes()
        assert first.stat().st_mode & 0o777 == 0o700
        assert read_trail(store, patient.id)[-1].detail == "3 sessions to the folder out"
        with pytest.raises(StoreError, match="such a folder already"):
            write_sessions(store, patient, tmp_path / "out")


def test_sessions_that_were_altered_are_not_laid_down(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        (store.sessions / visit.id / "raw.wsr").write_bytes(b"x")
        with pytest.raises(RecordError, match=r"raw\.wsr"):
            write_sessions(store, patient, tmp_path / "out")
    assert not (tmp_path / "out").exists() and not (tmp_path / "out.part").exists()


Files = dict[str, bytes]


def alter(bundle: Path, change: Callable[[Files], None], *, listed: bool = False) -> Path:
    """Return a copy with `change` made to its files; listed: the list is made to agree, as a forger would."""
    with zipfile.ZipFile(bundle) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    if listed:
        package = json.loads(files["datapackage.json"])
        known = [one for one in package["resources"] if one["path"] in files]
        for one in known:
            data = files[one["path"]]
            one.update(bytes=len(data), hash=f"sha256:{hashlib.sha256(data).hexdigest()}")
        more = set(files) - {one["path"] for one in known} - {"datapackage.json"}
        known += [
            {"path": name, "bytes": len(files[name]), "hash": hashlib.sha256(files[name]).hexdigest()} for name in more
        ]
        files["datapackage.json"] = json.dumps(sealed({**package, "resources": known})).encode()
    target = bundle.with_name("altered.zip")
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return target


def path_of(files: Files, end: str) -> str:
    return next(name for name in sorted(files) if name.endswith(end))


def replace_in(end: str, old: bytes, new: bytes) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        name = path_of(files, end)
        assert old in files[name]
        files[name] = files[name].replace(old, new)

    return change


def drop(end: str) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        del files[path_of(files, end)]

    return change


def add(name: str, data: bytes = b"x") -> Callable[[Files], None]:
    return lambda files: files.update({name: data})


CHANGES = {
    "a trace": (replace_in("trace.csv", b"300.0", b"301.0"), r"trace\.csv was altered"),
    "a table": (replace_in("sessions.csv", b"left", b"righ"), r"sessions\.csv was altered"),
    "the patient": (replace_in("patient.json", b"A-1", b"B-1"), r"patient\.json was altered"),
    "the list": (replace_in("datapackage.json", b'"bytes": 20000', b'"bytes": 20001'), "datapackage.json was altered"),
    "another version": (replace_in("datapackage.json", b"bundle/1", b"bundle/7"), "is of another version"),
    "no list": (drop("datapackage.json"), "has no datapackage.json"),
    "a file too few": (drop("raw.wsr"), "is missing"),
    "a file too many": (add("sessions/" + "0" * 32 + "/x.txt"), "is not listed in it"),
    "a climbing name": (add("sessions/../../../evil.txt"), "which cannot be"),
    "a name from the root": (add("/evil.txt"), "which cannot be"),
    "dots for a name": (add("sessions/" + "0" * 32 + "/.."), "which cannot be"),
    "what swells": (add("data/more.csv", bytes(64 << 20)), "would swell"),
}


@pytest.mark.parametrize("name", CHANGES)
def test_an_altered_bundle_is_refused_whole(name: str, tmp_path: Path) -> None:
    change, words = CHANGES[name]
    bundle = alter(bundled(tmp_path), change)
    with new_store(tmp_path / "to") as store:
        with pytest.raises(StoreError, match=words) as told:
            take_bundle(store, bundle, TODAY)
        assert str(bundle) in str(told.value)
        assert list_patients(store) == [] and list(store.sessions.iterdir()) == []
    assert not (tmp_path / "evil.txt").exists() and not (tmp_path.parent / "evil.txt").exists()


FORGED = {
    "a session's file": (replace_in("trace.csv", b"300.0", b"301.0"), r"trace\.csv"),
    "a session without its raw record": (drop("raw.wsr"), r"raw\.wsr"),
    "a patient without an id": (replace_in("patient.json", b'"id": "', b'"id": "x'), r"patient\.json cannot be used"),
    "a patient of the future": (
        replace_in("patient.json", b"2026-02-01", b"2999-02-01"),
        r"patient\.json cannot be used",
    ),
}


@pytest.mark.parametrize("name", FORGED)
def test_what_a_forger_lists_anew_is_still_held_against_the_sessions_seals(name: str, tmp_path: Path) -> None:
    change, words = FORGED[name]
    bundle = alter(bundled(tmp_path), change, listed=True)
    with new_store(tmp_path / "to") as store:
        with pytest.raises((StoreError, RecordError), match=words):
            take_bundle(store, bundle, TODAY)
        assert list_patients(store) == [] and list(store.sessions.iterdir()) == []


def test_a_session_under_another_ones_name_is_refused(tmp_path: Path) -> None:
    def rename(files: Files) -> None:
        record = path_of(files, "raw.wsr").split("/")[1]
        for name in [name for name in files if record in name]:
            files[name.replace(record, "f" * 32)] = files.pop(name)

    bundle = alter(bundled(tmp_path), rename, listed=True)
    with new_store(tmp_path / "to") as store, pytest.raises(RecordError, match="is another session than it says"):
        take_bundle(store, bundle, TODAY)


def test_the_commands_go_there_and_back(tmp_path: Path, capsys: Capture) -> None:
    first, second = (["--store", str(tmp_path / name)] for name in ("one", "two"))
    words = tmp_path / "words"
    words.write_text("a passphrase of mine")
    for each in (first, second):
        assert main(["store", "make", *each]) == 0
    assert main(["patient", "add", "A-1", "--side", "left", *first]) == 0
    session(tmp_path / "loose", 0)
    session(tmp_path / "loose", 1)
    assert main(["import", str(tmp_path / "loose"), "--patient", "A-1", *first]) == 0
    sealed_by = ["--seal", "--bundle-passphrase-file", str(words)]
    capsys.readouterr()
    assert main(["export", "A-1", "--bundle", str(tmp_path / "b"), *sealed_by, "--json", *first]) == 0
    assert json.loads(capsys.readouterr().out)["sessions"] == 2
    come = ["import", str(tmp_path / "b"), "--bundle-passphrase-file", str(words), "--as", "B-1", "--json", *second]
    assert main(come) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["patient"], told["new_sessions"], told["new_patient"]) == ("B-1", 2, True)
    assert main(come[:-3] + second) == 0
    assert capsys.readouterr().out == "taken in: 0 sessions of B-1, 2 were there already\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["import", "{loose}"], "a session does not say whose it is: give --patient CODE"),
        (["import", "{nothing}", "--patient", "A-1"], "holds no session"),
        (["import", "{bundle}", "--patient", "A-1"], "--patient does not go with a bundle"),
        (["import", "{bundle}"], "the code A-1 is another patient's here"),
        (["export", "A-1", "--bundle", "{bundle}"], "such a file already"),
        (["export", "A-9", "--bundle", "x.zip"], "there is no patient A-9"),
        (["export", "A-1", "--sessions", "{loose}"], "such a folder already"),
        (["export", "A-1", "--sessions", "x", "--seal"], "--seal and --with-name go with --bundle"),
    ],
)
def test_bad_use_is_one_line(words: list[str], said: str, tmp_path: Path, capsys: Capture) -> None:
    places = {name: tmp_path / name for name in ("loose", "nothing")}
    places["bundle"] = bundled(tmp_path)
    shutil.rmtree(tmp_path / "from")
    places["nothing"].mkdir()
    session(places["loose"], 3)
    with new_store(tmp_path / "s") as store:
        add_patient(store, make_patient("A-1", TODAY))
        assert find_patient(store, "A-1").code == "A-1"
    assert main([word.format(**places) for word in words] + ["--store", str(tmp_path / "s")]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and said in err


def test_of_a_folder_each_session_that_can_be_is_taken_in(tmp_path: Path, capsys: Capture) -> None:
    with store_with(tmp_path / "s"):
        folders = [session(tmp_path / "loose", day) for day in range(3)]
    (folders[0] / "raw.wsr").write_bytes(b"")
    come = ["import", str(tmp_path / "loose"), "--patient", "A-1", "--store", str(tmp_path / "s")]
    assert main(come) == 2
    out, err = capsys.readouterr()
    assert out == "taken in: 2 sessions of A-1\n"
    refused, counted = err.splitlines()
    assert refused.startswith(f"not taken in: {folders[0]}/raw.wsr: was cut short")
    assert counted == f"{tmp_path / 'loose'}: 1 of 3 sessions not taken in; the others are there"
    assert main([*come, "--json"]) == 2
    told = json.loads(capsys.readouterr().out)
    assert (told["sessions"], told["new_sessions"], len(told["refused"])) == (2, 0, 1)
    # one that is named alone is refused in one line
    assert main(["import", str(folders[0]), *come[2:]]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_what_a_bundle_is_refused_for_names_the_bundle(passphrase: str | None, tmp_path: Path) -> None:
    with store_with(tmp_path / "from") as (store, patient):
        folder = session(tmp_path, 1)
        record = take_in(store, patient, folder).visit.record
        write_bundle(store, patient, tmp_path / "a.zip", passphrase=passphrase)
    with store_with(tmp_path / "to", "B-7") as (store, other), pytest.raises(StoreError) as told:
        take_in(store, other, folder)
        take_bundle(store, tmp_path / "a.zip", TODAY, passphrase=passphrase)
    assert str(told.value).startswith(f"{tmp_path / 'a.zip'}: sessions/{record}: this session is another patient's")


def test_sessions_are_rescued_from_a_stores_own_folder(tmp_path: Path, capsys: Capture) -> None:
    with store_with(tmp_path / "old") as (store, patient):
        other = add_patient(store, make_patient("A-2", TODAY))
        for day, whose in enumerate((patient, patient, other)):
            take_in(store, whose, session(tmp_path, day))
    with store_with(tmp_path / "new"):
        pass
    come = ["import", str(tmp_path / "old" / "sessions"), "--patient", "A-1", "--store", str(tmp_path / "new")]
    assert main(come) == 2 and "holds sessions of 2 patients: weightshare export CODE" in capsys.readouterr().err
    (tmp_path / "old" / "store.sqlite3").write_bytes(b"lost")
    assert main(come) == 2 and "--yes says that all are A-1's" in capsys.readouterr().err
    assert main([*come, "--yes"]) == 0
    assert capsys.readouterr().out == "taken in: 3 sessions of A-1\n"


def test_sealed_sessions_open_in_their_own_store_only(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(tmp_path / "old", passphrase=PASSPHRASE) as (store, patient):
        take_in(store, patient, session(tmp_path))
    with store_with(tmp_path / "new"):
        pass
    come = ["import", str(tmp_path / "old" / "sessions"), "--patient", "A-1", "--store", str(tmp_path / "new")]
    assert main(come) == 2 and "opens only in its own store: restore a backup" in capsys.readouterr().err
