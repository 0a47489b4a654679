"""Session folders: found, loaded, altered, cut short, recovered."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from weightshare.errors import OptionError, RecordError
from weightshare.model import Chunk, Side
from weightshare.practice.engine import Engine
from weightshare.practice.option import PractiseOptions
from weightshare.records.lock import FolderLock
from weightshare.records.manifest import MANIFEST_NAME, Ending, verify
from weightshare.records.session import (
    analyse_session,
    appraise_session,
    discard,
    find_session,
    finish_session,
    load_session,
    recover,
    unfinished,
)
from weightshare.records.trace import read_trace
from weightshare.task import Goal, Settings

DERIVED = ("trace.csv", "trace.parquet", "analysis.json", MANIFEST_NAME)


@pytest.fixture(scope="module")
def made() -> list[Path]:
    """The one session that these tests copy, once it was made."""
    return []


@pytest.fixture
def folder(made: list[Path], request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A finished session of some 10 s: nobody, then 20 kg left and 60 kg right. Each test has a copy of its own."""
    if not made:
        made.append(make_session(request, tmp_path / "made"))
    return shutil.copytree(made[0], tmp_path / "place" / made[0].name)


def make_session(request: pytest.FixtureRequest, place: Path) -> Path:
    row = request.getfixturevalue("stand")(2.0, 20.0, 60.0)
    host = request.getfixturevalue("tiny_scale")(row, speed=20)
    calibration = request.getfixturevalue("tiny_calibration")
    options = PractiseOptions(Settings(Side.RIGHT, 75.0), Goal(2.0, 1), (host.source,), (calibration,), 10.0, place)
    engine = Engine(options)
    engine.start()
    request.getfixturevalue("wait_until")(lambda: engine.is_over)
    finished = engine.stop()
    assert finished.folder is not None
    return finished.folder


def cut_short(folder: Path, kept: float = 0.8) -> bytes:
    """Leave of a finished session what a program killed in the middle leaves; return its raw record."""
    for name in DERIVED:
        (folder / name).unlink()
    raw = folder / "raw.wsr"
    data = raw.read_bytes()[: int(raw.stat().st_size * kept)]
    raw.write_bytes(data)
    return data


def test_a_session_is_found_by_its_folder_and_by_the_one_above(folder: Path) -> None:
    assert find_session(folder) == folder
    assert find_session(folder.parent) == folder
    shutil.copytree(folder, folder.parent / "session-2")
    with pytest.raises(RecordError, match="has 2 sessions; name one of them"):
        find_session(folder.parent)
    with pytest.raises(RecordError, match="holds no session"):
        find_session(folder.parent.parent / "nowhere")


def test_a_session_loads_with_all_that_it_was(folder: Path) -> None:
    session = load_session(folder)
    assert session.settings == Settings(Side.RIGHT, 75.0)
    assert [one.device_id for one in session.calibrations] == ["0011223344556677"]
    assert session.ending is Ending.COMPLETE
    assert session.warnings == ()
    samples = sum(item.readings.shape[0] * item.readings.shape[1] for item in session.items if isinstance(item, Chunk))
    assert samples == analyse_session(folder).samples


def test_the_traces_are_what_the_raw_record_gives(folder: Path) -> None:
    csv, parquet = read_trace(folder / "trace.csv"), read_trace(folder / "trace.parquet")
    assert csv.time_s == pytest.approx(parquet.time_s, abs=1e-8)
    assert csv.columns["right_N"] == pytest.approx(parquet.columns["right_N"], abs=1e-6)
    standing = csv.time_s > 3.0
    assert np.all(csv.columns["left_N"][~standing & (csv.time_s < 1.9)] == 0.0)
    assert csv.columns["left_N"][standing] == pytest.approx(20 * 9.80665, abs=0.01)
    assert csv.columns["right_N"][standing] == pytest.approx(60 * 9.80665, abs=0.01)
    assert csv.time_s.size == analyse_session(folder).samples


def test_other_settings_can_be_tried_on_an_old_session(folder: Path) -> None:
    analysis = analyse_session(folder, {"injured": Side.LEFT, "target_percent": 25.0, "filter_Hz": None})
    assert analysis.injured_side is Side.LEFT
    assert analysis.band is not None
    assert analysis.band.target_percent == 25.0
    assert analysis.band.time_in_band_s > 6.0
    with pytest.raises(OptionError, match="--tolerance"):
        analyse_session(folder, {"tolerance_percent": 99.0})


@pytest.mark.parametrize("name", ["raw.wsr", "calibration.json", "settings.json", *DERIVED])
def test_one_flipped_byte_anywhere_is_noticed_and_named(folder: Path, name: str) -> None:
    path = folder / name
    whole = path.read_bytes()
    random = np.random.default_rng(1)
    for position in {0, len(whole) - 1, *random.integers(0, len(whole), 12).tolist()}:
        path.write_bytes(whole[:position] + bytes([whole[position] ^ 0x10]) + whole[position + 1 :])
        for use in (load_session, analyse_session, verify, recover):
            with pytest.raises(RecordError) as refusal:
                use(folder)
            assert name in str(refusal.value)
    path.write_bytes(whole)
    verify(folder)


