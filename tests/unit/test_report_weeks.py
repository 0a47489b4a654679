"""The report over a patient's weeks: what it counts, what it draws, and what the patient's page must not say."""

from __future__ import annotations

import io
import shutil
import tempfile
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.unit import told
from tests.unit.kept import PASSPHRASE
from tests.unit.test_report_html import Reader
from tests.unit.test_report_session import placed, section, text_of, words_of
from tests.unit.weeks import CALIBRATION, chapter, stage_of, weeks
from weightshare.cli import main
from weightshare.exercise import CeilingEvent
from weightshare.practice.words import CAUTIONS
from weightshare.programme.shelf import find_programme
from weightshare.records.current import Wish
from weightshare.records.diary import About, Entry
from weightshare.records.store import cipher
from weightshare.records.store.correcting import correct_visit
from weightshare.records.store.patient import Affected, add_patient, find_patient, make_patient
from weightshare.records.store.ruling import Choice, Ruling, keep_ruling, make_ruling
from weightshare.records.store.saying import say
from weightshare.records.store.store import make_store, open_store
from weightshare.records.store.visit import list_visits, take_in
from weightshare.report import letter
from weightshare.report.account import Account, Person, account_of, rulings_until
from weightshare.report.chart import number_of
from weightshare.report.clinic import make_clinic
from weightshare.report.closing import decision_section
from weightshare.report.fact import say_state
from weightshare.report.handout import NEXT
from weightshare.report.history import count_by_week, history_of, longest_pause
from weightshare.report.html import to_html
from weightshare.report.journey import make_journey
from weightshare.report.overview import aims_of, share_panel, span_of, stages_of
from weightshare.report.pdf import PAPERS, to_pdf
from weightshare.report.progress import ELSEWHERE, make_progress

PRACTICE = "Practice, pain, the limit of load"
NAME = "Wilhelmina Invented"
PASSED = CeilingEvent(12.0, 12.6, 588.399)
UNREAD = CeilingEvent(20.0, 21.0, None, unread=True)


@pytest.fixture(scope="module")
def newest(lowered: Path) -> Account:
    return account_of(lowered)


@given(st.lists(st.dates(date(2026, 1, 1), date(2026, 12, 31)), unique=True, max_size=60))
def test_every_day_of_practice_is_in_one_week(days: list[date]) -> None:
    days.sort()
    found = count_by_week(days)
    assert sum(count for _week, count in found) == len(days)
    for week, count in found:
        assert count == sum(week <= day < week + timedelta(days=7) for day in days) <= 7
    if len(days) > 1:
        before, after = longest_pause(days) or (days[0], days[0])
        assert not [day for day in days if before < day < after]
        assert (after - before).days * (len(days) - 1) >= (days[-1] - days[0]).days


def test_what_was_practised_is_counted_against_the_days_and_against_what_was_asked(newest: Account) -> None:
    chapters = (chapter(0), chapter(1, count=29), chapter(1, count=30), chapter(9))
    words = section(make_progress(weeks(chapters=chapters), newest), PRACTICE).paragraphs[0]
    assert words == (
        "Practised on 3 of 10 days. The longest pause was 7 days, between 2026-03-03 and 2026-03-11. All that was asked"
        f" for was done in 3 of 4 sessions. {ELSEWHERE}"
    )


def test_pain_over_the_stages_limit_is_listed_and_silence_is_told(newest: Account) -> None:
    chapters = (chapter(0, pain=3), chapter(1, pain=2), chapter(2, pain=None))
    assert section(make_progress(weeks(chapters=chapters), newest), PRACTICE).paragraphs[1] == (
        "Pain was reported in 2 of 3 sessions. The most was 3 in practice, of 10. The next morning was not reported"
        " after 3 sessions. Over the stage's limit in 1 session: 2026-03-02 3 in practice (limit 2)."
    )
    silent = section(make_progress(weeks(chapters=chapters[2:]), newest), PRACTICE)
    assert silent.paragraphs[1] == "Whether there was pain was never reported."


def test_each_session_that_passed_the_limit_of_load_stands_with_its_greatest(newest: Account) -> None:
    more = replace(PASSED, end_s=13.5, peak_N=500.0)
    chapters = (chapter(0, events=()), chapter(1, events=(PASSED, more, UNREAD)), chapter(2))
    found = section(make_progress(weeks(chapters=chapters), newest), PRACTICE)
    assert found.paragraphs[2] == (
        "A limit of load was set in 2 sessions, passed in 1. The load could not be read 1 time under it."
    )
    assert found.table is not None
    (row,) = found.table.rows
    assert row[0] == "2026-03-03" and row[2:] == ("2", "1.5", "60.0")
    first = section(make_progress(weeks(chapters=chapters), newest), "To bear in mind").points[0]
    assert first == "The limit of load was passed in 1 session, up to 60.0 kg; most recently on 2026-03-03."
    free = section(make_progress(weeks(chapters=chapters[2:]), newest), PRACTICE)
    assert free.paragraphs[2] == "No limit of load was set." and free.table is None


