"""Files written whole or not at all, and the lock on a session's folder."""

from __future__ import annotations

import stat
import subprocess
import sys
from pathlib import Path

import pytest

from weightshare.records.lock import LOCK_NAME, FolderLock, is_held
from weightshare.records.whole import make_folder, write_whole

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="modes are POSIX's")


def test_a_file_is_replaced_whole(tmp_path: Path) -> None:
    path = tmp_path / "a"
    write_whole(path, b"first and long")
    write_whole(path, b"second")
    assert path.read_bytes() == b"second"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a"]


def test_a_failed_write_leaves_the_old_file_and_nothing_half_written(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.mkdir()
    (path / "inside").touch()
    with pytest.raises(OSError):
        write_whole(path, b"new")
    assert [entry.name for entry in tmp_path.iterdir()] == ["a"]
    assert (path / "inside").exists()


@posix_only
def test_folders_and_files_are_their_owners_alone(tmp_path: Path) -> None:
    make_folder(tmp_path / "above" / "folder")
    write_whole(tmp_path / "above" / "folder" / "file", b"")
    assert stat.S_IMODE((tmp_path / "above" / "folder").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "above" / "folder" / "file").stat().st_mode) == 0o600


def test_a_folder_is_not_made_twice(tmp_path: Path) -> None:
    make_folder(tmp_path / "folder")
    with pytest.raises(FileExistsError):
        make_folder(tmp_path / "folder")


def test_a_lock_is_held_once_and_leaves_no_file(tmp_path: Path) -> None:
    lock = FolderLock(tmp_path)
    assert not is_held(tmp_path)
    assert lock.take()
    assert is_held(tmp_path)
    assert not FolderLock(tmp_path).take()
    lock.release()
    lock.release()
    assert not is_held(tmp_path)
    assert not (tmp_path / LOCK_NAME).exists()


def test_a_lock_dies_with_its_process(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from weightshare.records.lock import FolderLock\n"
        "lock = FolderLock(Path(sys.argv[1])); print(lock.take(), flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    holder = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    with holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "True\n"
        assert is_held(tmp_path)
        holder.kill()
        holder.wait(10)
    assert (tmp_path / LOCK_NAME).exists()
    assert not is_held(tmp_path)
    lock = FolderLock(tmp_path)
    assert lock.take()
    lock.release()
