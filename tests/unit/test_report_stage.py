"""What a report says of a stage's criteria, of what the person said, and of means that mislead."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.test_judgement import GOOD, LOWERING
from tests.unit.test_report_session import section, words_of
from weightshare.metrology.decision import Verdict
from weightshare.model import Side
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.judgement import Found, judge, suggest
from weightshare.programme.prescription import Prescription
from weightshare.records.assessment import Assessment
from weightshare.records.current import Wish, correct
from weightshare.records.diary import About, Diary, Entry
from weightshare.report.account import Account, account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.handout import deeds_of, make_handout
from weightshare.report.pdf import to_pdf
from weightshare.report.stage import NO_PERMISSION, TITLE, criteria_section, diary_section
from weightshare.state import Alignment, ScaleClock

AT = "2026-03-02T10:20:00+01:00"
SAID = Diary((Entry(About.PAIN_DURING, AT, 2), Entry(About.NOTE, AT, words="<b>felt</b> easy")))


def assessed(*found: Found, changed: tuple[str, ...] = ()) -> Assessment:
    rows = judge(LOWERING, found)
    kept = Prescription("achilles", "1", "0" * 64, LOWERING, changed=changed)
    return Assessment(kept, (), rows, suggest(LOWERING, rows), Diary())


@pytest.fixture(scope="module")
def account(lowered: Path) -> Account:
    return account_of(lowered)


def test_each_criterion_has_what_was_asked_measured_and_decided() -> None:
    found = criteria_section(assessed(*GOOD, changed=("--sets 2",)))
    assert found is not None and found.table is not None
    assert found.heading == TITLE and found.notes[1:] == ("Changed by hand: --sets 2.", NO_PERMISSION)
    rows = {row[0]: row[1:] for row in found.table.rows}
    name, asked, measured, verdict, remark, source = next(row for row in found.table.rows if "mean share" in row[0])
    assert (asked, measured.replace("\u00a0", " "), remark) == ("70 to 80 %", "75.00 \u00b1 0.40", "")
    assert source == "1"
    assert verdict == "met (over 99 %)" and name.endswith("(set 1)")
    assert rows["pain during"][0].startswith("at most") and rows["pain during"][1:3] == ("1", "met")
    assert all(len(row) == len(found.table.heads) for row in found.table.rows)


def test_what_was_not_measured_is_undecided_and_what_is_the_clinicians_has_no_verdict() -> None:
    stage = replace(LOWERING, criteria=(*LOWERING.criteria, Criterion(Measure.CLINICIAN, words="walks without a limp")))
    found = criteria_section(replace(assessed(), rows=judge(stage, ())))
    assert found is not None and found.table is not None
    *measured, own = found.table.rows
    assert {row[3] for row in measured} == {str(Verdict.UNDECIDED)} and {row[2] for row in measured} == {"\u2013"}
    assert all(row[4] for row in measured)
    assert own == ("walks without a limp", "", "", "", "for the clinician to judge", "1")


def test_a_session_of_no_stage_has_no_criteria(account: Account) -> None:
    assert criteria_section(None) is None and diary_section(Diary()) is None
    headings = [one.heading for one in make_clinic(account).sections]
    assert TITLE not in headings and "What the patient said" not in headings


def test_what_was_said_stands_in_its_order_for_the_clinician_alone(account: Account) -> None:
    full = replace(account, diary=SAID, assessment=assessed(*GOOD))
    table = section(make_clinic(full), "What the patient said").table
    assert table is not None
    # what was said in one minute stands in one row
    assert [row[1] for row in table.rows] == ["pain during 2 (of 10); <b>felt</b> easy"]
    handout = words_of(make_handout(full))
    # nobody takes a verdict home that the clinician has not spoken
    assert "criteri" not in handout and "could be next" not in words_of(make_clinic(full)) + handout


def test_a_mean_of_too_much_and_too_little_is_not_within_the_aim(account: Account) -> None:
    """90 on the upper third, 60 on the lower one: a mean of 75 (the definition of the measure)."""
    analysis, settings = account.appraisal.analysis, account.replayed.session.settings
    rows = tuple(
        replace(one, share_lowering_percent=75.0, share_lowering_thirds_percent=(90.0, 75.0, 60.0))
        for one in analysis.repetitions
    )
    sets = tuple(replace(one, share_lowering_percent=75.0, lowering_in_band_percent=3.0) for one in analysis.sets)
    changed = replace(analysis, repetitions=rows, sets=sets)
    sliding = replace(account, appraisal=replace(account.appraisal, analysis=changed))
    assert [(deed.least, deed.most) for _number, deed in deeds_of(rows, settings)] == [(60.0, 90.0)] * 4
    page = words_of(make_handout(sliding))
    assert "outside it" in page and "within the aim" not in page
    assert "Set 1: the mean of the lowering is in the band, but only 3 % of it was." in words_of(make_clinic(sliding))
    assert "within the aim" in words_of(make_handout(account))


@pytest.mark.parametrize(("points", "said"), [(0.011, "0.02 points of share"), (None, "is not known")])
def test_two_clocks_say_what_they_leave_in_doubt(account: Account, points: float | None, said: str) -> None:
    clocks = [ScaleClock("0011223344556677", side, 1.0, 0.1, 0.5, 9, 0) for side in Side]
    alignment = Alignment(1.0, 11.0, points, (clocks[0], clocks[1]))
    changed = replace(account.appraisal, analysis=replace(account.appraisal.analysis, alignment=alignment))
    assert said in dict(make_clinic(replace(account, appraisal=changed)).facts)["Two clocks"]
    assert "Two clocks" not in dict(make_clinic(account).facts)


def test_what_the_clinician_struck_stands_signed_and_is_no_longer_counted(lowered: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(lowered, tmp_path / "session-2026-03-02T100000"))
    for number in (2, 3):
        correct(folder, Wish(f"held on to the rail in {number}", number), at="2026-03-03T09:15:00+01:00", by="C. L.")
    correct(folder, Wish("it was the other one", undoes=1), at="2026-03-03T09:20:00+01:00", by="C. L.")
    account = account_of(folder)
    clinic = make_clinic(account)
    table = section(clinic, "Corrections by the clinician").table
    assert table is not None
    assert [(row[2], row[4], row[5]) for row in table.rows] == [
        ("C. L.", "held on to the rail in 2", "taken back"),
        ("C. L.", "held on to the rail in 3", "in force"),
        ("C. L.", "it was the other one", ""),
    ]
    counted = section(clinic, "Repetitions")
    assert counted.table is not None and len(counted.table.rows) == 3
    assert any(point.endswith("struck by the clinician") for point in counted.points)
    assert "because your clinician took it back" in " ".join(make_handout(account).sections[0].paragraphs)
    assert to_pdf(clinic) == to_pdf(make_clinic(account_of(folder)))
