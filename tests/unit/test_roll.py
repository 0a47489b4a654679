"""The list of patients: what it says of each, what is found in it, and that thousands are no wait."""

from __future__ import annotations

from pathlib import Path
from time import process_time
from timeit import repeat

from tests.unit.kept import session, store_with
from weightshare.practice.clinic.roll import Index, Row, find_last, list_roll, newest_first, with_last
from weightshare.records.store.patient import Affected, Patient, add_patient, make_patient
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import take_in


def row(code: str, name: str = "", stage: str = "", last: str = "", affected: Affected | None = None) -> Row:
    return Row(Patient(code, code, name, affected, stage=stage), 0, last)


def test_each_line_has_the_newest_session_and_none_of_the_future(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "B-2", stage="raise", affected=Affected.LEFT) as (store, patient):
        add_patient(store, make_patient("A-1", store.clock().date(), name="Somebody"))
        for day in (0, 7, 4000):
            take_in(store, patient, session(tmp_path / str(day), day))
        rows = list_roll(store)
        assert [one.patient.code for one in rows] == ["A-1", "B-2"] and [one.sessions for one in rows] == [0, 3]
        rows = with_last(rows, find_last(store))
        assert [step.what for step in read_trail(store)].count("listed the patients") == 1
    assert rows[0].cells == ("A-1", "Somebody", "", "", "0", "")
    assert rows[1].cells == ("B-2", "", "left", "raise", "3", "2026-03-09 10:00")
    assert [one.patient.code for one in newest_first(rows)] == ["B-2", "A-1"]


def test_every_word_that_is_typed_has_to_be_found_somewhere() -> None:
    rows = [
        row("A-017", "Ärztin Äpfel", "lowering-90", "2026-11-27T17:40:00+01:00", Affected.LEFT),
        row("A-018", "O'Neil", "raise-slow", "2026-11-02T09:00:00+01:00", Affected.RIGHT),
        row("β-1", "Ξένη", "hold-10"),
    ]
    index = Index(rows)

    def found(words: str) -> list[str]:
        return [one.patient.code for one in index.find(words)]

    assert found("") == ["A-017", "A-018", "β-1"]
    assert found("a-01") == ["A-017", "A-018"] and found("ÄPFEL left") == ["A-017"]
    assert found("2026-11") == ["A-017", "A-018"] and found("2026-11-02") == ["A-018"]
    assert found("ΞΈΝΗ") == ["β-1"] and found("raise left") == []


def test_a_letter_typed_over_five_thousand_patients_costs_little() -> None:
    """As a ratio within one run: searching takes less than making the index anew does."""
    rows = [row(f"P-{number:05}", f"Somebody {number}", "raise", "2026-11-02T09:00:00+01:00") for number in range(5000)]
    index = Index(rows)
    assert len(index.find("p-0123")) == 10
    # the least of several: what else the computer does only adds to it
    made_s, found_s = (
        min(repeat(one, number=1, repeat=7, timer=process_time))
        for one in (lambda: Index(rows), lambda: index.find("p-0123"))
    )
    assert found_s < made_s
