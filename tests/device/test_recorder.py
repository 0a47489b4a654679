"""Sessions written down on real disks: good ones, full ones, and ones that cannot be written to."""

from __future__ import annotations

import contextlib
import os
import stat
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path

import pytest

from weightshare.model import Calibration, ChannelCalibration, Side
from weightshare.records.calibration import CALIBRATION_NAME, read_calibration
from weightshare.records.lock import LOCK_NAME, is_held
from weightshare.records.raw import RAW_NAME
from weightshare.records.recorder import Recorder, Unrecorded
from weightshare.records.setting import SessionHead, read_head
from weightshare.scales.capture import EntryKind, read_raw
from weightshare.task import Settings

HEAD = SessionHead(Settings(Side.LEFT, 75.0), sources=("rig:",))
BEGUN = datetime(2026, 11, 24, 10, 15, 0)
CALIBRATION = Calibration("00000000000000aa", date(2026, 1, 1), (ChannelCalibration(0, 0.0, 0.01),))


@contextlib.contextmanager
def mounted(place: Path, options: str) -> Iterator[Path]:
    place.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(place)]
    if os.name != "posix" or os.geteuid() != 0 or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("a disk of its own needs the right to mount one")
    try:
        yield place
    finally:
        subprocess.run(["umount", str(place)], check=True)


def record(recorder: Recorder, entries: int = 3, size: int = 100) -> None:
    recorder.start()
    recorder.up(1)
    for number in range(entries):
        recorder.sent(2 + number, b"?")
        recorder.received(2 + number, bytes(size))
    recorder.down(9, "closed")


def test_a_session_is_written_as_it_happens(tmp_path: Path) -> None:
    recorder = Recorder(tmp_path / "place", HEAD, BEGUN)
    record(recorder)
    recorder.note(10, "{}")
    recorder.keep_calibration(CALIBRATION)
    recorder.keep_head(SessionHead(Settings(Side.RIGHT)))
    assert recorder.close(11, 5.0)
    folder = tmp_path / "place" / "session-2026-11-24-101500"
    assert recorder.folder == folder
    assert recorder.trouble == ""
    raw = read_raw(folder / RAW_NAME)
    assert raw.complete
    kinds = [entry.kind for entry in raw.entries]
    assert kinds == [EntryKind.UP, *[EntryKind.TX, EntryKind.RX] * 3, EntryKind.DOWN, EntryKind.NOTE]
    assert read_calibration(folder / CALIBRATION_NAME) == CALIBRATION
    assert read_head(folder).settings.injured is Side.RIGHT
    assert is_held(folder)
    recorder.release()
    assert not (folder / LOCK_NAME).exists()
    if os.name == "posix":
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        assert {stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir()} == {0o600}


def test_bytes_are_on_the_disk_before_the_session_ends(tmp_path: Path, wait_until: Callable[..., None]) -> None:
    recorder = Recorder(tmp_path, HEAD, BEGUN)
    record(recorder)
    assert recorder.folder is not None
    path = recorder.folder / RAW_NAME
    wait_until(lambda: len(read_raw(path).entries) == 8, within_s=1.0)
    assert not read_raw(path).complete
    assert recorder.close(10, 5.0)
    recorder.release()


