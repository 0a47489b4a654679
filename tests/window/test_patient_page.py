"""One patient's page in the window: sessions, evidence, the decision signed, progress; by keys alone."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtGui import QFont, QTextDocument
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.lab.weeks import CODE
from tests.unit.kept import PASSPHRASE, seal_anew, store_with
from tests.unit.kept import session as fake_session
from tests.unit.test_store_readings import write
from tests.window.clinic import Key, come_in, few, now, see, steps
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, press
from weightshare.model import Side
from weightshare.programme.shelf import find_programme
from weightshare.records.evidence import weigh
from weightshare.records.place import store_place
from weightshare.records.setting import read_head, write_head
from weightshare.records.store.patient import Affected, find_patient, inbox_of, list_patients, make_patient
from weightshare.records.store.ruling import list_rulings
from weightshare.records.store.store import open_store
from weightshare.records.store.visit import list_visits, take_in
from weightshare.window.patientpage import DECISIONS, EVIDENCE, PROGRESS, SESSIONS, TRAIL, WEEKS
from weightshare.window.patientwords import say_evidence

pytestmark = pytest.mark.usefixtures("clinics_own")


@pytest.fixture
def story(weeks: Path) -> None:
    """The patient of the eight weeks is in the user's own store."""
    shutil.copytree(weeks, store_place())


def lines_high(words: str, font: QFont, width_px: int) -> float:
    """Return how high Qt's own text engine makes `words` in a cell so wide, with the theme's padding of 8 px."""
    document = QTextDocument()
    document.setDefaultFont(font)
    document.setDocumentMargin(0.0)
    document.setTextWidth(width_px - 2 * 8)
    document.setPlainText(words)
    return document.size().height()


def test_the_page_tells_of_sessions_and_progress_with_the_band(bench: Bench) -> None:
    few()
    _window, door = come_in(bench)
    see(bench, door, "a-1")
    page = door.page
    assert page.tabs.currentIndex() == SESSIONS and page.sessions.hasFocus()
    assert [row[0][:10] for row in page.sessions.rows.rows] == [f"2026-03-0{day}" for day in (6, 5, 4, 3, 2)]
    press(bench, Key.Key_P, ALT)
    bench.until(lambda: page.tabs.currentIndex() == PROGRESS)
    assert page.progress.list.hasFocus() and page.progress.picture.shown is not None
    assert "No real change: it varies by up to " in page.progress.said.text() and page.progress.method.isVisible()
    shown, task = page.progress.list, page.progress.list.item(0).text()
    few_rows = shown.count()
    assert shown.currentRow() == 1 and 3 <= few_rows <= 4 and "on the left side" in task
    for width in (440, 200):
        shown.setFixedWidth(width)
        bench.app.processEvents()
        needed = lines_high(task, shown.item(0).font().resolve(shown.font()), shown.viewport().width())
        assert needed <= shown.visualItemRect(shown.item(0)).height() <= 1.6 * needed, "dates were cut"
    assert not any("on the left side" in shown.item(row).text() for row in range(1, few_rows)), "it stood on each row"
    press(bench, Key.Key_Up)
    assert shown.currentRow() == 1, "a task cannot be chosen"
    press(bench, Key.Key_Down)
    figure = shown.currentItem().text()
    press(bench, Key.Key_A, ALT)
    bench.until(lambda: shown.count() > few_rows)
    assert shown.currentItem().text() == figure and any(
        ", right: " in shown.item(row).text() for row in range(2, shown.count())
    )
    press(bench, Key.Key_W, ALT)
    bench.until(lambda: page.tabs.currentIndex() == WEEKS)
    assert "Practised on 5 of 5 days" in page.weeks.said.text()
    press(bench, Key.Key_E, ALT)
    bench.until(lambda: page.tabs.currentIndex() == EVIDENCE)
    assert "no stage of a programme" in page.evidence.said.text() and not page.evidence.sign.isEnabled()
    assert steps("A-1").count("saw") == 1


