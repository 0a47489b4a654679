"""The whole store as one archive: written whole, refused where altered, restored as it was."""

from __future__ import annotations

import json
import re
import shutil
import stat
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.kept import PASSPHRASE, TODAY, new_store, old_store, seal_anew, session, store_with
from weightshare.cli import main
from weightshare.errors import StoreError
from weightshare.records.manifest import verify
from weightshare.records.store import cipher, parcel
from weightshare.records.store.backup import Backed, Restored, backup_store, restore_store
from weightshare.records.store.check import check_store
from weightshare.records.store.parcel import Packer, open_parcel
from weightshare.records.store.patient import add_patient, find_patient, inbox_of, list_patients, make_patient
from weightshare.records.store.ruling import Ruling, keep_ruling, list_rulings
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import list_figures, list_visits, opened, take_in, unlay
from weightshare.records.value import to_plain


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


def backed_up(folder: Path, passphrase: str | None = None) -> Path:
    """Make a store with two patients and three sessions, and return a backup of it."""
    with store_with(folder / "s", passphrase=passphrase, name="Zoë") as (store, patient):
        other = add_patient(store, make_patient("B", TODAY))
        for day, whose in ((1, patient), (2, patient), (3, other)):
            take_in(store, whose, session(folder, day))
        keep_ruling(store, patient, Ruling("2026-05-01", "K. Muster", "goes on"))
        told: list[tuple[int, int]] = []
        assert backup_store(store, folder / "b.zip", lambda *step: told.append(step)) == Backed(3)
        # read, then packed
        assert told == [(0, 3), (1, 3), (2, 3)] * 2
        assert read_trail(store)[-1].what == "backed up"
    return folder / "b.zip"


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_a_store_is_restored_as_it_was(passphrase: str | None, tmp_path: Path) -> None:
    archive = backed_up(tmp_path, passphrase)
    assert archive.stat().st_mode & 0o777 == 0o600
    assert restore_store(archive, tmp_path / "again" / "r").sessions == 3
    with old_store(tmp_path / "s", passphrase) as old, old_store(tmp_path / "again" / "r", passphrase) as new:
        assert list_patients(old) == list_patients(new)
        for patient in list_patients(old):
            assert list_visits(old, patient) == list_visits(new, patient)
            assert list_rulings(old, patient) == list_rulings(new, patient)
            for visit in list_visits(new, patient):
                with opened(new, visit) as folder:
                    verify(folder)
        assert check_store(new).faults == ()
        paths = list(new.place.rglob("*"))
        assert {stat.S_IMODE(path.stat().st_mode) for path in paths if path.is_file()} == {0o600}
        assert {stat.S_IMODE(path.stat().st_mode) for path in paths if path.is_dir()} == {0o700}


def test_a_sealed_stores_backup_is_sealed(tmp_path: Path) -> None:
    data = backed_up(tmp_path, PASSPHRASE).read_bytes()
    assert b"time_s" not in data and "Zoë".encode() not in data
    restore_store(tmp_path / "b.zip", tmp_path / "r")
    with pytest.raises(StoreError, match="the passphrase is wrong"):
        old_store(tmp_path / "r", "another passphrase")


def test_a_wrong_passphrase_restores_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    archive = backed_up(tmp_path, PASSPHRASE)
    (tmp_path / "word.txt").write_text("another passphrase")
    restore = ["store", "restore", str(archive), "--store", str(tmp_path / "r")]
    tried = [*restore, "--passphrase-file", str(tmp_path / "word.txt")]
    assert main(tried) == 2
    assert capsys.readouterr().err.endswith(
        f"{archive}: the passphrase is wrong, or this was altered; nothing was restored\n"
    )
    assert not (tmp_path / "r").exists() and not (tmp_path / "r.part").exists()
    (tmp_path / "word.txt").write_text(PASSPHRASE)
    assert main(tried) == 0 and capsys.readouterr().out.endswith("3 sessions, sealed\n")
    shutil.rmtree(tmp_path / "r")
    assert main(restore) == 0 and "its passphrase was not tried" in capsys.readouterr().out


