"""Practice at home: it begins once somebody has stood still for a while, and ends once nobody has been there."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.exercise import Exercise, Load, SetSpan
from weightshare.model import Side
from weightshare.practice.action import Action
from weightshare.practice.coach import Sets
from weightshare.practice.flow import Flow
from weightshare.practice.home import COUNT_S, OFF_S, TOLD_S, Home
from weightshare.practice.screen import Screen, Shape, Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings

SETTINGS = Settings(Side.RIGHT, 75.0)
WEIGHT_N = 700.0
GOAL = Goal()
SAMPLING = LinkView("tcp://127.0.0.1:1", LinkState.SAMPLING, "sampling")


class Room:
    """A session at home: what the plates read, moment by moment."""

    def __init__(self, settings: Settings = SETTINGS, step: Step = Step.READY) -> None:
        self.flow, self.home = Flow(settings, GOAL, ("tcp://127.0.0.1:1",)), Home()
        self.flow.step = step
        self.now_s, self.screen = 20.0, Screen(step, "", "", Shape.RING, Side.RIGHT, key="Start practice")
        self.sets = Sets()

    def pass_by(
        self, seconds: float, left_N: float = 350.0, right_N: float = 350.0, *, stale: bool = False, may: bool = True,
        weight_N: float | None = WEIGHT_N,
    ) -> list[Action]:  # fmt: skip
        """Let time pass with these loads; return what was done, and keep what was shown last."""
        done: list[Action] = []
        for _ in range(round(seconds / 0.1)):
            self.now_s += 0.1
            shot = replace(
                snapshot(State.IN_BAND, 50.0), time_s=self.now_s, left_N=left_N, right_N=right_N, body_weight_N=weight_N
            )
            view = LiveView(shot, (SAMPLING,), age_s=9.0 if stale else 0.01, sets=self.sets)
            told, action = self.home.follow(self.flow, view, self.screen, Action.NOTHING, may_begin=may)
            self.headline = told.headline
            if action is not Action.NOTHING:
                done.append(action)
        return done


def test_who_stands_still_begins_after_the_countdown_without_a_key() -> None:
    room = Room()
    assert room.pass_by(COUNT_S - 0.2) == []
    assert room.headline.startswith("Stand still. It begins in 1")
    assert room.pass_by(0.4) == [Action.BEGIN]
    assert room.flow.step is Step.PRACTISE


@pytest.mark.parametrize(
    "between",
    [(0.0, 0.0), (0.0, 700.0), (150.0, 150.0)],
    ids=["off", "one foot", "half of the weight elsewhere"],
)
def test_stepping_off_stops_the_countdown_and_it_begins_anew(between: tuple[float, float]) -> None:
    room = Room()
    room.pass_by(COUNT_S - 0.5)
    assert room.pass_by(0.3, *between) == []
    assert room.headline == "Stand still on the plates: it begins by itself."
    assert room.pass_by(COUNT_S - 0.2) == [], "what was counted before is forgotten"
    assert room.pass_by(0.5) == [Action.BEGIN]


def test_who_does_not_stand_still_does_not_begin() -> None:
    room = Room()
    for _ in range(20):
        assert room.pass_by(0.4) == []
        assert room.pass_by(0.4, 400.0, 400.0) == []


def test_without_news_or_leave_nothing_begins_and_the_count_is_forgotten() -> None:
    held_back: tuple[dict[str, Any], ...] = {"stale": True}, {"may": False}, {"weight_N": None}
    for held in held_back:
        room = Room()
        room.pass_by(COUNT_S - 0.5)
        assert room.pass_by(3.0, **held) == []
        assert room.pass_by(COUNT_S - 0.3) == [] and room.flow.step is Step.READY
    room = Room()
    room.screen = replace(room.screen, key="")
    assert room.pass_by(3.0 * COUNT_S) == [], "what no key may begin does not begin by itself"
    room = Room()
    room.flow.asking_to_end = True
    assert room.pass_by(3.0 * COUNT_S) == []


def test_a_gap_in_the_samples_begins_nothing() -> None:
    room = Room()
    room.pass_by(COUNT_S - 1.0)
    room.now_s += 10.0
    assert room.pass_by(1.0) == [] and room.headline.startswith("Stand still. It begins in 5")


def test_who_sits_with_both_feet_on_the_plates_begins_to_rise_from_the_chair() -> None:
    assert Room().pass_by(2.0 * COUNT_S, 60.0, 60.0) == []
    chair = Room(replace(SETTINGS, exercise=Exercise.SIT_TO_STAND, target_percent=None))
    assert chair.pass_by(COUNT_S + 0.3, 60.0, 60.0) == [Action.BEGIN]


def test_supported_work_needs_no_body_weight() -> None:
    supported = Room(Settings(Side.RIGHT, load=Load(kg=20.0)))
    assert supported.pass_by(COUNT_S + 0.3, 100.0, 100.0, weight_N=None) == [Action.BEGIN]


def test_on_one_leg_the_other_foot_may_be_off() -> None:
    single = Room(Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE))
    assert single.pass_by(COUNT_S + 0.3, 0.0, 700.0) == [Action.BEGIN]


def test_empty_plates_end_the_session_and_it_is_said_before() -> None:
    room = Room(step=Step.PRACTISE)
    assert room.pass_by(OFF_S - TOLD_S - 0.5, 0.0, 0.0) == [] and room.headline == ""
    assert room.pass_by(TOLD_S - 0.5, 0.0, 0.0) == []
    assert room.headline.startswith("Nobody on the plates: the session ends in ")
    assert room.pass_by(0.3) == [], "who is back goes on"
    assert room.pass_by(OFF_S - 0.5, 0.0, 0.0) == []
    assert room.pass_by(1.0, 0.0, 0.0) == [Action.FINISH]
    assert room.flow.step is Step.DONE


def test_nobody_has_to_stand_there_in_a_rest_and_no_link_is_no_absence() -> None:
    lifts = replace(SETTINGS, exercise=Exercise.LOWERING)
    room = Room(lifts, Step.REST)
    room.sets = Sets((SetSpan(1, 5.0, 20.0),))
    rest_until_s = room.sets.rest_until_s(GOAL)
    assert rest_until_s is not None
    assert room.pass_by(rest_until_s - 20.0 + OFF_S - 0.5, 0.0, 0.0) == []
    assert room.pass_by(1.0, 0.0, 0.0) == [Action.FINISH]
    lost = Room(step=Step.PRACTISE)
    assert lost.pass_by(3.0 * OFF_S, 0.0, 0.0, stale=True) == []