def test_the_evidence_row_by_row_and_the_decision_signed_in_two_steps(bench: Bench, story: None) -> None:
    _window, door = come_in(bench)
    see(bench, door, CODE)
    page, tab = door.page, door.page.evidence
    assert page.sight is not None and page.sight.patient.stage == "lowering-90"
    press(bench, Key.Key_E, ALT)
    bench.until(lambda: page.tabs.currentIndex() == EVIDENCE)
    rows = {re.split(r" \(|\n", row[0])[0]: row for row in tab.table.rows.rows}
    assert len(rows) == len(tab.table.rows.rows) == 14
    widths = [tab.table.columnWidth(column) for column in range(6)]
    assert abs(sum(widths) - tab.table.viewport().width()) <= 2
    for row, cells in enumerate(tab.table.rows.rows):
        needed = lines_high(cells[0], tab.table.font(), widths[0])
        assert needed <= tab.table.rowHeight(row) < needed + 2 * tab.table.fontMetrics().height(), cells[0]
    assert rows["for the clinician to judge"][0].endswith("\n\u2013 it is the clinician's to judge")
    assert tab.table.rows.heads[2].count("k = 2") == 1 and "\u00b1" in rows["mean time of the lowering"][2]
    assert rows["sets done with all repetitions"][3].startswith("\u25cf met")
    assert rows["height of the raise against the other side"][4].partition(" ")[0] in ("\u25cf", "\u25cb", "\u2715")
    assert "clinician decides" in tab.said.text() and "locked" in tab.said.text()
    tab.table.selectRow(6)
    assert "Trials 17" in tab.line.text() and "Over 3 days" in tab.line.text()
    assert re.search(r"\d \u00b1 [\d.]+ \(k = 2\)\. ", tab.line.text().replace("\u00a0", " ")), "the days' as the set's"
    press(bench, Key.Key_R, ALT)
    assert tab.reason.hasFocus()
    press(bench, Key.Key_Return)
    assert tab.ready is None and "reason" in tab.wrong.text(), "none is signed without one"
    QTest.keyClicks(tab.reason, "a week more")
    press(bench, Key.Key_Return)
    assert tab.ready is None and tab.by.hasFocus(), "nor without a name"
    QTest.keyClicks(tab.by, "X. Y.")
    press(bench, Key.Key_Return)
    assert tab.ready is not None and "lowering-90 \u2192 lowering-90" in tab.wrong.text()
    press(bench, Key.Key_Escape)
    assert tab.ready is None and page.is_open
    press(bench, Key.Key_Return)
    press(bench, Key.Key_Return)
    bench.until(lambda: "Signed and kept" in tab.wrong.text())
    with open_store(store_place(), "tester", now) as store:
        patient = find_patient(store, CODE)
        newest = list_rulings(store, patient)[-1]
    assert (newest.by, newest.what, newest.note) == ("X. Y.", "stays", "a week more")
    assert '"criteria"' in newest.evidence and patient.stage == "lowering-90", "it moves nobody"
    press(bench, Key.Key_D, ALT)
    bench.until(lambda: page.tabs.currentIndex() == DECISIONS)
    assert page.decisions.rows.rows[0][4] == "a week more"
    assert {"saw", "looked at the evidence", "decided"} <= set(steps(CODE))
    press(bench, Key.Key_O, ALT)
    bench.until(lambda: page.tabs.currentIndex() == TRAIL and not door.clerk.is_busy)
    shown = [page.trail.item(row).text() for row in range(page.trail.count())]
    assert "decided" in shown[0] and "looked at the evidence" in shown[1], "it was read once, and ended at 'saw'"


@pytest.mark.parametrize("affected", [Affected.BOTH, Affected.LEFT])
def test_with_both_sides_injured_the_evidence_says_whose_share_it_is(affected: Affected) -> None:
    kept = find_programme("achilles")
    evidence = weigh(kept.prescription(kept.find("raise")), (), {})
    patient = replace(make_patient("K-2", now().date()), affected=affected)
    asked, left = say_evidence(evidence, patient), say_evidence(replace(evidence, followed=Side.LEFT), patient)
    is_open = affected is Affected.BOTH
    assert ("of the side that a session follows" in asked) is is_open
    assert ("Shares are of the left side" in left) is is_open