def test_stages_stand_in_their_order_with_what_they_came_to(newest: Account) -> None:
    chapters = (chapter(0, "raise-slow", 50.4), chapter(2, share=72.06), chapter(4, "raise-slow", 51.0), chapter(6))
    table = section(make_progress(weeks(chapters=chapters), newest), "Stage by stage").table
    assert table is not None
    first, second = table.rows
    assert first[2:7] == ("2026-03-02", "2026-03-06", "2", "45\u201355", "50.4 \u2192 51.0")
    assert second[2:8] == ("2026-03-04", "2026-03-08", "2", "70\u201380", "72.1 \u2192 74.0", "2 of 2")
    # who went back has two bars of one number
    assert [span.words for span in stages_of(weeks(chapters=chapters))] == ["1", "2", "1", "2"]
    assert sum(table.widths) == pytest.approx(1.0, abs=0.01)


def test_a_calibration_that_had_run_out_is_told_twice(newest: Account) -> None:
    # valid until 1 April: day 30
    document = make_progress(weeks(chapters=(chapter(29), chapter(30), chapter(31))), newest)
    assert "The calibration was out of date (1 of 3 sessions)." in section(document, "To bear in mind").points
    assert section(document, "Scales, method and cautions").paragraphs[0] == (
        f"Scale {CALIBRATION.device_id}, calibrated on 2026-01-02: 3 sessions; on 2026-04-02: out of date: it held"
        " until 2026-04-01."
    )


def test_a_calibration_that_does_not_say_until_when_it_holds_is_certified_for_no_day() -> None:
    endless = replace(CALIBRATION, valid_until=None)
    assert say_state(endless, date(2026, 11, 2)) == "until when that holds is not told"
    assert say_state(CALIBRATION, date(2026, 4, 2)).startswith("out of date")


def test_the_band_in_the_picture_is_the_one_of_that_day() -> None:
    history = weeks()
    panel = share_panel(history, span_of(history))
    assert panel is not None
    drawn = {x: y for series in panel.series for x, y in series.points}
    for one in history.chapters:
        x, share, band = number_of(one.day), one.share_percent, one.head.settings.band_percent
        assert drawn[x] == share
        (here,) = [ribbon for ribbon in panel.ribbons if ribbon.points[0][0] <= x <= ribbon.points[-1][0]]
        assert here.points[0][1:] == band


def test_what_asked_for_no_share_interrupts_the_band_and_has_no_mark() -> None:
    chapters = (chapter(0), chapter(5, "one-leg", None), chapter(9))
    history = weeks(chapters=chapters)
    panel = share_panel(history, span_of(history))
    assert panel is not None and [len(series.points) for series in panel.series] == [2]
    covered = [(ribbon.points[0][0], ribbon.points[-1][0]) for ribbon in aims_of(chapters, span_of(history))]
    assert len(covered) == 2 and not any(low <= number_of(chapters[1].day) <= high for low, high in covered)
    assert share_panel(weeks(chapters=chapters[1:2]), (0.0, 1.0)) is None


JARGON = ("share", "band", "impulse", "uncertainty", "criteri", "minimal detectable", " p =", "calibrat", "symmetr")


@pytest.mark.parametrize("events", [None, (PASSED,)])
@pytest.mark.parametrize("pain", [None, 0, 4])
def test_the_patients_page_is_plain_and_allows_nothing(pain: int | None, events: tuple[CeilingEvent, ...]) -> None:
    chapters = (chapter(0, "hold-10", 50.0, pain), chapter(20, events=events, pain=None), chapter(40, pain=pain))
    said = words_of(make_journey(weeks(chapters=chapters)))
    assert not [word for word in JARGON if word in said.lower().replace("weightshare", "").replace("grey band", "")]
    assert NEXT in said and all(words in said for words in CAUTIONS)
    assert "You practised on 3 days in 6 weeks." in said
    assert "The aim was 70 to 80 % of the load on your left foot." in said
    assert "At first the aim was 45 to 55 % of the load on your left foot." in said
    assert ("more load on your injured foot than was allowed" in said) is bool(events)
    assert ("You reported no pain." in said) is (pain == 0)
    assert ("The most pain you reported was 4 out of 10" in said) is (pain == 4)