def test_nothing_is_written_over(tmp_path: Path) -> None:
    archive = backed_up(tmp_path)
    with old_store(tmp_path / "s") as store, pytest.raises(StoreError, match="such a file already"):
        backup_store(store, archive)
    with pytest.raises(StoreError, match="restore to another folder"):
        restore_store(archive, tmp_path / "s")
    (tmp_path / "empty").mkdir()
    assert restore_store(archive, tmp_path / "empty") == Restored(3)


def test_an_empty_store_is_backed_up_too(tmp_path: Path) -> None:
    with new_store(tmp_path / "s") as store:
        assert backup_store(store, tmp_path / "b.zip") == Backed(0)
    assert restore_store(tmp_path / "b.zip", tmp_path / "r") == Restored(0)


def repacked(archive: Path, change: str) -> Path:
    """Return a copy of `archive` with something wrong in it."""
    target = archive.with_name(f"{change}.zip")
    with zipfile.ZipFile(archive) as source, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as wrong:
        names = source.namelist()
        raw = next(name for name in names if name.endswith("raw.wsr"))
        for name in names:
            data = source.read(name)
            if change == "byte" and name == raw:
                data = data[:-1] + bytes([data[-1] ^ 1])
            if change == "list" and name == "backup.json":
                data = data.replace(b'"bytes": 20000', b'"bytes": 20001')
            if change == "schema" and name == "backup.json":
                data = data.replace(b"backup/1", b"backup/9")
            if not (change == "missing" and name == raw):
                wrong.writestr(name, data)
        if change == "more":
            wrong.writestr("sessions/" + "0" * 32 + "/more.txt", b"x")
        if change == "climbing":
            wrong.writestr("sessions/../../evil.txt", b"x")
    return target


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("byte", r"raw\.wsr was altered"),
        ("list", r"backup\.json was altered"),
        ("schema", "is of another version"),
        ("missing", "is missing"),
        ("more", "is not listed in it"),
        ("climbing", "which cannot be"),
    ],
)
def test_an_altered_backup_is_refused_whole(change: str, words: str, tmp_path: Path) -> None:
    wrong = repacked(backed_up(tmp_path), change)
    with pytest.raises(StoreError, match=words) as told:
        restore_store(wrong, tmp_path / "r")
    assert str(wrong) in str(told.value)
    assert not (tmp_path / "r").exists() and not (tmp_path / "r.part").exists()
    assert not (tmp_path / "evil.txt").exists()


@pytest.mark.parametrize("data", [b"", b"PK\3\4", b"this is no archive" * 100])
def test_what_is_no_archive_is_refused(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "b.zip").write_bytes(data)
    with pytest.raises(StoreError, match="it is no archive, or was cut short"):
        restore_store(tmp_path / "b.zip", tmp_path / "r")
    with pytest.raises(StoreError, match="No such file"):
        restore_store(tmp_path / "none.zip", tmp_path / "r")


@pytest.mark.parametrize("part", [0.3, 0.9, 0.999])
def test_a_backup_that_was_cut_short_is_refused(part: float, tmp_path: Path) -> None:
    archive = backed_up(tmp_path)
    archive.write_bytes(archive.read_bytes()[: int(part * archive.stat().st_size)])
    with pytest.raises(StoreError):
        restore_store(archive, tmp_path / "r")
    assert not (tmp_path / "r").exists()


ANY = re.compile(r"[\w./-]+")


def write_zip(path: Path, *members: tuple[str, bytes], mode: int = 0o100600) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members:
            info = zipfile.ZipInfo(name)
            info.external_attr = mode << 16
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, data)
    return path


