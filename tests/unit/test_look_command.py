"""`weightshare look`: what cannot be shown is refused in one line, before there is a window."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.pasts import save
from weightshare import cli
from weightshare.errors import RecordError
from weightshare.practice.past.shelf import Wanted, find_wanted
from weightshare.records.place import session_place
from weightshare.window import app


def refusal(capsys: pytest.CaptureFixture[str], path: Path) -> str:
    assert cli.main(["look", str(path)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    return told.err


def test_what_is_no_session_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "there is no such folder" in refusal(capsys, tmp_path / "nowhere")
    assert "holds no session" in refusal(capsys, tmp_path)
    folder = save(tmp_path / "session-1")
    (folder / "trace.parquet").write_bytes(b"")
    assert "trace.parquet: was cut short" in refusal(capsys, folder)


def test_one_that_is_not_finished_is_refused_with_the_mend(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = save(tmp_path / "session-1")
    (folder / "manifest.json").unlink()
    assert "analyse --recover" in refusal(capsys, folder)


def test_a_session_is_opened_at_once_and_a_folder_as_a_list(tmp_path: Path) -> None:
    folder = save(tmp_path / "session-1")
    assert find_wanted(folder) == Wanted(tmp_path, folder)
    assert find_wanted(tmp_path) == Wanted(tmp_path)
    assert find_wanted(None) == Wanted(session_place())
    with pytest.raises(RecordError):
        find_wanted(folder / "raw.wsr")


def test_the_window_opens_with_what_is_wanted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Wanted | None] = []

    def note(*, wanted: Wanted | None = None) -> int:
        opened.append(wanted)
        return 0

    # a real window would wait for somebody to close it
    monkeypatch.setattr(app, "open_window", note)
    folder = save(tmp_path / "session-1")
    assert cli.main(["look", str(folder)]) == 0
    assert opened == [Wanted(tmp_path, folder)]
