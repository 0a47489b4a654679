"""The settings, on the bar and on the page behind it: all of them from the keyboard, none of them cut."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from tests.window.conftest import GOAL, SETTINGS, Bench
from weightshare.exercise import Basis, Ceiling, Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.task import Goal, Settings
from weightshare.window.main import PracticeWindow
from weightshare.window.ward import make_way

Key = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier
FULL = Settings(
    Side.LEFT,
    target_percent=66.5,
    tolerance_percent=2.5,
    grace_s=0.5,
    added_weight_N=50.0,
    exercise=Exercise.SINGLE_RAISE,
    surface=Surface.STEP,
    basis=Basis.HEIGHT,
    reference_height_mm=82.5,
    tempo=Tempo(1.0, 0.5, 3.0, 1.0),
    working=Side.LEFT,
    one_sided=True,
    ceiling=Ceiling(percent=70.0),
)
FULL_GOAL = Goal(45.0, 7, sets=4, repetitions=12, rest_s=90.0, blind_sets=(2, 4), to_exhaustion=True)


def press(bench: Bench, key: Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    """Press `key` where the focus is, as a person does."""
    target = QApplication.focusWidget() or bench.app.activeWindow()
    assert target is not None
    QTest.keyClick(target, key, modifier)
    bench.app.processEvents()


def type_in(bench: Bench, text: str, last: Key = Key.Key_Return) -> None:
    target = QApplication.focusWidget()
    assert target is not None
    QTest.keyClick(target, Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(target, text)
    press(bench, last)


def choose(window: PracticeWindow, exercise: Exercise) -> None:
    window.bar.exercise.setCurrentIndex(list(Exercise).index(exercise))


def shown_labels(of: QWidget) -> set[str]:
    return {label.text().replace("&", "") for label in of.findChildren(QLabel) if label.isVisible()}


def beside(window: PracticeWindow, name: str) -> str:
    """Return what the page says beside the setting called `name`."""
    hints = [hint for _field, label, hint in window.desk.sheet._rows if label.text().replace("&", "").startswith(name)]
    assert len(hints) == 1
    return hints[0].text()


def test_what_is_shown_is_what_is_told(bench: Bench) -> None:
    window = bench.open()
    window.desk.show_values(FULL, FULL_GOAL, ("file:x",))
    assert window.desk.values(SETTINGS, GOAL) == (FULL, FULL_GOAL)
    assert window.bar.source.currentText() == "file:x"
    window.desk.show_values(SETTINGS, GOAL, ("file:x",))
    assert window.desk.values(SETTINGS, GOAL) == (SETTINGS, GOAL), "an exercise that was not chosen stays untold"


@pytest.mark.parametrize("exercise", list(Exercise))
@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)])
def test_nothing_is_cut_whatever_the_exercise(bench: Bench, exercise: Exercise, size: tuple[int, int]) -> None:
    window = bench.open(size=size)
    choose(window, exercise)
    window.desk.show_values(
        Settings(Side.RIGHT, 75.0, exercise=exercise, ceiling=Ceiling(percent=75.0)), FULL_GOAL, ("rig:favouring",)
    )
    bench.app.processEvents()
    assert (window.width(), window.height()) == size
    window.desk._open()
    bench.app.processEvents()
    for page in (window.bar, window.desk.sheet):
        assert window.rect().contains(page.geometry())
        for part in page.findChildren(QWidget):
            if part.isVisible() and part.parentWidget() is page:
                assert page.rect().contains(part.geometry()), part
                assert (
                    part.width() >= part.minimumSizeHint().width() and part.height() >= part.minimumSizeHint().height()
                )
    press(bench, Key.Key_Escape)


def test_only_what_belongs_to_the_exercise_is_shown(bench: Bench) -> None:
    window = bench.open()
    of_holds, of_sets = {"Hold goal", "Number of holds"}, {"Sets", "Repetitions", "Tempo"}
    assert shown_labels(window.bar) >= of_holds and not shown_labels(window.bar) & of_sets
    choose(window, Exercise.LOWERING)
    bench.app.processEvents()
    assert shown_labels(window.bar) >= of_sets and not shown_labels(window.bar) & of_holds
    for exercise, there, away in (
        (Exercise.HOLD, {"Grace"}, {"Standing on", "Full raise", "Working leg", "Rest between sets"}),
        (Exercise.HEEL_HOLD, {"Grace", "Standing on", "Full raise"}, {"Working leg", "Rest between sets"}),
        (Exercise.SINGLE_RAISE, {"Standing on", "Full raise", "Working leg", "Sets without help"}, {"Grace"}),
        (Exercise.SQUAT, {"Rest between sets", "How many"}, {"Grace", "Standing on", "Full raise", "Working leg"}),
    ):
        choose(window, exercise)
        window.desk._open()
        bench.app.processEvents()
        labels = shown_labels(window.desk.sheet)
        assert labels >= there | {"Ceiling of load, injured side"} and not labels & away, exercise
        press(bench, Key.Key_Escape)


def test_a_whole_exercise_is_set_up_without_a_mouse(bench: Bench) -> None:
    window = bench.open()
    press(bench, Key.Key_X, ALT)
    assert QApplication.focusWidget() is window.bar.exercise
    for _ in range(list(Exercise).index(Exercise.SINGLE_LOWERING)):
        press(bench, Key.Key_Down)
    press(bench, Key.Key_E, ALT)
    type_in(bench, "2")
    press(bench, Key.Key_P, ALT)
    type_in(bench, "1-1-3-1")
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: not window.desk.sheet.isHidden())
    assert not window.bar.isEnabled()
    for key, words in ((Key.Key_L, "20 kg"), (Key.Key_H, "2"), (Key.Key_F, "80"), (Key.Key_R, "45")):
        press(bench, key, ALT)
        type_in(bench, words, Key.Key_Tab)
    press(bench, Key.Key_O, ALT)
    press(bench, Key.Key_Down)
    press(bench, Key.Key_Return)
    assert window.desk.sheet.isHidden() and window.bar.isEnabled() and window.board.hasFocus()
    settings, goal = window.flow.settings, window.flow.goal
    assert settings.exercise is Exercise.SINGLE_LOWERING and settings.tempo == Tempo(1, 1, 3, 1)
    assert settings.ceiling == Ceiling(kg=20.0) and settings.surface is Surface.STEP
    assert settings.reference_height_mm == 80.0
    assert (goal.sets, goal.blind_sets, goal.rest_s) == (2, (2,), 45.0)
    assert bench.feed.asked[-1] == (settings, goal)


def test_what_is_wrong_is_said_and_nothing_is_taken(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.RAISE)
    before = window.flow.settings
    press(bench, Key.Key_P, ALT)
    type_in(bench, "fast")
    assert "1-1-3-1" in window.bar.wrong.text() and window.flow.settings == before
    press(bench, Key.Key_P, ALT)
    type_in(bench, "own pace")
    assert not window.bar.wrong.isVisible() and not window.bar.wrong.text()
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: not window.desk.sheet.isHidden())
    type_in(bench, "20")
    assert not window.desk.sheet.isHidden(), "the page stays until it is put right"
    assert "20kg" in beside(window, "Ceiling of load") and window.flow.settings.ceiling is None
    press(bench, Key.Key_L, ALT)
    type_in(bench, "none")
    assert window.desk.sheet.isHidden() and "20kg" not in beside(window, "Ceiling of load")


def test_tab_goes_from_field_to_field_of_the_page(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.SINGLE_RAISE)
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: not window.desk.sheet.isHidden())
    reached = set()
    for _ in range(len(window.desk.sheet.measured)):
        focus = QApplication.focusWidget()
        assert focus is not None
        reached.add(focus)
        press(bench, Key.Key_Tab)
    assert reached >= {widget for widget in window.desk.sheet.measured if widget.isVisible()}
    press(bench, Key.Key_Escape)


def test_no_page_stays_over_an_alarm(bench: Bench) -> None:
    window = bench.open()
    for open_page in (window.desk._open, window.cautions.open_page, window.ward.open_stages, window.ward.turn):
        open_page()
        make_way(window)
        assert not window.is_covered and window.bar.isEnabled()
