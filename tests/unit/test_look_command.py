"""`weightshare look`: what cannot be shown is refused in one line, before there is a window."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.kept import PASSPHRASE, store_with
from tests.unit.pasts import save
from tests.unit.told import record
from weightshare import cli
from weightshare.errors import RecordError
from weightshare.practice.past.opening import open_past
from weightshare.practice.past.shelf import Wanted, find_wanted
from weightshare.records.place import session_place
from weightshare.records.store.visit import take_in
from weightshare.window import app


def refusal(capsys: pytest.CaptureFixture[str], path: Path) -> str:
    assert cli.main(["look", str(path)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    return told.err


def test_what_is_no_session_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "is no folder, and no patient" in refusal(capsys, tmp_path / "nowhere")
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


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE])
def test_a_patients_session_comes_from_the_store(
    passphrase: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: list[str] = []

    def open_it(*, wanted: Wanted) -> int:
        assert wanted.session is not None
        seen.append(open_past(wanted.session).head.started_at)
        return 0

    # a real window would wait for somebody to close it
    monkeypatch.setattr(app, "open_window", open_it)
    (tmp_path / "word").write_text(PASSPHRASE)
    with store_with(tmp_path / "store", passphrase=passphrase) as (store, patient):
        for day in range(2):
            take_in(store, patient, record(tmp_path, seconds=20.0, day=day))
    asked = ["look", "A-1", "--store", str(tmp_path / "store"), "--passphrase-file", str(tmp_path / "word")]
    assert cli.main(asked) == 0
    assert cli.main([*asked, "--began", "2026-03-02"]) == 0
    assert [began[:10] for began in seen] == ["2026-03-03", "2026-03-02"]
    assert cli.main([*asked, "--began", "2020"]) == 2
    assert "no session of A-1 began then" in capsys.readouterr().err


def test_a_folder_has_no_day(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["look", str(save(tmp_path / "session-1")), "--began", "2026"]) == 2
    assert "--began goes with a patient's code" in capsys.readouterr().err


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
