"""What a person is told in each phase of each exercise."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from tests.shown import snapshot
from tests.unit.series import make_raise
from weightshare.exercise import REASONS, Basis, Exercise, Phase, Rejected, SetSpan, Tempo
from weightshare.model import Side
from weightshare.practice.prompt import (
    WHY,
    blind_headline,
    is_back_down,
    is_seated,
    lift_headline,
    name_of,
    reject_note,
    set_words,
)
from weightshare.state import State
from weightshare.task import Goal, Settings

LOWERING = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING)
REPEATED = [exercise for exercise in Exercise if exercise.is_repeated]


def said(
    phase: Phase | None,
    settings: Settings = LOWERING,
    *,
    waits: bool = False,
    opening: str = "",
    state: State = State.STANDING,
    aim: float | None = None,
) -> str:
    shot = snapshot(state, phase=phase, basis=Basis.HEIGHT, aim_percent=aim)
    return lift_headline(shot, settings, waits=waits, opening=opening)


def test_up_on_two_and_down_with_more_on_one_is_told_phase_by_phase() -> None:
    assert [said(phase) for phase in (Phase.RISE, Phase.TOP, Phase.LOWERING, Phase.BOTTOM)] == [
        "Up, evenly on both feet.",
        "Hold. Shift to your left foot.",
        "Slowly down, more weight on your left foot.",
        "Heels down. Rest a moment.",
    ]
    assert said(Phase.BOTTOM, waits=True) == "Rise on both feet when ready."
    assert said(Phase.BOTTOM, waits=True, opening="Set 1 of 3") == "Set 1 of 3. Rise on both feet when ready."


@pytest.mark.parametrize(
    ("state", "words"),
    [
        (State.TOO_MUCH, "Ease a little weight off your left foot."),
        (State.TOO_LITTLE, "More weight on your left foot."),
        (State.IN_BAND, "Good, just so."),
    ],
)
@pytest.mark.parametrize("exercise", [Exercise.LOWERING, Exercise.RAISE, Exercise.SQUAT, Exercise.SIT_TO_STAND])
def test_what_to_do_on_the_way_down_follows_where_the_load_is(exercise: Exercise, state: State, words: str) -> None:
    """With 91 % on the injured foot and a band from 70 to 80 the words asked for more weight on it."""
    line = said(Phase.LOWERING, replace(LOWERING, exercise=exercise), state=state)
    assert line.endswith(f"own{' slowly' if exercise is Exercise.SIT_TO_STAND else ''}. {words}")


@pytest.mark.parametrize("exercise", REPEATED)
@pytest.mark.parametrize("target", [10.0, 25.0, 50.0, 75.0, 90.0])
def test_no_line_asks_for_more_of_a_foot_that_has_too_much(exercise: Exercise, target: float) -> None:
    settings = Settings(Side.RIGHT, target, exercise=exercise)
    for phase in (Phase.RISE, Phase.TOP, Phase.LOWERING):
        line = said(phase, settings, state=State.TOO_MUCH, aim=target)
        assert "ore weight on your right" not in line and "Shift to your right" not in line
        if phase is Phase.LOWERING:
            assert "off your right foot" in line


def test_while_the_band_bends_the_shift_is_asked_for_whatever_the_place() -> None:
    for state in (State.IN_BAND, State.TOO_LITTLE, State.TOO_MUCH):
        assert said(Phase.TOP, state=state, aim=60.0) == "Hold. Shift to your left foot."
    assert said(Phase.TOP, state=State.IN_BAND, aim=75.0) == "Hold. Good, just so."
    assert said(Phase.TOP, state=State.TOO_MUCH, aim=75.0) == "Hold. Ease a little weight off your left foot."


def test_an_uneven_way_up_is_told_too() -> None:
    assert said(Phase.RISE, state=State.TOO_MUCH, aim=50.0) == "Up. Ease a little weight off your left foot."
    assert said(Phase.RISE, state=State.IN_BAND, aim=50.0) == "Up, evenly on both feet."


def test_who_has_to_spare_the_injured_foot_shifts_to_the_other() -> None:
    spared = replace(LOWERING, target_percent=25.0)
    assert said(Phase.TOP, spared) == "Hold. Shift to your right foot."
    assert said(Phase.LOWERING, spared) == "Slowly down, more weight on your right foot."
    assert said(Phase.TOP, replace(LOWERING, target_percent=50.0)) == "Hold."


@pytest.mark.parametrize("exercise", REPEATED)
def test_every_phase_of_every_exercise_has_one_short_line(exercise: Exercise) -> None:
    for target, phase, waits in product((None, 50.0, 75.0), (*Phase, None), (True, False)):
        settings = Settings(Side.RIGHT, target, exercise=exercise)
        for state in (State.STANDING, State.IN_BAND, State.TOO_LITTLE, State.TOO_MUCH):
            line = said(phase, settings, waits=waits, opening="Set 10 of 20", state=state)
            assert line.endswith(".") and len(line) <= 62 and "None" not in line


@pytest.mark.parametrize("exercise", REPEATED)
def test_one_leg_is_asked_for_in_single_leg_work_only(exercise: Exercise) -> None:
    settings = Settings(Side.RIGHT, 90.0, exercise=exercise)
    lines = {said(phase, settings, waits=waits) for phase in Phase for waits in (True, False)}
    alone = [line for line in lines if "alone" in line or "All your weight" in line or "on your right foot" in line]
    alone = [line for line in alone if "more weight on" not in line]
    assert bool(alone) is exercise.is_single
    assert all("right" in line for line in alone)


def test_the_working_leg_is_named_where_it_is_not_the_injured_one() -> None:
    single = Settings(Side.RIGHT, exercise=Exercise.SINGLE_RAISE, working=Side.LEFT)
    assert said(Phase.RISE, single) == "Up on your left foot."


def test_only_a_slow_way_down_is_called_slow() -> None:
    quick = replace(LOWERING, tempo=Tempo(1.0, 0.0, 1.0))
    assert said(Phase.LOWERING, quick).startswith("Down,")
    assert said(Phase.LOWERING, replace(quick, tempo=Tempo(1.0, 0.0, 3.0))).startswith("Slowly down,")


@pytest.mark.parametrize("state", [State.NOBODY, State.ONE_FOOT_OFF, State.ELSEWHERE, State.NO_READING, State.OVERLOAD])
def test_what_keeps_it_from_counting_comes_before_the_phase(state: State) -> None:
    shot = snapshot(state, phase=Phase.LOWERING)
    assert lift_headline(shot, LOWERING, waits=False) not in {said(phase) for phase in Phase}


@pytest.mark.parametrize("state", [State.NOBODY, State.ELSEWHERE])
def test_who_sits_and_is_about_to_stand_up_is_neither_absent_nor_on_a_rail(state: State) -> None:
    settings = replace(LOWERING, exercise=Exercise.SIT_TO_STAND)
    seated = snapshot(state, 50.0, phase=Phase.BOTTOM, left_N=60.0, right_N=60.0)
    assert is_seated(seated, settings) and not is_seated(seated, LOWERING)
    assert lift_headline(seated, settings, waits=True) == "Stand up when you are ready."
    for gone in (replace(seated, left_N=5.0, right_N=5.0), replace(seated, phase=Phase.RISE)):
        assert not is_seated(gone, settings)
        assert lift_headline(gone, settings, waits=True) != "Stand up when you are ready."


def test_a_metronome_leads_in() -> None:
    shot = snapshot(State.AT_BOTTOM, phase=Phase.BOTTOM, basis=Basis.PACED)
    assert lift_headline(shot, LOWERING, waits=False, opening="Set 1 of 3") == "Count the beats: four, then rise."
    assert lift_headline(shot, LOWERING, waits=False) == "Heels down. Rest a moment."
    counted = [lift_headline(shot, LOWERING, waits=False, opening="Set 1 of 3", lead_s=s) for s in (3.9, 3.0, 0.2)]
    assert counted == ["Rise in 4.", "Rise in 3.", "Rise in 1."]


@pytest.mark.parametrize(
    ("exercise", "words"),
    [
        (Exercise.SINGLE_LOWERING, "Left foot back on. Rest a moment."),
        (Exercise.SINGLE_RAISE, "Rest, both feet down if you like."),
    ],
)
def test_who_came_down_on_one_foot_as_was_asked_is_not_told_off(exercise: Exercise, words: str) -> None:
    """Each lowering on one leg ended with `one foot is off` and `Put both feet on the plates`."""
    single = Settings(Side.RIGHT, 100.0, exercise=exercise)
    alone = snapshot(State.ONE_FOOT_OFF, phase=Phase.BOTTOM)
    assert is_back_down(alone, single) and lift_headline(alone, single, waits=True) == words
    assert not is_back_down(alone, LOWERING) and not is_back_down(replace(alone, phase=Phase.RISE), single)


def test_a_blind_set_tells_what_to_do_and_nothing_of_how_it_goes() -> None:
    goal = Goal(repetitions=8)
    for state in (State.IN_BAND, State.TOO_LITTLE, State.TOO_MUCH, State.AT_BOTTOM, State.ELSEWHERE):
        assert blind_headline(snapshot(state), LOWERING, goal) == "Do 8 raises, as you practised them."
    assert "both feet" in blind_headline(snapshot(State.ONE_FOOT_OFF), LOWERING, goal)
    assert "as many" in blind_headline(snapshot(), LOWERING, replace(goal, to_exhaustion=True))


def test_every_reason_is_told_in_plain_words_and_for_a_while() -> None:
    assert set(WHY) == set(REASONS)
    low = Rejected(36.0, 38.0, "low")
    assert reject_note(snapshot(rejected=(low,)), 4.0) == "Not counted: the heels were too low."
    assert reject_note(snapshot(rejected=(low,), time_s=42.1), 4.0) == ""
    later = make_raise(38.5, 1.0)
    assert reject_note(snapshot(rejected=(low,), repetitions=(later,)), 4.0) == "", "what came after it counted"
    assert reject_note(snapshot(), 4.0) == ""
    squat = replace(LOWERING, exercise=Exercise.SQUAT)
    assert reject_note(snapshot(rejected=(low,)), 4.0, squat) == "Not counted: not deep enough."


def test_what_is_counted_has_a_name() -> None:
    names = {name_of(Settings(Side.LEFT, exercise=exercise), 3) for exercise in REPEATED}
    assert names == {"raises", "squats", "stands"} and name_of(LOWERING, 1) == "raise" and name_of(None) == "raises"
    assert set_words(SetSpan(2, 0.0), Goal(sets=3)) == "Set 2 of 3"
