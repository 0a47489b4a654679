"""How long a clinician's report is, and how small its letters: a long session with all that can be told of it."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.unit.test_evidence import LEAVING, sitting
from tests.unit.test_report_session import section, sittings
from weightshare.exercise import Exercise
from weightshare.practice.words import CAUTIONS
from weightshare.programme.judgement import Found
from weightshare.programme.prescription import Prescription
from weightshare.programme.shelf import find_programme, sources_of
from weightshare.programme.stage import Stage
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.evidence import weigh
from weightshare.records.store.ruling import Choice, make_ruling
from weightshare.report.account import Account, Person, account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.document import Document
from weightshare.report.evidence import evidence_section
from weightshare.report.html import to_html
from weightshare.report.pdf import to_pdf
from weightshare.report.repetition import THIRDS, repetition_section

LEAST_PT = 7.5
PAINS = (About.PAIN_BEFORE, About.PAIN_DURING, About.PAIN_AFTER)
SAID = Diary(
    (
        *(Entry(one, f"2026-03-02T10:{10 * at}:00+01:00", 2) for at, one in enumerate(PAINS, 1)),
        Entry(About.NOTE, "2026-03-02T10:30:00+01:00", words="pulls a little from the sixth repetition on"),
    )
)


@pytest.fixture(scope="module")
def account(lowered: Path) -> Account:
    return account_of(lowered)


def long_session(account: Account, sets: int, each: int) -> Account:
    """The same repetitions over and over, in so many sets."""
    appraisal, count = account.appraisal, sets * each
    analysis, doubt = appraisal.analysis, appraisal.doubt
    assert doubt is not None
    times = count // len(analysis.repetitions) + 1
    (only,) = analysis.sets
    done = tuple(
        replace(only, number=number + 1, repetitions=tuple(range(number * each, (number + 1) * each)))
        for number in range(sets)
    )
    analysis = replace(analysis, repetitions=(analysis.repetitions * times)[:count], sets=done)
    doubt = replace(doubt, repetitions=(doubt.repetitions * times)[:count])
    answers = tuple(replace(appraisal.answers[0], number=number + 1) for number in range(sets))
    told = replace(appraisal, analysis=analysis, doubt=doubt, answers=answers)
    return replace(account, appraisal=told, diary=SAID)


def decided(kept: Prescription, many: int) -> tuple[Any, ...]:
    reason = "reached on three days, and no more pain on the next morning"
    words = ("2026-03-01T12:00:00+01:00", "M. Example", Choice.GO_ON, kept)
    return (make_ruling(*words, reason=reason, evidence="{}"),) * many


def full(account: Account, sets: int, each: int, kept: Prescription) -> Document:
    """The report of the newest session of a patient: evidence, trend, decisions, what was said."""
    patient = Person("A-017", "", "2025-12-15")
    done = sittings(70.0, 71.5, 72.0, 74.5, 75.0)
    told = replace(long_session(account, sets, each), person=patient, sittings=done, rulings=decided(kept, 9))
    found = tuple(Found(one.measure, 2.0, 0.4, of="set 1") for one in kept.stage.criteria)
    evidence = weigh(kept, tuple(sitting(day, *found) for day in range(5)), sources_of(kept))
    head = replace(told.head, prescription=kept)
    replayed = replace(told.replayed, session=replace(told.replayed.session, head=head))
    return make_clinic(replace(told, replayed=replayed), (evidence_section(evidence),))


def stage(key: str) -> Stage:
    return find_programme("achilles").find(key)


@pytest.mark.parametrize(
    ("sets", "each", "key", "paper"),
    [
        (3, 10, "lowering-90", "letter"),
        (3, 15, "raise", "letter"),
        (2, 30, "raise", "A4"),
    ],
)
def test_a_long_session_is_three_pages_that_can_be_read(
    account: Account, sets: int, each: int, key: str, paper: str
) -> None:
    kept = find_programme("achilles").prescription(stage(key))
    document = full(account, sets, each, kept)
    file: Any = PdfReader(io.BytesIO(to_pdf(document, paper)))
    pages = file.pages
    assert len(pages) <= 3
    # its outline leads to each heading; it says its language, and a window has its title (PDF 32000-1, 12.2 and 12.3.3)
    assert [one.title for one in file.outline] == [one.heading for one in document.sections]
    found = [pages[file.get_destination_page_number(one)].extract_text() for one in file.outline]
    assert all(one.heading in text for one, text in zip(document.sections, found, strict=True))
    assert file.root_object["/Lang"] == "en-GB" and file.root_object["/ViewerPreferences"]["/DisplayDocTitle"]
    assert CAUTIONS[-1] in " ".join(pages[-1].extract_text().split())
    assert min(size for page in pages for size in letters_of(page)) >= LEAST_PT - 0.01


def letters_of(page: Any) -> set[float]:
    """Return how large the letters on a page are, in points, whichever way they are turned."""
    found: set[float] = set()

    def visit(text: str, page_matrix: Any, _text_matrix: Any, _font: Any, size: float) -> None:
        if text.strip():
            found.add(size * max(abs(page_matrix[0]), abs(page_matrix[1])))

    page.extract_text(visitor_text=visit)
    return found


def test_many_repetitions_stand_in_two_halves_and_none_is_lost(account: Account) -> None:
    document = make_clinic(long_session(account, 3, 15))
    table = section(document, "Repetitions").table
    assert table is not None and table.halves and [row[0] for row in table.rows] == [str(n) for n in range(1, 46)]
    first, second = table.parts
    assert (len(first.rows), len(second.rows)) == (23, 22) and first.rows + second.rows == table.rows
    assert to_html(document).count(f'<th scope="col" class="figure">{table.heads[0]}</th>') == 2
    # their uncertainty is told once, the greatest of all
    doubt = account.appraisal.doubt
    assert doubt is not None
    most = max(one.share_lowering_points or 0.0 for one in doubt.repetitions)
    (note,) = section(document, "Repetitions").notes
    told = float(note.split("\u00b1\u00a0" if "\u00b1\u00a0" in note else "\u00b1 ")[1].split()[0])
    assert most <= told <= most + 0.02
    sets = section(document, "Sets").table
    assert sets is not None and [row[2] for row in sets.rows] == [
        "15 (1\u201315)",
        "15 (16\u201330)",
        "15 (31\u201345)",
    ]


def test_on_one_leg_no_thirds_are_told(account: Account) -> None:
    many = long_session(account, 3, 8)
    alone = replace(many.appraisal.analysis, exercise=Exercise.SINGLE_RAISE)
    found = repetition_section(replace(many.appraisal, analysis=alone))
    assert found is not None and found.table is not None
    assert THIRDS not in found.table.heads and "thirds" not in found.notes[0]
    assert all(len(row) == len(found.table.heads) for row in found.table.rows)
    whole = repetition_section(many.appraisal)
    assert whole is not None and "thirds" in whole.notes[0]


def test_a_lowering_that_was_hardly_in_the_band_is_marked(account: Account) -> None:
    many = long_session(account, 2, 10)
    analysis = many.appraisal.analysis
    out = replace(analysis.repetitions[4], lowering_in_band_percent=12.0)
    repetitions = (*analysis.repetitions[:4], out, *analysis.repetitions[5:])
    told = replace(many, appraisal=replace(many.appraisal, analysis=replace(analysis, repetitions=repetitions)))
    found = section(make_clinic(told), "Repetitions")
    assert found.table is not None
    assert [row[0] for row in found.table.rows if "o" in row[-1]] == ["5"]
    assert "o: less than 50 % of the way down was in the band." in found.notes[0]


def test_decisions_name_stages_and_the_newest_few_stand_in_a_session_s_report(account: Account) -> None:
    document = full(account, 1, 4, LEAVING)
    found = section(document, "Decisions")
    assert found.table is not None and len(found.table.rows) == 4
    assert {row[3] for row in found.table.rows} == {"Down with 90 % \u2192 Up on two legs, down on one"}
    assert found.notes == ("5 earlier decisions in the report over the weeks.",)
