"""The whole calibration in the window, with the real engine and virtual hands, by keys alone."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, Key, press
from weightshare.model import Side
from weightshare.records.bench import read_kept
from weightshare.records.place import calibration_folder
from weightshare.window.app import open_bench
from weightshare.window.bench import BenchPage, Part
from weightshare.workbench.view import Stage

FAST = "rig:bench,speed=25,seed=3,rate=40"
WITHIN_S = 60.0


@pytest.fixture(autouse=True)
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """What one test keeps, no other finds; what thousands of tests left behind is not searched in the middle of one.

    At this speed a pause of 40 ms is a second without data, which is a lost link.
    """
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


def begin(bench: Bench, source: str) -> BenchPage:
    """Begin a short calibration of the left plate at `source`, by keys."""
    bench.open_bench = open_bench
    page = bench.open(source=source).calibration
    press(bench, Key.Key_B, ALT)
    bench.until(lambda: page.is_open)
    target = QApplication.focusWidget()
    assert target is not None
    QTest.keyClick(target, Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(target, "10, 20")
    for key in (Key.Key_P, Key.Key_T):
        press(bench, key, ALT)
        press(bench, Key.Key_Down)
    press(bench, Key.Key_Return)
    return page


def until_step(bench: Bench, page: BenchPage, number: int) -> None:
    """Wait until that step is asked for; fail at once where it cannot go on."""

    def has_come() -> bool:
        view = page.runner.view()
        assert view.stage is not Stage.FAILED, view.trouble
        return view.number >= number

    bench.until(has_come, WITHIN_S)


def test_masses_are_laid_measured_and_kept(bench: Bench) -> None:
    page = begin(bench, FAST)
    seen: list[str] = []

    def is_done() -> bool:
        headline = page.runner.view().headline
        if headline and seen[-1:] != [headline]:
            seen.append(headline)
        return page.part is Part.RESULT

    bench.until(is_done, WITHIN_S)
    # at this speed a headline may come and go unseen, but none is of the other plate
    said = " ".join(seen)
    assert "LEFT plate" in said and "RIGHT" not in said
    view = page.runner.view()
    assert view.stage is Stage.DONE and Path(view.place).parent == calibration_folder()
    kept = read_kept(Path(view.place))
    assert kept.found is not None and [fit.side for fit in kept.found.fits] == [Side.LEFT]
    assert any(line.text.startswith("Calibrated. It is in force now, and valid until") for line in page.lines())
    press(bench, Key.Key_Space)
    bench.until(lambda: not page.is_open and len(bench.feeds) == 2, WITHIN_S)


def test_what_is_given_up_writes_nothing(bench: Bench) -> None:
    page = begin(bench, FAST)
    until_step(bench, page, 2)
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_Escape)
    bench.until(lambda: not page.is_open, WITHIN_S)
    assert not list(calibration_folder().glob("*.json"))


def test_the_step_before_is_measured_once_more(bench: Bench) -> None:
    page = begin(bench, FAST)
    until_step(bench, page, 3)
    page.tick()
    before = page.runner.view().number
    press(bench, Key.Key_Backspace)
    # hands as fast as these may have ended one more step meanwhile
    assert page.runner.view().number in (before - 1, before)
    # what is asked for may lie there still: then somebody has to say that it does
    press(bench, Key.Key_Space)
    until_step(bench, page, before + 1)
