"""The patients in the window: the list, one patient, the decision, practice; for the clinician alone, by keys alone."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.lab.weeks import CODE
from tests.unit.kept import PASSPHRASE, seal_anew, store_with
from tests.unit.kept import session as fake_session
from tests.unit.test_store_readings import write
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, press
from weightshare.practice.role import IDLE_S, Role
from weightshare.records import passphrase
from weightshare.records.assignment import read_assignment
from weightshare.records.passphrase import set_passphrase
from weightshare.records.place import store_place
from weightshare.records.setting import read_head, write_head
from weightshare.records.store import cipher
from weightshare.records.store.patient import Affected, add_patient, find_patient, inbox_of, list_patients, make_patient
from weightshare.records.store.ruling import list_rulings
from weightshare.records.store.store import open_store
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import list_visits, take_in
from weightshare.records.value import to_plain
from weightshare.window.app import find_assigned
from weightshare.window.feed import Order
from weightshare.window.main import PracticeWindow
from weightshare.window.patientdoor import PatientDoor
from weightshare.window.patientpage import DECISIONS, EVIDENCE, PROGRESS, SESSIONS, WEEKS

Key = Qt.Key
WORDS = "a rail within reach"


@pytest.fixture(autouse=True)
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr(passphrase.set_passphrase, "__kwdefaults__", {"work": 1 << 4})
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    yield


def now() -> Any:
    from datetime import datetime

    return datetime.now().astimezone()


def few(secret: str | None = None) -> None:
    """Make a store with three patients, of whom one has sessions on five days."""
    with store_with(store_place(), "A-1", secret, affected=Affected.LEFT, name="Demo One") as (store, patient):
        for day in range(5):
            take_in(store, patient, fake_session(store.place.parent / f"made-{day}", day, 50.0 + day % 3))
        for code, side in (("B-2", Affected.RIGHT), ("C-3", Affected.BOTH)):
            add_patient(store, make_patient(code, store.clock().date(), affected=side))


@pytest.fixture
def story(weeks: Path) -> None:
    """The patient of the eight weeks is in the user's own store."""
    shutil.copytree(weeks, store_place())


def come_in(bench: Bench) -> tuple[PracticeWindow, PatientDoor]:
    """Open the window, unlock it, and ask for the patients; come back when the list, or what is before it, is there."""
    set_passphrase(WORDS)
    window = bench.open()
    press(bench, Key.Key_F6)
    assert window.ward.lock_page.is_open, "the patients are the clinician's to see"
    QTest.keyClicks(window.ward.lock_page.first, WORDS)
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._patients is not None and window._annex._patients.list.is_open)
    door = window._annex.patients
    bench.until(lambda: not door.clerk.is_busy)
    return window, door


def see(bench: Bench, door: PatientDoor, words: str) -> None:
    """Look for a patient, open the page, and wait until all of it is there."""
    QTest.keyClicks(door.list.words, words)
    press(bench, Key.Key_Return)
    bench.until(lambda: door.page.sight is not None and not door.clerk.is_busy, 60.0)


def steps(code: str) -> list[str]:
    with open_store(store_place(), "tester", now) as store:
        return [step.what for step in read_trail(store, find_patient(store, code).id)]


def test_a_patient_at_the_screen_sees_nobody(bench: Bench) -> None:
    few()
    set_passphrase(WORDS)
    window = bench.open()
    assert not window.ward.strip.patients.isVisible()
    press(bench, Key.Key_F6)
    press(bench, Key.Key_Escape)
    assert not window.is_covered and window._annex._patients is None
    press(bench, Key.Key_F3)
    QTest.keyClicks(window.ward.lock_page.first, WORDS)
    press(bench, Key.Key_Return)
    bench.until(lambda: window.ward.keeper.role is Role.CLINICIAN)
    assert window._annex._patients is None, "who left the passphrase then asked for nothing now"
    assert window.ward.strip.patients.isVisible()