@pytest.mark.parametrize("name", ["raw.wsr", "calibration.json", "settings.json", *DERIVED[:3]])
def test_a_cut_or_missing_file_is_noticed_and_named(folder: Path, name: str) -> None:
    path = folder / name
    path.write_bytes(path.read_bytes()[:-1])
    with pytest.raises(RecordError, match=f"{name}: was cut short"):
        analyse_session(folder)
    path.unlink()
    with pytest.raises(RecordError, match=f"{name}: is missing"):
        analyse_session(folder)


def test_a_session_cut_short_is_analysed_with_a_warning(folder: Path) -> None:
    whole = analyse_session(folder)
    cut_short(folder)
    analysis = analyse_session(folder)
    assert analysis.warnings == (*whole.warnings, "this session was cut short; its last second may be missing")
    assert 0.7 * whole.samples < analysis.samples < whole.samples
    assert analysis.share_percent.mean == pytest.approx(75.0, abs=0.3)


def test_a_session_cut_short_is_recovered_and_its_raw_record_left_alone(folder: Path) -> None:
    raw = cut_short(folder)
    assert unfinished(folder.parent) == [folder]
    analysis = recover(folder)
    assert unfinished(folder.parent) == []
    assert (folder / "raw.wsr").read_bytes() == raw
    assert verify(folder).ending is Ending.RECOVERED
    assert analyse_session(folder) == analysis
    assert json.loads((folder / "analysis.json").read_text()) == appraise_session(folder).to_json()
    assert recover(folder) == analysis
    assert "cut short" in analysis.warnings[-1]
    (folder / "raw.wsr").write_bytes(raw[:-1])
    with pytest.raises(RecordError, match="was cut short"):
        analyse_session(folder)


def test_every_cut_of_a_raw_record_can_be_recovered(folder: Path) -> None:
    raw = cut_short(folder, 0.9)
    random = np.random.default_rng(2)
    for length in random.integers(len(raw) // 2, len(raw), 8).tolist():
        (folder / "raw.wsr").write_bytes(raw[:length])
        assert analyse_session(folder).samples > 100


def test_an_altered_raw_record_of_a_session_cut_short_is_refused(folder: Path) -> None:
    raw = bytearray(cut_short(folder))
    raw[len(raw) // 2] ^= 1
    (folder / "raw.wsr").write_bytes(raw)
    for use in (analyse_session, recover):
        with pytest.raises(RecordError, match=r"raw\.wsr: the record was altered at byte"):
            use(folder)
    assert not (folder / MANIFEST_NAME).exists()


def test_a_session_that_is_being_recorded_is_not_touched(folder: Path) -> None:
    cut_short(folder)
    lock = FolderLock(folder)
    assert lock.take()
    try:
        assert unfinished(folder.parent) == []
        with pytest.raises(RecordError, match="is still being recorded"):
            recover(folder)
        assert analyse_session(folder).warnings[-1] == "this session is still being recorded"
    finally:
        lock.release()
    assert unfinished(folder.parent) == [folder]


def test_a_session_whose_scale_never_answered_is_no_session(folder: Path) -> None:
    cut_short(folder)
    (folder / "calibration.json").unlink()
    assert unfinished(folder.parent) == []
    with pytest.raises(RecordError, match=r"calibration\.json: is missing"):
        load_session(folder)


def test_a_recording_that_stopped_early_says_so(folder: Path) -> None:
    cut_short(folder)
    analysis = finish_session(folder, Ending.CUT_SHORT).analysis
    assert verify(folder).ending is Ending.CUT_SHORT
    assert "recording stopped before the session did" in analysis.warnings[-1]
    assert analyse_session(folder) == analysis


@pytest.mark.parametrize("name", ["analysis.json", "trace.csv", "trace.parquet"])
def test_a_failed_finish_leaves_no_half_written_file(folder: Path, name: str) -> None:
    cut_short(folder)
    (folder / name).mkdir()
    with pytest.raises(OSError):
        finish_session(folder)
    assert not (folder / MANIFEST_NAME).exists()
    assert [path.name for path in folder.iterdir() if path.name.endswith(".part")] == []
    with pytest.raises(RecordError, match="cannot be recovered"):
        recover(folder)


def test_what_else_lies_in_a_folder_is_never_discarded(folder: Path) -> None:
    cut_short(folder)
    (folder / "my notes.txt").write_text("keep me")
    discard(folder)
    assert [path.name for path in folder.iterdir()] == ["my notes.txt"]
    (folder / "my notes.txt").unlink()
    discard(folder)
    assert not folder.exists()


def test_notes_laid_beside_a_finished_session_do_not_break_its_seal(folder: Path) -> None:
    (folder / "my notes.txt").write_text("a good day")
    assert analyse_session(folder).samples > 0


def test_settings_that_changed_before_the_cut_are_the_newest(folder: Path) -> None:
    cut_short(folder)
    head = load_session(folder).head
    assert replace(head.settings, counting_from_s=None) == Settings(Side.RIGHT, 75.0)
    assert head.goal == Goal(2.0, 1)
    assert head.sources[0].startswith("tcp://")


def test_a_session_that_was_killed_before_its_first_sample_is_recovered_without_one(folder: Path) -> None:
    raw = cut_short(folder)
    (folder / "raw.wsr").write_bytes(raw[:200])
    assert unfinished(folder.parent) == [folder]
    analysis = recover(folder)
    assert analysis.samples == 0
    assert analysis.share_percent.mean is None
    assert analyse_session(folder) == analysis
