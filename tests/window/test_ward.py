"""Roles and stages at the window: who may set what, what the patient sees, what is remembered."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.shown import snapshot
from tests.window.conftest import Bench, fresh
from tests.window.test_keyboard import ALT, press, show, to_ready, type_in
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.role import IDLE_S, Role
from weightshare.practice.screen import Step
from weightshare.records import passphrase
from weightshare.records.assignment import read_assignment
from weightshare.records.diary import About, read_diary
from weightshare.records.passphrase import set_passphrase
from weightshare.records.place import passphrase_file
from weightshare.state import State
from weightshare.task import Goal, Settings
from weightshare.window.app import find_assigned
from weightshare.window.feed import Ended, Order
from weightshare.window.main import PracticeWindow

Key = Qt.Key
WORDS = "a rail within reach"
pytestmark = pytest.mark.usefixtures("own_place")


def role(window: PracticeWindow) -> Role:
    return window.ward.keeper.role


def unlock(bench: Bench, window: PracticeWindow, words: str = WORDS) -> None:
    press(bench, Key.Key_F3)
    type_in(bench, words)
    bench.until(window.ward.lock_page.first.isEnabled)


def test_the_first_passphrase_is_set_typed_twice_and_kept_as_a_hash(bench: Bench) -> None:
    window = bench.open()
    assert role(window) is Role.OPEN
    press(bench, Key.Key_F3)
    page = window.ward.lock_page
    assert page.is_open and page.first.hasFocus() and not window.bar.isEnabled()
    QTest.keyClicks(page.first, WORDS)
    press(bench, Key.Key_Tab)
    QTest.keyClicks(page.second, WORDS[:-1])
    press(bench, Key.Key_Return)
    assert "not the same" in page.wrong.text() and not passphrase.has_passphrase()
    QTest.keyClicks(page.second, WORDS[-1])
    press(bench, Key.Key_Return)
    bench.until(lambda: not page.is_open)
    assert role(window) is Role.CLINICIAN and window.board.hasFocus() and window.bar.isEnabled()
    assert page.first.text() == "" and WORDS.encode() not in passphrase_file().read_bytes()


def test_a_short_one_says_so_and_nothing_is_locked(bench: Bench) -> None:
    window = bench.open()
    press(bench, Key.Key_F3)
    page = window.ward.lock_page
    for box in (page.first, page.second):
        QTest.keyClicks(box, "short")
    press(bench, Key.Key_Return)
    bench.until(page.first.isEnabled)
    assert "8 characters" in page.wrong.text()
    press(bench, Key.Key_Escape)
    assert not page.is_open and role(window) is Role.OPEN and window.board.hasFocus()


def test_the_patient_can_set_nothing_and_the_clinician_again_everything(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    show(bench, window, State.ZEROING, None, zero_taken=None, body_weight_N=None)
    assert role(window) is Role.PATIENT
    assert not any(widget.isVisible() for widget in (*window.bar.measured, window.bar.more, window.bar.calibrate))
    assert not any(widget.isEnabled() for widget in (*window.bar.measured, *window.desk.sheet.measured))
    assert window.bar.clinical.isHidden()
    press(bench, Key.Key_V)
    window.tick()
    assert not window.bar.clinical.isChecked() and not window.flow.clinical
    before = window.flow.settings, window.flow.goal
    for key in (Key.Key_T, Key.Key_I, Key.Key_X, Key.Key_M, Key.Key_B):
        press(bench, key, ALT)
        type_in(bench, "60") if window.focusWidget() not in (window.board, None) else None
    assert (window.flow.settings, window.flow.goal) == before and window.desk.sheet.isHidden()
    press(bench, Key.Key_F2)
    assert window.ward.lock_page.is_open, "the stage is the clinician's to choose"
    press(bench, Key.Key_Escape)
    unlock(bench, window, "something else")
    assert "not the passphrase" in window.ward.lock_page.wrong.text() and window.ward.is_shut
    type_in(bench, WORDS)
    bench.until(lambda: not window.ward.lock_page.is_open)
    assert role(window) is Role.CLINICIAN
    assert window.bar.target.isVisible() and window.bar.target.isEnabled()
    press(bench, Key.Key_V)
    window.tick()
    assert window.flow.clinical and window.evidence.isVisible()
    window.ward.turn()
    assert not window.flow.clinical and window.evidence.isHidden(), "what the clinician saw is not the patient's"


def test_practising_goes_on_whoever_presses_f2_or_f3(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    to_ready(bench, window)
    assert window.ward.strip.isVisible()
    press(bench, Key.Key_Space)
    show(bench, window, State.IN_BAND, 75.0)
    assert window.flow.step is Step.PRACTISE and window.ward.strip.isHidden()
    for key in (Key.Key_F2, Key.Key_F3, Key.Key_F4):
        press(bench, key)
        assert not window.ward.is_open


def choose_stage(bench: Bench, window: PracticeWindow, exercise: Exercise) -> None:
    press(bench, Key.Key_F2)
    page = window.ward.stage_page
    assert page.is_open and page.stages is not None and page.list.hasFocus()
    row = next(row for row, stage in enumerate(page.stages.stages) if stage.exercise is exercise)
    while page.list.currentRow() < row:
        press(bench, Key.Key_Down)
    press(bench, Key.Key_Return)


def test_a_stage_is_chosen_by_keys_and_the_patient_reads_what_it_asks(bench: Bench) -> None:
    window = bench.open()
    feeds = len(bench.feeds)
    choose_stage(bench, window, Exercise.LOWERING)
    bench.until(lambda: len(bench.feeds) == feeds + 1 and window.runner.feed is not None)
    window.tick()
    stage = window.ward.order.prescription
    assert stage is not None and window.flow.settings.exercise is Exercise.LOWERING
    assert window.flow.settings.injured is Side.RIGHT, "the side that was set stays"
    assert window.ward.strip.name.text() == stage.stage.name
    assert "on the right foot" in window.ward.strip.asked.text() and stage.stage.note in window.ward.strip.asked.text()
    assert window.bar.target.value() == stage.stage.target_percent and window.board.hasFocus()
    assert bench.feed.asked[0][1:] == (window.flow.settings, window.flow.goal)


def test_what_is_set_by_hand_beside_the_stage_is_noted_and_another_exercise_leaves_it(bench: Bench) -> None:
    window = bench.open()
    choose_stage(bench, window, Exercise.LOWERING)
    bench.until(lambda: window.runner.feed is not None)
    window.bar.target.setValue(66.0)
    window.tick()
    stage = window.ward.order.prescription
    assert stage is not None and "target_percent 66" in stage.changed[0]
    window.bar.exercise.choose(Exercise.SQUAT)
    window.tick()
    assert window.ward.order.prescription is None and window.ward.strip.name.text() == "Squats"


def test_a_locked_stage_is_not_begun_and_is_freed_in_a_copy_by_the_clinician_alone(bench: Bench) -> None:
    window = bench.open()
    choose_stage(bench, window, Exercise.SINGLE_LOWERING)
    page = window.ward.stage_page
    assert page.is_open and "is locked" in page.wrong.text() and not page.key.isEnabled()
    page.copy.click()
    assert page.stages is not None and page.stages.is_own
    page.free.click()
    assert "passphrase first" in page.wrong.text() and page.who.isHidden()
    press(bench, Key.Key_Escape)
    set_passphrase(WORDS)
    window.ward.keeper.take_try(time.monotonic(), right=True)
    place = page.stages.kept.place if page.stages.kept is not None else ""
    window.ward.order.place = place
    press(bench, Key.Key_F2)
    assert page.stages.kept is not None and page.stages.kept.place == place
    row = next(n for n, stage in enumerate(page.stages.stages) if stage.exercise is Exercise.SINGLE_LOWERING)
    page.list.setCurrentRow(row)
    assert page.who.isVisible()
    bench.app.processEvents()
    assert page.list.viewport().rect().contains(page.list.visualItemRect(page.list.currentItem())), (
        "chosen, not in sight"
    )
    press(bench, Key.Key_Y, ALT)
    QTest.keyClicks(page.who, "AB")
    press(bench, Key.Key_Return)
    assert "Freed by AB" in page.details.text() and page.key.isEnabled()
    press(bench, Key.Key_Return)
    bench.until(lambda: not page.is_open)
    assert window.flow.settings.exercise is Exercise.SINGLE_LOWERING


def test_locking_leaves_the_stage_for_the_next_start(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    choose_stage(bench, window, Exercise.LOWERING)
    bench.until(lambda: window.runner.feed is not None)
    press(bench, Key.Key_F3)
    assert role(window) is Role.PATIENT and window.ward.strip.stages.isHidden()
    kept = read_assignment()
    assert kept is not None and kept.settings == window.flow.settings and kept.goal == window.flow.goal
    order = Order()
    options = find_assigned(order)
    assert (options.settings, options.goal) == (kept.settings, kept.goal)
    assert order.prescription == kept.prescription and order.place == "achilles" and not order.trouble


def test_a_clinician_who_went_away_is_locked_out_with_what_was_set(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic() - IDLE_S - 1.0, right=True)
    window.tick()
    assert window.ward.is_shut and read_assignment() is not None


def test_the_page_of_stages_does_not_stay_open_for_a_patient(bench: Bench) -> None:
    """The clinician went away with it open, and whoever came next could choose a stage."""
    set_passphrase(WORDS)
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    press(bench, Key.Key_F2)
    assert window.ward.stage_page.is_open
    window.ward.keeper.touch(time.monotonic() - IDLE_S - 1.0)
    window.tick()
    assert window.ward.is_shut and not window.ward.is_open


def test_typing_in_a_field_is_no_absence(bench: Bench) -> None:
    """A field takes its keys itself, and the window never saw them."""
    set_passphrase(WORDS)
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    window.bar.target.setFocus()
    window.ward.keeper.touch(time.monotonic() - IDLE_S - 1.0)
    press(bench, Key.Key_6)
    window.tick()
    assert not window.ward.is_shut
    window.ward.keeper.lock()
    window.tick()
    assert not window.ward._watches


def test_where_nothing_is_assigned_nothing_begins(bench: Bench) -> None:
    """A patient must not meet the newcomer's 75 % because a file was lost."""
    set_passphrase(WORDS)
    order = Order()
    find_assigned(order)
    assert order.trouble
    window = PracticeWindow(
        Settings(Side.LEFT), Goal(), ("tcp://127.0.0.1:7000",), bench._make, bench.store, order=order
    )
    bench.store.cautions_read = True
    bench.keep(window)
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    bench.until(lambda: window.ward.lock_page.is_open)
    for key in (Key.Key_Escape, Key.Key_F5, Key.Key_Space):
        press(bench, key)
    assert window.ward.lock_page.is_open and not bench.feeds
    type_in(bench, WORDS)
    bench.until(lambda: bool(bench.feeds) and window.runner.feed is not None)
    assert role(window) is Role.CLINICIAN


