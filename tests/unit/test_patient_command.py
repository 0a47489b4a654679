"""The commands on the store of patients: what they print, and what they refuse in one line."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from tests.unit.kept import old_store, session
from weightshare.cli import build_parser, main
from weightshare.cli.patient_table import pad
from weightshare.cli.practise_patient import practise_with_patient
from weightshare.errors import DeviceError
from weightshare.records.store import cipher
from weightshare.records.store.patient import find_patient, inbox_of
from weightshare.records.store.ruling import Ruling, keep_ruling
from weightshare.records.store.visit import list_visits, take_in

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


@pytest.fixture
def place(tmp_path: Path, capsys: Capture) -> Path:
    """A store with the patient A-1."""
    folder = tmp_path / "s"
    assert main(["store", "make", "--store", str(folder)]) == 0
    assert main(["patient", "add", "A-1", "--side", "left", "--name", "Zoë", "--store", str(folder)]) == 0
    capsys.readouterr()
    return folder


def run(capsys: Capture, *words: str, place: Path, status: int = 0) -> str:
    """Run a command on the store, and return what it printed: on stdout, or its one line on stderr where it failed."""
    assert main([*words, "--store", str(place)]) == status
    out, err = capsys.readouterr()
    if status == 2:
        assert out == "" and err.count("\n") == 1
        return err
    return out


def told(capsys: Capture, *words: str, place: Path, status: int = 0) -> dict[str, Any]:
    out = run(capsys, *words, "--json", place=place, status=status)
    assert out.count("\n") == 1
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_patient_is_added_changed_and_shown(place: Path, capsys: Capture) -> None:
    changed = told(capsys, "patient", "change", "A-1", "--side", "both", "--injured-on", "2026-03-01", place=place)
    assert changed["patient"]["side"] == "both"
    shown = run(capsys, "patient", "show", "A-1", "--trail", place=place)
    assert "Zoë" in shown and "both, on 2026-03-01" in shown and "changed affected, injured_on" in shown
    run(capsys, "patient", "change", "A-1", "--code", "A-2", place=place)
    assert "there is no patient A-1" in run(capsys, "patient", "show", "A-1", place=place, status=2)


def test_a_name_is_in_no_json(place: Path, capsys: Capture) -> None:
    for words in (("list",), ("show", "A-1", "--trail"), ("change", "A-1", "--stage", "x")):
        assert "Zo" not in json.dumps(told(capsys, "patient", *words, place=place), ensure_ascii=False)
    assert "Zoë" in run(capsys, "patient", "list", place=place)


def test_sessions_are_listed(place: Path, tmp_path: Path, capsys: Capture) -> None:
    with old_store(place) as store:
        patient = find_patient(store, "A-1")
        for day in range(25):
            take_in(store, patient, session(tmp_path, day))
        keep_ruling(store, patient, Ruling("2026-05-01", "K. Muster", "goes on", "raise", "lowering 75", "steady"))
        session(inbox_of(store, patient), 300)
    assert main(["patient", "show", "A-1", "--store", str(place)]) == 0
    out, err = capsys.readouterr()
    assert err == "kept: the session of 2026-12-27T10:00:00+02:00 with patient A-1\n"
    assert "... and 6 before; --all shows them" in out
    assert "K. Muster: goes on: raise -> lowering 75 (steady)" in out
    assert len(run(capsys, "patient", "show", "A-1", "--all", place=place).splitlines()) > 30
    found = told(capsys, "patient", "show", "A-1", place=place)
    assert len(found["sessions"]) == 26 and found["decisions"][0]["by"] == "K. Muster"
    assert told(capsys, "patient", "list", place=place)["patients"][0]["sessions"] == 26


def test_deleting_asks(place: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "--yes says that A-1 is to go" in run(capsys, "patient", "delete", "A-1", place=place, status=2)

    class Typed:
        def isatty(self) -> bool:
            return True

        def readline(self) -> str:
            return "A-2\n"

    monkeypatch.setattr("sys.stdin", Typed())
    run(capsys, "patient", "delete", "A-1", place=place, status=1)
    assert "deleted: A-1" in run(capsys, "patient", "delete", "A-1", "--yes", place=place)
    assert "no patients yet" in run(capsys, "patient", "list", place=place)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("patient", "add", "A-1"), "there is a patient A-1 already"),
        (("patient", "add", "B", "--injured-on", "2999-01-01"), "lies in the future"),
        (("patient", "show", "B"), "there is no patient B"),
        (("practise", "--patient", "B"), "there is no patient B"),
        (("practise", "--patient", "A-1", "--no-save"), "--no-save does not go with --patient"),
        (("practise", "--patient", "A-1", "--save", "x"), "--save does not go with --patient"),
        (("practise", "--patient", "A-1", "--settled"), "--settled does not go with --patient"),
        (("practise", "--patient", "A-1", "--injured", "right"), "A-1 is injured on the left side"),
        (("store", "make"), "there is a store already"),
        (("store", "passphrase", "--passphrase-file", "w", "--new-passphrase-file", "w"), "has no passphrase"),
        (("store", "restore", "none.zip"), "holds a store"),
    ],
)
def test_what_cannot_be_is_one_line(
    words: tuple[str, ...], said: str, place: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(place.parent)
    (place.parent / "w").write_text("a passphrase\n")
    assert said in run(capsys, *words, place=place, status=2)


def test_a_patients_own_stage_is_practised_where_none_is_named(place: Path, capsys: Capture) -> None:
    """A stage that there is none of shows that it was taken; a stage that is named goes before it."""
    run(capsys, "patient", "change", "A-1", "--programme", "achilles", "--stage", "no-such-stage", place=place)
    assert main(["practise", "--patient", "A-1", "--store", str(place)]) == 2
    first, second = capsys.readouterr().err.splitlines()
    assert first == "A-1 is at the stage no-such-stage of achilles" and "no-such-stage" in second
    named = ["--stage", "raise", "--target", "99"]
    assert "--target 99" in run(capsys, "practise", "--patient", "A-1", *named, place=place, status=2)


@pytest.mark.parametrize(("side", "said"), [(None, "has no injured side yet"), ("both", "is injured on both sides")])
def test_without_one_injured_side_it_has_to_be_said(side: str | None, said: str, place: Path, capsys: Capture) -> None:
    assert main(["patient", "add", "B", *(["--side", side] if side else []), "--store", str(place)]) == 0
    assert ("no injured side is told" in capsys.readouterr().err) is (side is None)
    assert said in run(capsys, "practise", "--patient", "B", place=place, status=2)


def test_what_was_recorded_is_kept_also_where_practice_failed(place: Path, capsys: Capture) -> None:
    def practise(args: argparse.Namespace) -> int:
        assert args.injured == "left"
        session(args.save)
        raise DeviceError("the scale went away")

    options = build_parser().parse_args(["practise", "--patient", "A-1", "--store", str(place)])
    with pytest.raises(DeviceError):
        practise_with_patient(options, practise)
    assert "kept: the session of 2026-03-02" in capsys.readouterr().err
    with old_store(place) as store:
        patient = find_patient(store, "A-1")
        assert len(list_visits(store, patient)) == 1 and list(inbox_of(store, patient).iterdir()) == []


def test_there_is_no_store_yet(tmp_path: Path, capsys: Capture) -> None:
    assert "weightshare store make begins one" in run(capsys, "patient", "list", place=tmp_path / "no", status=2)


def test_a_store_is_backed_up_restored_and_checked(place: Path, tmp_path: Path, capsys: Capture) -> None:
    with old_store(place) as store:
        patient = find_patient(store, "A-1")
        visit = take_in(store, patient, session(tmp_path)).visit
        session(inbox_of(store, patient), 1)
    found = told(capsys, "store", "backup", str(tmp_path / "b.zip"), place=place)
    assert (found["sessions"], found["sealed"]) == (2, False)
    assert "2 sessions" in run(capsys, "store", "restore", str(tmp_path / "b.zip"), place=tmp_path / "r")
    assert told(capsys, "store", "check", place=tmp_path / "r")["faults"] == []
    (tmp_path / "r" / "sessions" / visit.id / "raw.wsr").write_bytes(b"")
    assert "raw.wsr" in run(capsys, "store", "check", place=tmp_path / "r", status=1)
    assert "all as it was taken in" in run(capsys, "store", "check", place=place)


def test_a_sealed_store_asks_for_its_passphrase(tmp_path: Path, capsys: Capture) -> None:
    words, other = tmp_path / "words", tmp_path / "other"
    words.write_text("a passphrase of mine\nthe second line is nothing\n", encoding="utf-8-sig")
    other.write_text("another passphrase")
    place, known = tmp_path / "s", ("--passphrase-file", str(words))
    assert told(capsys, "store", "make", "--seal", *known, place=place)["sealed"] is True
    run(capsys, "patient", "add", "A-1", "--side", "left", *known, place=place)
    assert "nobody can be asked" in run(capsys, "patient", "list", place=place, status=2)
    wrong = run(capsys, "patient", "list", "--passphrase-file", str(other), place=place, status=2)
    assert "the passphrase is wrong" in wrong and "another" not in wrong
    run(capsys, "store", "passphrase", *known, "--new-passphrase-file", str(other), place=place)
    assert "the passphrase is wrong" in run(capsys, "patient", "list", *known, place=place, status=2)
    assert "A-1" in run(capsys, "patient", "list", "--passphrase-file", str(other), place=place)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "its first line is empty"),
        (b"\xff\xfe\n", "is not UTF-8"),
        (None, "No such file"),
        (b"short", "8 or more"),
    ],
)
def test_a_passphrase_file_that_cannot_be_used(data: bytes | None, said: str, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "words"
    if data is not None:
        path.write_bytes(data)
    err = run(capsys, "store", "make", "--seal", "--passphrase-file", str(path), place=tmp_path / "s", status=2)
    assert said in err
    assert not (tmp_path / "s" / "store.sqlite3").exists()


def test_two_passphrases_that_differ_make_no_store(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = iter(["one of mine", "one of mnie"])
    monkeypatch.setattr("getpass.getpass", lambda _prompt: next(typed))
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    assert "the two passphrases differ" in run(capsys, "store", "make", "--seal", place=tmp_path / "s", status=2)


def test_columns_line_up_in_any_script() -> None:
    assert [len(pad(text, 6)) for text in ("ab", "李小", "e\u0301")] == [6, 4, 7]