LONG = ("W" * 64, "Weronika " * 22)
SCRIPTS = (
    "\u0416\u0438\u0442\u0435\u043b\u044c-7",
    "\u674e\u5c0f\u660e \u0623\u062d\u0645\u062f \u0928\u092e\u0938\u094d\u0924\u0947",
)


@pytest.mark.parametrize(
    ("sessions", "days", "who", "paper"), [(2, 2, LONG, "A4"), (24, 56, SCRIPTS, "A4"), (60, 120, LONG, "letter")]
)
def test_one_page_for_the_patient_and_three_for_the_clinician(
    newest: Account, sessions: int, days: int, who: tuple[str, str], paper: str
) -> None:
    history = weeks(sessions, days, person=Person(*who, "2025-12-15"))
    handout = PdfReader(io.BytesIO(to_pdf(make_journey(history), paper)))
    clinic = PdfReader(io.BytesIO(to_pdf(make_progress(history, newest), paper)))
    assert len(handout.pages) == 1 and len(clinic.pages) <= 3
    width, height = PAPERS[paper]
    for page in (*handout.pages, *clinic.pages):
        for x, y, text, size in placed(page):
            assert 20.0 < y < height - 20.0, text
            assert x > 20.0 and x + letter.width_of(text, size) < width - 20.0, text


def test_the_same_weeks_give_the_same_bytes(newest: Account) -> None:
    for make in (make_journey, lambda history: make_progress(history, newest)):
        assert to_pdf(make(weeks())) == to_pdf(make(weeks()))
        assert to_html(make(weeks())) == to_html(make(weeks()))
        assert Reader(to_html(make(weeks()))).open == []


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory, lowered: Path) -> Path:
    """A store with one patient, who has sessions on three days, pain, notes and a decision."""
    place = tmp_path_factory.mktemp("weeks")
    later = told.FIRST + timedelta(days=60)
    folders = [
        lowered,
        *(told.record(place, told.LOWERING, "raiser", 28.0, day=day, sets=told.one_set(28.0)) for day in (3, 9)),
    ]
    with make_store(place / "s", "tester", lambda: later) as store:
        one = make_patient("A-1", later.date(), name=NAME, affected=Affected.LEFT, injured_on="2025-12-15")
        patient = add_patient(store, one)
        for folder in folders:
            visit = take_in(store, patient, folder).visit
            at = visit.started_at
            say(store, patient, visit, Entry(About.PAIN_DURING, at, 2), Entry(About.NOTE, at, words=f"{NAME} was well"))
        programme = find_programme("achilles")
        prescription = programme.prescription(stage_of("lowering-75"))
        ruling = make_ruling(
            later.isoformat(), "M. Example", Choice.STAY, prescription, reason=f"{NAME} waits a week", evidence="{}"
        )
        keep_ruling(store, patient, ruling)
    return place / "s"


@pytest.mark.parametrize("reader", ["patient", "clinician"])
@pytest.mark.parametrize("form", ["pdf", "html"])
def test_a_code_is_reported_over_the_weeks_and_one_session_where_it_is_named(
    kept: Path, tmp_path: Path, form: str, reader: str
) -> None:
    to = tmp_path / f"a.{form}"
    words = ["report", "A-1", "--store", str(kept), "--for", reader, "--to", str(to)]
    assert main(words) == 0
    first, said = to.read_bytes(), text_of_file(to)
    assert ("You practised on 3 days in 10 days." in said) is (reader == "patient")
    assert ("Practised on 3 of 10 days." in said) is (reader == "clinician")
    assert "wilhelmina" not in said.lower() and b"wilhelmina" not in first.lower()
    if reader == "clinician":
        assert "A-1 waits a week" in said and "A-1 was well" in said and "M. Example" in said
        assert "3 sessions of this task on 3 days." in said and str(kept) not in said
    assert main(words) == 0
    assert to.read_bytes() == first
    assert main([*words, "--with-name"]) == 0
    assert NAME in text_of_file(to)
    assert main([*words, "--began", "newest"]) == 0
    alone = text_of_file(to)
    assert "Practised on 3 of" not in alone and ("Your practice on 11 March 2026" in alone) is (reader == "patient")


