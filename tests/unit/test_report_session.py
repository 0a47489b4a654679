"""A session's report: what stands in it is what was measured, and what it must not say is not there."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.unit import told
from weightshare.exercise import REASONS, CeilingEvent, Exercise, Rejected
from weightshare.metrology.course import LEAST_DAYS, course_of
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.practice.words import CAUTIONS
from weightshare.programme.shelf import find_programme
from weightshare.records.answer import LOWERING
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.figure import MEAN_HEIGHT, MEAN_SHARE, REPETITIONS, Figure
from weightshare.report import letter
from weightshare.report.account import Account, Person, Sitting, account_of
from weightshare.report.chart import Panel, draw_panels
from weightshare.report.clinic import make_clinic
from weightshare.report.document import Document, Section, Table
from weightshare.report.drawing import NARROW, WIDE, Words
from weightshare.report.handout import NEXT, make_handout, say_aim
from weightshare.report.pdf import PAPERS, to_pdf
from weightshare.report.sheet import with_doubt
from weightshare.report.strip import MOST_STRIPS, course_drawings, course_picture, envelope, label, signal_of
from weightshare.report.trend import lines_of, trend_section


@pytest.fixture(scope="module")
def of_holds(held: Path) -> Account:
    return account_of(held)


@pytest.fixture(scope="module")
def of_raises(lowered: Path) -> Account:
    return account_of(lowered)


@pytest.fixture(scope="module")
def of_standing(tmp_path_factory: pytest.TempPathFactory) -> Account:
    """No target: nothing steered the share."""
    return account_of(told.record(tmp_path_factory.mktemp("free"), told.FREE, "favouring", 15.0))


def all_of(account: Account) -> list[Document]:
    return [make_clinic(account), make_handout(account)]


def section(document: Document, heading: str) -> Section:
    (found,) = [one for one in document.sections if one.heading == heading]
    return found


def words_of(document: Document) -> str:
    """Return everything that a document says, pictures too."""
    return "\n".join(_words(document))


def _words(document: Document) -> Iterator[str]:
    yield from (document.title, document.foot, document.subject, *(f"{a} {b}" for a, b in document.facts))
    for one in document.sections:
        yield from (one.heading, *one.paragraphs, *one.points, *one.notes)
        if one.table is not None:
            yield from (" ".join(row) for row in (one.table.heads, *one.table.rows))
        for picture in one.pictures:
            yield from (picture.caption, picture.drawing.title)
            yield from (part.text for part in picture.drawing.parts if isinstance(part, Words))


def text_of(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def test_holds_stand_as_they_were_measured(of_holds: Account) -> None:
    analysis = of_holds.appraisal.analysis
    table = section(make_clinic(of_holds), "Holds").table
    assert analysis.holds and table is not None and len(table.rows) == len(analysis.holds)
    for row, hold in zip(table.rows, analysis.holds, strict=True):
        assert float(row[1]) == pytest.approx(hold.start_s, abs=0.005)
        assert float(row[3]) == pytest.approx(hold.held_s, abs=0.05)
    page = words_of(make_handout(of_holds))
    reached = sum(hold.held_s >= 8.0 for hold in analysis.holds)
    assert f"You held it {len(analysis.holds)} times." in page or "You held it twice." in page
    assert reached == 2 and ("2 of these were" in page or "All of these were" in page)
    # cut, not rounded: a goal is never told before it was reached
    assert f"The longest was {int(analysis.longest_hold_s or 0)} seconds" in page


def test_repetitions_stand_phase_by_phase_with_their_uncertainty(of_raises: Account) -> None:
    appraisal = of_raises.appraisal
    table = section(make_clinic(of_raises), "Repetitions").table
    assert table is not None and len(table.rows) == len(appraisal.analysis.repetitions) == 4
    assert appraisal.doubt is not None
    for row, one, doubt in zip(table.rows, appraisal.analysis.repetitions, appraisal.doubt.repetitions, strict=True):
        value, half = (float(part) for part in row[8].replace("\u00a0", "").split("\u00b1"))
        assert one.share_lowering_percent is not None and doubt.share_lowering_points is not None
        assert value == pytest.approx(one.share_lowering_percent, abs=0.0051)
        # never told as smaller than it is
        assert doubt.share_lowering_points <= half <= doubt.share_lowering_points + 0.01
    assert all(len(row) == len(table.heads) == len(table.widths) for row in table.rows)
    assert sum(table.widths) == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize(
    ("value", "half", "said"),
    [
        (75.04, 0.4, "75.0 \u00b1 0.4"),
        (75.04, 0.41, "75.0 \u00b1 0.5"),
        (75.046, 0.031, "75.05 \u00b1 0.04"),
        (75.04, 0.0, "75.04 \u00b1 0.01"),
        (75.04, None, "75.0"),
        (None, 0.4, "\u2013"),
    ],
)
def test_an_uncertainty_is_rounded_up(value: float | None, half: float | None, said: str) -> None:
    assert with_doubt(value, half).replace("\u00a0", " ") == said


def test_a_steered_share_is_never_a_symmetry(of_holds: Account, of_raises: Account) -> None:
    for account in (of_holds, of_raises):
        assert account.appraisal.analysis.symmetry.steered
        one = section(make_clinic(account), "The two sides")
        assert "steered" in one.paragraphs[0]
        measures = [row[0] for row in one.table.rows] if one.table is not None else []
        assert not [name for name in measures if "force" in name or "load" in name]
        assert "ymmetr" not in words_of(make_handout(account))


def test_standing_without_a_target_has_its_indices_and_what_they_cannot_tell(of_standing: Account) -> None:
    one = section(make_clinic(of_standing), "The two sides")
    assert one.table is not None and not one.paragraphs
    assert [row[0] for row in one.table.rows] == ["mean force in standing", "peak force in standing"]
    analysis = of_standing.appraisal.analysis
    assert analysis.injured_N is not None and analysis.uninjured_N is not None
    said = float(one.table.rows[0][4].split("\u00a0")[0])
    assert said == pytest.approx(100.0 * analysis.injured_N / analysis.uninjured_N, abs=0.01)
    assert any("no pass mark" in note for note in one.notes)
    assert "On average" in words_of(make_handout(of_standing))


def test_both_sides_injured_have_no_index(of_standing: Account) -> None:
    person = Person("A-1", both_injured=True)
    one = section(make_clinic(replace(of_standing, person=person)), "The two sides")
    assert one.table is None and "both sides are injured" in one.paragraphs[0]


def test_work_on_one_leg_alone_is_compared_with_nothing(of_raises: Account) -> None:
    settings = replace(told.LOWERING, exercise=Exercise.SINGLE_RAISE, target_percent=100.0)
    single = replace(of_raises, appraisal=replace(of_raises.appraisal, settings=settings))
    assert section(make_clinic(single), "The two sides").table is None


def test_no_report_allows_more_load(of_holds: Account, of_raises: Account, of_standing: Account) -> None:
    for account in (of_holds, of_raises, of_standing):
        clinic, handout = all_of(account)
        assert NEXT in words_of(handout)
        assert all(words in words_of(document) for document in (clinic, handout) for words in CAUTIONS)


def test_evidence_has_its_place_before_the_method(of_raises: Account) -> None:
    found = make_clinic(of_raises, [Section("For the next stage", ("four of five",))])
    headings = [one.heading for one in found.sections]
    assert headings[-2:] == ["For the next stage", "Method and cautions"]
    assert "evidence" not in words_of(make_clinic(of_raises)).lower()


def test_what_went_wrong_is_told_to_both(of_raises: Account) -> None:
    analysis = of_raises.appraisal.analysis
    event, low = CeilingEvent(12.0, 12.6, 400.0), Rejected(30.0, 31.0, "low")
    changed = replace(analysis, ceiling=(event,), rejected=(low,), warnings=("something is missing",))
    account = replace(of_raises, appraisal=replace(of_raises.appraisal, analysis=changed))
    clinic, handout = map(words_of, all_of(account))
    assert (
        "12.00 0.60 40.8" in clinic
        and "The limit of load was passed once, up to 40.8 kg." in clinic
        and "not counted, 30.0 to 31.0 s: low" in clinic
    )
    assert "Something is missing." in clinic
    assert "over the limit" in clinic and "not counted: low" in clinic  # in the picture
    told_first = section(make_handout(account), "What you did").paragraphs[1]
    assert told_first == "There was more load on your left foot than was allowed, once. Tell your clinician."
    assert "On average you were within it for" in handout
    assert "1 movement was not counted, because the heel did not go up high enough" in handout


def test_pain_over_the_limit_is_said_plainly_to_the_patient(of_raises: Account) -> None:
    programme = find_programme("achilles")
    kept = replace(programme.prescription(programme.find("lowering-75")), pain_limit=2)
    session = of_raises.replayed.session
    head = replace(session.head, prescription=kept)
    at = "2026-03-03T07:40:00+01:00"
    said = Diary((Entry(About.PAIN_DURING, at, 2), Entry(About.PAIN_NEXT_MORNING, at, 4)))
    account = replace(of_raises, replayed=replace(of_raises.replayed, session=replace(session, head=head)), diary=said)
    told = section(make_handout(account), "What you did").paragraphs
    expected = "You reported pain of 4 out of 10 the next morning; the limit is 2. Tell your clinician."
    assert told[1] == expected and sum("pain" in words for words in told) == 1
    assert expected not in words_of(make_handout(of_raises))


def test_a_session_cut_short_says_so(tmp_path: Path) -> None:
    folder = told.record(tmp_path, seconds=12.0, ending=None)
    clinic, handout = map(words_of, all_of(account_of(folder)))
    assert "not finished" in clinic and "This session was cut short" in clinic
    assert "The recording is not complete" in handout


@pytest.mark.parametrize("paper", PAPERS)
def test_the_patients_is_one_page_and_the_clinicians_three_at_most(
    of_holds: Account, of_raises: Account, of_standing: Account, paper: str
) -> None:
    for account in (of_holds, of_raises, of_standing):
        clinic, handout = (PdfReader(io.BytesIO(to_pdf(one, paper))) for one in all_of(account))
        assert len(handout.pages) == 1
        assert len(clinic.pages) <= 3
        assert CAUTIONS[-1] in " ".join(clinic.pages[-1].extract_text().split())


@pytest.mark.parametrize("lines", [42, 43, 44])
def test_a_short_table_is_on_one_page(lines: int) -> None:
    table = Table(("set", "down"), tuple((f"row{number}", "2.7") for number in range(3)), (0.5, 0.5))
    before = Section("Before", tuple("words" for _line in range(lines)))
    data = to_pdf(Document("A report", (), (before, Section("Sets", table=table)), "foot"))
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]
    # with its heading, and whole
    (page,) = [page for page in pages if "row0" in page]
    assert "row2" in page and "Sets" in page


@pytest.mark.parametrize("paper", PAPERS)
def test_the_patients_stays_one_page_whatever_happened(of_raises: Account, paper: str) -> None:
    analysis = of_raises.appraisal.analysis
    rejected = tuple(Rejected(30.0, 31.0, reason) for reason in REASONS)
    worst = replace(analysis, rejected=rejected, ceiling=(CeilingEvent(12.0, 12.6, 400.0),))
    replayed = replace(of_raises.replayed, session=replace(of_raises.replayed.session, warnings=("cut short",)))
    person = Person("W" * 64, "Weronika " * 22)
    appraisal = replace(of_raises.appraisal, analysis=worst)
    account = replace(of_raises, appraisal=appraisal, replayed=replayed, person=person)
    page = make_handout(account)
    said = words_of(page)
    assert "The recording is not complete" in said and f"{len(REASONS)} movements were not counted" in said
    assert len(PdfReader(io.BytesIO(to_pdf(page, paper))).pages) == 1


@pytest.mark.parametrize("paper", PAPERS)
def test_no_word_goes_over_the_edge(of_raises: Account, of_holds: Account, paper: str) -> None:
    person = Person("W" * 64, "Weronika " * 22, "2025-12-15")
    width, height = PAPERS[paper]
    seen = 0
    for account in (of_raises, of_holds):
        for document in all_of(replace(account, person=person)):
            for page in PdfReader(io.BytesIO(to_pdf(document, paper))).pages:
                for x, y, text, size in placed(page):
                    seen += 1
                    assert 20.0 < y < height - 20.0, text
                    assert x > 20.0 and x + letter.width_of(text, size) < width - 20.0, text
    assert seen > 300


def placed(page: Any) -> list[tuple[float, float, str, float]]:
    """Return the pieces of text on a page, each with where it begins and how large it is; turned ones are left out."""
    found: list[tuple[float, float, str, float]] = []

    def visit(text: str, page_matrix: Any, text_matrix: Any, _font: Any, size: float) -> None:
        if text.strip() and abs(page_matrix[1]) < 1e-6:
            x = page_matrix[0] * text_matrix[4] + page_matrix[4]
            y = page_matrix[3] * text_matrix[5] + page_matrix[5]
            found.append((x, y, text.strip(), page_matrix[0] * size))

    page.extract_text(visitor_text=visit)
    return found


def test_the_same_session_gives_the_same_bytes(held: Path, of_holds: Account) -> None:
    for mine, again in zip(all_of(of_holds), all_of(account_of(held)), strict=True):
        assert to_pdf(mine) == to_pdf(again)
        assert to_pdf(mine, "letter") != to_pdf(mine)


def test_a_set_has_a_strip_and_so_has_a_minute(of_raises: Account, of_holds: Account) -> None:
    for account, title in ((of_raises, "Set 1: share"), (of_holds, "From 0 to 45 s")):
        drawing = course_picture(account)
        titles = [part.text for part in drawing.parts if isinstance(part, Words) and part.bold]
        assert len(titles) == 1 and titles[0].startswith(title)
    results = of_holds.replayed.results
    long = replace(results, time_s=results.time_s * 100.0)
    hour = replace(of_holds, replayed=replace(of_holds.replayed, results=long))
    titles = [part.text for part in course_picture(hour).parts if isinstance(part, Words) and part.bold]
    assert len(titles) == MOST_STRIPS


def test_a_strip_says_that_its_axis_is_in_seconds(of_holds: Account) -> None:
    for drawing in course_drawings(of_holds):
        assert any(part.text.endswith(" s") and not part.bold for part in drawing.parts if isinstance(part, Words))


@given(
    st.lists(st.tuples(st.floats(0.0, 70.0), st.sampled_from(["over the limit", "not counted: low"])), max_size=14),
    st.sampled_from([NARROW, WIDE]),
)
def test_no_words_of_a_strip_lie_over_others(told_at: list[tuple[float, str]], width: float) -> None:
    marks = sorted(told_at)
    found = label(marks, (0.0, 70.0), width)
    assert [x for x, _words in found] == [x for x, _words in marks]
    drawn = draw_panels([Panel("", "", "", (), (0.0, 70.0), (0.0, 1.0), marks_at=found)], "", width)
    words = [part for part in drawn.parts if isinstance(part, Words) and part.text.startswith(("over", "not"))]
    long = [letter.width_of(part.text, part.size) for part in words]
    begins = [part.x - (wide if part.anchor == "end" else 0.0) for part, wide in zip(words, long, strict=True)]
    places = sorted(zip(begins, long, strict=True))
    assert all(x + wide <= after for (x, wide), (after, _wide) in pairwise(places))
    # the first one always has its words, with how many there are
    kinds = [words for _x, words in marks]
    many = kinds.count(kinds[0]) if kinds else 0
    assert not kinds or found[0][1] == (kinds[0] if many == 1 else f"{kinds[0]}, {many} times")


def test_the_band_in_the_picture_is_the_one_that_was_asked_for(of_raises: Account) -> None:
    signal = signal_of(of_raises)
    asked = {(round(float(low), 6), round(float(high), 6)) for low, high in zip(signal.low, signal.high, strict=True)}
    assert {(45.0, 55.0), (70.0, 80.0)} <= asked


@given(st.lists(st.one_of(st.just(np.nan), st.floats(0.0, 100.0)), min_size=2, max_size=400), st.integers(1, 40))
def test_few_points_draw_what_many_would(values: list[float], columns: int) -> None:
    time_s, value = np.arange(len(values)) / 100.0, np.array(values)
    pieces = list(envelope(time_s, value, columns))
    drawn = [y for piece in pieces for _x, y in piece]
    known = dict(zip(time_s.tolist(), values, strict=True))
    assert all(known[x] == y for piece in pieces for x, y in piece)
    for piece in pieces:
        # no line across what was not read
        between = value[(time_s >= piece[0][0]) & (time_s <= piece[-1][0])]
        assert np.isfinite(between).all()
        assert (min(y for _x, y in piece), max(y for _x, y in piece)) == (between.min(), between.max())
    assert len(drawn) <= 4 * (columns + 2 + 2 * len(pieces))


def sittings(
    *values: float, name: str = LOWERING, unit: str = "%", side: Side | None = Side.LEFT
) -> tuple[Sitting, ...]:
    days = [date(2026, 3, 2) + timedelta(days=3 * place) for place in range(len(values))]
    return tuple(
        Sitting(day.isoformat(), day, (Figure(name, unit, value, side), Figure(MEAN_SHARE, "%", 60.0, Side.LEFT)))
        for day, value in zip(days, values, strict=True)
    )


def test_the_trend_has_the_band_of_the_persons_own_days() -> None:
    done = sittings(70.0, 71.5, 72.0, 74.5, 75.0)
    (line,) = lines_of(done, Side.LEFT)
    expected = course_of([Repeat(one.day, one.figures[0].value) for one in done])
    assert expected is not None and line.course == expected
    found = trend_section(done, Side.LEFT)
    assert found is not None and expected.mdc is not None
    assert f"a real change (it takes {expected.mdc:.1f} points)" in found.pictures[0].caption
    assert any("no permission" in note for note in found.notes)


def test_few_days_have_no_band_and_one_day_no_trend() -> None:
    found = trend_section(sittings(*[70.0, 75.0, 71.0][: LEAST_DAYS - 1]), Side.LEFT)
    assert found is not None and "is not known" in found.notes[0]
    assert "change" not in found.pictures[0].caption
    assert trend_section(sittings(70.0), Side.LEFT) is None
    assert trend_section((), Side.LEFT) is None


def test_what_is_prescribed_is_no_trend() -> None:
    done = sittings(10.0, 12.0, 14.0, name=REPETITIONS, unit="", side=None)
    assert [line.name for line in lines_of(done, Side.LEFT)] == [MEAN_SHARE]
    assert REPETITIONS in [line.name for line in lines_of(done, Side.LEFT, to_exhaustion=True)]
    other = sittings(60.0, 61.0, name=MEAN_HEIGHT, unit="mm", side=Side.RIGHT)
    assert MEAN_HEIGHT not in [line.name for line in lines_of(other, Side.LEFT)]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "55 to 65 % of the load on your right foot"),
        ({"one_sided": True}, "55 % of the load or more on your right foot"),
        ({"target_percent": 98.0}, "93 to 100 % of the load on your right foot"),
    ],
)
def test_the_aim_in_plain_words(changes: dict[str, Any], said: str) -> None:
    assert say_aim(replace(told.HOLD, **changes)) == said
