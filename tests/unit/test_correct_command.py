"""`weightshare correct`: on a session's folder and in the store, and who takes what came of it downstream."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.unit.kept import NOW, PASSPHRASE, TODAY, new_store
from weightshare.cli import main
from weightshare.exercise import STRUCK
from weightshare.practice.past.moment import Kind, make_table
from weightshare.practice.past.opening import open_past
from weightshare.programme.criterion import Measure
from weightshare.records.correction import CORRECTIONS_NAME, read_corrections
from weightshare.records.current import Wish, correct
from weightshare.records.figure import REPETITIONS
from weightshare.records.proof import find_proof
from weightshare.records.repeat import read_done
from weightshare.records.session import appraise_session
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.check import check_store
from weightshare.records.store.correcting import CORRECTED, correct_visit, read_corrected
from weightshare.records.store.patient import add_patient, make_patient
from weightshare.records.store.trail import read_trail
from weightshare.records.store.unbundle import take_bundle
from weightshare.records.store.visit import list_figures, list_visits, opened, take_in
from weightshare.report.repetition import repetition_section
from weightshare.task import Goal

AT, BY = "2026-11-24T10:15:00+01:00", "C. L."


@pytest.fixture(scope="module")
def once(lowered: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of four raises, the second of which is struck."""
    folder = Path(shutil.copytree(lowered, tmp_path_factory.mktemp("corrected") / lowered.name))
    correct(folder, Wish("held on", 2), at=AT, by=BY)
    return folder