def test_the_list_is_searched_and_sorted_by_keys(bench: Bench) -> None:
    few()
    window, door = come_in(bench)
    page = door.list
    assert [row[0] for row in page.table.rows.rows] == ["A-1", "B-2", "C-3"]
    assert page.table.rows.rows[0] == ("A-1", "Demo One", "left", "", "5", "2026-03-06 10:00")
    page.setFocus()
    # typed over the list they are looked for too
    QTest.keyClicks(page, "right")
    assert [row[0] for row in page.table.rows.rows] == ["B-2"] and page.words.hasFocus()
    QTest.keyClicks(page.words, " nobody")
    assert page.table.rows.rows == () and "Nobody" in page.said.text() and not page.key.isEnabled()
    page.words.clear()
    press(bench, Key.Key_Down)
    press(bench, Key.Key_N, ALT)
    bench.until(lambda: page._is_newest_first)
    assert page._found[page.table.row].patient.code == "B-2", "who is chosen stays chosen"
    press(bench, Key.Key_Escape)
    assert not window.is_covered and page.table.rows.rows == ()
    bench.until(lambda: window.runner.feed is not None)


def test_somebody_is_added_and_changed_and_what_is_wrong_stands_beside_it(bench: Bench) -> None:
    few()
    _window, door = come_in(bench)
    press(bench, Key.Key_A, ALT)
    bench.until(lambda: door.form.is_open)
    form = door.form
    QTest.keyClicks(form.code, "A-1")
    form.day.setText("2999-01-01")
    press(bench, Key.Key_Return)
    bench.until(lambda: bool(form.wrong.text()))
    assert "future" in form.wrong.text() and form.day.hasFocus() and "--" not in form.wrong.text()
    form.day.setText("2026-01-02")
    press(bench, Key.Key_Return)
    bench.until(lambda: "already" in form.wrong.text())
    form.code.setText("D-4")
    form.side.setCurrentIndex(2)
    form.programme.setCurrentIndex(1)
    form.programme.activated.emit(1)
    form.stage.setCurrentIndex(3)
    press(bench, Key.Key_Return)
    bench.until(lambda: door.page.is_open and not door.clerk.is_busy)
    assert "right side injured" in door.page.about.text() and "Raise on two legs, slowly" in door.page.about.text()
    press(bench, Key.Key_C, ALT)
    bench.until(lambda: form.is_open)
    assert form.code.text() == "D-4" and form.stage.currentData() == "raise-slow"
    form.name.setText("Demo Four")
    press(bench, Key.Key_Return)
    bench.until(lambda: door.page.is_open and not door.clerk.is_busy)
    assert door.page.title.text() == "D-4   Demo Four"
    assert steps("D-4")[0] == "added" and "changed" in steps("D-4")


def test_no_store_is_offered_to_be_made_and_a_sealed_one_asks(bench: Bench) -> None:
    _window, door = come_in(bench)
    gate = door.list.gate
    assert gate.isVisible() and "no store" in gate.title.text() and "loses the passphrase" in gate.words.text()
    QTest.keyClicks(gate.first, PASSPHRASE)
    press(bench, Key.Key_Return)
    assert "not the same" in gate.wrong.text()
    QTest.keyClicks(gate.second, PASSPHRASE)
    press(bench, Key.Key_Return)
    bench.until(lambda: not gate.isVisible())
    door.shut()
    press(bench, Key.Key_F6)
    bench.until(gate.isVisible)
    assert "sealed" in gate.title.text() and not gate.second.isVisible()
    QTest.keyClicks(gate.first, "another one altogether")
    press(bench, Key.Key_Return)
    bench.until(lambda: gate.first.isEnabled() and bool(gate.wrong.text()))
    assert "passphrase" in gate.wrong.text() and gate.first.text() == ""
    QTest.keyClicks(gate.first, PASSPHRASE)
    press(bench, Key.Key_Return)
    bench.until(lambda: not gate.isVisible())


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        ("PRAGMA user_version = 99", "newer"),
        ("PRAGMA application_id = 1", "another program"),
        ("", "damaged"),
    ],
)
def test_a_store_that_cannot_be_used_says_why_and_what_to_do(bench: Bench, spoil: str, said: str) -> None:
    import sqlite3

    few()
    path = store_place() / "store.sqlite3"
    if spoil:
        with sqlite3.connect(path) as db:
            db.execute(spoil)
        db.close()
    else:
        path.write_bytes(b"no database at all" * 100)
    window, door = come_in(bench)
    assert said in door.list.said.text(), door.list.said.text()
    press(bench, Key.Key_Escape)
    assert not window.is_covered


