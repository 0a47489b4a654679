"""A session of a patient, practised on a scale over TCP, kept in the store, and computed again from it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.unit.kept import clock
from weightshare.cli import main
from weightshare.records.session import analyse_session
from weightshare.records.store import cipher
from weightshare.records.store.check import check_store
from weightshare.records.store.patient import find_patient, inbox_of
from weightshare.records.store.store import open_store
from weightshare.records.store.visit import list_visits, opened

Capture = pytest.CaptureFixture[str]


@pytest.mark.parametrize("sealed", [False, True], ids=["plain", "sealed"])
def test_a_session_goes_to_its_patient(
    sealed: bool, request: pytest.FixtureRequest, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    (tmp_path / "words").write_text("a passphrase of mine\n")
    known = ["--store", str(tmp_path / "s"), *(["--passphrase-file", str(tmp_path / "words")] if sealed else [])]
    assert main(["store", "make", *(["--seal"] if sealed else []), *known]) == 0
    assert main(["patient", "add", "A-1", "--side", "right", *known]) == 0
    host = request.getfixturevalue("tiny_scale")(request.getfixturevalue("stand")(2.0, 20.0, 60.0), speed=20)
    calibration = request.getfixturevalue("tiny_calibration")
    capsys.readouterr()
    words = [
        "--source",
        host.source,
        "--calibration",
        str(calibration),
        "--target",
        "75",
        "--hold-goal",
        "2",
        "--holds",
        "1",
    ]
    assert main(["practise", "--patient", "A-1", "--headless", "--seconds", "10", "--json", *words, *known]) == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert told["injured_side"] == "right"
    assert "kept: the session of" in err
    passphrase = "a passphrase of mine" if sealed else None
    with open_store(tmp_path / "s", "tester", clock, passphrase) as store:
        patient = find_patient(store, "A-1")
        (visit,) = list_visits(store, patient)
        assert list(inbox_of(store, patient).iterdir()) == []
        assert visit.share_percent == pytest.approx(told["share_percent"]["mean"])
        with opened(store, visit) as folder:
            assert analyse_session(folder).to_json()["share_percent"] == told["share_percent"]


def test_a_session_that_was_cut_short_is_finished_and_kept(
    request: pytest.FixtureRequest, tmp_path: Path, capsys: Capture
) -> None:
    """What a program leaves that is killed in the middle: settings, calibration, a raw record without its end."""
    place = tmp_path / "s"
    assert main(["store", "make", "--store", str(place)]) == 0
    assert main(["patient", "add", "A-1", "--side", "right", "--store", str(place)]) == 0
    host = request.getfixturevalue("tiny_scale")(request.getfixturevalue("stand")(2.0, 20.0, 60.0), speed=20)
    calibration = request.getfixturevalue("tiny_calibration")
    words = ["--source", host.source, "--calibration", str(calibration), "--injured", "right", "--target", "75"]
    assert main(["practise", "--headless", "--seconds", "10", "--save", str(tmp_path / "out"), *words]) == 0
    (folder,) = (tmp_path / "out").iterdir()
    for name in ("trace.csv", "trace.parquet", "analysis.json", "manifest.json"):
        (folder / name).unlink()
    raw = folder / "raw.wsr"
    raw.write_bytes(raw.read_bytes()[: int(0.8 * raw.stat().st_size)])
    with open_store(place, "tester", clock) as store:
        patient = find_patient(store, "A-1")
        folder.rename(inbox_of(store, patient) / folder.name)
        assert any("was cut short" in note for note in check_store(store).notes)
    capsys.readouterr()
    assert main(["patient", "show", "A-1", "--store", str(place)]) == 0
    out, err = capsys.readouterr()
    assert "kept: the session of" in err and "recovered" in out
    with open_store(place, "tester", clock) as store:
        (visit,) = list_visits(store, find_patient(store, "A-1"))
        assert visit.ending == "recovered" and check_store(store).faults == ()
