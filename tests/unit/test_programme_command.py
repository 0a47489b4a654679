"""`weightshare programme`: list, show, copy, check, free."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from weightshare.cli import main
from weightshare.cli.programme import LOCKS
from weightshare.programme.shelf import READY, ready_text
from weightshare.programme.stage import Lock
from weightshare.records.passphrase import set_passphrase


def run(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> tuple[str, str]:
    assert main(["programme", *arguments]) == status
    out, err = capsys.readouterr()
    return out, err


def test_what_is_ready_made_is_listed_with_version_and_hash(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = run(capsys, "list")
    assert [line.split()[0] for line in out.splitlines()] == list(READY)
    found = json.loads(run(capsys, "list", "--json")[0])["programmes"]
    assert found[0]["sha256"] == hashlib.sha256(ready_text("achilles").encode()).hexdigest()


def test_a_programme_is_shown_with_its_locks_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = run(capsys, "show", "achilles")
    assert "lowering-80: Down with 80 %\n" in out and "(locked: one-leg)" in out
    assert "mean share in the lowering, each set 77.5 to 82.5 %" in out
    assert out.rstrip().endswith(
        "The treating clinician and the surgeon's protocol decide; none of this is a permission."
    )
    found = json.loads(run(capsys, "show", "partial-load", "--json")[0])
    assert (found["stages"][0]["load"], found["stages"][0]["locked_by"]) == ("10kg", ["stage"])


def test_a_copy_is_checked_changed_and_freed(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    run(capsys, "copy", "achilles", str(mine))
    assert mine.read_text(encoding="utf-8") == ready_text("achilles")
    _, err = run(capsys, "copy", "even-load", str(mine), status=2)
    assert "is there already" in err and mine.read_text(encoding="utf-8") == ready_text("achilles")
    assert "18 stages, no mistake" in run(capsys, "check", str(mine))[0]
    run(capsys, "free", str(mine), "--stage", "Raise on one leg", "--by", "AB")
    assert "one-leg: Raise on one leg  (freed by AB, 20" in run(capsys, "show", str(mine))[0]


def test_where_a_clinicians_passphrase_is_set_nobody_else_frees_a_stage(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command freed a stage for whoever typed it, on a computer that was left to a patient."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    mine, words = tmp_path / "mine.toml", tmp_path / "words"
    mine.write_text(ready_text("achilles"), encoding="utf-8")
    set_passphrase("four words of mine", work=1 << 4)
    free = "free", str(mine), "--stage", "one-leg-down", "--by", "AB"
    assert "nobody can be asked: give --passphrase-file FILE" in run(capsys, *free, status=2)[1]
    words.write_text("four words of yours\n", encoding="utf-8")
    _, err = run(capsys, *free, "--passphrase-file", str(words), status=2)
    assert err == "weightshare: that is not the clinician's passphrase; nothing was freed\n"
    assert mine.read_text(encoding="utf-8") == ready_text("achilles")
    words.write_text("four words of mine\n", encoding="utf-8")
    run(capsys, *free, "--passphrase-file", str(words))
    assert 'freed_by = "AB"' in mine.read_text(encoding="utf-8")


def test_every_mistake_gets_a_line_and_the_status_says_so(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(ready_text("achilles").replace("target_percent = 85", "target_percent = 185"), encoding="utf-8")
    bad.write_text(bad.read_text(encoding="utf-8").replace('tempo = "2-1-4-1"', 'tempo = "slow"'), encoding="utf-8")
    out, err = run(capsys, "check", str(bad), status=2)
    assert [line.partition(": stage")[0].startswith(f"{bad}, line ") for line in out.splitlines()] == [True, True]
    assert err == f"weightshare: {bad}: 2 mistakes; it cannot be practised by\n"


def test_the_ready_made_is_not_freed_and_a_missing_file_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert '--by " ": say who' in run(capsys, "free", "mine.toml", "--stage", "a", "--by", " ", status=2)[1]
    _, err = run(capsys, "free", "achilles", "--stage", "one-leg", "--by", "AB", status=2)
    assert "weightshare programme copy achilles FILE" in err
    assert "no such file, and no ready-made programme" in run(capsys, "show", "none.toml", status=2)[1]


def test_the_command_offers_every_lock() -> None:
    assert list(LOCKS) == [str(lock) for lock in Lock]