def test_what_was_written_is_forced_to_the_disk_each_second(
    tmp_path: Path, wait_until: Callable[..., None], monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[float] = []
    real = os.fsync

    def fsync(handle: int) -> None:
        synced.append(time.monotonic())
        real(handle)

    recorder = Recorder(tmp_path, HEAD, BEGUN)
    recorder.start()
    monkeypatch.setattr(os, "fsync", fsync)
    began_s = time.monotonic()
    wait_until(lambda: len(synced) >= 2, within_s=5.0)
    assert synced[0] - began_s < 1.6
    assert 0.9 < synced[1] - synced[0] < 1.6
    assert recorder.close(10, 5.0)
    recorder.release()


def test_sessions_that_begin_in_one_second_get_folders_of_their_own(tmp_path: Path) -> None:
    names = []
    for _ in range(3):
        recorder = Recorder(tmp_path, HEAD, BEGUN)
        recorder.start()
        assert recorder.close(1, 5.0)
        recorder.release()
        assert recorder.folder is not None
        names.append(recorder.folder.name)
    stem = "session-2026-11-24-101500"
    assert names == [stem, f"{stem}-2", f"{stem}-3"]


def test_a_place_that_cannot_be_made_is_a_trouble_and_no_error(tmp_path: Path) -> None:
    (tmp_path / "place").write_text("a file stands here")
    recorder = Recorder(tmp_path / "place", HEAD, BEGUN)
    record(recorder)
    recorder.keep_calibration(CALIBRATION)
    assert recorder.close(10, 5.0)
    recorder.release()
    assert recorder.folder is None
    assert "nothing is recorded any more (this is a file, not a folder)" in recorder.trouble
    assert "--save DIR" in recorder.trouble
    assert (tmp_path / "place").read_text() == "a file stands here"


def test_a_read_only_disk_is_a_trouble_and_no_error(tmp_path: Path) -> None:
    with mounted(tmp_path / "disk", "ro,size=64k") as disk:
        recorder = Recorder(disk / "sessions", HEAD, BEGUN)
        record(recorder)
        assert recorder.close(10, 5.0)
        recorder.release()
        assert recorder.folder is None
        assert "Read-only file system" in recorder.trouble


def test_a_disk_that_fills_up_keeps_what_fitted_whole(tmp_path: Path) -> None:
    with mounted(tmp_path / "disk", "size=64k") as disk:
        recorder = Recorder(disk, HEAD, BEGUN)
        record(recorder, entries=2000, size=200)
        assert recorder.close(10, 5.0)
        recorder.release()
        assert "No space left on device" in recorder.trouble
        assert "free some space" in recorder.trouble
        assert recorder.folder is not None
        raw = read_raw(recorder.folder / RAW_NAME)
        received = [entry for entry in raw.entries if entry.kind is EntryKind.RX]
        assert 100 < len(received) < 400
        assert not raw.complete
        assert raw.damage == ""


def test_a_disk_that_is_full_from_the_start_is_left_as_it_was(tmp_path: Path) -> None:
    with mounted(tmp_path / "disk", "size=4k") as disk:
        (disk / "taken").write_bytes(bytes(4096))
        recorder = Recorder(disk, HEAD, BEGUN)
        record(recorder)
        assert recorder.close(10, 5.0)
        recorder.release()
        assert recorder.folder is None
        assert "No space left on device" in recorder.trouble
        assert [path.name for path in disk.iterdir()] == ["taken"]


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX's")
def test_a_file_size_limit_is_a_trouble_too(tmp_path: Path) -> None:
    code = (
        "import resource, sys\n"
        "from datetime import datetime\n"
        "from pathlib import Path\n"
        "from weightshare.model import Side\n"
        "from weightshare.records.recorder import Recorder\n"
        "from weightshare.records.setting import SessionHead\n"
        "from weightshare.task import Settings\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192))\n"
        "recorder = Recorder(Path(sys.argv[1]), SessionHead(Settings(Side.LEFT)), datetime(2026, 11, 24))\n"
        "recorder.start()\n"
        "for number in range(100): recorder.received(number, bytes(200))\n"
        "print(recorder.close(1, 5.0), recorder.trouble)\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=30, check=True)
    assert done.stdout.startswith("True ")
    assert "File too large" in done.stdout
    (raw,) = tmp_path.glob("session-*/raw.wsr")
    assert 30 < len(read_raw(raw).entries) < 40


def test_a_failure_inside_the_recorder_is_not_silent(
    tmp_path: Path, wait_until: Callable[..., None], monkeypatch: pytest.MonkeyPatch
) -> None:
    recorder = Recorder(tmp_path, HEAD, BEGUN)
    told: list[object] = []
    monkeypatch.setattr("threading.excepthook", told.append)
    recorder.start()
    recorder.note(1, "not what a remark is made of")
    wait_until(lambda: bool(recorder.trouble))
    assert "the program failed inside" in recorder.trouble
    assert recorder.close(2, 5.0)
    recorder.release()
    assert len(told) == 1


def test_a_recorder_that_was_never_started_closes(tmp_path: Path) -> None:
    recorder = Recorder(tmp_path, HEAD, BEGUN)
    assert recorder.close(1, 1.0)
    recorder.release()
    assert list(tmp_path.iterdir()) == []


def test_a_session_that_is_not_to_be_kept_leaves_nothing() -> None:
    silent = Unrecorded()
    silent.start()
    silent.up(1)
    silent.received(1, b"x")
    silent.sent(1, b"x")
    silent.note(1, "{}")
    silent.keep_calibration(CALIBRATION)
    silent.keep_head(HEAD)
    silent.down(2, "closed")
    assert silent.close(3, 0.0)
    silent.release()
    assert silent.folder is None
    assert silent.trouble == ""
