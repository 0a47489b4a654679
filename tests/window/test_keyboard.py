"""The whole session from the keyboard alone, and everything else that a key reaches."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tests.shown import snapshot
from tests.window.conftest import GOAL, SETTINGS, SOURCE, Bench, fresh
from weightshare.errors import DeviceError
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.screen import Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import Snapshot, State
from weightshare.window.main import PracticeWindow

Key = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier


def press(bench: Bench, key: Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    """Press `key` where the focus is, as a person does."""
    target = QApplication.focusWidget() or bench.app.activeWindow()
    assert target is not None
    QTest.keyClick(target, key, modifier)
    bench.app.processEvents()


def type_in(bench: Bench, text: str) -> None:
    target = QApplication.focusWidget()
    assert target is not None
    QTest.keyClick(target, Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(target, text)
    press(bench, Key.Key_Return)


def show(bench: Bench, window: PracticeWindow, state: State, share: float | None = 60.0, **more: object) -> None:
    bench.feed.shown = fresh(snapshot(state, share, **more))
    window.tick()


def to_ready(bench: Bench, window: PracticeWindow) -> None:
    show(bench, window, State.TOO_LITTLE)
    press(bench, Key.Key_S)
    window.tick()
    assert window.flow.step is Step.READY


def test_nothing_behind_the_cautions_is_reached(bench: Bench) -> None:
    """Alt+M opened the settings over them; when those were left, no key closed the cautions any more."""
    window = bench.open(cautions_read=False)
    press(bench, Key.Key_M, ALT)
    window.bar.more.click()
    assert window.desk.sheet.isHidden() and not window.bar.isEnabled()
    window.board.setFocus()
    press(bench, Key.Key_Space)
    assert window.cautions.isHidden() and window.bar.isEnabled() and window.board.hasFocus()
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: not window.desk.sheet.isHidden())


def test_the_second_line_of_a_caution_stands_under_its_words_not_under_the_dash(bench: Bench) -> None:
    page = bench.open(cautions_read=False).cautions
    assert len({item.x() for item in page.items}) == 1 and len(page.dashes) == len(page.items) > 5
    for dash, item in zip(page.dashes, page.items, strict=True):
        assert dash.geometry().right() < item.x() and dash.y() == item.y()


def test_a_whole_session_without_a_mouse(bench: Bench) -> None:
    window = bench.open(cautions_read=False)
    assert not window.cautions.isHidden()
    press(bench, Key.Key_Space)
    assert window.cautions.isHidden() and bench.store.cautions_read
    steps = []
    for state, share, more in (
        (State.ZEROING, None, {"zero_taken": None, "body_weight_N": None}),
        (State.WEIGHING, None, {"body_weight_N": None}),
        (State.TOO_LITTLE, 60.0, {}),
    ):
        show(bench, window, state, share, **more)
        steps.append(window.flow.step)
    assert steps == [Step.ZERO, Step.WEIGH, Step.CHECK]
    press(bench, Key.Key_S)
    window.tick()
    press(bench, Key.Key_T, ALT)
    type_in(bench, "60")
    press(bench, Key.Key_N, ALT)
    type_in(bench, "1")
    assert window.flow.settings.target_percent == 60.0 and window.flow.goal.holds == 1
    assert window.board.hasFocus(), "Enter in a field gives the big key back"
    press(bench, Key.Key_Space)
    assert window.flow.locked and bench.feed.asked[-1] == "begin"
    show(bench, window, State.IN_BAND, 60.0, holding=True, held_s=31.0)
    assert window.flow.step.value == "done"
    bench.until(lambda: "stop" in bench.feed.asked and window.runner.ended is not None)
    window.tick()
    assert window.screen_shown is not None and window.screen_shown.summary is not None
    assert window.screen_shown.summary.lines[-1] == "Kept in sessions/one"
    press(bench, Key.Key_Space)
    bench.until(lambda: len(bench.feeds) == 2 and window.runner.feed is not None)
    assert window.flow.step is Step.CONNECT
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_Escape)
    assert window.isHidden() and bench.feed.asked[-1] == "stop"


@pytest.mark.parametrize(
    ("key", "name"),
    [
        (Key.Key_I, "injured"),
        (Key.Key_T, "target"),
        (Key.Key_O, "tolerance"),
        (Key.Key_X, "exercise"),
        (Key.Key_H, "hold"),
        (Key.Key_N, "holds"),
        (Key.Key_C, "source"),
    ],
)
def test_every_setting_has_a_key_and_a_focus_that_is_seen(bench: Bench, key: Key, name: str) -> None:
    window = bench.open()
    field: QWidget = getattr(window.bar, name)
    before = window.bar.grab().toImage()
    press(bench, key, ALT)
    assert field.hasFocus() or field is (QApplication.focusWidget() or window).parentWidget()
    assert window.bar.grab().toImage() != before
    press(bench, Key.Key_Escape)
    assert window.board.hasFocus() and not window.flow.asking_to_end


def test_tab_reaches_every_setting(bench: Bench) -> None:
    window = bench.open()
    reached = set()
    for _ in range(16):
        press(bench, Key.Key_Tab)
        focus = QApplication.focusWidget()
        assert focus is not None
        reached.add(focus)
    bar = window.bar
    shown = {widget for widget in bar.measured if widget.isVisible()}
    assert reached >= {*shown, bar.more, bar.sound, bar.dark, bar.ruler, bar.about}


def test_switches_have_keys(bench: Bench) -> None:
    window = bench.open()
    press(bench, Key.Key_D, ALT)
    bench.until(lambda: bench.store.theme == "dark")
    assert window.board.theme.name == "dark"
    press(bench, Key.Key_S, ALT)
    bench.until(lambda: not bench.store.sound)
    assert not window.sound.wanted and window.bar.sound.text() == "&Sound off"
    press(bench, Key.Key_A, ALT)
    bench.until(lambda: not window.cautions.isHidden())
    press(bench, Key.Key_Escape)
    assert window.cautions.isHidden() and not window.flow.asking_to_end
    press(bench, Key.Key_F1)
    assert not window.cautions.isHidden()


def test_settings_reach_the_session_and_are_held_fast_while_practising(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_I, ALT)
    press(bench, Key.Key_Up)
    assert window.flow.settings.injured is Side.LEFT
    assert bench.feed.asked[-1] == (window.flow.settings, window.flow.goal)
    press(bench, Key.Key_Escape)
    press(bench, Key.Key_Return)
    window.tick()
    assert window.flow.step is Step.PRACTISE
    assert not any(widget.isEnabled() for widget in window.bar.measured)
    assert window.bar.sound.isEnabled() and window.bar.about.isEnabled()
    press(bench, Key.Key_T, ALT)
    assert not window.bar.target.hasFocus()


def test_a_key_that_is_held_down_does_one_step(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_Escape)
    assert window.flow.asking_to_end
    press(bench, Key.Key_Space)
    assert not window.flow.asking_to_end and window.flow.step is Step.READY


def test_another_source_is_another_session(bench: Bench) -> None:
    window = bench.open()
    press(bench, Key.Key_C, ALT)
    type_in(bench, "tcp://127.0.0.1:7001")
    bench.until(lambda: len(bench.feeds) == 2 and window.runner.feed is not None)
    assert bench.feeds[0].asked[-1] == "stop"
    assert bench.feeds[1].asked[0] == ("tcp://127.0.0.1:7001", SETTINGS, GOAL)
    assert window.flow.step is Step.CONNECT and window.board.hasFocus()


def test_the_arrow_keys_send_the_virtual_persons_weight(bench: Bench) -> None:
    window = bench.open(source="rig:steered")
    press(bench, Key.Key_Right)
    press(bench, Key.Key_Left)
    assert bench.feed.asked[-2:] == [2.0, -2.0], "the right foot is the injured one"
    assert window.flow.source == "rig:steered"


def test_the_arrow_keys_leave_real_scales_alone(bench: Bench) -> None:
    bench.open(source=SOURCE)
    press(bench, Key.Key_Right)
    assert bench.feed.asked[-1] == "start"


def test_a_source_that_cannot_be_opened_is_explained_and_tried_again(bench: Bench) -> None:
    bench.refusals.append(DeviceError("serial:COM9: there is no such port; plug the scale in"))
    window = bench.open(source="serial:COM9")
    window.tick()
    assert not window.trouble.isHidden()
    assert window.trouble.words.text() == "serial:COM9: there is no such port; plug the scale in"
    assert window.screen_shown is not None and window.screen_shown.headline == words.REFUSED_HEADLINE
    press(bench, Key.Key_F5)
    bench.until(lambda: bool(bench.feeds) and window.runner.feed is bench.feed)
    window.tick()
    assert window.trouble.isHidden()


def test_a_refused_scale_is_explained_in_the_window(bench: Bench) -> None:
    window = bench.open()
    said = "scale 0011223344556677 has no calibration; weightshare calibrate makes one"
    bench.feed.shown = LiveView(links=(LinkView(SOURCE, LinkState.REFUSED, said),))
    window.tick()
    assert window.trouble.words.text() == f"{SOURCE}: {said}"
    retry = window.trouble.findChildren(QWidget)
    assert any(widget.objectName() != "notice" for widget in retry)


def test_a_session_that_was_cut_short_is_offered_without_blocking(bench: Bench) -> None:
    window = bench.open()
    done: list[str] = []
    window.notice.offer("A session was cut short.", ("Re&cover", lambda: done.append("recovered")))
    assert not window.notice.isHidden()
    to_ready(bench, window)
    press(bench, Key.Key_W, ALT)
    bench.until(window.notice.isHidden)
    assert not done
    window.notice.offer("A session was cut short.", ("&Finish its record", lambda: done.append("recovered")))
    press(bench, Key.Key_F, ALT)
    bench.until(lambda: done == ["recovered"])
    assert window.notice.isHidden()


def test_closing_the_window_mid_session_closes_the_session(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_Space)
    window.close()
    assert bench.feed.asked[-1] == "stop"


def test_stale_data_take_the_numbers_away_and_fresh_ones_bring_them_back(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    press(bench, Key.Key_Space)
    show(bench, window, State.IN_BAND, 75.0)
    assert any(line.name == "share" for _view, line in window.board.lines())
    bench.feed.shown = LiveView(snapshot=Snapshot(State.IN_BAND), links=bench.feed.shown.links, age_s=0.31)
    window.tick()
    assert not any(line.name in ("share", "held", "load") for _view, line in window.board.lines())
    show(bench, window, State.IN_BAND, 75.0)
    assert any(line.name == "share" for _view, line in window.board.lines())


def test_a_virtual_person_is_told_of_another_target_once_the_settings_rest(bench: Bench) -> None:
    window = bench.open(source="rig:steady")
    press(bench, Key.Key_T, ALT)
    for _ in range(3):
        press(bench, Key.Key_Up)
    bench.until(lambda: len(bench.feeds) == 2 and window.runner.feed is not None)
    _source, settings, _goal = bench.feed.asked[0]
    assert settings.target_percent == 78.0 and len(bench.feeds) == 2


def test_the_asked_time_ends_practice(bench: Bench) -> None:
    window = bench.open()
    to_ready(bench, window)
    bench.feed.is_over = True
    window.tick()
    assert not window.flow.locked, "before practice there is nothing to end"
    bench.feed.is_over = False
    press(bench, Key.Key_Space)
    bench.feed.is_over = True
    window.tick()
    bench.until(lambda: window.runner.ended is not None)
    assert window.flow.step is Step.DONE


def test_a_long_source_is_shown_from_its_start(bench: Bench) -> None:
    window = bench.open()
    window.desk.show_values(window.flow.settings, window.flow.goal, ("tcp://scales.of.the.practice.example:7000",))
    line = window.bar.source.lineEdit()
    assert line is not None and line.cursorPosition() == 0