def test_an_older_session_is_reported_as_it_was_known_then(kept: Path, tmp_path: Path) -> None:
    to = tmp_path / "a.html"
    words = ["report", "A-1", "--store", str(kept), "--to", str(to), "--began"]
    assert main([*words, "2026-03-05"]) == 0
    assert "2 sessions of this task on 2 days, up to the day of this session; 1 later one left out." in text_of_file(to)
    assert main([*words, "newest"]) == 0
    assert "3 sessions of this task on 3 days." in text_of_file(to)


def test_a_stage_that_no_session_was_of_stands_by_its_name(newest: Account) -> None:
    ruling = Ruling("2026-03-01T10:00:00+01:00", "C. L.", "goes on", "lowering-85", "lowering-90")
    names = {key: stage_of(key).name for key in ("lowering-85", "lowering-90")}
    table = section(make_clinic(replace(newest, rulings=(ruling,), stage_names=names)), "Decisions").table
    assert table is not None and table.rows[0][3] == " \u2192 ".join(names.values())


def test_decisions_stand_up_to_the_one_that_followed() -> None:
    # ten in the morning at one place is nine at the next: what counts is when it was
    days = ("2026-03-01T10:00:00+01:00", "2026-03-05T08:30:00+00:00", "2026-03-05T12:00:00+01:00", "2026-03-09T10:00")
    rulings = [Ruling(at, "C. L.", "stays", "lowering-75") for at in days]
    assert rulings_until(rulings, "2026-03-05T10:00:00+01:00") == tuple(rulings[:3])
    assert rulings_until(rulings, "2026-02-01T10:00:00+01:00") == tuple(rulings[:1])
    assert rulings_until(rulings, "2026-04-01T10:00:00+01:00") == tuple(rulings)
    assert rulings_until(rulings, "") == tuple(rulings)
    found = decision_section(rulings[:3], {"lowering-75": "Down with 75 %"}, 2, later=1)
    assert found is not None and found.table is not None
    assert [row[3] for row in found.table.rows] == ["Down with 75 %"] * 2
    assert found.notes == ("1 earlier decision and 1 later decision in the report over the weeks.",)


def text_of_file(path: Path) -> str:
    if path.suffix == ".pdf":
        return text_of(path.read_bytes())
    return " ".join(" ".join(Reader(path.read_text(encoding="utf-8")).said).split())


def test_a_sealed_store_tells_the_same(kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    own = tmp_path / "temporary"
    own.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(own))
    later = told.FIRST + timedelta(days=60)
    with open_store(kept, "tester", lambda: later) as store:
        patient = find_patient(store, "A-1")
        visit = list_visits(store, patient)[1]
        expected = history_of(store, patient).chapters[1]
        shutil.copytree(store.sessions / visit.id, tmp_path / "session-one")
    with make_store(tmp_path / "sealed", "tester", lambda: later, PASSPHRASE) as store:
        patient = add_patient(store, make_patient("A-1", later.date(), name=NAME, affected=Affected.LEFT))
        take_in(store, patient, tmp_path / "session-one")
        (found,) = history_of(store, patient).chapters
    assert replace(found, ident=expected.ident) == expected
    # what lay open for a moment is gone
    assert not list(own.iterdir())


def test_what_was_struck_counts_no_more_over_the_weeks(kept: Path, tmp_path: Path) -> None:
    copy = tmp_path / "s"
    shutil.copytree(kept, copy)
    with open_store(copy, "C. L.", lambda: told.FIRST + timedelta(days=60)) as store:
        patient = find_patient(store, "A-1")
        before = history_of(store, patient).chapters[0]
        correct_visit(store, patient, list_visits(store, patient)[0], Wish("held on to the rail", 1))
        after, *_others = history_of(store, patient).chapters
    assert len(after.digest.repetitions) == len(before.digest.repetitions) - 1
    assert any("1 repetition struck" in words for words in after.digest.warnings)
    assert after.share_percent is not None and after.share_percent != before.share_percent


def test_what_cannot_be_read_is_named_and_counts_for_nothing(kept: Path, tmp_path: Path) -> None:
    copy = tmp_path / "s"
    shutil.copytree(kept, copy)
    with open_store(copy, "tester", lambda: told.FIRST + timedelta(days=5)) as store:
        patient = find_patient(store, "A-1")
        first = list_visits(store, patient)[0]
        (store.sessions / first.id / "analysis.json").write_text("{}")
        history = history_of(store, patient)
    assert [one.day for one in history.chapters] == [date(2026, 3, 5)]
    altered, future = history.left_out
    assert altered.startswith(f"{first.started_at}: cannot be used: sessions") and str(copy) not in altered
    assert future.endswith("is dated in the future: a clock was wrong")
