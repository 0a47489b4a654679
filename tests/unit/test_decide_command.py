"""`weightshare decide`: a decision is signed, kept with its evidence, and followed by another, but never changed."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.unit.kept import PASSPHRASE, TODAY, old_store, store_with
from weightshare.cli import main
from weightshare.errors import StoreError
from weightshare.practice.clinic.sight import look
from weightshare.records.store import cipher
from weightshare.records.store.check import check_store
from weightshare.records.store.patient import add_patient, find_patient, make_patient
from weightshare.records.store.ruling import Ruling, keep_ruling, list_rulings

Capture = pytest.CaptureFixture[str]
SAID = ["--reason", "steady, no pain", "--by", "C. L."]


@pytest.fixture
def known(tmp_path: Path) -> list[str]:
    """Return the options of a store with a patient in it."""
    with store_with(tmp_path / "s", programme="achilles", stage="lowering-90"):
        return ["--store", str(tmp_path / "s")]


def decide(known: list[str], decision: str, *words: str) -> int:
    return main(["decide", "A-1", "--decision", decision, *SAID, *words, *known])


def test_a_decision_is_kept_with_the_evidence_there_was(known: list[str], tmp_path: Path, capsys: Capture) -> None:
    assert decide(known, "go-on") == 0
    out, err = capsys.readouterr()
    assert out == "kept: A-1 goes on, lowering-90 -> one-leg-down, signed C. L.\n"
    assert "patient change A-1 --stage one-leg-down" in err and "stays locked (one-leg)" in err
    with old_store(tmp_path / "s") as store:
        patient = find_patient(store, "A-1")
        (one,) = list_rulings(store, patient)
        # a decision neither moves the patient nor frees a stage
        assert patient.stage == "lowering-90"
    assert (one.by, one.note) == ("C. L.", "steady, no pain")
    assert json.loads(one.evidence)["schema"] == "weightshare.evidence/1"


def test_another_one_follows_and_both_are_shown(known: list[str], capsys: Capture) -> None:
    assert decide(known, "go-on") == decide(known, "stay") == decide(known, "go-back", "--json") == 0
    told = json.loads(capsys.readouterr().out.splitlines()[-1])
    assert (told["schema"], told["decision"], told["stage_to"]) == (
        "weightshare.decision/1",
        "goes back",
        "lowering-85",
    )
    for words in (["evidence", "A-1"], ["patient", "show", "A-1"]):
        assert main([*words, *known]) == 0
        out = capsys.readouterr().out
        assert out.count("C. L.: ") == 3
        assert "stays: lowering-90 -> lowering-90 (steady, no pain)" in out
    assert main(["evidence", "A-1", "--json", *known]) == 0
    rows = json.loads(capsys.readouterr().out)["decisions"]
    assert [row["decision"] for row in rows] == ["goes on", "stays", "goes back"]
    assert rows[0]["reason"] == "steady, no pain" and "evidence" not in rows[0]


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["--decision", "go-on", "--reason", "x"], "--by is missing"),
        (["--decision", "go-on", "--reason", " ", "--by", "C"], "--reason"),
        (["--decision", "go-on", "--reason", "a\nb", "--by", "C"], "--reason"),
        (["--decision", "go-on", "--reason", "x" * 501, "--by", "C"], "--reason"),
        (["--decision", "go-on", "--reason", "x", "--by", " "], "--by"),
        (["--decision", "go-back", "--stage", "hold-10", *SAID], "is the first stage"),
        (["--decision", "go-on", "--stage", "compare", *SAID], "is the last stage"),
        (["--decision", "stay", "--stage", "none-such", *SAID], "none-such"),
    ],
    ids=["no name", "no reason", "two lines", "too long", "blank name", "first", "last", "no stage"],
)
def test_bad_input_is_one_line_and_keeps_nothing(
    known: list[str], tmp_path: Path, capsys: Capture, words: list[str], part: str
) -> None:
    assert main(["decide", "A-1", *words, *known]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and part in err
    with old_store(tmp_path / "s") as store:
        assert list_rulings(store, find_patient(store, "A-1")) == []


def three(place: Path) -> None:
    """Make a store whose patient A-1 has three decisions, and B one."""
    with store_with(place) as (store, patient):
        for number in range(3):
            keep_ruling(store, patient, Ruling(f"2026-05-0{number + 1}", "C. L.", "stays", "a", "a", f"word {number}"))
        other = add_patient(store, make_patient("B", TODAY))
        keep_ruling(store, other, Ruling("2026-05-09", "C. L.", "stays", "a", "a", "of another"))


PART = "SELECT id FROM decision WHERE instr(CAST(body AS TEXT), '{}')"
FORGE = "UPDATE decision SET body = CAST(replace(CAST(body AS TEXT), '{0}', '{1}') AS BLOB)"
NEWEST_ENTRY = "DELETE FROM trail WHERE number = (SELECT max(number) FROM trail WHERE patient = {})".format(
    "(SELECT patient FROM decision WHERE instr(CAST(body AS TEXT), 'word 1'))"
)


def change(place: Path, *statements: str) -> None:
    """Do to the store in `place` what somebody with a tool for databases can."""
    with closing(sqlite3.connect(place / "store.sqlite3")) as db, db:
        for statement in statements:
            assert db.execute(statement).rowcount != 0


@pytest.mark.parametrize(
    ("changes", "doubts"),
    [
        ([FORGE.format("word 1", "word 9")], ["", "in doubt", ""]),
        ([FORGE.format("word 2", "word 9")], ["", "", "in doubt"]),
        ([f"DELETE FROM decision WHERE id IN ({PART.format('word 0')})"], ["missing", "", ""]),
        ([f"DELETE FROM decision WHERE id IN ({PART.format('word 1')})"], ["", "missing", ""]),
        ([f"DELETE FROM decision WHERE id IN ({PART.format('word 2')})"], ["", "", "missing"]),
        ([NEWEST_ENTRY, f"DELETE FROM decision WHERE id IN ({PART.format('word 2')})"], ["", "", "missing"]),
        (
            [
                "UPDATE decision SET patient = (SELECT patient FROM decision WHERE instr(CAST(body AS TEXT), 'word 0'))"
                f" WHERE id IN ({PART.format('of another')})"
            ],
            ["", "", "", "in doubt"],
        ),
        (
            [
                "INSERT INTO decision SELECT 'f' || substr(id, 2), patient, body FROM decision"
                f" WHERE id IN ({PART.format('word 2')})"
            ],
            ["", "", "", "in doubt"],
        ),
        ([FORGE.format("word 2", "word 9"), "DELETE FROM head"], ["", "", "in doubt"]),
        (["UPDATE head SET body = x'00'"], ["in doubt"] * 3),
        ([f"UPDATE decision SET body = x'00' WHERE id IN ({PART.format('word 2')})"], ["", "", "in doubt"]),
    ],
    ids=[
        "altered",
        "newest altered",
        "first taken out",
        "middle taken out",
        "newest taken out",
        "newest taken out with its entry",
        "another's put in",
        "doubled",
        "newest altered without a head",
        "head altered",
        "no text any more",
    ],
)
def test_what_was_done_to_a_decision_is_found(
    changes: list[str], doubts: list[str], tmp_path: Path, capsys: Capture
) -> None:
    three(tmp_path / "s")
    change(tmp_path / "s", *changes)
    with old_store(tmp_path / "s") as store:
        patient = find_patient(store, "A-1")
        # the others can be read
        assert sorted(one.doubt for one in list_rulings(store, patient)) == sorted(doubts)
        with pytest.raises(StoreError, match="about A-1 was altered"):
            keep_ruling(store, patient, Ruling("2026-05-20", "C. L.", "stays"))
        assert any("A-1 was altered" in fault for fault in check_store(store).faults)
        # the window tells it, too
        assert "A-1 was altered" in look(store, patient).troubles[-1]
    assert main(["patient", "show", "A-1", "--store", str(tmp_path / "s")]) == 1
    out, err = capsys.readouterr()
    assert err.startswith("in doubt: ") and err.count("\n") == 1
    assert "(in doubt)" in out or "(missing)" in out


def test_the_evidence_tells_that_a_decision_is_in_doubt(known: list[str], tmp_path: Path, capsys: Capture) -> None:
    assert decide(known, "stay") == decide(known, "stay", "--reason", "once more") == 0
    change(tmp_path / "s", FORGE.format("once more", "go now"))
    capsys.readouterr()
    assert main(["evidence", "A-1", *known]) == 1
    out, err = capsys.readouterr()
    assert "C. L. (in doubt): stays: lowering-90 -> lowering-90 (go now)" in out and "was altered" in err
    assert decide(known, "go-on") == 2


def test_a_store_of_an_earlier_version_says_that_its_newest_decision_is_unsealed(tmp_path: Path) -> None:
    three(tmp_path / "s")
    seals = "json_remove(CAST(body AS TEXT), '$.seal')"
    change(
        tmp_path / "s",
        f"UPDATE trail SET body = CAST({seals} AS BLOB)",
        "DELETE FROM head",
        "PRAGMA user_version = 3",
        "DROP TABLE head",
    )
    with old_store(tmp_path / "s") as store:
        patient = find_patient(store, "A-1")
        found = check_store(store)
        assert found.faults == () and len(found.notes) == 2 and "signed by an earlier version" in found.notes[0]
        assert [one.doubt for one in list_rulings(store, patient)] == ["", "", ""]
        keep_ruling(store, patient, Ruling("2026-05-20", "C. L.", "stays"))
        found = check_store(store)
        assert found.faults == () and [words[:2] for words in found.notes] == ["B:"]
    # those from before hang on the one that followed; which of them was altered nothing tells
    change(tmp_path / "s", FORGE.format("word 2", "word 9"))
    with old_store(tmp_path / "s") as store:
        assert [one.doubt for one in list_rulings(store, patient)] == ["in doubt"] * 3 + [""]


def test_in_a_sealed_store_they_follow_each_other_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(tmp_path / "s", passphrase=PASSPHRASE) as (store, patient):
        for number in range(3):
            keep_ruling(store, patient, Ruling(f"2026-05-0{number + 1}", "C. L.", "stays"))
    with old_store(tmp_path / "s", PASSPHRASE) as store:
        assert len(list_rulings(store, find_patient(store, "A-1"))) == 3


def test_two_decisions_in_one_second_keep_their_order(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        for word in ("first", "second", "third"):
            keep_ruling(store, patient, Ruling("2026-05-01T10:00:00+02:00", "C. L.", "stays", note=word))
        assert [one.note for one in list_rulings(store, patient)] == ["first", "second", "third"]
