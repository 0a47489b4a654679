"""What a session suggests, in the window: taken by one key by the clinician, left by another, read by a patient."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from tests.shown import snapshot
from tests.unit.test_offer import suggested
from tests.window.conftest import Bench, fresh
from tests.window.test_keyboard import ALT, press, show, to_ready
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.screen import Step
from weightshare.records.assessment import Assessment
from weightshare.records.diary import read_diary
from weightshare.records.passphrase import set_passphrase
from weightshare.state import State
from weightshare.window.feed import Ended
from weightshare.window.main import PracticeWindow
from weightshare.window.suggested import Suggested

Key = Qt.Key
pytestmark = pytest.mark.usefixtures("own_place")


def end_with(bench: Bench, window: PracticeWindow, place: Path, found: Assessment) -> None:
    """Practise, end, and say how it was; the session then says `found` of its stage."""
    to_ready(bench, window)
    assess: Callable[[], Assessment | None] = lambda: found  # noqa: E731
    bench.feed.stop = lambda: Ended(str(place), assess=assess)  # type: ignore[method-assign]
    for key in (Key.Key_Space, Key.Key_Escape, Key.Key_Escape):
        press(bench, key)
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    press(bench, Key.Key_F4)
    for key in (Key.Key_1, Key.Key_Return):
        press(bench, key)

    def told() -> bool:
        window.tick()
        return "could be next" in window.notice.words.text()

    bench.until(told)


def offers(window: PracticeWindow) -> list[str]:
    return [button.text() for button in window.notice.findChildren(QPushButton) if button.isVisible()]


def test_the_clinician_takes_it_by_one_key_and_why_is_kept(bench: Bench, tmp_path: Path) -> None:
    window = bench.open()
    end_with(bench, window, tmp_path, suggested())
    assert "sets done with all repetitions: 3, asked at least 3: met" in window.notice.words.text()
    assert offers(window) == ["Ta&ke it: Down with 80 %  (Alt+K)", "Not no&w"]
    press(bench, Key.Key_K, ALT)
    bench.until(lambda: "From now on: Down with 80 %." in window.notice.words.text())
    assert window.flow.settings.target_percent == 80.0 and window.flow.step is Step.CONNECT
    assert window.ward.order.prescription is not None and window.ward.order.prescription.stage.key == "lowering-80"
    assert read_diary(tmp_path).notes[-1].startswith("taken by the clinician: Down with 80 %, after Down with 75 %")


def test_left_it_changes_nothing(bench: Bench, tmp_path: Path) -> None:
    window = bench.open()
    end_with(bench, window, tmp_path, suggested())
    before = window.flow
    press(bench, Key.Key_W, ALT)
    bench.until(window.notice.isHidden)
    assert window.flow is before and window.ward.order.prescription is None
    assert read_diary(tmp_path).notes == ()


def test_a_patient_reads_it_and_is_told_to_ask(bench: Bench, tmp_path: Path) -> None:
    set_passphrase("a rail within reach")
    window = bench.open()
    end_with(bench, window, tmp_path, suggested())
    assert window.notice.words.text().endswith("Ask your physiotherapist.") and offers(window) == ["Not no&w"]
    press(bench, Key.Key_K, ALT)
    assert window.flow.settings.target_percent == 75.0 and read_diary(tmp_path).notes == ()


def test_turned_to_the_patient_it_is_told_without_the_numbers_and_waits_for_the_clinician(
    bench: Bench, tmp_path: Path
) -> None:
    set_passphrase("a rail within reach")
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    end_with(bench, window, tmp_path, suggested())
    window.ward.keeper.lock()
    # pressed before anything was drawn anew
    press(bench, Key.Key_K, ALT)
    bench.until(lambda: window.notice.words.text().endswith("Ask your physiotherapist."))
    window.tick()
    assert "pain" not in window.notice.words.text() and offers(window) == ["Not no&w"]
    press(bench, Key.Key_K, ALT)
    assert window.ward.order.prescription is None and read_diary(tmp_path).notes == ()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    assert offers(window)[0].startswith("Ta&ke it"), "the clinician is back"


def test_it_goes_with_the_session_the_stage_and_the_patient_that_it_was_of(bench: Bench, tmp_path: Path) -> None:
    window = bench.open()
    told = Suggested(window, window.ward.order)

    def is_gone() -> bool:
        told.follow()
        return window.notice.is_free

    def tell() -> None:
        told.expect()
        told.show(suggested(), tmp_path)
        assert not is_gone()

    tell()
    window.restart()
    assert is_gone(), "another session"
    tell()
    window.ward.order.prescription = suggested().prescription
    assert is_gone(), "another stage"
    tell()
    window.ward.order.charge = Charge("B-2", "")
    assert is_gone(), "another patient"
    told.expect()
    window.restart()
    told.show(suggested(), tmp_path)
    assert is_gone(), "what came too late is of another session"
    tell()
    window.notice.offer("Something else.")
    window.restart()
    assert not is_gone() and window.notice.words.text() == "Something else."


def test_a_notice_of_the_start_waits_while_a_hold_is_under_way(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    window.notice.offer("A session was cut short.")
    press(bench, Key.Key_Space)
    show(bench, window, State.IN_BAND, 75.0)
    assert window.flow.step is Step.PRACTISE and window.notice.isHidden() and not window.notice.is_free
    window.notice.offer("Another one.")
    assert window.notice.isHidden()
    window.flow.step = Step.REST
    bench.feed.shown = fresh(snapshot(State.IN_BAND, 75.0))
    window.ward.follow()
    assert window.notice.isVisible() and window.notice.words.text() == "Another one."