@pytest.mark.parametrize(
    "name", ["../evil", "/etc/evil", "sessions/../../evil", "C:\\evil", "a\\..\\evil", "a/", "a\0b", "sessions//x", "."]
)
def test_names_that_lead_elsewhere_are_refused(name: str, tmp_path: Path) -> None:
    from weightshare.records.store.backup import _NAMES

    path = write_zip(tmp_path / "a.zip", (name, b""))
    with pytest.raises(StoreError, match="which cannot be"), open_parcel(path, _NAMES):
        pass


def test_a_name_that_stands_twice_is_refused(tmp_path: Path) -> None:
    with pytest.warns(UserWarning, match="Duplicate"):
        path = write_zip(tmp_path / "a.zip", ("x", b"1"), ("x", b"2"))
    with pytest.raises(StoreError, match="which cannot be"), open_parcel(path, ANY):
        pass


def test_links_are_refused(tmp_path: Path) -> None:
    path = write_zip(tmp_path / "a.zip", ("x", b"/etc/passwd"), mode=0o120777)
    with pytest.raises(StoreError, match="is no plain file"), open_parcel(path, ANY):
        pass


def test_what_swells_is_refused(tmp_path: Path) -> None:
    """Deflate packs zeros 1,030 times: 16 MiB in 16 kB."""
    path = write_zip(tmp_path / "a.zip", ("x", bytes(16 << 20)))
    with pytest.raises(StoreError, match="x would swell to 16777216 bytes"), open_parcel(path, ANY):
        pass


def test_many_small_files_that_swell_together_are_refused(tmp_path: Path) -> None:
    path = write_zip(tmp_path / "a.zip", *((str(number), bytes(1 << 20)) for number in range(40)))
    with pytest.raises(StoreError, match=r"a\.zip: would swell to"), open_parcel(path, ANY):
        pass


def test_too_many_files_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(parcel, "MOST_FILES", 3)
    path = write_zip(tmp_path / "a.zip", *((str(number), b"") for number in range(4)))
    with pytest.raises(StoreError, match="holds 4 files"), open_parcel(path, ANY):
        pass


def test_a_size_that_lies_is_found(tmp_path: Path) -> None:
    """The archive says that its file is shorter than what is packed in it."""
    path = write_zip(tmp_path / "a.zip", ("x", b"A" * 1000))
    data = path.read_bytes()
    path.write_bytes(data.replace((1000).to_bytes(4, "little"), (500).to_bytes(4, "little")))
    with open_parcel(path, ANY) as found, pytest.raises(StoreError, match="x was altered or cut short"):
        found.read("x")


