"""Settled readings of store-bought scales, kept with their patient."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import pytest

from tests.unit.kept import NOW, PASSPHRASE, TODAY, everything, new_store, old_store, store_with
from weightshare.cli import main
from weightshare.errors import RecordError, StoreError
from weightshare.records.reading import ReadingFile
from weightshare.records.store import cipher
from weightshare.records.store.check import check_store
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.patient import Patient, add_patient, delete_patient, inbox_of, make_patient
from weightshare.records.store.settled import list_readings, read_readings, take_readings
from weightshare.records.store.store import Store
from weightshare.records.store.trail import read_trail

HEAD = {"began": "2026-05-04T10:00:00+02:00", "program": "weightshare 0", "injured_side": "left", "scales": []}


def write(place: Path, *shares: float | None, head: Mapping[str, object] = HEAD) -> ReadingFile:
    """Write a file of readings, still open."""
    file = ReadingFile(place, head, datetime.fromisoformat(str(head["began"])))
    for number, share in enumerate(shares):
        file.add({"at": f"10:00:{number:02}", "side": "left", "load_kg": 30.0 + number, "share_percent": share})
    file.add({"at": "10:01:00", "body_weight_kg": 71.0})
    return file


def test_what_is_still_written_stays_and_what_is_done_is_taken_in_once(kept: tuple[Store, Patient]) -> None:
    store, patient = kept
    inbox = inbox_of(store, patient)
    file = write(inbox, None, 41.0, 47.5)
    assert file.path is not None
    assert take_inbox(store, patient).readings == (), "it is still being written"
    copy = file.path.read_bytes()
    file.close()
    (found,) = take_inbox(store, patient).readings
    assert (found.count, found.share_percent, found.injured) == (3, 47.5, "left")
    assert list(inbox.iterdir()) == [] and list_readings(store, patient) == [found]
    assert "\n".join(found.lines).encode() + b"\n" == copy, "line by line as it was kept"
    file.path.write_bytes(copy)
    take_inbox(store, patient)
    assert len(list_readings(store, patient)) == 1, "the same again changes nothing"
    assert [step.what for step in read_trail(store, patient.id)].count("took in settled readings") == 1
    assert check_store(store).faults == ()
    if store.box.is_sealed:
        assert b"body_weight_kg" not in everything(store.place)


def test_they_are_somebodys_and_go_with_them(kept: tuple[Store, Patient], tmp_path: Path) -> None:
    store, patient = kept
    other = add_patient(store, make_patient("B-2", TODAY))
    file = write(tmp_path, 50.0)
    file.close()
    assert file.path is not None
    copy = file.path.read_bytes()
    take_readings(store, patient, file.path)
    file.path.write_bytes(copy)
    with pytest.raises(StoreError, match="another patient's"):
        take_readings(store, other, file.path)
    delete_patient(store, patient)
    with store.reading() as db:
        assert db.execute("SELECT count(*) FROM reading").fetchone() == (0,)


def test_a_line_that_was_cut_short_is_left_out_and_others_refuse_the_file(tmp_path: Path) -> None:
    file = write(tmp_path, 50.0, 51.0)
    file.close()
    assert file.path is not None
    whole = file.path.read_bytes()
    file.path.write_bytes(whole[: whole.rfind(b'"body') + 3])
    assert read_readings(file.path).count == 2
    bad = whole.replace(b"weightshare.readings/1", b"another/1"), b"", b"\xff\n", whole.replace(b'"left"', b"1", 1)
    for number, data in enumerate(bad):
        file.path.write_bytes(data)
        with pytest.raises(RecordError, match="no settled readings"):
            read_readings(file.path)
        assert number < len(bad)


def test_altered_ones_are_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(tmp_path / "s", passphrase=PASSPHRASE) as (store, patient):
        write(inbox_of(store, patient), 50.0).close()
        take_inbox(store, patient)
        with store.writing() as db:
            db.execute("UPDATE reading SET body = ?", (b"0" * 60,))
        assert any("altered" in fault for fault in check_store(store).faults)


def test_the_command_shows_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with new_store(tmp_path / "s") as store:
        patient = add_patient(store, make_patient("A-1", NOW.date()))
        write(inbox_of(store, patient), None, 47.5).close()
        (inbox_of(store, patient) / "readings-2026-01-01-000000.jsonl").write_text("nonsense\n")
    assert main(["patient", "show", "A-1", "--store", str(tmp_path / "s")]) == 0
    out, err = capsys.readouterr()
    assert "kept: the settled readings of 2026-05-04" in err and "not kept" in err
    assert "2 readings, share 48 %" in out
    assert main(["patient", "show", "A-1", "--json", "--store", str(tmp_path / "s")]) == 0
    told = json.loads(capsys.readouterr().out)["readings"]
    assert told == [{"began": HEAD["began"], "readings": 2, "share_percent": 47.5}]
    with old_store(tmp_path / "s") as store:
        assert len(list_readings(store, patient)) == 1
