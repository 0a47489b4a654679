"""Patients in the store: added, found, changed, deleted with all that is theirs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.kept import TODAY, everything, new_store, old_store, session, store_with
from weightshare.errors import OptionError, StoreError
from weightshare.model import Side
from weightshare.records.store.patient import (
    Affected,
    add_patient,
    change_patient,
    check_patient,
    delete_patient,
    find_patient,
    inbox_of,
    list_patients,
    make_patient,
)
from weightshare.records.store.ruling import Ruling, keep_ruling, list_rulings
from weightshare.records.store.trail import note_trail, read_trail
from weightshare.records.store.visit import list_visits, take_in

NAMES = [
    "Zoë",
    "李小龍",
    "محمد بن علي",
    "Владимир",
    "José María",
    "ชัยวัฒน์",
    "नमस्ते",
    "Ωμέγα",
    "👩🏽‍⚕️",
    "O'Brien; DROP TABLE patient",
]


@pytest.mark.parametrize("name", NAMES)
def test_names_and_codes_may_be_in_any_script(name: str, tmp_path: Path) -> None:
    with store_with(tmp_path / "s", name, name=name) as (store, patient):
        found = find_patient(store, name)
        assert found == patient and found.name == name


def test_a_code_is_the_same_however_it_was_typed(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "Zoe\u0308-1") as (store, patient):
        assert find_patient(store, " Zo\u00eb-1") == patient
        with pytest.raises(StoreError, match="already; choose another code"):
            add_patient(store, make_patient("Zo\u00eb-1", TODAY))


@pytest.mark.parametrize(
    ("details", "words"),
    [
        ({"code": ""}, "a code has a letter"),
        ({"code": "   "}, "a code has a letter"),
        ({"code": "--side"}, "a code has a letter"),
        ({"code": "A\n1"}, "cannot be written"),
        ({"code": "A\u202e1"}, "cannot be written"),
        ({"code": "A" * 65}, "has 65 characters; 64 are allowed"),
        ({"name": "x" * 201}, "--name: has 201 characters"),
        ({"name": "a\0b"}, r"--name: holds a character that cannot be written \(U\+0000\)"),
        ({"injured_on": "2026-06-02"}, "--injured-on 2026-06-02: lies in the future"),
        ({"injured_on": "1399-01-01"}, "lies before 1900"),
        ({"injured_on": "2 March"}, "is no date"),
        ({"injured_on": "2026-02-30"}, "is no date"),
    ],
)
def test_what_cannot_be_is_refused(details: dict[str, Any], words: str) -> None:
    with pytest.raises(OptionError, match=words):
        make_patient(**{"code": "A-1", "today": TODAY, **details})


@given(st.text(max_size=80))
def test_a_text_that_is_taken_stays_what_it_is(text: str) -> None:
    try:
        patient = make_patient(text, TODAY, name=text)
    except OptionError as error:
        assert "\n" not in str(error)
    else:
        assert check_patient(patient, TODAY) == patient
        assert patient.code == patient.name


def test_the_day_of_today_is_no_future() -> None:
    assert make_patient("A", TODAY, injured_on=TODAY.isoformat()).injured_on == "2026-06-01"


@pytest.mark.parametrize(
    ("affected", "side"),
    [(None, None), (Affected.BOTH, None), (Affected.LEFT, Side.LEFT), (Affected.RIGHT, Side.RIGHT)],
)
def test_one_injured_side_or_none(affected: Affected | None, side: Side | None) -> None:
    assert make_patient("A", TODAY, affected=affected).injured is side


def test_patients_are_listed_by_code(tmp_path: Path) -> None:
    with new_store(tmp_path / "s") as store:
        assert list_patients(store) == []
        for code in ("B", "C", "A"):
            add_patient(store, make_patient(code, TODAY))
        assert [patient.code for patient in list_patients(store)] == ["A", "B", "C"]
        with pytest.raises(StoreError, match="there is no patient X"):
            find_patient(store, "X")


def test_details_are_changed_and_the_trail_says_which(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        add_patient(store, make_patient("B", TODAY))
        changed = change_patient(store, patient, TODAY, affected=Affected.RIGHT, stage="lowering 75")
        assert find_patient(store, "A-1") == changed
        assert changed.injured is Side.RIGHT and changed.added_at == patient.added_at
        assert read_trail(store, patient.id)[-1].detail == "affected, stage"
        with pytest.raises(StoreError, match="choose another code"):
            change_patient(store, changed, TODAY, code="B")
        assert change_patient(store, changed, TODAY, code="C").id == patient.id


def test_deleting_a_patient_deletes_everything(tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "Käthe-7", name="Zoë Übel") as (store, patient):
        other = add_patient(store, make_patient("B", TODAY))
        take_in(store, other, session(tmp_path, 40))
        for day in range(3):
            take_in(store, patient, session(tmp_path, day))
        (inbox_of(store, patient) / "session-begun").mkdir()
        keep_ruling(store, patient, Ruling("2026-05-01", "K. Muster", "goes on", note="very private"))
        note_trail(store, "exported", patient.id, "private-bundle.zip")
        raw = (tmp_path / "session-2026-03-02T100000" / "raw.wsr").read_bytes()
        assert raw in everything(store.place)
        delete_patient(store, patient)
        assert list_patients(store) == [other]
        assert len(list_visits(store, other)) == 1
        assert list_rulings(store, patient) == []
        left = everything(store.place)
    closed = everything(tmp_path / "s")
    for secret in ("Käthe-7", "Zoë", "very private", "private-bundle", "2026-03-02", patient.id):
        assert secret.encode() not in left and secret.encode() not in closed, secret
    assert raw not in left
    with old_store(tmp_path / "s") as store:
        assert read_trail(store)[-1].detail == "a patient with 3 sessions"


def test_decisions_are_kept_in_order(tmp_path: Path) -> None:
    with store_with(tmp_path / "s") as (store, patient):
        later = Ruling(
            "2026-05-02T09:00:00+02:00", "K. Muster", "goes on", "lowering 75", "lowering 80", evidence='{"a": 1}'
        )
        earlier = Ruling("2026-04-02T09:00:00+02:00", "K. Muster", "stays")
        for ruling in (later, earlier):
            keep_ruling(store, patient, ruling)
        assert list_rulings(store, patient) == [earlier, later]
        assert [step.what for step in read_trail(store, patient.id)] == ["added", "decided", "decided"]
