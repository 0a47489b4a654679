"""Practice at home in the window: the clinician turns it on, the patient practises without a key."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from tests.shown import snapshot
from tests.window.conftest import Bench, fresh
from tests.window.test_keyboard import press, to_ready
from weightshare.exercise import Exercise
from weightshare.practice.home import COUNT_S, OFF_S
from weightshare.practice.role import Role
from weightshare.practice.screen import Step
from weightshare.records.assignment import read_assignment
from weightshare.records.passphrase import set_passphrase
from weightshare.state import State
from weightshare.window.app import find_assigned
from weightshare.window.feed import Order
from weightshare.window.main import PracticeWindow

Key = Qt.Key


@pytest.fixture(autouse=True)
def locked(own_place: None) -> None:
    set_passphrase("a rail within reach")


def opened(bench: Bench) -> PracticeWindow:
    window = bench.open()
    window.ward.order.trouble = ""
    window.ward.uncover()
    window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    return window


def stand(bench: Bench, window: PracticeWindow, from_s: float, seconds: float, load_N: float = 700.0) -> None:
    """Have somebody stand there for so long, in steps of a tenth of a second."""
    for step in range(round(10.0 * seconds) + 1):
        half = 0.5 * load_N
        shot = replace(snapshot(State.IN_BAND, 50.0), time_s=from_s + 0.1 * step, left_N=half, right_N=half)
        bench.feed.shown = fresh(shot)
        window.tick()


def test_the_clinician_turns_it_on_and_it_is_kept_for_the_patient(bench: Bench) -> None:
    window = opened(bench)
    assert window.ward.strip.home.text() == "At home: off (F&7)"
    press(bench, Key.Key_F7)
    window.tick()
    assert window.ward.strip.home.text() == "At home: on (F&7)" and window.ward.order.at_home
    press(bench, Key.Key_F3)
    window.tick()
    kept, order = read_assignment(), Order()
    assert kept is not None and kept.at_home
    find_assigned(order)
    assert order.at_home
    assert window.ward.keeper.role is Role.PATIENT and window.ward.strip.home.isHidden()
    press(bench, Key.Key_F7)
    assert window.ward.order.at_home, "it is not the patient's to set"


def test_a_session_begins_and_ends_without_a_key(bench: Bench) -> None:
    window = opened(bench)
    window.ward.order.at_home = True
    to_ready(bench, window)
    stand(bench, window, 50.0, COUNT_S - 1.0)
    assert window.flow.step is Step.READY
    assert window.screen_shown is not None and "It begins in 1" in window.screen_shown.headline
    stand(bench, window, 50.0 + COUNT_S, 0.3)
    assert str(window.flow.step) == str(Step.PRACTISE) and "begin" in bench.feed.asked
    stand(bench, window, 60.0, OFF_S + 0.2, load_N=0.0)
    assert str(window.flow.step) == str(Step.DONE)
    bench.until(lambda: window.runner.ended is not None)


def test_without_the_option_nothing_begins_by_itself(bench: Bench) -> None:
    window = opened(bench)
    to_ready(bench, window)
    stand(bench, window, 50.0, 3.0 * COUNT_S)
    assert window.flow.step is Step.READY and "begin" not in bench.feed.asked


def test_on_one_leg_nothing_begins_by_itself_before_it_is_allowed(bench: Bench) -> None:
    window = opened(bench)
    window.ward.order.at_home = True
    window.flow.settings = replace(window.flow.settings, exercise=Exercise.SINGLE_RAISE, target_percent=100.0)
    to_ready(bench, window)
    stand(bench, window, 50.0, 2.0 * COUNT_S)
    assert window.flow.step is Step.READY
    window.ward.order.alone_allowed = True
    stand(bench, window, 70.0, COUNT_S + 0.2)
    assert str(window.flow.step) == str(Step.PRACTISE)


def test_the_big_key_is_enough_for_everything_else(bench: Bench) -> None:
    window = opened(bench)
    window.ward.order.at_home = True
    to_ready(bench, window)
    press(bench, Key.Key_Space)
    assert str(window.flow.step) == str(Step.PRACTISE)
