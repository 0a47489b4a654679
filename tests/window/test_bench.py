"""The guided calibration from the keyboard: what is asked, each step, the end; and the session that gives way to it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tests.window.benching import ToldBench, asking, done
from tests.window.conftest import SOURCE, Bench, ToldFeed
from tests.window.test_keyboard import ALT, Key, press, show, to_ready, type_in
from weightshare.errors import DeviceError
from weightshare.model import Calibration, ChannelCalibration, Side
from weightshare.practice.screen import Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.records.calibration import write_calibration
from weightshare.state import State
from weightshare.window.bench import ANEW, GO_ON, PRACTISE, TAKE, Part
from weightshare.window.benchfeed import BenchFeed, BenchWish
from weightshare.window.main import PracticeWindow
from weightshare.workbench.view import BenchView, Stage


class Table:
    """A window that can calibrate, and the calibrations that were begun in it."""

    def __init__(self, bench: Bench) -> None:
        self.bench, self.told, self.refusals = bench, list[ToldBench](), list[DeviceError]()
        self.order: list[str] = []
        bench.open_bench = self._make
        self.window: PracticeWindow = bench.open()
        self.page = self.window.calibration

    def _make(self, wish: BenchWish) -> BenchFeed:
        self.order.append(f"bench after {self.bench.feed.asked[-1]}")
        if self.refusals:
            raise self.refusals.pop()
        self.told.append(ToldBench(wish))
        return self.told[-1]

    def ask(self) -> None:
        press(self.bench, Key.Key_B, ALT)
        self.bench.until(lambda: self.page.is_open)

    def begin(self) -> ToldBench:
        self.ask()
        press(self.bench, Key.Key_Return)
        self.bench.until(lambda: bool(self.told) and self.page.runner.view() is self.told[-1].shown)
        self.page.tick()
        return self.told[-1]

    def show(self, view: BenchView) -> None:
        self.told[-1].shown = view
        self.page.tick()

    def text(self, name: str) -> str:
        return " ".join(line.text for line in self.page.lines() if line.name.split(" ")[0] == name)


@pytest.fixture
def table(bench: Bench) -> Iterator[Table]:
    yield Table(bench)


def hint(table: Table, widget: QWidget) -> str:
    label = table.page.form.hint_of(widget)
    return label.text() if label.property("wrong") == "true" else ""


def test_the_session_gives_the_scale_back_before_it_is_calibrated_and_a_new_one_begins_after(table: Table) -> None:
    bench = table.begin()
    assert table.order == ["bench after stop"] and bench.asked == ["start"]
    assert (bench.wish.wanted.runs, bench.wish.wanted.creep_s) == (2, 300.0), "thorough, unless asked otherwise"
    assert bench.wish.source == SOURCE and bench.wish.wanted.sides == (Side.LEFT, Side.RIGHT)
    assert [mass.kg for mass in bench.wish.wanted.masses] == [10.0, 10.0, 20.0, 20.0]
    press(table.bench, Key.Key_Escape)
    press(table.bench, Key.Key_Escape)
    table.bench.until(lambda: not table.page.is_open and len(table.bench.feeds) == 2)
    assert bench.asked[-1] == "stop" and table.window.board.hasFocus() and table.window.bar.isEnabled()
    table.bench.until(lambda: table.window.runner.feed is table.bench.feed)


def test_a_session_that_is_still_being_opened_lets_go_of_the_scale_as_well(
    table: Table, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = threading.Event()
    monkeypatch.setattr(ToldFeed, "start", lambda feed: feed.asked.append(gate.wait(10.0)))
    press(table.bench, Key.Key_F5)
    table.bench.until(lambda: len(table.bench.feeds) == 2)
    table.ask()
    press(table.bench, Key.Key_Return)
    assert not table.told
    gate.set()
    table.bench.until(lambda: bool(table.told))
    assert table.order == ["bench after stop"] and table.bench.feed.asked[-2:] == [True, "stop"]
    assert table.window.runner.feed is None


def test_the_questions_are_left_without_a_trace(table: Table) -> None:
    table.ask()
    assert table.page.form.masses.hasFocus() and not table.window.bar.isEnabled()
    press(table.bench, Key.Key_Escape)
    table.bench.until(lambda: len(table.bench.feeds) == 2)
    assert not table.page.is_open and not table.told


def test_a_scale_without_calibration_is_told_of_the_way_that_is_at_hand(bench: Bench) -> None:
    window = bench.open()
    said = "scale 0011223344556677 has no calibration and cannot be practised on; make one with {}"
    command = f"`weightshare calibrate run --source {SOURCE} --masses 10,20` (your masses, in kg)"
    command += ", or give --calibration FILE"
    bench.feed.shown = LiveView(links=(LinkView(SOURCE, LinkState.REFUSED, said.format(command)),))
    window.tick()
    assert window.trouble.words.text() == said.format("Calibrate, below")
    window.tick()
    press(bench, Key.Key_B, ALT)
    bench.until(lambda: window.calibration.is_open)


def test_nobody_calibrates_while_somebody_practises(table: Table) -> None:
    to_ready(table.bench, table.window)
    press(table.bench, Key.Key_Space)
    show(table.bench, table.window, State.IN_BAND, 75.0)
    assert table.window.flow.step is Step.PRACTISE and not table.window.bar.calibrate.isVisible()
    press(table.bench, Key.Key_B, ALT)
    table.window.open_calibration()
    assert not table.page.is_open and table.window.runner.feed is table.bench.feed


def test_what_is_wrong_is_said_beside_its_field_and_nothing_begins(table: Table) -> None:
    table.ask()
    form = table.page.form
    for text, said in (
        ("20", "two masses at least"),
        ("10, heavy", "\u201cheavy\u201d is no mass"),
        ("10000, 20000", "10000 g would be 10"),
    ):
        form.masses.setFocus()
        type_in(table.bench, text)
        press(table.bench, Key.Key_Return)
        assert said in hint(table, form.masses) and form.masses.hasFocus()
    form.masses.setCurrentText("10, 20")
    form.known.setFocus()
    type_in(table.bench, "M9")
    press(table.bench, Key.Key_Return)
    assert not hint(table, form.masses) and "a class as in M1" in hint(table, form.known)
    form.known.setCurrentText("20 g")
    form.height_m.setText("400")
    press(table.bench, Key.Key_Return)
    assert "the latitude as well" in hint(table, form.height_m)
    form.latitude.setText("95")
    press(table.bench, Key.Key_Return)
    assert "-90 to 90" in hint(table, form.latitude)
    assert not table.told and table.page.part is Part.FORM


def test_a_whole_form_from_the_keyboard(table: Table) -> None:
    table.ask()
    for key, text in (
        (Key.Key_M, "5; 10 kg; 20"),
        (Key.Key_H, "20 g"),
        (Key.Key_L, "47.5"),
        (Key.Key_B, "430"),
        (Key.Key_Y, "R. Example"),
    ):
        press(table.bench, key, ALT)
        target = table.bench.app.focusWidget()
        assert target is not None
        QTest.keyClick(target, Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        QTest.keyClicks(target, text)
    press(table.bench, Key.Key_P, ALT)
    press(table.bench, Key.Key_Down)
    press(table.bench, Key.Key_T, ALT)
    press(table.bench, Key.Key_Down)
    assert "steps, about" in table.page.form.hint_of(table.page.form.scope).text()
    press(table.bench, Key.Key_Return)
    table.bench.until(lambda: bool(table.told))
    wish = table.told[-1].wish
    assert [mass.kg for mass in wish.wanted.masses] == [5.0, 10.0, 20.0]
    assert {mass.u_kg for mass in wish.wanted.masses} == {0.02}
    assert (wish.latitude_deg, wish.height_m, wish.made_by) == (47.5, 430.0, "R. Example")
    assert wish.wanted.sides == (Side.LEFT,) and (wish.wanted.runs, wish.wanted.creep_s) == (1, 60.0)


def test_space_takes_what_lies_there_only_where_that_may_be(table: Table) -> None:
    bench = table.begin()
    assert table.page.key.isVisible() and table.page.key.text() == TAKE
    press(table.bench, Key.Key_Space)
    assert bench.asked == ["start", "confirm"]
    table.show(asking(may_confirm=False, may_go_back=False))
    assert not table.page.key.isVisible()
    press(table.bench, Key.Key_Space)
    press(table.bench, Key.Key_Backspace)
    assert bench.asked == ["start", "confirm"]
    table.show(asking())
    press(table.bench, Key.Key_Backspace)
    assert bench.asked[-1] == "back"


def test_escape_asks_once_and_any_other_key_goes_on(table: Table) -> None:
    bench = table.begin()
    press(table.bench, Key.Key_Escape)
    assert table.text("headline") == "Give this calibration up?" and table.page.key.text() == GO_ON
    assert "nothing is written" in table.text("words")
    press(table.bench, Key.Key_Space)
    assert table.text("headline") == asking().headline and bench.asked == ["start"], "space took nothing"
    press(table.bench, Key.Key_Escape)
    press(table.bench, Key.Key_Backspace)
    assert table.text("headline") == asking().headline and bench.asked == ["start"]


def test_no_key_reaches_the_window_below(table: Table) -> None:
    table.begin()
    before = len(table.bench.feeds), table.window.flow
    for key in (Key.Key_F5, Key.Key_S, Key.Key_N, Key.Key_F1, Key.Key_Left):
        press(table.bench, key)
    press(table.bench, Key.Key_M, ALT)
    table.window.tick()
    assert (len(table.bench.feeds), table.window.flow) == before
    assert table.page.is_open and table.window.cautions.isHidden() and table.window.desk.sheet.isHidden()


def test_a_scale_that_cannot_be_opened_is_explained_and_the_questions_come_back(table: Table) -> None:
    table.refusals.append(DeviceError("serial:COM9: there is no such port; plug the scale in"))
    table.ask()
    press(table.bench, Key.Key_Return)
    table.bench.until(lambda: table.page.runner.view().stage is Stage.FAILED)
    table.page.tick()
    assert table.text("trouble") == "serial:COM9: there is no such port; plug the scale in"
    assert table.text("headline") == "It could not begin" and table.page.key.text() == ANEW
    press(table.bench, Key.Key_Space)
    assert table.page.part is Part.FORM
    press(table.bench, Key.Key_Return)
    table.bench.until(lambda: bool(table.told))


def test_a_program_without_a_workbench_says_so(bench: Bench) -> None:
    window = bench.open()
    window.open_calibration()
    press(bench, Key.Key_Return)
    bench.until(lambda: window.calibration.runner.view().stage is Stage.FAILED)
    window.calibration.tick()
    press(bench, Key.Key_Escape)
    bench.until(lambda: not window.calibration.is_open)


def test_the_end_says_what_holds_and_offers_practice(table: Table, tmp_path: Path) -> None:
    bench = table.begin()
    place = tmp_path / "0011223344556677.json"
    channels = tuple(ChannelCalibration(index, 5000.0, 0.00125) for index in range(4))
    made = Calibration("0011223344556677", date(2026, 11, 25), channels, valid_until=date(2027, 11, 25))
    write_calibration(place, made)
    table.show(done(str(place), str(tmp_path / "history" / "old.json")))
    assert table.page.part is Part.RESULT and table.page.key.text() == PRACTISE
    assert table.text("headline") == "Calibrated. It is in force now, and valid until 25 November 2027."
    assert str(place) in table.text("place") and "old.json" in table.text("kept")
    press(table.bench, Key.Key_Space)
    table.bench.until(lambda: not table.page.is_open and len(table.bench.feeds) == 2)
    assert bench.asked[-1] == "stop"


def test_closing_the_window_gives_the_scale_back(table: Table) -> None:
    bench = table.begin()
    table.window.close()
    assert bench.asked[-1] == "stop" and table.page.runner.is_idle


def test_the_bar_still_fits_the_smallest_screen(bench: Bench) -> None:
    window = bench.open(size=(1366, 768))
    assert window.width() == 1366 and window.bar.calibrate.isVisible()
    assert window.bar.calibrate.geometry().right() < window.width()
