"""What a report says of the evidence for the next stage, and when."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from tests.unit import told
from tests.unit.test_evidence import SHARE, asking, shares
from tests.unit.test_report_session import section
from weightshare.cli import main
from weightshare.exercise import SetSpan
from weightshare.model import Side
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.prescription import prescribe
from weightshare.programme.shelf import NOT_KEPT, find_programme, sources_of
from weightshare.programme.stage import NO_SOURCE
from weightshare.records.evidence import NO_PUBLISHED, weigh
from weightshare.records.session import finish_session
from weightshare.records.setting import read_head, write_head
from weightshare.records.store.patient import Affected, add_patient, make_patient
from weightshare.records.store.store import make_store
from weightshare.records.store.visit import take_in
from weightshare.report import stage
from weightshare.report.account import account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.evidence import NO_PERMISSION, TITLE, evidence_section

KEPT = find_programme("achilles")


def test_both_answers_stand_beside_each_other() -> None:
    found = evidence_section(weigh(asking(SHARE, days=3), shares(90.0, 90.5, 89.5, 90.2), {}))
    assert found.table is not None
    (row,) = found.table.rows
    assert row[0].endswith("(set 1)") and row[1] == "at least 85 %" and row[6] == "4"
    assert row[2].replace("\u00a0", " ") == "90.20 \u00b1 0.80"
    assert row[3] == "met (over 99 %)" and row[5].startswith("met (")
    # of these four days the mean is 90.05, its standard error 0.420 / 2, the instrument 0.4: 2 x 0.452, rounded up
    assert row[4].replace("\u00a0", " ") == "90.05 \u00b1 0.91"
    assert not [note for note in found.notes if "from day to day" in note]
    assert "4 sessions of this stage" in found.paragraphs[1] and ": 4 of 3 asked for" in found.paragraphs[1]


def test_what_goes_one_way_over_the_days_is_named() -> None:
    falls = evidence_section(weigh(asking(SHARE, days=3), shares(94.0, 93.0, 92.1, 91.0, 90.0, 89.1), {}))
    assert "Falls from day to day: mean share in the lowering, each set." in falls.notes
    rises = evidence_section(weigh(asking(SHARE, days=3), shares(86.0, 87.0, 88.1, 89.0, 90.0, 91.1), {}))
    assert "Rises from day to day: mean share in the lowering, each set." in rises.notes


def test_what_is_missing_is_told_and_nothing_is_summed_up() -> None:
    pain = Criterion(Measure.PAIN_DURING, at_most=2.0)
    found = evidence_section(weigh(asking(SHARE, pain), shares(90.0), {}))
    assert found.table is not None
    assert [row[4:6] for row in found.table.rows] == [("\u2013", "\u2013")] * 2
    assert any(note.startswith("In this set: it was not ") and "(pain during)" in note for note in found.notes)
    # what all of them lack is said once
    alone = evidence_section(weigh(asking(SHARE), shares(90.0), {}))
    assert "Of this patient: known on 1 day only: it takes 3 or more (every criterion)." in alone.notes
    assert found.notes[-1].endswith(NO_PERMISSION)
    assert "score" not in " ".join((*found.paragraphs, *found.notes)).replace(NO_PERMISSION, "")


def test_the_step_to_one_leg_says_that_no_number_was_published_and_that_it_is_locked() -> None:
    found = evidence_section(weigh(KEPT.prescription(KEPT.find("lowering-90")), (), {}))
    assert NO_PUBLISHED in found.notes[-1]
    # what no figure can say is no row beside figures
    assert found.table is not None and not [row for row in found.table.rows if "judge" in row[0]]
    assert any(note.startswith("For the clinician to judge: ") for note in found.notes)
    assert "until the clinician frees it" in found.paragraphs[0]


def test_each_criterion_has_a_number_that_says_where_it_comes_from() -> None:
    kept = KEPT.prescription(KEPT.find("lowering-90"))
    found = evidence_section(weigh(kept, (), sources_of(kept)))
    (note,) = [one for one in found.notes if one.startswith("Sources of the criteria: ")]
    said = dict(re.findall(r"\((\d+)\) (.*?)(?=; \(\d+\) |\. Measured: )", note))
    assert found.table is not None
    told = {row[0]: said[row[-1]] for row in found.table.rows}
    assert told["pain during"] == NO_SOURCE
    assert told["mean time of the lowering"].startswith(f"{NO_SOURCE}: three seconds")
    assert told["height of the raise against the other side"].startswith("customary and contested: 90 %")
    # every source is some row's, or that of what the clinician judges
    assert set(said) == {row[-1] for row in found.table.rows}


def test_a_session_by_itself_says_where_its_criteria_come_from_and_one_of_old_asks_the_programme() -> None:
    kept = KEPT.prescription(KEPT.find("lowering-90"))
    as_in_file = KEPT.find("lowering-90")
    old = replace(kept, stage=as_in_file)
    assert sources_of(old) == sources_of(kept) == KEPT.sources(as_in_file)
    # another programme's numbers have other sources: what is not known is not made up
    strange = sources_of(replace(old, sha256="0" * 64), "/nowhere/own.toml")
    assert {strange["pain-during"], strange["share-lowering"]} == {NOT_KEPT}
    assert strange["height-fade"] == NO_SOURCE


@pytest.fixture(scope="module")
def of_stage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of a programme's stage."""
    kept = KEPT.prescription(KEPT.find("lowering-75"))
    # of fewer than half of one set nothing is counted
    kept = replace(kept, stage=replace(kept.stage, repetitions=4))
    settings = prescribe(kept.stage, Side.LEFT)
    sets = (SetSpan(1, 5.0, 30.0),)
    folder = told.record(tmp_path_factory.mktemp("stage"), settings, "raiser", 30.0, sets=sets, ending=None)
    write_head(folder, replace(read_head(folder), prescription=kept))
    finish_session(folder)
    return folder


def test_a_session_by_itself_has_its_stages_criteria(of_stage: Path) -> None:
    table = section(make_clinic(account_of(of_stage)), stage.TITLE).table
    assert table is not None and len(table.rows) == len(KEPT.find("lowering-75").criteria)
    assert table.heads[-1] == "source" and all(row[-1].isdigit() for row in table.rows)


def test_the_newest_session_of_a_patient_has_the_evidence_and_an_older_one_its_own(
    of_stage: Path, tmp_path: Path
) -> None:
    later = told.FIRST + timedelta(days=30)
    with make_store(tmp_path / "s", "tester", lambda: later) as store:
        patient = add_patient(store, make_patient("A-1", later.date(), affected=Affected.LEFT))
        take_in(store, patient, of_stage)
    to, words = tmp_path / "a.html", ["report", "A-1", "--store", str(tmp_path / "s"), "--to"]
    assert main([*words, str(to)]) == 0
    text = to.read_text(encoding="utf-8")
    assert TITLE in text and stage.TITLE not in text and "1 session of this stage" in text
    assert main([*words, str(to), "--for", "patient"]) == 0
    assert TITLE not in to.read_text(encoding="utf-8")
    newer = told.record(tmp_path / "later", told.FREE, "quiet", 12.0, day=2)
    assert main(["import", str(newer.parent), "--patient", "A-1", "--store", str(tmp_path / "s")]) == 0
    assert main([*words, str(to), "--began", told.FIRST.date().isoformat()]) == 0
    text = to.read_text(encoding="utf-8")
    assert TITLE not in text and stage.TITLE in text
