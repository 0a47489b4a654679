"""JSON, FHIR and C3D: held against the standards' own libraries, and read again; and the command that writes them."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fhir.resources.R4B.bundle import Bundle
from jsonschema import Draft202012Validator

from tests.export.conftest import NAME
from tests.unit.kept import PASSPHRASE, TODAY, clock
from weightshare.cli import main
from weightshare.errors import RecordError
from weightshare.model import Channel, Quantity, Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.records.c3d.conversion import Choice, find_feet, make_found_trace
from weightshare.records.c3d.process import installed_readers, read_c3d
from weightshare.records.export.c3d import write_recording
from weightshare.records.export.lab import MOST_EVENTS, Recording, Size, make_recording
from weightshare.records.export.saved import SavedSession
from weightshare.records.export.writing import Request, write_export
from weightshare.records.store import cipher
from weightshare.records.store.patient import Affected, add_patient, make_patient
from weightshare.records.store.store import make_store
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import take_in
from weightshare.records.trace import read_trace

Capture = pytest.CaptureFixture[str]
STANDARD_BUILD = Size(280.0, 380.0, 80.0)


# -- JSON ----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def document(lowered: SavedSession, held: SavedSession, tmp_path_factory: pytest.TempPathFactory) -> Any:
    place = tmp_path_factory.mktemp("json") / "out"
    write_export([lowered, held], place, Request("json"))
    return json.loads((place / "sessions.json").read_bytes())


@pytest.fixture(scope="module")
def schema(checkout: Path) -> Any:
    return json.loads((checkout / "docs" / "export.schema.json").read_bytes())


def shortened(document: Any, rows: int) -> Any:
    """Return the object with fewer samples of its sessions, evenly taken: validating is slow."""
    sessions = []
    for one in document["sessions"]:
        step = max(1, len(one["samples"]["time_s"]) // rows)
        sessions.append(one | {"samples": {name: values[::step] for name, values in one["samples"].items()}})
    return document | {"sessions": sessions}


def test_the_object_keeps_to_its_schema(document: Any, schema: Any, lowered: SavedSession) -> None:
    """Source: JSON Schema, draft 2020-12; the library `jsonschema`."""
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(shortened(document, 400))
    first = document["sessions"][0]
    assert len(first["repetitions"]) == len(lowered.analysis.repetitions)
    for name, values in lowered.trace.columns.items():
        told = np.array([np.nan if one is None else one for one in first["samples"][name]])
        assert np.array_equal(told, values, equal_nan=True)


@pytest.mark.parametrize(
    ("table", "key", "value"),
    [("session", "injured_side", "west"), ("session", "duration_s", "long"), ("samples", "time_s", []),
     ("session", "more", 1)],
)  # fmt: skip
def test_and_the_schema_would_find_what_is_wrong(document: Any, schema: Any, table: str, key: str, value: Any) -> None:
    wrong = json.loads(json.dumps(shortened(document, 5)))
    assert not list(Draft202012Validator(schema).iter_errors(wrong))
    wrong["sessions"][0][table][key] = value
    assert list(Draft202012Validator(schema).iter_errors(wrong))


# -- FHIR ----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def bundle(lowered: SavedSession, held: SavedSession, tmp_path_factory: pytest.TempPathFactory) -> Any:
    place = tmp_path_factory.mktemp("fhir") / "out"
    write_export([lowered, held], place, Request("fhir"))
    return json.loads((place / "bundle.json").read_bytes())


def resources(bundle: Any, kind: str) -> list[Any]:
    return [one["resource"] for one in bundle["entry"] if one["resource"]["resourceType"] == kind]


def coded(bundle: Any, code: str) -> list[Any]:
    return [one for one in resources(bundle, "Observation") if one["code"]["coding"][0]["code"] == code]


def test_the_bundle_has_the_shape_of_fhir(bundle: Any) -> None:
    """Source: HL7 FHIR R4B (of R4's Bundle, Observation, Device, Patient unchanged, from memory); `fhir.resources`."""
    read = Bundle.model_validate(bundle)
    assert read.entry is not None and len(read.entry) == len(bundle["entry"])
    wrong = json.loads(json.dumps(bundle))
    del coded(wrong, "session")[0]["status"]
    with pytest.raises(ValueError, match="status"):
        Bundle.model_validate(wrong)


def test_what_it_refers_to_is_in_it(bundle: Any) -> None:
    urls = [one["fullUrl"] for one in bundle["entry"]]
    assert len(set(urls)) == len(urls)
    references = re.findall(r'"reference": "([^"]+)"', json.dumps(bundle))
    assert references and set(references) <= set(urls)
    (patient,) = resources(bundle, "Patient")
    assert {name: patient[name] for name in patient if name != "meta"} == {
        "resourceType": "Patient",
        "identifier": [{"value": "A-1"}],
    }
    assert len(resources(bundle, "Device")) == 1, "the same scale stands there once"


def test_a_code_of_our_own_has_one_meaning(bundle: Any) -> None:
    told = re.findall(r'"system": "urn:uuid:[^"]+", "code": "([^"]+)", "display": "([^"]+)"', json.dumps(bundle))
    meanings: dict[str, set[str]] = {}
    for code, words in told:
        assert re.fullmatch(r"[^\s]+(\s[^\s]+)*", code), "as FHIR has the type code"
        meanings.setdefault(code, set()).add(words)
    assert len(meanings) > 40 and {code for code, words in meanings.items() if len(words) > 1} == set()


def test_observations_say_what_was_measured(bundle: Any, lowered: SavedSession, held: SavedSession) -> None:
    analysis = lowered.analysis
    lifts = coded(bundle, "repetition")
    assert len(lifts) == len(analysis.repetitions)
    parts = {one["code"]["coding"][0]["code"]: one for one in lifts[0]["component"]}
    share = parts["repetition.share_lowering_percent"]["valueQuantity"]
    assert share["value"] == pytest.approx(analysis.repetitions[0].share_lowering_percent, abs=1e-6)
    assert (share["unit"], share["code"]) == ("%", "%")
    assert lifts[0]["effectivePeriod"]["start"].startswith("2026-03-02T10:00:")
    weight = coded(bundle, "29463-7")[0]
    assert analysis.body_weight_N is not None
    assert weight["valueQuantity"]["value"] == pytest.approx(analysis.body_weight_N / 9.80665, abs=0.001)
    assert weight["category"][0]["coding"][0]["code"] == "vital-signs"
    (pain,) = coded(bundle, "72514-3")
    assert pain["valueQuantity"] == {
        "value": 2, "unit": "score", "system": "http://unitsofmeasure.org", "code": "{score}"
    }  # fmt: skip
    assert [one["identifier"][0]["value"] for one in coded(bundle, "session")] == [lowered.id, held.id]
    (hold,) = coded(bundle, "hold")
    assert hold["subject"] == {"display": "not told"} and len(held.holds()) == 1


UCUM = {"N", "s", "%", "%{points}", "mm", "J", "Hz", "kg", "1", "{score}"}
"""Source: The Unified Code for Units of Measure, tables 2 (s), 4 (%), 5 (N, J, Hz), prefixes m and k, the unity 1, and
annotations in braces (from memory)."""


def test_units_are_those_of_ucum(bundle: Any) -> None:
    codes = set(re.findall(r'"system": "http://unitsofmeasure.org", "code": "([^"]+)"', json.dumps(bundle)))
    assert {"%", "s", "N", "mm", "J", "kg"} <= codes <= UCUM


# -- C3D -----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def recorded(lowered: SavedSession, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("c3d") / "out"
    written = write_export([lowered], place, Request("c3d", size=STANDARD_BUILD))
    assert written.notes == ()
    return next(place.glob("*.c3d"))


@pytest.mark.parametrize("number", [0, 1], ids=["ezc3d", "c3d"])
def test_forces_and_heels_come_back_by_either_library(number: int, recorded: Path, lowered: SavedSession) -> None:
    """Four-byte numbers hold a value to 6e-8 of its size (IEEE 754): 3e-5 N at 537 N."""
    found = find_feet(read_c3d(recorded, [installed_readers()[number]]), Choice(), "x")
    assert found.guess.sure and "the plate's reaction" in found.lines()[1]
    trace = make_found_trace(found)
    assert trace.columns.keys() == lowered.trace.columns.keys()
    np.testing.assert_allclose(trace.time_s, lowered.trace.time_s, atol=1e-9)
    for name, values in lowered.trace.columns.items():
        np.testing.assert_allclose(trace.columns[name], values, rtol=6e-8, atol=1e-9, err_msg=name)
    again = analyse_trace(trace, lowered.settings, lowered.head.sets)
    for mine, theirs in zip(again.repetitions, lowered.analysis.repetitions, strict=True):
        assert mine.share_lowering_percent == pytest.approx(theirs.share_lowering_percent, abs=1e-5)
        assert mine.lowering_s == pytest.approx(theirs.lowering_s, abs=1e-5)


def test_the_library_finds_the_load_where_it_is(recorded: Path, lowered: SavedSession) -> None:
    """Its own transformation by corners and type (C3D user guide, FORCE_PLATFORM): up is up, forward is forward."""
    import ezc3d

    file = ezc3d.c3d(str(recorded), extract_forceplat_data=True)
    for plate, side in zip(file["data"]["platform"], Side, strict=True):
        load_N, rows = lowered.trace.columns[f"{side}_N"], slice(1000, 2000)
        np.testing.assert_allclose(plate["force"][2, rows], load_N[rows], rtol=1e-6)
        front, rear = (lowered.trace.columns[f"{side}_{part}_N"][rows] for part in ("front", "rear"))
        across, forward, _up = plate["center_of_pressure"][:, rows]
        np.testing.assert_allclose(forward, 120.0 * (front - rear) / (front + rear), atol=0.01)
        np.testing.assert_allclose(across, -180.0 if side is Side.LEFT else 180.0)
    events = file["parameters"]["EVENT"]
    place = list(events["LABELS"]["value"]).index("repetition 2 lowering")
    minutes, seconds = np.asarray(events["TIMES"]["value"])[:, place]
    assert 60.0 * minutes + seconds == pytest.approx(lowered.analysis.repetitions[1].lowering_s, abs=1e-4)
    assert events["CONTEXTS"]["value"][place] == "Left"


def recording_of(time_s: Any, content: Any = None, **columns: Any) -> Recording:
    sides = {name: np.full(len(time_s), 300.0) for name in ("left_N", "right_N")}
    content = {"injured_side": "left", "holds": [], "repetitions": [], "rejected": [], "gaps": []} | (content or {})
    return make_recording(Trace(np.asarray(time_s), sides | columns), (), content, None, "a session")


def test_a_gap_keeps_its_length_and_what_was_not_read_comes_back_so(tmp_path: Path) -> None:
    time_s = np.concatenate([np.arange(40), np.arange(60, 97)]) / 80.0
    left = np.full(time_s.size, 412.25)
    left[5] = np.nan
    recording = recording_of(time_s, left_N=left)
    assert recording.analog.shape[1] == 100 and recording.frame_samples == 10
    write_recording(recording, tmp_path / "a.c3d")
    trace = make_found_trace(find_feet(read_c3d(tmp_path / "a.c3d"), Choice(), "x"))
    assert trace.time_s.size == 97
    there = np.rint(time_s * 80.0).astype(int)
    assert np.array_equal(trace.columns["left_N"][there], left, equal_nan=True)
    missing = np.setdiff1d(np.arange(97), there)
    assert np.isnan(trace.columns["left_N"][missing]).all() and np.isnan(trace.columns["right_N"][missing]).all()


def test_a_long_session_fits_into_the_headers_count() -> None:
    """Source: C3D user guide, header: the number of the last frame is a word of two bytes."""
    recording = recording_of(np.arange(655_360) / 100.0)
    frames, left = divmod(recording.analog.shape[1], recording.frame_samples)
    assert frames < 65_535 and not left and recording.frame_samples == 20


def test_a_file_of_more_frames_than_its_header_counts_is_read_whole_or_not_at_all(tmp_path: Path) -> None:
    """Libraries stop where the header's two bytes end (C3D user guide, header), and say nothing of it."""
    recording = replace(recording_of(np.arange(66_000) / 100.0), frame_samples=1)
    write_recording(recording, tmp_path / "long.c3d")
    with pytest.raises(RecordError, match="more frames than its header can count, of which 65535 can be read"):
        read_c3d(tmp_path / "long.c3d")


def test_uneven_samples_are_refused_in_words() -> None:
    with pytest.raises(RecordError, match=r"a session: its samples are not evenly spaced, .* --as csv"):
        recording_of([0.0, 0.01, 0.02, 0.021, 0.04])


def test_the_coarser_events_are_kept_where_not_all_fit() -> None:
    row = {"start_s": 1.0, "top_s": 2.0, "lowering_s": 3.0, "end_s": 4.0}
    lifts = [{name: value + 5 * k for name, value in row.items()} for k in range(100)]
    recording = recording_of(np.arange(60000) / 100.0, {"repetitions": lifts})
    assert len(recording.events) == MOST_EVENTS and recording.left_out == 400 - MOST_EVENTS
    assert sum(one.label.endswith(("start", "end")) for one in recording.events) == 200


def test_without_front_and_rear_nothing_is_said_of_forward() -> None:
    channels = [Channel(Quantity.FORCE, side) for side in Side]
    content = {"injured_side": "left", "holds": [], "repetitions": [], "rejected": [], "gaps": []}
    trace = Trace(np.arange(50) / 100.0, {name: np.full(50, 300.0) for name in ("left_N", "right_N")})
    recording = make_recording(trace, channels, content, STANDARD_BUILD, "x")
    assert recording.meanings[recording.labels.index("LeftMy")] == "not measured"


def test_a_writer_may_crash_without_harm(tmp_path: Path) -> None:
    for code, said in (("import os; os.abort()", "its writer ended abruptly"), ("pass", "nothing came of it")):
        with pytest.raises(RecordError, match=said):
            write_recording(recording_of(np.arange(50) / 100.0), tmp_path / "a.c3d", [sys.executable, "-c", code])


def test_a_file_that_a_full_disk_cut_short_is_none(tmp_path: Path) -> None:
    """ezc3d says nothing of it; a limit on the size of its process's files stands for the disk."""
    recording = recording_of(np.arange(3000) / 100.0)
    write_recording(recording, tmp_path / "whole.c3d")
    whole = (tmp_path / "whole.c3d").stat().st_size
    code = "import resource, sys; from weightshare.records.export.child import main; "
    for most in (400, 20_000, whole - 1100):
        limited = f"{code} resource.setrlimit(resource.RLIMIT_FSIZE, ({most}, {most})); sys.exit(main(sys.argv[1:]))"
        with pytest.raises(OSError, match="No space left") as told:
            write_recording(recording, tmp_path / "a.c3d", [sys.executable, "-c", limited])
        assert told.value.filename == str(tmp_path / "a.c3d")


# -- the command ---------------------------------------------------------------------------------------------------


def test_folders_become_files(folders: Path, tmp_path: Path, capsys: Capture) -> None:
    sessions = list(map(str, sorted(folders.iterdir())))
    assert main(["export", *sessions, "--as", "csv", "--out", str(tmp_path / "out"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "weightshare.export/1" and told["sessions"] == 2
    assert sorted(told["files"]) == sorted(path.name for path in (tmp_path / "out").iterdir())
    sample = next((tmp_path / "out").glob("samples-2026-03-02*"))
    assert main(["analyse", str(sample), "--injured", "left", "--stage", "lowering", "--target", "75", "--json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert len(again["repetitions"]) == 3 and read_trace(sample).time_s.size == again["samples"]


def test_c3d_goes_out_and_in_by_command(folders: Path, tmp_path: Path, capsys: Capture) -> None:
    out, first = tmp_path / "out", str(min(folders.iterdir()))
    assert main(["export", first, "--as", "c3d", "--out", str(out)]) == 0
    assert "has no corners: --plates-mm" in capsys.readouterr().err
    (file,) = out.glob("*.c3d")
    assert main(["import", str(file), "--to", str(tmp_path / "back.parquet"), "--yes"]) == 0
    assert "its channels are called so" in capsys.readouterr().out
    assert "left_heel_height_mm" in read_trace(tmp_path / "back.parquet").columns


@pytest.fixture
def known(folders: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The options of a sealed store with one patient, who has both sessions; another has none."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    words = tmp_path / "words"
    words.write_text(f"{PASSPHRASE}\n")
    with make_store(tmp_path / "s", "tester", clock, PASSPHRASE) as store:
        patient = add_patient(store, make_patient("A-1", TODAY, name=NAME, affected=Affected.LEFT))
        for folder in sorted(folders.iterdir()):
            take_in(store, patient, folder)
        add_patient(store, make_patient("A-2", TODAY))
        yield ["--store", str(tmp_path / "s"), "--passphrase-file", str(words)]
        assert [one.what for one in read_trail(store, patient.id)].count("exported") == 2


def test_a_code_stands_for_all_of_its_sessions(known: list[str], tmp_path: Path, capsys: Capture) -> None:
    def export(*more: str) -> tuple[int, str]:
        return main(["export", "A-1", "--as", "json", *more, *known]), capsys.readouterr().err

    def told(name: str) -> list[Any]:
        sessions: list[Any] = json.loads((tmp_path / name / "sessions.json").read_bytes())["sessions"]
        return [one["session"] for one in sessions]

    assert export("--out", str(tmp_path / "a"))[0] == 0
    assert [one["patient"] for one in told("a")] == ["A-1", "A-1"] and "name" not in told("a")[0]
    assert export("--out", str(tmp_path / "b"), "--began", "newest", "--with-name")[0] == 0
    assert [one["name"] for one in told("b")] == [NAME]
    status, said = export("--out", str(tmp_path / "b"))
    assert status == 2 and "is there already" in said and said.count("\n") == 1
    assert main(["export", "A-2", "--as", "csv", "--out", str(tmp_path / "c"), *known]) == 2
    assert "has no sessions yet" in capsys.readouterr().err and not (tmp_path / "c").exists()


@pytest.fixture
def empty_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, in which the command is given."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--as", "csv"], "--as csv needs --out DIR"),
        (["--as", "csv", "--out", "x", "--seal"], "--seal goes with --bundle"),
        (["--as", "csv", "--out", "x", "--plates-mm", "280,380,80"], "--plates-mm goes with --as c3d"),
        (["--as", "c3d", "--out", "x", "--plates-mm", "280"], "give width, depth and gap"),
        (["--as", "c3d", "--out", "x", "--plates-mm", "280,380,nan"], "out of range"),
        (["--as", "csv", "--out", "no/where"], "there is no folder"),
        (["--as", "csv", "--out", "x", "--with-name"], "--with-name goes with a patient's code"),
        (["--bundle", "x.zip", "--with-notes"], "--with-notes goes with --as"),
        (["--sessions", "x", "--out", "x"], "--out goes with --as"),
    ],
)
def test_what_does_not_go_together_costs_one_line(
    more: list[str], said: str, folders: Path, empty_place: Path, capsys: Capture
) -> None:
    assert main(["export", str(min(folders.iterdir())), *more]) == 2
    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1
    assert list(empty_place.iterdir()) == []


def test_what_is_no_session_costs_one_line(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "empty").mkdir()
    for what in (str(tmp_path / "empty"), str(tmp_path / "none")):
        assert main(["export", what, "--as", "csv", "--out", str(tmp_path / "out")]) == 2
        told = capsys.readouterr().err
        assert what in told and told.count("\n") == 1
    store = ["--store", str(tmp_path / "store")]
    assert main(["export", "Z-9", "--as", "csv", "--out", str(tmp_path / "out"), *store]) == 2
    assert "no store of patients" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
