"""`weightshare evidence`, on a real store; what sessions brought is handed in, since computing them takes scales."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.unit.kept import NOW, PASSPHRASE, old_store, seal_anew, session, store_with
from tests.unit.test_answer import BOTH, RAISED, asked
from weightshare.cli import main
from weightshare.errors import RecordError
from weightshare.model import Side
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.prescription import prescribe
from weightshare.programme.shelf import find_programme
from weightshare.records.appraisal import Appraisal
from weightshare.records.diary import About, Entry, add_entries
from weightshare.records.evidence import Evidence
from weightshare.records.setting import read_head, write_head
from weightshare.records.store import cipher
from weightshare.records.store.patient import Affected, find_patient
from weightshare.records.store.sheaf import BROKEN_OFF, BY_HAND, FUTURE, NO_OTHER_LEG, OTHER_BASIS, OTHER_SIDE, gather
from weightshare.records.store.visit import take_in
from weightshare.task import Settings

Capture = pytest.CaptureFixture[str]
KEPT = find_programme("achilles")
STAGE = KEPT.find("raise")
PRESCRIPTION = KEPT.prescription(STAGE)
SETTINGS = prescribe(STAGE, Side.LEFT)
SOFAR = asked(RAISED, SETTINGS, BOTH[:1])


def visit(place: Path, day: int, settings: Settings = SETTINGS, key: str = "raise", pain: int | None = None) -> Path:
    """Make a finished session of a stage, which began `day` days after 2 March 2026."""
    folder = session(place, day, settings=settings, appraisal=SOFAR)
    write_head(folder, replace(read_head(folder), prescription=KEPT.prescription(KEPT.find(key))))
    seal_anew(folder)
    if pain is not None:
        add_entries(folder, Entry(About.PAIN_NEXT_MORNING, NOW.isoformat(), pain))
    return folder


def gathered(place: Path, *folders: Path, bring: Any = lambda _folder: SOFAR, **details: Any) -> Evidence:
    """Return the evidence of a patient with the sessions in `folders`."""
    with store_with(place, **details) as (store, patient):
        for folder in folders:
            take_in(store, patient, folder)
        return gather(store, patient, PRESCRIPTION, {}, bring=bring)


def test_sessions_of_the_stage_are_put_together_with_what_was_said(tmp_path: Path) -> None:
    found = gathered(tmp_path / "s", *(visit(tmp_path, day, pain=1) for day in (0, 1, 2)))
    assert len(found.sessions) == 3 and found.left_out == ()
    morning = next(line for line in found.lines if line.row.criterion.measure == "pain-next-morning")
    assert morning.row.value == 1.0 and morning.patient is not None and morning.patient.days.days == 3


def test_with_both_sides_injured_nothing_is_held_against_the_other(tmp_path: Path) -> None:
    """The other leg is no measure of what is sound; the same session of one injured side has the index."""
    asking = replace(PRESCRIPTION, stage=replace(STAGE, criteria=(Criterion(Measure.HEIGHT_INDEX, at_least=90.0),)))
    raised = tuple(
        replace(one, height_injured_mm=95.0, height_uninjured_mm=100.0) for one in SOFAR.analysis.repetitions
    )
    tall = replace(SOFAR, analysis=replace(SOFAR.analysis, repetitions=raised))
    values = {}
    for affected in (Affected.LEFT, Affected.BOTH):
        with store_with(tmp_path / affected, affected=affected) as (store, patient):
            take_in(store, patient, visit(tmp_path / f"of-{affected}", 0))
            (values[affected],) = gather(store, patient, asking, {}, bring=lambda _folder: tall).lines
    assert values[Affected.LEFT].row.value == pytest.approx(95.0)
    told = values[Affected.BOTH].to_json()
    assert told["value"] is told["in_this_set"] is None and told["missing"][0] == f"in this set: {NO_OTHER_LEG}"


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_a_sealed_store_brings_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, passphrase: str | None
) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    found = gathered(tmp_path / "s", visit(tmp_path, 0, pain=2), passphrase=passphrase)
    morning = next(line for line in found.lines if line.row.criterion.measure == "pain-next-morning")
    assert (len(found.sessions), found.left_out, morning.row.value) == (1, (), 2.0)


def test_other_stages_are_passed_by_and_what_counts_for_nothing_is_told(tmp_path: Path) -> None:
    by_hand = replace(SETTINGS, target_percent=55.0)
    folders = [visit(tmp_path, 0), visit(tmp_path, 1, by_hand), visit(tmp_path, 2, key="hold-10")]
    folders += [visit(tmp_path, 3, prescribe(STAGE, Side.RIGHT)), visit(tmp_path, 200)]
    found = gathered(tmp_path / "s", *folders[:3])
    assert [one[27:] for one in found.left_out] == [BY_HAND]
    assert len(found.sessions) == 1
    later = gathered(tmp_path / "t", folders[0], folders[4])
    assert len(later.sessions) == 1 and [one[27:] for one in later.left_out] == [FUTURE]
    # of a patient whose side is not told, the newest session's counts
    other = gathered(tmp_path / "u", folders[0], folders[3])
    assert other.sessions[0].startswith("2026-03-05") and [one[27:] for one in other.left_out] == [OTHER_SIDE]
    assert other.followed is Side.RIGHT and found.followed is SETTINGS.injured


def test_repetitions_on_another_basis_are_not_put_together(tmp_path: Path) -> None:
    def bring(folder: Path) -> Appraisal:
        basis = SOFAR.analysis.basis if read_head(folder).started_at > "2026-03-03" else None
        return replace(SOFAR, analysis=replace(SOFAR.analysis, basis=basis))

    found = gathered(tmp_path / "s", visit(tmp_path, 0), visit(tmp_path, 1), bring=bring)
    assert len(found.sessions) == 1 and found.left_out[0].endswith(OTHER_BASIS)


@pytest.mark.parametrize(("pain", "left_out"), [(1, [BROKEN_OFF]), (7, [])])
def test_a_session_that_was_broken_off_hides_none_unless_it_hurt(
    tmp_path: Path, pain: int, left_out: list[str]
) -> None:
    """Somebody stood on, waited and went: every answer of the session before was gone."""
    nothing = replace(SOFAR, analysis=replace(SOFAR.analysis, repetitions=(), sets=()), answers=())

    def bring(folder: Path) -> Appraisal:
        return nothing if read_head(folder).started_at > "2026-03-03" else SOFAR

    found = gathered(tmp_path / "s", visit(tmp_path, 0, pain=1), visit(tmp_path, 1, pain=pain), bring=bring)
    assert [one[27:] for one in found.left_out] == left_out
    morning = next(line for line in found.lines if line.row.criterion.measure == "pain-next-morning")
    assert morning.row.value == (1.0 if left_out else 7.0)


def test_a_session_that_cannot_be_used_is_told_and_hinders_no_other(tmp_path: Path) -> None:
    def bring(folder: Path) -> Appraisal:
        if read_head(folder).started_at < "2026-03-03":
            raise RecordError("raw.wsr: was cut short")
        return SOFAR

    found = gathered(tmp_path / "s", visit(tmp_path, 0), visit(tmp_path, 1), bring=bring)
    assert len(found.sessions) == 1 and "cannot be used: raw.wsr: was cut short" in found.left_out[0]


@pytest.fixture
def known(tmp_path: Path) -> list[str]:
    """Return the options of a store with a patient in it."""
    with store_with(tmp_path / "s", programme="achilles", stage="lowering-90"):
        return ["--store", str(tmp_path / "s")]


def test_without_sessions_the_rows_say_what_is_missing(known: list[str], capsys: Capture) -> None:
    assert main(["evidence", "A-1", "--json", *known]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "weightshare.evidence/1" and told["patient"] == "A-1"
    assert all(row["missing"] for row in told["criteria"]) and len(told["criteria"]) == 14
    assert main(["evidence", "A-1", *known]) == 0
    out = capsys.readouterr().out
    assert "No published number says when" in out and "0 of 2 asked for" in out
    assert "locked (one-leg)" in out


def test_real_computing_of_a_session_that_is_none_is_told(tmp_path: Path, known: list[str], capsys: Capture) -> None:
    """The raw record of these sessions is no record: computing them again says so, and the command goes on."""
    with old_store(tmp_path / "s") as store:
        take_in(store, find_patient(store, "A-1"), visit(tmp_path, 0))
    assert main(["evidence", "A-1", "--stage", "raise", *known]) == 0
    assert "left out: 2026-03-02T10:00:00+02:00: cannot be used:" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["evidence", "B-9"], "B-9"),
        (["evidence", "A-1", "--stage", "none-such"], "none-such"),
        (["evidence", "A-1", "--programme", "none-such"], "none-such"),
        (["evidence", "A-1", "--programme", "even-load"], "--stage is missing"),
    ],
    ids=["patient", "stage", "programme", "no stage"],
)
def test_bad_input_is_one_line(known: list[str], capsys: Capture, words: list[str], part: str) -> None:
    assert main([*words, *known]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and part in err


def test_a_patient_without_a_programme_is_told_how_to_get_one(tmp_path: Path, capsys: Capture) -> None:
    with store_with(tmp_path / "s"):
        pass
    assert main(["evidence", "A-1", "--store", str(tmp_path / "s")]) == 2
    assert "has no programme" in capsys.readouterr().err