def test_a_full_disk_is_said_and_nothing_is_lost(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    import errno

    few()
    _window, door = come_in(bench)

    def fill(*_words: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(store_place()))

    monkeypatch.setattr("weightshare.window.patientcase.add_patient", fill)
    press(bench, Key.Key_A, ALT)
    bench.until(lambda: door.form.is_open)
    QTest.keyClicks(door.form.code, "E-5")
    press(bench, Key.Key_Return)
    bench.until(lambda: "disk is full" in door.form.wrong.text())
    assert door.form.code.text() == "E-5", "what was typed is still there"


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
    assert "No real change: by " in page.progress.said.text() and page.progress.method.isVisible()
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
    rows = {row[0].partition(" (")[0]: row for row in tab.table.rows.rows}
    assert len(rows) == len(tab.table.rows.rows) == 14
    assert rows["sets done with all repetitions"][3].startswith("\u25cf met")
    assert rows["height of the raise against the other side"][4].partition(" ")[0] in ("\u25cf", "\u25cb", "\u2715")
    assert "clinician decides" in tab.said.text() and "locked" in tab.said.text()
    tab.table.selectRow(6)
    assert "Trials 17" in tab.line.text() and "Over 3 days" in tab.line.text()
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


def test_a_patient_is_practised_with_and_stays_so_between_starts(bench: Bench) -> None:
    more = {"programme": "achilles", "stage": "lowering-90"}
    with store_with(store_place(), CODE, affected=Affected.LEFT, **more):
        pass
    window, door = come_in(bench)
    see(bench, door, CODE)
    press(bench, Key.Key_F5)
    bench.until(lambda: not window.is_covered and window.runner.feed is not None)
    settings = bench.feed.asked[0][1]
    assert (settings.target_percent, str(settings.injured)) == (90.0, "left")
    bench.until(lambda: window.ward.strip.name.text().startswith(CODE))
    inbox = Path(window.ward.order.charge.inbox)
    assert inbox.parent == store_place() / "inbox" and inbox.is_dir()
    press(bench, Key.Key_F3)
    assert window.ward.keeper.role is Role.PATIENT
    kept = read_assignment()
    assert kept is not None and (kept.code, kept.inbox) == (CODE, str(inbox))
    order = Order()
    find_assigned(order)
    assert (order.charge.code, order.charge.inbox, order.trouble) == (CODE, str(inbox), "")
    shutil.rmtree(inbox)
    find_assigned(order := Order())
    assert CODE in order.trouble, "no session goes astray"


def test_a_locked_stage_leads_to_the_programmes(bench: Bench) -> None:
    more = {"programme": "achilles", "stage": "one-leg"}
    with store_with(store_place(), "A-1", affected=Affected.RIGHT, **more):
        pass
    window, door = come_in(bench)
    see(bench, door, "a-1")
    press(bench, Key.Key_F5)
    bench.until(lambda: window.ward.stage_page.is_open)
    assert "locked" in window.ward.stage_page.wrong.text()
    press(bench, Key.Key_Escape)
    assert not window.is_covered


def test_who_goes_away_leaves_no_page_open(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    few()
    window, door = come_in(bench)
    see(bench, door, "a-1")
    keeper = window.ward.keeper
    keeper._touched_s -= IDLE_S + 1.0
    bench.until(lambda: not door.is_open)
    assert keeper.role is Role.PATIENT and not door.clerk.is_open and not window.is_covered
    assert door.case.patient is None


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


def test_thousands_are_searched_without_a_wait(bench: Bench) -> None:
    """As a ratio within one run: a letter costs less than reading the list from the store does."""
    few()
    with open_store(store_place(), "tester", now) as store:
        made = [make_patient(f"P-{number:05}", now().date(), name=f"Demo {number}") for number in range(3000)]
        rows = [(one.id, store.box.mark(one.code), store.seal(to_plain(one), f"patient {one.id}")) for one in made]
        with store.writing() as db:
            db.executemany("INSERT INTO patient (id, mark, body) VALUES (?, ?, ?)", rows)
        began_s = time.process_time()
        assert len(list_patients(store)) == 3003
        reading_s = time.process_time() - began_s
    _window, door = come_in(bench)
    assert len(door.list.table.rows.rows) == 3003
    spent_s = []
    for letter in "p-0123":
        began_s = time.process_time()
        QTest.keyClicks(door.list.words, letter)
        bench.app.processEvents()
        spent_s.append(time.process_time() - began_s)
    assert len(door.list.table.rows.rows) == 10 and sorted(spent_s)[2] < reading_s


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
    assert page.sessions.rows.rows[0][7] == "3" and "wrote in a diary" in steps("A-1")
