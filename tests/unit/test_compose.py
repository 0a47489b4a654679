"""From a view to a screen: what is shown, what is kept back, and which way everything points."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from tests.shown import snapshot
from weightshare.exercise import Exercise, SetSpan
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.coach import Sets
from weightshare.practice.compose import practise_screen
from weightshare.practice.frame import Frame, shape_of
from weightshare.practice.prepare import prepare_screen
from weightshare.practice.screen import Figures, Path, Screen, Shape, Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings

FRAME = Frame(Settings(Side.RIGHT, target_percent=75.0), Goal(30.0, 3), "serial:COM3")
UP = (LinkView("serial:COM3", LinkState.SAMPLING, "sampling"),)


def view(state: State = State.IN_BAND, share: float | None = 74.3, age_s: float = 0.01, **more: object) -> LiveView:
    time_s = np.arange(28.0, 40.0, 0.01)
    trail = np.linspace(60.0, 80.0, len(time_s))
    return LiveView(
        snapshot=snapshot(state, share, **more),
        links=UP,
        age_s=age_s,
        trail_time_s=time_s,
        trail_share_percent=trail,
    )


def texts(screen: Screen) -> str:
    figures = " ".join(str(getattr(screen.figures, field.name)) for field in fields(Figures) if field.type == "str")
    return f"{screen.headline} {screen.state} {screen.note} {figures}"


def path_of(screen: Screen) -> Path:
    assert screen.path is not None
    return screen.path


def test_the_figures_of_practice() -> None:
    figures = practise_screen(view(held_s=12.4, holding=True, held_each_s=(31.0, 4.0)), FRAME).figures
    assert (figures.share, figures.held, figures.held_goal, figures.holds) == ("74", "12", "of 30 s", "1 of 3")
    assert (figures.load_kg, figures.load_percent) == ("53.0 kg", "74 % of body weight")
    assert figures.aim == "aim 75, from 70 to 80" and figures.held_fraction == pytest.approx(12.4 / 30)


def test_old_data_leave_no_digit_on_the_screen() -> None:
    for step in (Step.READY, Step.PRACTISE):
        screen = practise_screen(view(age_s=0.31, held_s=12.4, holding=True), FRAME, step)
        assert screen.blank and not any(letter.isdigit() for letter in texts(screen))
        assert screen.state == "link lost" and screen.shape is Shape.CROSS
        path = path_of(screen)
        assert path.place is None and path.now_s is None and len(path.trail_time_s) == 0 and not path.solid


def test_a_lost_link_is_explained_in_the_links_own_words() -> None:
    lost = (LinkView("serial:COM3", LinkState.LOST, "serial:COM3 is unplugged; plug it in"),)
    screen = practise_screen(LiveView(links=lost), FRAME)
    assert screen.warnings == ("serial:COM3 is unplugged; plug it in",) and not screen.trouble


def test_a_silence_that_the_link_has_not_noticed_is_explained_too() -> None:
    assert practise_screen(view(age_s=0.4), FRAME).warnings == (words.RECONNECTING,)


def test_a_refused_scale_is_trouble_at_every_step() -> None:
    said = "serial:COM3: no calibration for scale 00; weightshare calibrate makes one"
    refused = LiveView(links=(LinkView("serial:COM3", LinkState.REFUSED, said),))
    for screen in (practise_screen(refused, FRAME), prepare_screen(refused, FRAME, Step.CONNECT)):
        assert screen.trouble == said and screen.headline == words.REFUSED_HEADLINE
    assert prepare_screen(refused, FRAME, Step.CONNECT).hint == words.RETRY_HINT


def test_a_scale_without_a_calibration_is_said_to_need_one() -> None:
    said = "scale 0011223344556677 has no calibration and cannot be practised on; make one"
    refused = LiveView(links=(LinkView("serial:COM3", LinkState.REFUSED, said),))
    assert prepare_screen(refused, FRAME, Step.CONNECT).headline == words.UNCALIBRATED_HEADLINE


@pytest.mark.parametrize("injured", list(Side))
def test_more_weight_on_the_right_foot_is_further_right(injured: Side) -> None:
    frame = replace(FRAME, settings=replace(FRAME.settings, injured=injured))
    places = []
    for right_share in (30.0, 50.0, 70.0):
        share = right_share if injured is Side.RIGHT else 100.0 - right_share
        places.append(path_of(practise_screen(view(share=share), frame)).place)
    assert places == [30.0, 50.0, 70.0]


@pytest.mark.parametrize("injured", list(Side))
def test_the_arrowhead_points_from_the_puck_to_the_band(injured: Side) -> None:
    frame = replace(FRAME, settings=replace(FRAME.settings, injured=injured))
    for state, share in ((State.TOO_LITTLE, 60.0), (State.TOO_MUCH, 90.0)):
        screen = practise_screen(view(state, share), frame)
        path = path_of(screen)
        assert path.place is not None and path.low is not None
        assert (screen.shape is Shape.TO_RIGHT) == (path.place < path.low)
        assert screen.shape in (Shape.TO_LEFT, Shape.TO_RIGHT)


@pytest.mark.parametrize("injured", list(Side))
@pytest.mark.parametrize(
    ("target", "tolerance", "share", "inside"),
    [
        (75.0, 5.0, 70.0, True),
        (75.0, 5.0, 69.999999, False),
        (75.0, 5.0, 80.0, True),
        (75.0, 5.0, 80.000001, False),
        (66.7, 3.3, 63.4, abs(63.4 - 66.7) <= 3.3),
        (66.7, 3.3, 70.0, abs(70.0 - 66.7) <= 3.3),
    ],
)
def test_inside_is_what_the_contract_says_to_the_last_digit(
    injured: Side, target: float, tolerance: float, share: float, inside: bool
) -> None:
    frame = replace(FRAME, settings=Settings(injured, target, tolerance))
    assert path_of(practise_screen(view(share=share), frame)).inside is inside


def test_the_band_is_always_on_the_picture_with_room_beside_it() -> None:
    for target in range(0, 101, 5):
        for tolerance in (0.5, 5.0, 20.0):
            frame = replace(FRAME, settings=Settings(Side.LEFT, float(target), tolerance))
            path = path_of(practise_screen(view(), frame))
            assert path.low is not None and path.high is not None
            assert 30.0 <= path.reach_points <= 50.0
            assert 50.0 - path.reach_points <= path.low < path.high <= 50.0 + path.reach_points


def test_where_nothing_can_count_the_corridor_is_hollow_and_the_puck_a_diamond() -> None:
    for state in (State.ONE_FOOT_OFF, State.ELSEWHERE):
        screen = practise_screen(view(state, 75.0), FRAME)
        assert screen.shape is Shape.DIAMOND and not path_of(screen).solid and not path_of(screen).counts
    assert practise_screen(view(State.ELSEWHERE, 75.0), FRAME).state == words.SUPPORTED


def test_supported_work_is_said_beside_the_state() -> None:
    screen = practise_screen(view(supported=True), FRAME)
    assert (screen.state, screen.note) == ("in the band", words.SUPPORTED)


def test_no_share_where_nobody_stands() -> None:
    screen = practise_screen(view(State.NOBODY, None), FRAME)
    assert screen.figures.share == "" and screen.figures.load_kg == "" and path_of(screen).place is None


def test_percent_of_body_weight_waits_until_it_is_known() -> None:
    figures = practise_screen(view(body_weight_N=None), FRAME).figures
    assert figures.load_kg == "53.0 kg" and figures.load_percent == ""


def test_warnings_are_the_loss_of_the_recording_and_the_last_two_told() -> None:
    told = replace(view(), recording="the disk is full: nothing is kept", messages=("a", "b", "c"))
    assert practise_screen(told, FRAME).warnings == ("the disk is full: nothing is kept", "b", "c")


def test_in_a_hold_or_a_set_what_can_wait_waits() -> None:
    """What was found of the plates at the start stood beside the path; it comes back in the rest."""
    told = replace(view(holding=True), recording="the disk is full: nothing is kept", messages=("a", "b"))
    assert practise_screen(told, FRAME).warnings == ("the disk is full: nothing is kept",)
    assert practise_screen(told, FRAME, Step.READY).warnings[1:] == ("a", "b"), "before practice it is read"
    lifts = replace(FRAME, settings=replace(FRAME.settings, exercise=Exercise.LOWERING))
    in_set = replace(told, sets=Sets((SetSpan(1, 1.0),)))
    assert practise_screen(in_set, lifts).warnings == ("the disk is full: nothing is kept",)
    assert practise_screen(replace(told, sets=Sets((SetSpan(1, 1.0, 5.0),))), lifts).warnings[1:] == ("a", "b")


def test_before_practice_nothing_is_held_or_paved() -> None:
    screen = practise_screen(view(held_s=9.0, holding=True, held_each_s=(31.0,)), FRAME, Step.READY)
    assert (screen.figures.held, screen.figures.holds) == ("0", "0 of 3")
    assert path_of(screen).to_goal_s is None and screen.note == words.TRYING_OUT


def test_the_goal_line_lies_as_far_ahead_as_is_still_to_be_held() -> None:
    assert path_of(practise_screen(view(held_s=28.5, holding=True), FRAME)).to_goal_s == pytest.approx(1.5)
    assert path_of(practise_screen(view(held_s=30.5, holding=True), FRAME)).to_goal_s is None


def test_the_summary_counts_the_hold_that_was_under_way() -> None:
    shot = replace(view(held_s=30.2, holding=True, held_each_s=(31.0, 8.0)).snapshot, time_in_band_s=70.4)
    screen = summary_screen(Practised(shot), FRAME, place="somewhere/session")
    assert screen.summary is not None and screen.summary.held_s == (31.0, 8.0, 30.2)
    assert screen.summary.lines == ("2 of 3 holds of 30 s", "70 s in the band in all", "Kept in somewhere/session")


def test_a_hold_of_less_than_a_second_is_not_listed() -> None:
    """The contract lists holds of 1.0 s held and more."""
    for held_s, listed in ((0.99, ()), (1.0, (1.0,))):
        summary = summary_screen(Practised(view(held_s=held_s, holding=True).snapshot), FRAME).summary
        assert summary is not None and summary.held_s == listed


def test_each_kind_of_state_has_its_own_mark() -> None:
    marks = {state: shape_of(state, Side.RIGHT) for state in State}
    assert marks[State.IN_BAND] is Shape.DISC
    assert len({marks[State.IN_BAND], marks[State.TOO_LITTLE], marks[State.TOO_MUCH], marks[State.ONE_FOOT_OFF]}) == 4
    assert [state for state, mark in marks.items() if mark is Shape.DISC] == [State.IN_BAND]


def test_without_a_target_nothing_is_to_be_held() -> None:
    """A goal stood there that nobody could reach, and the summary told seconds in a band that there was not."""
    free = replace(FRAME, settings=Settings(Side.RIGHT))
    figures = practise_screen(view(State.STANDING), free).figures
    assert (figures.held, figures.held_goal, figures.stones, figures.holds) == ("", "", 0, "")
    summary = summary_screen(Practised(snapshot(State.STANDING, time_in_band_s=9.0)), free).summary
    assert summary is not None and summary.lines == ("No target was set: there was nothing to hold.",)


def test_a_raise_that_was_held_ends_with_the_heels_down() -> None:
    heels = replace(FRAME, settings=replace(FRAME.settings, exercise=Exercise.HEEL_HOLD))
    done = view(held_s=30.5, holding=True)
    assert practise_screen(done, heels).headline == "Hold 1 of 3 is done. Heels down, slowly, and rest."
    assert practise_screen(done, FRAME).headline == "Hold 1 of 3 is done. Ease back and rest."
