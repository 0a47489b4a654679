"""The step before practice in which the load is shifted: when it is asked, how it goes on, what stays said."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.exercise import Ceiling
from weightshare.metrology.balance import Balance, Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.balance import COMPARING, NOT_ALIKE, NOT_ASKED, NOT_COMPARED
from weightshare.practice.checkup import CheckupView
from weightshare.practice.flow import Action, Flow
from weightshare.practice.screen import Screen, Shape, Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings

REAL = "tcp://127.0.0.1:7000"
SETTINGS = Settings(Side.RIGHT, target_percent=75.0)
UP = (LinkView(REAL, LinkState.SAMPLING, "sampling"),)
DUE = CheckupView("never compared", (35.0, 65.0))
WAY = replace(DUE, under_way=True, toward=Side.RIGHT, progress=0.5, share_percent=42.3)
EVEN, UNEVEN, UNDECIDED = (
    Balance(verdict, Estimate(value, 0.1))
    for verdict, value in ((Verdict.EVEN, 0.2), (Verdict.UNEVEN, 2.0), (Verdict.UNDECIDED, -1.0))
)
UNTOLD = Balance(Verdict.UNTOLD, reason="the load was shifted too fast, or not smoothly: go slowly")


def update(flow: Flow, checkup: CheckupView | None = DUE, age_s: float = 0.01, **more: Any) -> tuple[Screen, Action]:
    shot = snapshot(State.STANDING, 50.0, time_s=9.0, **more)
    return flow.update(LiveView(snapshot=shot, links=UP, age_s=age_s, checkup=checkup))


def comparing(settings: Settings = SETTINGS) -> Flow:
    """A flow in which the shift was just asked for."""
    flow = Flow(settings, Goal(), (REAL,))
    update(flow)
    flow.skip()
    assert update(flow)[1] is Action.COMPARE
    return flow


def result(balance: Balance) -> CheckupView:
    return replace(DUE, balance=balance)


def test_it_is_asked_for_once_and_only_where_it_is_due() -> None:
    flow = comparing()
    assert update(flow, WAY)[1] is Action.NOTHING and flow.step is Step.BALANCE
    for checkup in (None, replace(DUE, due=""), replace(DUE, due="", uneven=True)):
        other = Flow(SETTINGS, Goal(), (REAL,))
        update(other, checkup)
        other.skip()
        assert other.step is Step.READY
        warnings = update(other, checkup)[0].warnings
        assert NOT_COMPARED not in warnings
        assert (NOT_ALIKE in warnings) is bool(checkup and checkup.uneven)


def test_a_virtual_person_is_asked_where_that_was_wished() -> None:
    flow = Flow(SETTINGS, Goal(), ("rig:steady,balance=ask",))
    assert update(flow)[1] is Action.COMPARE and flow.step is Step.BALANCE


def test_the_screen_says_where_to_and_how_far_with_both_feet_on() -> None:
    screen, _ = update(comparing(), WAY)
    assert screen.headline == "Shift your weight slowly to the right, to 65 %." and screen.state == COMPARING
    assert "Both feet stay on" in screen.note and screen.shape is Shape.TO_RIGHT
    assert screen.soles is not None and screen.soles.named is Side.RIGHT and screen.soles.part == 0.5
    assert screen.soles.reach_percent == (35.0, 65.0) and screen.soles.place_percent == 42.5
    assert words.SKIP_HINT in screen.hint and screen.key == "" and NOT_COMPARED not in screen.warnings


@pytest.mark.parametrize("toward", list(Side))
def test_no_word_of_it_asks_for_one_leg(toward: Side) -> None:
    said = ""
    for checkup in (replace(WAY, toward=toward), result(UNEVEN), result(UNDECIDED), result(UNTOLD)):
        screen, _ = update(comparing(), checkup)
        said += f"{screen.headline} {screen.note} {screen.hint} "
    assert "one leg" not in said and "one foot" not in said and "lift" not in said.lower()


def test_the_way_ends_before_the_ceiling_and_the_limit_is_said() -> None:
    settings = Settings(Side.LEFT, target_percent=55.0, ceiling=Ceiling(percent=60.0))
    flow = Flow(settings, Goal(), (REAL,))
    checkup = replace(WAY, toward=Side.LEFT, asked_percent=(35.0, 54.0))
    update(flow, checkup, ceiling_N=420.0)
    flow.skip()
    screen, _ = update(flow, checkup, ceiling_N=420.0)
    assert screen.headline.endswith("to the left, to 54 %.") and "60 % of body weight" in screen.note


def test_plates_that_read_alike_go_on_by_themselves() -> None:
    flow = comparing()
    update(flow, WAY)
    screen, _ = update(flow, result(EVEN))
    assert flow.step is Step.READY and not {NOT_COMPARED, NOT_ALIKE} & set(screen.warnings)


def test_plates_that_do_not_are_said_and_stay_said() -> None:
    flow = comparing()
    screen, _ = update(flow, result(UNEVEN))
    assert screen.headline == "The left plate reads 2.0 \u00b1 0.2 % more than the other."
    assert screen.shape is Shape.CROSS and screen.key == words.GO_ON and "calibrated" in screen.note
    assert flow.press() is Action.NOTHING and flow.step is Step.READY
    assert NOT_ALIKE in update(flow, result(UNEVEN))[0].warnings


@pytest.mark.parametrize("balance", [UNTOLD, UNDECIDED])
def test_what_tells_nothing_is_asked_anew(balance: Balance) -> None:
    flow = comparing()
    screen, _ = update(flow, result(balance))
    assert screen.key == words.CHECK_AGAIN and screen.step is Step.BALANCE
    assert flow.press() is Action.NOTHING
    assert update(flow, result(balance))[1] is Action.COMPARE, "the old result is not taken for the new one"
    assert update(flow, result(balance))[0].headline.startswith("Shift your weight")
    update(flow, result(EVEN))
    assert flow.step is Step.READY


def test_it_can_be_passed_over_and_that_is_said_to_the_end() -> None:
    flow = comparing()
    assert flow.skip() and flow.step is Step.READY
    assert NOT_COMPARED in update(flow)[0].warnings
    assert flow.press() is Action.BEGIN
    assert NOT_COMPARED in update(flow)[0].warnings
    flow.escape()
    flow.escape()
    assert NOT_COMPARED in update(flow)[0].warnings


def test_where_the_limit_leaves_no_room_nobody_is_asked_and_that_is_said() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    checkup = replace(DUE, asked_percent=None)
    update(flow, checkup)
    flow.skip()
    screen, action = update(flow, checkup)
    assert flow.step is Step.READY and action is Action.NOTHING and NOT_ASKED in screen.warnings


def test_a_limit_that_is_set_meanwhile_ends_the_asking() -> None:
    flow = comparing()
    update(flow, replace(WAY, asked_percent=None))
    assert flow.step is Step.READY


def test_another_setting_asks_anew_for_another_way() -> None:
    flow = comparing()
    update(flow, WAY)
    flow.change(replace(SETTINGS, ceiling=Ceiling(percent=70.0)), Goal())
    assert update(flow, WAY, ceiling_N=490.0)[1] is Action.COMPARE


def test_what_was_found_of_the_scale_stands_until_practice_begins() -> None:
    found, other = "the left plate's zero moved by +14 N since last time", "the link is back at 9.0 s"
    flow = Flow(SETTINGS, Goal(), (REAL,))
    checkup = replace(DUE, due="", findings=(found,))

    def warned(time_s: float) -> tuple[str, ...]:
        shot = snapshot(State.STANDING, 50.0, time_s=time_s)
        return flow.update(LiveView(shot, UP, 0.01, checkup=checkup, messages=(found, other)))[0].warnings

    assert {found, other} <= set(warned(9.0))
    flow.skip()
    assert found in warned(40.0) and other not in warned(40.0)
    flow.press()
    assert found not in warned(41.0)


def test_a_lost_link_shows_no_number_of_it() -> None:
    screen, _ = update(comparing(), WAY, age_s=0.5)
    assert screen.blank and screen.headline == words.LOST_HEADLINE
    assert screen.soles is not None and screen.soles.reach_percent is None


def test_the_ceilings_alarm_stands_over_it() -> None:
    settings = replace(SETTINGS, ceiling=Ceiling(percent=70.0))
    flow = comparing(settings)
    screen, _ = update(flow, WAY, ceiling_N=490.0, over_ceiling=True, injured_N=500.0)
    assert screen.alarm is not None