def test_an_alarm_takes_every_page_away(bench: Bench) -> None:
    window = bench.open()
    press(bench, Key.Key_F2)
    assert window.ward.is_open
    window.ward.uncover()
    assert not window.ward.is_open and window.bar.isEnabled()


def test_pain_is_asked_before_and_after_and_kept_with_the_session(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = bench.open()
    choose_stage(bench, window, Exercise.HEEL_HOLD)
    bench.until(lambda: window.runner.feed is not None)
    to_ready(bench, window)
    press(bench, Key.Key_F4)
    page = window.ward.teller.page
    assert page.is_open and page.fields[About.PAIN_BEFORE].hasFocus() and page.fields[About.EFFORT].isHidden()
    press(bench, Key.Key_6)
    assert "It may be better to rest" in page.said.text()
    press(bench, Key.Key_Return)
    assert not page.is_open and "It may be better to rest" in window.notice.words.text()
    window.notice.clear()
    place = tmp_path / "session"
    place.mkdir()
    monkeypatch.setattr(bench.feed, "stop", lambda: Ended(str(place)))
    press(bench, Key.Key_Space)
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_Escape)
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    assert "How was it" in window.notice.words.text()
    press(bench, Key.Key_F4)
    assert page.is_open and not page.fields[About.PAIN_AFTER].isHidden()
    for key in (Key.Key_2, Key.Key_Down, Key.Key_1, Key.Key_0, Key.Key_Down, Key.Key_5, Key.Key_Down):
        press(bench, key)
    QTest.keyClicks(page.note, "calf was tight")
    press(bench, Key.Key_Return)
    told = [(one.about, one.value or one.words) for one in read_diary(place).entries]
    assert told == [
        (About.PAIN_BEFORE, 6),
        (About.PAIN_DURING, 2),
        (About.PAIN_AFTER, 10),
        (About.EFFORT, 5),
        (About.NOTE, "calf was tight"),
    ]


def test_of_a_session_that_is_not_kept_nothing_is_kept_that_was_said(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pain before it would have stood in the diary of the next one."""
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_F4)
    press(bench, Key.Key_3)
    press(bench, Key.Key_Return)
    monkeypatch.setattr(bench.feed, "stop", lambda: Ended(""))
    press(bench, Key.Key_Space)
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_Escape)
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    assert "Nothing of this session is kept" in window.notice.words.text()
    assert not window.ward.teller.tale.is_waiting


def test_a_set_that_begins_takes_the_page_away_and_keeps_what_was_said(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_F4)
    press(bench, Key.Key_3)
    window.flow.step = Step.PRACTISE
    bench.feed.shown = fresh(snapshot(State.IN_BAND, 75.0))
    window.tick()
    assert not window.ward.is_open and window.ward.teller.tale.told == {About.PAIN_BEFORE: 3}
