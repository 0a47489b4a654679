"""The patients in the window: the list, one patient, the decision, practice; for the clinician alone, by keys alone."""

from __future__ import annotations

import shutil
import time
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtTest import QTest

from tests.lab.weeks import CODE
from tests.unit.kept import PASSPHRASE, store_with
from tests.window.clinic import WORDS, Key, come_in, few, now, see, steps
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, press
from tests.window.walking import open_window, page_of
from weightshare.practice.role import IDLE_S, Role
from weightshare.records.assignment import read_assignment
from weightshare.records.passphrase import set_passphrase
from weightshare.records.place import store_place
from weightshare.records.store.patient import Affected, list_patients, make_patient
from weightshare.records.store.store import open_store
from weightshare.records.value import to_plain
from weightshare.window.app import _make_window, default_options, find_assigned
from weightshare.window.feed import Order

pytestmark = pytest.mark.usefixtures("clinics_own")


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


def test_the_patients_are_reached_before_there_are_scales(bench: Bench, own_scales: None) -> None:
    """F6 was dead on "Choose your scales": whoever had none had to take the virtual ones first."""
    few()
    set_passphrase(WORDS)
    window = open_window(bench)
    start = page_of(bench, window)
    press(bench, Key.Key_F6)
    bench.until(lambda: window.ward.lock_page.is_open)
    press(bench, Key.Key_Escape)
    bench.until(lambda: start.is_open and not start.is_leaving)
    press(bench, Key.Key_F6)
    bench.until(lambda: window.ward.lock_page.is_open)
    QTest.keyClicks(window.ward.lock_page.first, WORDS)
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._patients is not None and window._annex.patients.list.is_open)
    door = window._annex.patients
    bench.until(lambda: not door.clerk.is_busy)
    assert not start.is_open and len(door.list.table.rows.rows) == 3
    press(bench, Key.Key_Escape)
    bench.until(lambda: start.is_open)
    assert window.runner.feed is None, "a session began on scales that nobody chose"


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


def test_the_command_says_whose_session_it_is(bench: Bench, tmp_path: Path) -> None:
    mine = str(tmp_path / "mine.toml")
    options = replace(default_options(), save=tmp_path, code="A-1", place=mine)
    window = _make_window(options, bench.store, settled=False, wanted=None)
    bench.keep(window)
    assert (window.ward.order.charge.code, window.ward.order.charge.inbox) == ("A-1", str(tmp_path))
    assert window.ward.order.place == mine, "what it suggests is looked for in that very programme"
    window.ward.follow()
    assert window.ward.strip.name.text().startswith("A-1 ")
