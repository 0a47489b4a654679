"""Exercises on the injured leg alone, set by hand: none begins before the clinician has said that it is allowed."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from tests.window.conftest import GOAL, SETTINGS, SOURCE, Bench
from tests.window.test_keyboard import ALT, press, to_ready
from weightshare.cli import main
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.role import Role, is_alone
from weightshare.practice.screen import Step
from weightshare.records.assignment import Assignment, read_assignment, write_assignment
from weightshare.records.passphrase import set_passphrase
from weightshare.task import Goal, Settings
from weightshare.window.app import _make_window, find_assigned
from weightshare.window.feed import Order
from weightshare.window.main import PracticeWindow

Key = Qt.Key
WORDS = "a rail within reach"
SINGLE = Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE)


pytestmark = pytest.mark.usefixtures("own_place")


def choose(bench: Bench, window: PracticeWindow, exercise: Exercise) -> None:
    window.bar.exercise.setFocus()
    row = list(Exercise).index(exercise)
    for _ in Exercise:
        if window.bar.exercise.currentIndex() != row:
            press(bench, Key.Key_Down if window.bar.exercise.currentIndex() < row else Key.Key_Up)
    window.board.setFocus()
    window.tick()


def test_the_injured_leg_stands_alone_unless_only_the_other_one_works() -> None:
    assert is_alone(SINGLE, Goal()) and not is_alone(SETTINGS, GOAL)
    other = replace(SINGLE, working=Side.LEFT, target_percent=0.0)
    assert not is_alone(other, Goal())
    assert is_alone(replace(SINGLE, target_percent=None), Goal(to_exhaustion=True, sets=2))


def test_chosen_by_hand_it_begins_only_once_it_is_allowed(bench: Bench) -> None:
    window = bench.open()
    choose(bench, window, Exercise.SINGLE_RAISE)
    assert "stands alone" in window.notice.words.text() and "surgeon" in window.notice.words.text()
    to_ready(bench, window)
    press(bench, Key.Key_Space)
    assert window.flow.step is Step.READY, "one key alone begins nothing"
    window.tick()
    shown = window.screen_shown
    assert shown is not None and shown.headline == "Stay on both feet." and shown.path is None and not shown.key
    assert window.ward.strip.asked.text() == "", "nobody is asked to stand on it either"
    press(bench, Key.Key_W, ALT)
    bench.until(window.notice.isHidden)
    press(bench, Key.Key_Space)
    assert window.flow.step is Step.READY and not window.notice.isHidden(), "it is asked again"
    press(bench, Key.Key_Y, ALT)
    bench.until(window.notice.isHidden)
    window.tick()
    assert window.screen_shown is not None and window.screen_shown.path is not None
    press(bench, Key.Key_Space)
    assert str(window.flow.step) == str(Step.PRACTISE)


def test_the_list_is_walked_through_and_another_exercise_asks_for_nothing(bench: Bench) -> None:
    window = bench.open()
    choose(bench, window, Exercise.SQUAT)
    assert window.flow.settings.exercise is Exercise.SQUAT and window.notice.isHidden()
    choose(bench, window, Exercise.SINGLE_LOWERING)
    press(bench, Key.Key_Y, ALT)
    bench.until(window.notice.isHidden)
    choose(bench, window, Exercise.RAISE)
    choose(bench, window, Exercise.SINGLE_LOWERING)
    assert not window.notice.isHidden(), "what was allowed was allowed then"


def patients_window(bench: Bench, assignment: Assignment) -> PracticeWindow:
    set_passphrase(WORDS)
    write_assignment(assignment)
    order = Order()
    options = find_assigned(order)
    bench.store.cautions_read = True
    window = PracticeWindow(options.settings, options.goal, (SOURCE,), bench._make, bench.store, order=order)
    bench.keep(window)
    window.show()
    bench.until(lambda: window.runner.feed is not None)
    assert window.ward.keeper.role is Role.PATIENT
    return window


def test_a_patient_is_not_asked_and_begins_nothing_that_nobody_allowed(bench: Bench) -> None:
    window = patients_window(bench, Assignment(SINGLE, GOAL))
    to_ready(bench, window)
    for key in (Key.Key_Space, Key.Key_Return, Key.Key_Y):
        press(bench, key)
        press(bench, key, ALT)
    assert window.flow.step is Step.READY and "The clinician does" in window.notice.words.text()
    assert len(window.notice._buttons) == 1, "there is nothing to say yes to"


def test_what_the_clinician_allowed_stands_between_starts(bench: Bench) -> None:
    window = patients_window(bench, Assignment(SINGLE, GOAL, alone_allowed=True))
    to_ready(bench, window)
    press(bench, Key.Key_Space)
    assert window.flow.step is Step.PRACTISE


def test_locking_keeps_what_was_allowed(bench: Bench) -> None:
    set_passphrase(WORDS)
    window = bench.open()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    choose(bench, window, Exercise.SINGLE_RAISE)
    press(bench, Key.Key_F3)
    kept = read_assignment()
    assert kept is not None and not kept.alone_allowed
    assert "nobody has allowed" in window.notice.words.text()


def test_the_command_in_the_window_is_no_yes_unless_it_says_so(bench: Bench) -> None:
    def is_held_back(*, cleared: bool) -> bool:
        options = PractiseOptions(SINGLE, GOAL, ("tcp://127.0.0.1:1",), cleared=cleared)
        window = _make_window(options, bench.store, settled=False, wanted=None)
        bench.keep(window)
        window.ward.follow()
        assert ("stands alone" in window.notice.words.text()) is window.ward.alone.is_held_back
        return window.ward.alone.is_held_back

    assert is_held_back(cleared=False) and not is_held_back(cleared=True)
    set_passphrase(WORDS)
    assert is_held_back(cleared=True), "whoever typed that may be the patient"


def test_the_command_says_a_caution_on_one_line_and_goes_on_only_where_it_is_allowed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked = [
        "practise",
        "--injured",
        "left",
        "--source",
        "tcp://127.0.0.1:1",
        "--headless",
        "--seconds",
        "1",
        "--no-save",
    ]
    assert main([*asked, "--stage", "single-raise"]) == 2
    assert "add --cleared where" in capsys.readouterr().err.splitlines()[-1]
    # nothing listens at that port
    assert main([*asked, "--stage", "single-raise", "--cleared"]) == 3
    lines = capsys.readouterr().err.splitlines()
    assert sum("caution: the injured leg stands alone" in line for line in lines) == 1
    assert main([*asked, "--stage", "single-raise", "--working", "right"]) == 3
    assert "caution" not in capsys.readouterr().err
