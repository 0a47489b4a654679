"""Every key and every menu in the patient's role, on every page that a patient can come to: nothing is set by any."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tests.shown import snapshot
from tests.window.conftest import Bench, fresh
from tests.window.test_keyboard import show, to_ready
from weightshare.practice.role import IDLE_S, Role
from weightshare.practice.screen import Step
from weightshare.practice.start import Start
from weightshare.practice.startscreen import start_screen
from weightshare.practice.starttrial import Trial
from weightshare.practice.startview import StartStep
from weightshare.records.passphrase import set_passphrase
from weightshare.scales.finder import Finder
from weightshare.state import State
from weightshare.window.main import PracticeWindow

Key, Modifier = Qt.Key, Qt.KeyboardModifier
LETTERS = [getattr(Key, f"Key_{letter}") for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"]
FUNCTIONS = [getattr(Key, f"Key_F{number}") for number in (*range(1, 11), 12)]
OTHERS = [Key.Key_Tab, Key.Key_Backspace, Key.Key_Delete, Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down,
          Key.Key_Home, Key.Key_End, Key.Key_PageUp, Key.Key_PageDown, Key.Key_Plus, Key.Key_Minus, Key.Key_Menu,
          Key.Key_Insert, Key.Key_Comma, Key.Key_Period]  # fmt: skip
MODIFIERS = (
    Modifier.NoModifier,
    Modifier.ControlModifier,
    Modifier.AltModifier,
)


@pytest.fixture(autouse=True)
def locked(own_place: None) -> None:
    set_passphrase("a rail within reach")


def set_of(window: PracticeWindow) -> tuple[object, ...]:
    """All that a patient may not change."""
    order = window.ward.order
    return window.flow.settings, window.flow.goal, order.prescription, order.place, window.ward.keeper.role


def forbidden(window: PracticeWindow) -> list[str]:
    """The pages that are open and that a patient may not see."""
    annex, ward = window._annex, window.ward
    pages = {"calibration": annex._page, "past": annex._past, "stages": ward._stages, "edit": ward._edit}
    found = [name for name, page in pages.items() if page is not None and page.is_open]
    return found + ([] if window.desk.sheet.isHidden() else ["settings"])


def press_all(bench: Bench, window: PracticeWindow, back: Callable[[], None]) -> None:
    """Press each key with each modifier; `back` leads back to the page that they are pressed on."""
    before = set_of(window)
    for modifier in MODIFIERS:
        for key in (*LETTERS, *FUNCTIONS, *OTHERS):
            back()
            target = QApplication.focusWidget() or window
            QTest.keyClick(target, key, modifier)
            bench.app.processEvents()
            assert set_of(window) == before, f"{key.name} with {modifier.name} set something"
            assert not forbidden(window), f"{key.name} with {modifier.name} opened {forbidden(window)}"


def click_all(bench: Bench, window: PracticeWindow) -> None:
    """Click each button that is to be seen, and choose in each list that answers."""
    from PySide6.QtWidgets import QAbstractButton, QComboBox

    before = set_of(window)
    for kind in (QAbstractButton, QComboBox):
        for widget in window.findChildren(kind):
            if widget.isVisible() and widget.isEnabled():
                QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
                bench.app.processEvents()
            assert set_of(window) == before and not forbidden(window), widget


def close_pages(window: PracticeWindow) -> None:
    window.ward.uncover()
    window.cautions.uncover()
    window.notice.clear()
    window.flow.asking_to_end = False
    window.board.setFocus()


def opened(bench: Bench) -> PracticeWindow:
    window = bench.open()
    # nothing was set for the patient here: what the window was opened with stands for it
    window.ward.order.trouble = ""
    window.ward.uncover()
    assert window.ward.keeper.role is Role.PATIENT
    return window


def before_practice(bench: Bench, window: PracticeWindow) -> None:
    show(bench, window, State.ZEROING, None, zero_taken=None, body_weight_N=None)


def ready(bench: Bench, window: PracticeWindow) -> None:
    to_ready(bench, window)


def practising(bench: Bench, window: PracticeWindow) -> None:
    to_ready(bench, window)
    window.go()
    show(bench, window, State.IN_BAND, 75.0)


def done(bench: Bench, window: PracticeWindow) -> None:
    practising(bench, window)
    window.act(window.flow.end())
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    assert window.flow.step is Step.DONE


@pytest.mark.parametrize("lead", [before_practice, ready, practising, done])
def test_no_key_and_no_button_of_the_window_sets_anything(
    bench: Bench, lead: Callable[[Bench, PracticeWindow], None]
) -> None:
    window = opened(bench)
    lead(bench, window)
    step = window.flow.step

    def back() -> None:
        close_pages(window)
        if window.flow.step is not step:
            # F5 and the big key begin anew, Escape ends: both are the patient's to do
            bench.feed.shown = fresh(snapshot(State.IN_BAND, 75.0))
            window.flow.step = step

    press_all(bench, window, back)
    back()
    click_all(bench, window)


@pytest.mark.parametrize("page", ["passphrase", "how it is", "cautions"])
def test_no_key_sets_anything_on_a_page_of_the_patients(bench: Bench, page: str) -> None:
    window = opened(bench)
    before_practice(bench, window)
    ways: dict[str, tuple[Callable[[], None], Callable[[], QWidget]]] = {
        "passphrase": (window.ward.turn, lambda: window.ward.lock_page),
        "how it is": (window.ward.teller.open_page, lambda: window.ward.teller.built or window),
        "cautions": (window.cautions.open_page, lambda: window.cautions),
    }
    way, covers = ways[page]

    def back() -> None:
        if covers().isHidden() or covers() is window:
            close_pages(window)
            way()

    press_all(bench, window, back)
    assert not covers().isHidden()


def test_on_the_page_of_getting_started_a_patient_comes_to_no_calibration(
    bench: Bench, own_scales: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_passphrase("a rail within reach")
    window = opened(bench)
    before_practice(bench, window)
    window.door.open_page()
    page = window._annex.start
    asked: list[object] = []
    page.calibration_wanted.connect(asked.append)
    trial = Trial("rig:steered")
    monkeypatch.setattr(Start, "marked_trial", property(lambda _self: trial))
    # its light is asked for over a link that nobody opened here
    keys = [key for key in (*LETTERS, *OTHERS) if key not in (Key.Key_B, Key.Key_T)]
    for step in StartStep:
        for key in keys:
            bench.until(lambda: not page.runner.is_busy)
            start = page.start
            assert start is not None and page.is_open
            start.step = step
            page.address.hide()
            page.setFocus()
            page.tick()
            assert start.is_patients
            QTest.keyClick(page, key)
            bench.app.processEvents()
            assert not page.is_waiting and not asked and not forbidden(window)
    page.leave()


@pytest.mark.parametrize("step", [StartStep.CHECK, StartStep.READY])
def test_a_patient_is_told_to_ask_and_never_to_calibrate(step: StartStep) -> None:
    start = Start(Finder())
    start.step, start.is_patients = step, True
    hint = start_screen(start).hint
    assert "C:" not in hint and "calibrate" not in hint and "Backspace" in hint
    start.is_patients = False
    assert "C: calibrate this one" in start_screen(start).hint


def test_the_calibration_is_refused_to_a_patient_whoever_asks(bench: Bench) -> None:
    window = opened(bench)
    before_practice(bench, window)
    window.bar.calibration_asked.emit()
    assert window._annex._page is None
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.bar.calibration_asked.emit()
    assert window.calibration.is_open


def test_a_calibration_that_the_clinician_left_open_is_shut_after_a_while(bench: Bench) -> None:
    window = opened(bench)
    before_practice(bench, window)
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.open_calibration()
    window.tick()
    assert window.calibration.is_open
    window.ward.keeper.touch(time.monotonic() - IDLE_S)
    window.tick()
    bench.until(lambda: not window.calibration.is_open)
    assert window.ward.keeper.role is Role.PATIENT
