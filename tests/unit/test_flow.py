"""The order of a session, driven by views alone."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from tests.shown import snapshot
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.flow import Action, Flow
from weightshare.practice.frame import Frame
from weightshare.practice.history import Course, History
from weightshare.practice.screen import Screen, Shape, Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

REAL = "tcp://127.0.0.1:7000"
SETTINGS = Settings(Side.RIGHT, target_percent=75.0)
UP = (LinkView(REAL, LinkState.SAMPLING, "sampling"),)


def view(shot: Snapshot, age_s: float = 0.01, **more: Any) -> LiveView:
    return LiveView(snapshot=shot, links=UP, age_s=age_s, **more)


def standing(time_s: float, share: float = 50.0, state: State = State.TOO_LITTLE, **more: object) -> Snapshot:
    return snapshot(state, share, time_s=time_s, **more)


def lean(flow: Flow, share: float, start_s: float, seconds: float) -> Screen:
    """Stand with `share` on the right foot for so long, 50 views a second; return the last screen."""
    for time_s in np.arange(start_s, start_s + seconds, 0.02):
        screen, action = flow.update(view(standing(float(time_s), share)))
        assert action is Action.NOTHING
    return screen


def ready(source: str = REAL, goal: Goal | None = None) -> Flow:
    flow = Flow(SETTINGS, goal or Goal(30.0, 2), (source,))
    flow.update(view(standing(5.0)))
    flow.skip()
    assert flow.step is Step.READY
    return flow


def practising(goal: Goal | None = None) -> Flow:
    flow = ready(goal=goal)
    assert flow.press() is Action.BEGIN
    return flow


def test_the_steps_come_in_order_without_a_key() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    seen = []
    for shot, age_s in (
        (Snapshot(), float("inf")),
        (Snapshot(State.ZEROING, time_s=0.1), 0.01),
        (Snapshot(State.NOBODY, time_s=1.2, zero_taken=True), 0.01),
        (Snapshot(State.WEIGHING, time_s=3.0, zero_taken=True), 0.01),
        (standing(7.0), 0.01),
    ):
        screen, _action = flow.update(view(shot, age_s))
        seen.append((screen.step, screen.state))
    assert seen == [
        (Step.CONNECT, "waiting for the scales"),
        (Step.ZERO, "taking zero"),
        (Step.WEIGH, "nobody on the scales"),
        (Step.WEIGH, "weighing"),
        (Step.CHECK, words.CHECKING),
    ]


def test_no_share_is_shown_before_the_check_is_over() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    for shot in (Snapshot(State.ZEROING, time_s=0.1), standing(1.0, body_weight_N=None), standing(5.0)):
        screen, _action = flow.update(view(shot))
        assert screen.figures.share == "" and screen.path is None


def test_the_sound_foot_is_asked_and_a_lean_to_it_passes() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    screen = lean(flow, 50.0, 5.0, 1.5)
    assert screen.soles is not None and screen.soles.named is Side.LEFT
    assert "left" in screen.headline and "rail" in screen.headline and "chair" in screen.note
    screen = lean(flow, 38.0, 6.5, 1.0)
    assert flow.step is Step.READY and flow.checked and words.NOT_CHECKED not in screen.warnings


def test_a_lean_felt_by_the_other_plate_says_that_the_plates_are_swapped() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    lean(flow, 50.0, 5.0, 1.5)
    screen = lean(flow, 62.0, 6.5, 2.0)
    assert flow.step is Step.CHECK and "swapped" in screen.headline and "change the two over" in screen.note
    assert screen.shape is Shape.CROSS and screen.key == words.CHECK_AGAIN
    flow.press()
    assert lean(flow, 50.0, 8.5, 1.5).soles == replace(screen.soles, swapped=False)  # type: ignore[type-var]


def test_no_word_of_the_check_asks_for_one_leg() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    said = ""
    for share, start_s in ((50.0, 5.0), (62.0, 6.5)):
        screen = lean(flow, share, start_s, 2.0)
        said += f"{screen.headline} {screen.note} {screen.hint} "
    assert "one leg" not in said and "one foot" not in said and "lift" not in said.lower()


def test_a_check_that_was_passed_over_is_said_to_the_end() -> None:
    flow = ready()
    assert words.NOT_CHECKED in flow.update(view(standing(9.0)))[0].warnings
    flow.press()
    assert words.NOT_CHECKED in flow.update(view(standing(9.1)))[0].warnings
    flow.escape()
    flow.escape()
    assert words.NOT_CHECKED in flow.update(view(standing(9.2)))[0].warnings


def test_a_check_has_nothing_to_ask_of_a_virtual_person_that_follows_a_plan() -> None:
    flow = Flow(SETTINGS, Goal(), ("rig:steady",))
    screen, _action = flow.update(view(standing(5.0)))
    assert flow.step is Step.READY and words.NOT_CHECKED not in screen.warnings
    assert "irtual" in screen.source and "steady" in screen.source


def test_the_steered_person_is_asked_like_a_real_one() -> None:
    flow = Flow(SETTINGS, Goal(), ("rig:steered",))
    assert flow.update(view(standing(5.0)))[0].step is Step.CHECK
    assert words.STEER_HINT in flow.update(view(standing(5.1)))[0].hint


def test_settings_are_locked_while_practising() -> None:
    flow = ready()
    other = replace(SETTINGS, target_percent=60.0)
    assert flow.change(other, Goal(10.0, 1)) and flow.settings.target_percent == 60.0
    flow.press()
    assert not flow.change(SETTINGS, Goal()) and flow.settings == other and flow.goal == Goal(10.0, 1)


def test_another_injured_side_asks_the_other_foot() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    lean(flow, 50.0, 5.0, 1.5)
    flow.change(replace(SETTINGS, injured=Side.LEFT), Goal())
    screen = lean(flow, 50.0, 6.5, 1.5)
    assert screen.soles is not None and screen.soles.named is Side.RIGHT


def test_the_last_hold_ends_the_session_once_and_a_second_after_its_goal() -> None:
    flow = practising(Goal(30.0, 1))
    hold = standing(40.0, 75.0, State.IN_BAND, holding=True, held_s=30.5)
    screen, action = flow.update(view(hold))
    assert action is Action.NOTHING and "All holds done" in screen.headline
    _screen, action = flow.update(view(replace(hold, time_s=41.0, held_s=31.0)))
    assert action is Action.FINISH and flow.step is Step.DONE
    screen, action = flow.update(view(replace(hold, time_s=41.1, held_s=31.1)))
    assert action is Action.NOTHING and screen.summary is not None
    assert screen.summary.held_s == (31.0,) and screen.summary.lines[0] == "1 of 1 holds of 30 s"


def test_between_holds_the_patient_is_told_to_rest() -> None:
    flow = practising(Goal(30.0, 3))
    hold = standing(40.0, 75.0, State.IN_BAND, holding=True, held_s=30.0)
    screen, _action = flow.update(view(hold))
    assert screen.headline == "Hold 1 of 3 is done. Ease back and rest."
    rest = standing(45.0, 55.0, State.TOO_LITTLE, held_each_s=(31.0,))
    screen, _action = flow.update(view(rest))
    assert screen.headline == "Put more weight on your right foot." and screen.figures.holds == "1 of 3"


def test_escape_asks_once_and_space_goes_on() -> None:
    flow = practising()
    assert flow.escape() is Action.NOTHING
    screen, _action = flow.update(view(standing(10.0)))
    assert screen.headline == words.ASK_TO_END and screen.key == words.GO_ON
    assert flow.press() is Action.NOTHING and flow.locked
    assert [flow.escape(), flow.escape(), flow.escape()] == [Action.NOTHING, Action.FINISH, Action.CLOSE]


def test_escape_before_practice_closes_after_asking() -> None:
    flow = ready()
    assert (flow.escape(), flow.escape()) == (Action.NOTHING, Action.CLOSE)


def test_space_on_the_summary_starts_over() -> None:
    flow = practising()
    flow.escape()
    flow.escape()
    assert flow.press() is Action.AGAIN


def test_the_end_of_a_record_ends_the_session() -> None:
    flow = practising()
    ended = (LinkView("file:x", LinkState.ENDED, "the record is at its end"),)
    assert flow.update(LiveView(snapshot=standing(50.0), links=ended))[1] is Action.FINISH


def test_a_lost_link_during_the_check_forgets_the_half_made_comparison() -> None:
    flow = Flow(SETTINGS, Goal(), (REAL,))
    lean(flow, 50.0, 5.0, 1.5)
    screen, _action = flow.update(view(standing(6.5), age_s=0.4))
    assert screen.blank and screen.state == words.LINK_LOST
    assert lean(flow, 38.0, 20.0, 0.8).step is Step.CHECK


@pytest.mark.parametrize(("age_s", "blank"), [(0.3, False), (0.3001, True)])
def test_data_are_too_old_after_300_ms(age_s: float, blank: bool) -> None:
    screen, _action = practising().update(view(standing(10.0, 75.0, State.IN_BAND), age_s))
    assert screen.blank is blank
    assert (screen.figures.share == "") is blank and (screen.path is None or screen.path.place is None) is blank


def test_what_counted_is_paved_and_a_break_is_not_bridged() -> None:
    flow = practising()
    for time_s, state in (
        (10.0, State.IN_BAND),
        (10.1, State.IN_BAND),
        (10.2, State.TOO_LITTLE),
        (10.3, State.IN_BAND),
    ):
        flow.update(view(standing(time_s, 75.0, state)))
    screen, _action = flow.update(view(standing(12.0, 75.0, State.IN_BAND)))
    assert screen.path is not None and screen.path.paved == ((10.0, 10.1), (10.3, 10.3), (12.0, 12.0))


def test_figures_stand_still_for_a_fifth_of_a_second_and_never_against_the_state() -> None:
    flow = practising()
    seen = []
    for time_s, share, state in (
        (10.0, 72.0, State.IN_BAND),
        (10.1, 76.0, State.IN_BAND),
        (10.15, 69.0, State.TOO_LITTLE),
        (10.2, 65.0, State.TOO_LITTLE),
        (10.36, 64.0, State.TOO_LITTLE),
    ):
        screen, _action = flow.update(view(standing(time_s, share, state)))
        assert screen.path is not None and screen.path.place == share, "the puck shows every sample"
        seen.append(screen.figures.share)
    assert seen == ["72", "72", "69", "69", "64"]


def test_figures_that_stand_still_go_when_the_data_stop() -> None:
    flow = practising()
    flow.update(view(standing(10.0, 72.0, State.IN_BAND)))
    assert flow.update(view(standing(10.0, 72.0, State.IN_BAND), age_s=0.31))[0].figures.share == ""
    assert flow.update(view(standing(10.1, 78.0, State.IN_BAND)))[0].figures.share == "78"


def test_time_that_is_over_ends_practice_and_nothing_else() -> None:
    assert ready().end() is Action.NOTHING
    flow = practising()
    assert flow.end() is Action.FINISH and flow.end() is Action.NOTHING


def test_the_course_of_practice_is_thinned_and_has_no_sample_twice() -> None:
    flow = practising()
    times = np.arange(0.0, 40.0, 0.01)
    for end in range(1200, 4001, 5):
        trail = slice(end - 1200, end)
        flow.update(view(standing(float(times[end - 1])), trail_time_s=times[trail], trail_share_percent=times[trail]))
    flow.escape()
    flow.escape()
    summary = flow.update(view(standing(40.0)))[0].summary
    assert summary is not None
    assert np.all(np.diff(summary.course_time_s) > 0) and len(summary.course_time_s) == pytest.approx(400, abs=6)
    known = np.isfinite(summary.course_percent)
    assert known.sum() > 380, "only the ends are left out"
    np.testing.assert_array_equal(summary.course_time_s[known], summary.course_percent[known])
    assert summary.band_percent == (70.0, 80.0)


def test_where_the_band_turns_the_course_keeps_what_was_asked_at_each_time() -> None:
    """A repetition that is even on the way up was never out of a band that was asked for on the way down only."""
    aim = np.array([50.0, 50.0, 75.0, np.nan])
    course = Course(np.arange(4.0), np.array([50.0, 51.0, 74.0, 90.0]), aim)
    turning = Frame(Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING), Goal())
    summary = summary_screen(Practised(course=course), turning).summary
    assert summary is not None and summary.edges_percent is not None
    low, high = summary.edges_percent
    np.testing.assert_array_equal(low, [45.0, 45.0, 70.0, np.nan])
    np.testing.assert_array_equal(high, [55.0, 55.0, 80.0, np.nan])
    still = replace(turning, settings=Settings(Side.RIGHT, 75.0))
    standing_still = summary_screen(Practised(course=course), still).summary
    assert standing_still is not None and standing_still.edges_percent is None
    # of a view that does not tell what was asked there is none
    history = History()
    history.push(course.time_s, course.share_percent, np.empty(0))
    assert np.isnan(history.course().aim_percent).all()


def test_the_summary_is_made_anew_only_when_there_is_more_to_say() -> None:
    flow = practising()
    flow.end()
    first = flow.update(view(standing(40.0)))[0].summary
    assert flow.update(view(standing(40.1)))[0].summary is first
    flow.place = "somewhere"
    second = flow.update(view(standing(40.2)))[0].summary
    assert second is not first and second is not None and second.lines[-1] == "Kept in somewhere"


def test_what_could_not_be_kept_is_said_on_the_summary() -> None:
    flow = practising()
    flow.end()
    flow.trouble = "the disk is full"
    assert "the disk is full" in flow.update(view(standing(40.0)))[0].warnings


@pytest.mark.parametrize(
    ("source", "changed", "anew"),
    [
        ("rig:steady", {"target_percent": 60.0}, True),
        ("rig:steered", {"target_percent": 60.0}, False),
        ("rig:steered", {"injured": Side.LEFT}, True),
        (REAL, {"injured": Side.LEFT}, False),
    ],
)
def test_a_virtual_person_starts_over_for_what_it_does_not_know(
    source: str, changed: dict[str, Any], anew: bool
) -> None:
    after = replace(SETTINGS, **changed)
    assert words.needs_a_new_person(source, (SETTINGS, Goal()), (after, Goal())) is anew
    assert not words.needs_a_new_person(source, (SETTINGS, Goal()), (SETTINGS, Goal()))


def test_what_has_passed_leaves_the_screen_and_what_still_holds_stays() -> None:
    flow = practising()
    shot = standing(10.0, warnings=("the zero was not believed",))
    messages = ("the link is back", *shot.warnings)
    seen = []
    for time_s in (10.0, 24.9, 25.1):
        screen, _action = flow.update(view(replace(shot, time_s=time_s), messages=messages))
        seen.append(screen.warnings[:-1])
    assert seen == [messages, messages, shot.warnings]


def test_old_messages_with_their_times_wait_until_data_come_again() -> None:
    flow = practising()
    screen, _action = flow.update(view(standing(10.0), age_s=0.4, messages=("the link was lost at 9.6 s",)))
    assert not any(letter.isdigit() for said in screen.warnings for letter in said)