@pytest.mark.parametrize("secret", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_a_session_is_looked_back_at_and_the_page_comes_again(
    bench: Bench, weeks: Path, secret: str | None, tmp_path: Path
) -> None:
    with open_store(weeks, "tester", now) as old:
        visit = list_visits(old, find_patient(old, CODE))[-1]
        shutil.copytree(old.sessions / visit.id, tmp_path / "session-1")
    with store_with(store_place(), CODE, secret, affected=Affected.LEFT) as (store, patient):
        take_in(store, patient, tmp_path / "session-1")
    window, door = come_in(bench)
    if secret is not None:
        QTest.keyClicks(door.list.gate.first, secret)
        press(bench, Key.Key_Return)
        bench.until(lambda: not door.list.gate.isVisible() and not door.clerk.is_busy)
    see(bench, door, CODE)
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._past is not None and window._annex.past.view is not None, 30.0)
    laid = door.case.laid
    assert laid is not None and laid.folder.is_dir() and not door.page.is_open
    press(bench, Key.Key_Escape)
    assert door.page.is_open and door.page.sessions.hasFocus() and not door.is_waiting
    assert laid.folder.is_dir() is (secret is None), "a copy of what is sealed is gone again"


def test_what_was_recorded_is_taken_in_before_the_page_is_shown(bench: Bench) -> None:
    few()
    with open_store(store_place(), "tester", now) as store:
        patient = find_patient(store, "B-2")
        fake_session(inbox_of(store, patient), 9)
    _window, door = come_in(bench)
    see(bench, door, "b-2")
    assert [row[0][:10] for row in door.page.sessions.rows.rows] == ["2026-03-11"]
    with open_store(store_place(), "tester", now) as store:
        assert len(list_patients(store)) == 3
    assert QApplication.focusWidget() is door.page.sessions


def test_what_was_recorded_is_taken_in_when_the_window_closes(bench: Bench) -> None:
    few()
    window, door = come_in(bench)
    see(bench, door, "b-2")
    press(bench, Key.Key_F5)
    bench.until(lambda: window.ward.stage_page.is_open)
    fake_session(Path(window.ward.order.charge.inbox), 9)
    window.close()
    with open_store(store_place(), "tester", now) as store:
        assert len(list_visits(store, find_patient(store, "B-2"))) == 1


def test_settled_readings_stand_among_the_sessions(bench: Bench) -> None:
    few()
    with open_store(store_place(), "tester", now) as store:
        write(inbox_of(store, find_patient(store, "B-2")), None, 47.5).close()
    _window, door = come_in(bench)
    see(bench, door, "b-2")
    (row,) = door.page.sessions.rows.rows
    assert row[1] == "settled readings" and row[3] == "48 %" and row[9] == "2 readings"
    press(bench, Key.Key_Return)
    assert door.page.is_open and "2 readings, share 48 %" in door.page.said.text()


def test_the_morning_after_is_asked_for_and_told(bench: Bench) -> None:
    """Of a session of yesterday, whose next morning nobody has told of."""
    yesterday = now() - timedelta(days=1)
    with store_with(store_place(), "A-1", affected=Affected.LEFT) as (store, patient):
        folder = fake_session(store.place.parent / "made", 0)
        write_head(folder, replace(read_head(folder), started_at=yesterday.isoformat(timespec="seconds")))
        seal_anew(folder)
        take_in(store, patient, folder)
    _window, door = come_in(bench)
    see(bench, door, "a-1")
    page = door.page
    assert page.morning.isVisible() and yesterday.date().isoformat() in page.morning.text()
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: door.case.tell.is_open)
    press(bench, Key.Key_3)
    press(bench, Key.Key_Return)
    bench.until(lambda: page.is_open and not door.clerk.is_busy)
    assert not page.morning.isVisible()
    assert "told of in 1 of 1 session, 3 of 10" in page.weeks.said.text(), "it was '1 of 1 sessions'"
    assert page.sessions.rows.rows[0][7] == "3" and "wrote in a diary" in steps("A-1")
