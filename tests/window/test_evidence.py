"""The clinician's view in the window: switched, remembered, beside the share, and gone with it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from tests.shown import snapshot
from tests.unit.test_gauge import GAUGE, STANDING
from tests.window.conftest import Bench, fresh
from tests.window.picture import look_for_faults
from tests.window.test_keyboard import press, to_ready
from weightshare.metrology.build import standard_worth
from weightshare.practice.gauge import Gauge
from weightshare.state import Snapshot, State
from weightshare.window.main import PracticeWindow

Key = Qt.Key


def show(bench: Bench, window: PracticeWindow, shot: Snapshot = STANDING, gauge: Gauge = GAUGE, **more: object) -> None:
    bench.feed.shown = fresh(shot, **({"gauge": gauge} | more))
    window.tick()
    bench.app.processEvents()


def painted(window: PracticeWindow) -> str:
    return " ".join(line.text for _view, line in window.board.lines())


def ready(bench: Bench, size: tuple[int, int] = (1366, 768)) -> PracticeWindow:
    window = bench.open(size=size)
    to_ready(bench, window)
    return window


def test_the_key_switches_it_on_and_off_and_the_next_start_remembers(bench: Bench) -> None:
    window = ready(bench)
    show(bench, window)
    assert not window.evidence.isVisible() and "\u00b1 0.1 %" not in painted(window)
    press(bench, Key.Key_V)
    show(bench, window, replace(STANDING, time_s=13.0))
    assert window.bar.clinical.isChecked() and bench.store.clinical
    assert "\u00b1 0.1 %" in painted(window) and "74.3" in painted(window)
    assert window.evidence.isVisible() and "right 53.0 \u00b1 0.1 kg" in window.evidence.text()
    assert window.board.hasFocus(), "the big key must not switch it back"
    press(bench, Key.Key_V)
    show(bench, window, replace(STANDING, time_s=14.0))
    assert not bench.store.clinical and "\u00b1 0.1 %" not in painted(window)
    press(bench, Key.Key_V)
    assert bench.open().evidence.isVisible()


def test_it_goes_with_the_number_and_the_board_keeps_its_place(bench: Bench) -> None:
    bench.store.clinical = True
    window = ready(bench)
    show(bench, window)
    high = window.board.height()
    assert "\u00b1" in window.evidence.text()
    show(bench, window, age_s=0.4)
    assert not window.evidence.text().strip() and "\u00b1" not in painted(window)
    assert window.board.height() == high


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)])
@pytest.mark.parametrize("share", [5.0, 74.3, 100.0])
def test_nothing_is_cut_and_a_long_list_of_assumptions_does_not_widen_the_window(
    bench: Bench, size: tuple[int, int], share: float
) -> None:
    bench.store.clinical = True
    window = ready(bench, size)
    assumed = replace(GAUGE, worth=standard_worth(), expired=True)
    shot = replace(STANDING, share_percent=share, left_N=700.0 - 7.0 * share, right_N=7.0 * share)
    show(bench, window, shot, assumed)
    assert (window.width(), window.height()) == size
    assert "assumed, not measured" in window.evidence.text() and "expired 2027-01-01" in window.evidence.text()
    assert window.evidence.fontMetrics().boundingRect(window.evidence.text().split("\n")[1]).width() < size[0]
    look_for_faults(window.board, f"{share:g} %")


def test_before_practice_an_overdue_calibration_is_said_without_it(bench: Bench) -> None:
    window = bench.open()
    overdue = "the calibration of scale 0011223344556677 was valid until 2026-01-01; make a new one"
    show(bench, window, snapshot(State.NOBODY, None), messages=(overdue,))
    assert window.screen_shown is not None and overdue in window.screen_shown.warnings