def test_the_same_content_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a.zip", "b.zip"):
        with (tmp_path / name).open("wb") as file, Packer(file) as packer:
            packer.add("x", b"1")
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_a_check_finds_what_was_altered(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        good, bad = (take_in(store, patient, session(tmp_path, day)).visit for day in (1, 400))
        inbox_of(store, patient)
        found = check_store(store)
        assert (found.patients, found.sessions, found.faults) == (1, 2, ())
        assert found.notes == (f"A-1: {bad.started_at} lies in the future",)
        path = store.sessions / bad.id / "trace.csv"
        path.write_text(path.read_text().replace("300.0", "301.0"))
        (fault,) = check_store(store).faults
        assert str(path) in fault
        with store.writing() as db:
            db.execute("UPDATE session SET body = ? WHERE id = ?", (json.dumps({"id": good.id}).encode(), good.id))
        unread, altered = check_store(store).faults
        assert "cannot be read" in unread and str(path) in altered and check_store(store).sessions == 2
        assert find_patient(store, "A-1") == patient


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_a_check_holds_lists_and_figures_against_the_files(passphrase: str | None, tmp_path: Path) -> None:
    with store_with(tmp_path / "s", passphrase=passphrase) as (store, patient):
        one, other = (take_in(store, patient, session(tmp_path, day)).visit for day in (1, 2))
        before = list_visits(store, patient), list_figures(store, patient)
        forged = replace(one, share_percent=71.1, repetitions=99)
        first, *rest = before[1][other.id]
        bodies = (
            ("body", to_plain(forged), f"session {one.id}", one.id),
            ("figures", to_plain((replace(first, value=101.26), *rest)), f"session {other.id} figures", other.id),
        )
        with store.writing() as db:
            for column, plain, about, ident in bodies:
                db.execute(f"UPDATE session SET {column} = ? WHERE id = ?", (store.seal(plain, about), ident))
        share, figure = check_store(store).faults
        assert share.startswith(f"A-1, {one.started_at}: ") and "share_percent 71.1, not " in share
        assert "repetitions 99, not " in share
        assert figure.startswith(f"A-1, {other.started_at}: ") and f"{first.name} " in figure and "101.26 or " in figure
        mended = check_store(store, mend=True)
        assert mended.faults == () and len(mended.notes) == 2
        assert (list_visits(store, patient), list_figures(store, patient)) == before
        assert check_store(store).faults == check_store(store).notes == ()
        assert [step.what for step in read_trail(store, patient.id)].count("mended the list") == 2


def test_files_that_were_changed_with_their_seal_are_not_those_that_were_taken_in(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path, 1)).visit
        folder = store.sessions / visit.id
        content = json.loads((folder / "analysis.json").read_bytes())
        content["share_percent"]["mean"] = 71.1
        (folder / "analysis.json").write_text(json.dumps(content))
        seal_anew(folder)
        for mend in (False, True):
            (fault,) = check_store(store, mend=mend).faults
            assert fault.endswith(f"{folder}: its files are not those that were taken in; restore a backup")


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_what_is_missing_or_altered_is_named_and_the_rest_backed_up_when_asked(
    passphrase: str | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with store_with(tmp_path / "s", passphrase=passphrase) as (store, patient):
        good, gone, bad = (take_in(store, patient, session(tmp_path, day)).visit for day in (1, 2, 3))
        shutil.rmtree(store.sessions / gone.id)
        trace = store.sessions / bad.id / "trace.csv"
        trace.write_bytes(trace.read_bytes()[:-1] + b"x")
    (tmp_path / "word.txt").write_text(PASSPHRASE)
    known = ["--store", str(tmp_path / "s"), "--passphrase-file", str(tmp_path / "word.txt")]
    backup = ["store", "backup", str(tmp_path / "b.zip"), *known]
    assert main(backup) == 1 and not (tmp_path / "b.zip").exists()
    out, err = capsys.readouterr()
    assert out.startswith("nothing was written; --damaged ") and err.count("\n") == 2
    assert f"fault: A-1, {gone.started_at}: {tmp_path / 's' / 'sessions' / gone.id}: is missing" in err
    assert f"fault: A-1, {bad.started_at}: " in err
    assert main([*backup, "--damaged"]) == 1
    assert "written: " in capsys.readouterr().out
    restore = ["store", "restore", str(tmp_path / "b.zip"), "--store", str(tmp_path / "r"), *known[2:]]
    assert main(restore) == 1
    assert "2 sessions" in (told := capsys.readouterr().out) and "1 session had no files any more" in told
    with old_store(tmp_path / "r", passphrase) as store:
        assert len(check_store(store).faults) == 2
        with pytest.raises(StoreError, match=f"{gone.id}: is missing"):
            unlay(store, gone, tmp_path)
        with opened(store, good) as folder:
            verify(folder)


def test_a_list_that_can_be_mended_keeps_nobody_from_a_backup(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        visit = take_in(store, patient, session(tmp_path)).visit
        with store.writing() as db:
            body = store.seal(to_plain(replace(visit, share_percent=71.1)), f"session {visit.id}")
            db.execute("UPDATE session SET body = ?", (body,))
        made = backup_store(store, tmp_path / "b.zip")
        assert made.is_written and "--mend takes it" in made.faults[0]