def test_the_command_strikes_lists_and_takes_back(
    lowered: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = str(shutil.copytree(lowered, tmp_path / lowered.name))
    assert main(["correct", folder, "--strike", "3", "--reason", "held on to the rail", "--by", BY]) == 0
    out = capsys.readouterr().out
    assert "correction 1: repetition 3: counted -> struck, by C. L.: held on to the rail" in out
    assert "repetitions that count: 3; in force: 1 repetition struck" in out
    assert main(["correct", folder, "--list"]) == 0
    told = capsys.readouterr().out
    assert "repetition 3  struck: held on to the rail" in told and "repetition 4  rise 29." in told
    assert main(["analyse", folder]) == 0
    table = capsys.readouterr().out
    assert STRUCK in table and "note: corrected by the clinician: 1 repetition struck" in table
    assert main(["correct", folder, "--undo", "1", "--reason", "it was sound", "--json"]) == 0
    content = json.loads(capsys.readouterr().out)
    assert (content["schema"], content["in_force"]) == ("weightshare.corrected/1", 0)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--strike", "1"], "--reason is missing"),
        (["--phase", "1", "sideways", "2", "3", "--reason", "x"], "there is no such phase; give rise, top, lowering"),
        (["--phase", "1", "rise", "two", "3", "--reason", "x"], "give the repetition's number, the phase"),
        (["--phase", "1", "rise", "nan", "3", "--reason", "x"], "--phase rise: give from when to when"),
        (["--strike", "77", "--reason", "x"], "there is none in the first analysis of this session; it has 4"),
    ],
)
def test_what_is_wrong_takes_one_line_and_changes_nothing(
    once: Path, options: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (once / CORRECTIONS_NAME).read_bytes()
    assert main(["correct", str(once), *options]) == 2
    err = capsys.readouterr().err
    assert said in err and err.count("\n") == 1
    assert (once / CORRECTIONS_NAME).read_bytes() == before


def test_numbers_stay_those_of_the_first_analysis(once: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert appraise_session(once).analysis.numbers == (1, 3, 4)
    assert main(["analyse", str(once)]) == 0
    rows = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert [row[0] for row in rows if len(row) > 8 and row[1] == "1" and row[0].isdigit()] == ["1", "3", "4"]
    table = make_table(open_past(once))
    found = [(one.kind, one.number) for one in table.moments if one.kind in (Kind.REPETITION, Kind.STRUCK)]
    assert found == [(Kind.REPETITION, 1), (Kind.STRUCK, 2), (Kind.REPETITION, 3), (Kind.REPETITION, 4)]
    (struck,) = [one for one in table.moments if one.kind is Kind.STRUCK]
    assert struck.words == "struck: held on"


def test_a_criterion_is_held_against_what_counts_now(once: Path, lowered: Path) -> None:
    def counted(folder: Path) -> float | None:
        found = find_proof(appraise_session(folder), Goal(sets=1, repetitions=4))
        return next(one.value for one in found if one.measure is Measure.REPETITIONS)

    assert (counted(lowered), counted(once)) == (4.0, 3.0)


def test_what_is_put_together_over_days_takes_what_counts_now(once: Path, lowered: Path) -> None:
    after, before = read_done(once), read_done(lowered)
    assert after.task == before.task
    assert after.values != before.values, "the mean over three is not that over four"


@pytest.mark.parametrize("passphrase", [None, PASSPHRASE])
def test_in_the_store_lists_figures_and_the_trail_follow_and_a_bundle_carries_it(
    lowered: Path, tmp_path: Path, passphrase: str | None
) -> None:
    with new_store(tmp_path / "store", passphrase) as store:
        patient = add_patient(store, make_patient("A-1", TODAY))
        visit = take_in(store, patient, lowered).visit
        made = correct_visit(store, patient, visit, Wish("held on", 2))
        (now,) = list_visits(store, patient)
        assert (visit.repetitions, now.repetitions, now.id, now.seal) == (4, 3, visit.id, visit.seal)
        counts = [one.value for one in list_figures(store, patient)[now.id] if one.name == REPETITIONS]
        assert counts == [3.0]
        (step,) = [one for one in read_trail(store, patient.id) if one.what == CORRECTED]
        assert (step.who, step.detail) == ("tester", f"{now.started_at}, repetition 2: counted -> struck")
        (kept,) = read_corrected(store, now).entries
        assert (kept.by, kept.at) == ("tester", NOW.isoformat(timespec="seconds"))
        with opened(store, now) as folder:
            assert appraise_session(folder).analysis == made.analysis
        assert not list((tmp_path / "store").rglob("*.part"))
        write_bundle(store, patient, tmp_path / "A-1.zip")
    if passphrase is not None:
        assert b"held on" not in (tmp_path / "store" / "sessions" / now.id / CORRECTIONS_NAME).read_bytes()
    with new_store(tmp_path / "other") as other:
        arrived = take_bundle(other, tmp_path / "A-1.zip", TODAY)
        (there,) = list_visits(other, arrived.patient)
        assert there.repetitions == 3
        assert read_corrected(other, there).struck == {2: "held on"}


def test_the_check_of_a_store_finds_corrections_that_were_taken_away(lowered: Path, tmp_path: Path) -> None:
    with new_store(tmp_path / "store") as store:
        patient = add_patient(store, make_patient("A-1", TODAY))
        visit = take_in(store, patient, lowered).visit
        correct_visit(store, patient, visit, Wish("held on", 2))
        path = store.sessions / visit.id / CORRECTIONS_NAME
        kept = path.read_bytes()
        assert check_store(store).faults == ()
        path.unlink()
        (fault,) = check_store(store).faults
        words = "corrections are missing: the trail tells of 1, and 0 are there; restore a backup"
        assert fault == f"A-1, {visit.started_at}: {path}: {words}"
        path.write_bytes(kept.replace(b"held on", b"held up"))
        assert "was altered" in check_store(store).faults[0]


def test_a_bundle_brings_what_was_corrected_since_and_nothing_over_what_was_corrected_here(
    lowered: Path, tmp_path: Path
) -> None:
    with new_store(tmp_path / "store") as store, new_store(tmp_path / "other") as other:
        patient = add_patient(store, make_patient("A-1", TODAY))
        visit = take_in(store, patient, lowered).visit
        write_bundle(store, patient, tmp_path / "first.zip")
        arrived = take_bundle(other, tmp_path / "first.zip", TODAY)
        correct_visit(store, patient, visit, Wish("held on", 2))
        write_bundle(store, patient, tmp_path / "second.zip")
        assert take_bundle(other, tmp_path / "second.zip", TODAY).corrected == 1
        again = take_bundle(other, tmp_path / "second.zip", TODAY)
        assert (again.corrected, again.conflicts) == (0, ())
        (there,) = list_visits(other, arrived.patient)
        assert (there.repetitions, read_corrected(other, there).struck) == (3, {2: "held on"})
        correct_visit(store, patient, visit, Wish("a cough", 3))
        correct_visit(other, arrived.patient, there, Wish("leaned", 4))
        write_bundle(store, patient, tmp_path / "third.zip")
        parted = take_bundle(other, tmp_path / "third.zip", TODAY)
        assert parted.corrected == 0 and "was corrected here and, otherwise, there" in parted.conflicts[0]
        assert set(read_corrected(other, there).struck) == {2, 4}


def test_a_report_has_the_numbers_of_the_first_analysis(once: Path) -> None:
    section = repetition_section(appraise_session(once))
    assert section is not None and section.table is not None
    assert [row[0] for row in section.table.rows] == ["1", "3", "4"]


def test_the_command_corrects_in_the_store_too(
    lowered: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with new_store(tmp_path / "store") as store:
        take_in(store, add_patient(store, make_patient("A-1", TODAY)), lowered)
    asked = ["correct", "--patient", "A-1", "2026-03-02", "--store", str(tmp_path / "store")]
    assert main([*asked, "--strike", "1", "--reason", "a cough", "--by", BY]) == 0
    assert main([*asked, "--list"]) == 0
    assert f"repetition 1: counted -> struck, by {BY} (clinician): a cough" in capsys.readouterr().out
    assert read_corrections(lowered).entries == ()
