"""The screens of repeated exercises: practice, blind sets, rests and the summary."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from tests.shown import snapshot
from tests.unit.series import make_raise
from weightshare.exercise import Basis, Ceiling, CeilingEvent, Exercise, Phase, Rejected, Repetition, SetSpan, Tempo
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.coach import Sets
from weightshare.practice.compose import practise_screen
from weightshare.practice.frame import Frame
from weightshare.practice.path import Aids
from weightshare.practice.rest import rest_screen
from weightshare.practice.screen import Figures, Heels, Path, Pulse, Screen, Shape, Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=TEMPO)
FRAME = Frame(LOWERING, Goal(sets=3, repetitions=10, rest_s=60.0), "serial:COM3")
UP = (LinkView("serial:COM3", LinkState.SAMPLING, "sampling"),)
FIRST = SetSpan(1, 10.0)
LIFTS = make_raise(12.0), make_raise(20.0)


def view(
    phase: Phase | None = Phase.LOWERING,
    state: State = State.IN_BAND,
    *spans: SetSpan,
    repetitions: tuple[Repetition, ...] = LIFTS,
    age_s: float = 0.0,
    **more: Any,
) -> LiveView:
    values: dict[str, Any] = {
        "phase": phase,
        "phase_since_s": 39.5,
        "aim_percent": 75.0 if phase is Phase.LOWERING else 50.0,
        "basis": Basis.HEIGHT,
        "repetitions": repetitions,
        "time_s": 40.0,
    }
    shot = snapshot(state, more.pop("share", 74.3), **(values | more))
    time_s = np.arange(28.0, 40.0, 0.01)
    return LiveView(
        shot,
        UP,
        age_s,
        time_s,
        np.where(time_s < 34.0, 52.0, 74.0),
        trail_aim_percent=np.where(time_s < 34.0, 50.0, 75.0),
        sets=Sets(spans or (FIRST,)),
    )


def path_of(screen: Screen) -> Path:
    assert screen.path is not None
    return screen.path


def texts(screen: Screen) -> str:
    figures = " ".join(str(getattr(screen.figures, field.name)) for field in fields(Figures) if field.type == "str")
    return f"{screen.headline} {screen.state} {screen.note} {figures}"


def test_the_figures_count_repetitions_and_say_which_set_it_is() -> None:
    figures = practise_screen(view(), FRAME).figures
    assert (figures.held, figures.held_label, figures.held_unit, figures.held_goal) == ("2", "raises", "", "of 10")
    assert (figures.holds, figures.holds_label, figures.holds_done, figures.holds_asked) == ("1 of 3", "set", 0, 3)
    assert figures.held_fraction == pytest.approx(0.2) and figures.stones == 10
    second = practise_screen(view(Phase.RISE, State.IN_BAND, replace(FIRST, to_s=30.0), SetSpan(2, 31.0)), FRAME)
    assert (second.figures.held, second.figures.holds, second.figures.holds_done) == ("0", "2 of 3", 1)


def test_to_exhaustion_no_number_is_asked_for() -> None:
    frame = replace(FRAME, goal=replace(FRAME.goal, to_exhaustion=True))
    figures = practise_screen(view(), frame).figures
    assert (figures.held, figures.held_goal, figures.stones, figures.held_fraction) == ("2", "", 0, 0.0)


@pytest.mark.parametrize(
    ("phase", "aim", "said"),
    [
        (Phase.BOTTOM, 50.0, "aim 50, from 45 to 55"),
        (Phase.RISE, 50.0, "aim 50, from 45 to 55"),
        (Phase.TOP, 58.0, "aim 75, from 70 to 80"),
        (Phase.LOWERING, 75.0, "aim 75, from 70 to 80"),
    ],
)
def test_the_band_in_words_is_the_one_of_the_phase(phase: Phase, aim: float, said: str) -> None:
    assert practise_screen(view(phase, aim_percent=aim), FRAME).figures.aim == said


@pytest.mark.parametrize("injured", list(Side))
def test_puck_and_corridor_are_what_is_measured_now(injured: Side) -> None:
    """The share is in the drawn corridor exactly where it is in the band about the aim of now."""
    frame = replace(FRAME, settings=replace(LOWERING, injured=injured))
    for aim in (50.0, 57.25, 66.7, 75.0):
        for off in (-5.000001, -5.0, 0.0, 5.0, 5.000001):
            path = path_of(practise_screen(view(Phase.TOP, aim_percent=aim, share=aim + off), frame))
            assert path.low is not None and path.high is not None and path.place is not None and path.ahead is not None
            assert path.inside is (abs(aim + off - aim) <= 5.0)
            assert (path.low, path.high) == (path.ahead.low[0], path.ahead.high[0])
            assert path.low - 1e-9 <= path.place <= path.high + 1e-9 or not path.inside


def test_the_trail_is_judged_by_the_band_of_its_own_time() -> None:
    path = path_of(practise_screen(view(), FRAME))
    assert path.trail_inside.all(), "52 beside 50, then 74 beside 75"
    assert set(path.trail_low) == {45.0, 70.0} and set(path.trail_high) == {55.0, 80.0}
    stood = replace(view(), trail_aim_percent=np.empty(0))
    assert path_of(practise_screen(stood, FRAME)).trail_inside.sum() == 600


def test_a_band_without_an_upper_edge_has_none_on_the_picture() -> None:
    frame = replace(FRAME, settings=replace(LOWERING, one_sided=True))
    path = path_of(practise_screen(view(share=93.0), frame))
    assert (path.low, path.high, path.inside) == (70.0, 100.0, True)
    assert practise_screen(view(), frame).figures.aim == "aim 75, 70 or more"


def test_reaching_is_told_by_sound_where_the_band_stands_still() -> None:
    cued = [path_of(practise_screen(view(phase), FRAME)).cued for phase in (*Phase, None)]
    assert cued == [False, False, False, True, False]
    raising = replace(FRAME, settings=replace(LOWERING, exercise=Exercise.RAISE))
    assert [path_of(practise_screen(view(phase), raising)).cued for phase in Phase] == [False, True, True, True]


def test_what_stands_beside_the_path_is_handed_on() -> None:
    aids = Aids(((31.0, 32.0),), Heels(0.5, 1.0, 0.4), Pulse(3, TEMPO, 0.0))
    screen = practise_screen(view(), FRAME, aids=aids)
    path = path_of(screen)
    assert (path.paved, path.heels, path.beat, screen.pulse) == (aids.paved, aids.heels, 1.0, aids.pulse)
    assert path.to_goal_s is None


def test_before_practice_the_corridor_is_there_to_try_and_nothing_is_counted() -> None:
    screen = practise_screen(replace(view(Phase.BOTTOM, State.AT_BOTTOM), sets=Sets()), FRAME, Step.READY)
    assert (screen.figures.held, screen.key, screen.note) == ("0", words.START, words.TRYING_OUT)
    assert path_of(screen).ahead is not None


def test_old_data_leave_no_digit_on_the_screen() -> None:
    screen = practise_screen(view(age_s=0.31), FRAME)
    assert screen.blank and not any(letter.isdigit() for letter in texts(screen))
    assert path_of(screen).ahead is None and screen.figures.held_label == "raises"


def test_what_was_not_counted_is_told_with_its_reason() -> None:
    low = (Rejected(36.0, 38.0, "low"),)
    assert practise_screen(view(rejected=low), FRAME).note == "Not counted: the heels were too low."
    assert practise_screen(view(rejected=low, supported=True), FRAME).note == words.SUPPORTED


@pytest.mark.parametrize(
    ("aim", "state", "said"), [(60.0, State.TOO_MUCH, "shifting"), (75.0, State.TOO_MUCH, "too much")]
)
def test_while_the_band_itself_moves_nobody_is_told_off(aim: float, state: State, said: str) -> None:
    """Who shifts sooner than the corridor bends must not be sent back by an arrow, against the words."""
    screen = practise_screen(view(Phase.TOP, state, aim_percent=aim, share=82.0), FRAME)
    assert screen.state == said
    assert (screen.shape is Shape.RING) is (said == "shifting")


def resting(time_s: float, frame: Frame = FRAME, **more: Any) -> Screen:
    """Return the screen `time_s` into the session; the rest is over at 84.5 s."""
    return rest_screen(view(Phase.BOTTOM, State.NOBODY, replace(FIRST, to_s=24.5), time_s=time_s, **more), frame)


def test_a_rest_says_what_comes_at_its_end() -> None:
    """It said that the next set waits, and two seconds later the person who sat there was in it."""
    assert resting(40.0).headline == "Rest. When this clock runs out, set 2 waits for you."
    assert resting(40.0, basis=Basis.PACED).headline == "Rest. When this clock runs out, set 2 begins."
    assert [resting(time_s).headline.endswith("get ready.") for time_s in (79.4, 79.6, 84.4)] == [False, True, True]
    assert resting(80.0).headline == "Set 2 of 3: get ready."


@pytest.mark.parametrize("time_s", [40.0, 82.0, 90.0])
def test_a_set_without_the_screen_is_told_beforehand(time_s: float) -> None:
    blind = replace(FRAME, goal=replace(FRAME.goal, blind_sets=(2,)))
    assert resting(time_s, blind).note == "The next set is without the screen."
    assert resting(time_s).note == ""


def test_in_a_rest_the_next_leg_is_named_where_they_take_turns() -> None:
    single = Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE, tempo=TEMPO)
    frame = replace(FRAME, settings=single.for_leg(Side.RIGHT), goal=Goal(sets=2, to_exhaustion=True))
    assert resting(40.0, frame).headline == "Rest. When this clock runs out, set 2, on the right foot, waits for you."
    assert resting(82.0, frame).headline == "Set 2 of 2, right foot: get ready."


def test_who_sits_before_standing_up_is_called_seated() -> None:
    frame = replace(FRAME, settings=replace(LOWERING, exercise=Exercise.SIT_TO_STAND))
    screen = practise_screen(view(Phase.BOTTOM, State.ELSEWHERE, supported=True, left_N=60.0, right_N=60.0), frame)
    assert (screen.state, screen.shape, screen.note) == (words.SEATED, Shape.RING, "")


def test_scales_that_cannot_count_say_so() -> None:
    screen = practise_screen(view(None, State.STANDING, basis=None, phase_since_s=None), FRAME)
    assert screen.note == words.NOT_COUNTED and "N" in screen.hint
    assert screen.headline == "Rise on both feet when ready."


@pytest.mark.parametrize(("seen", "note"), [(False, "load only, heel not seen"), (True, "")])
def test_a_raise_that_is_held_says_where_no_heel_is_seen(seen: bool, note: str) -> None:
    frame = replace(FRAME, settings=replace(LOWERING, exercise=Exercise.HEEL_HOLD))
    screen = practise_screen(view(None, heels_seen=seen, held_s=3.0, holding=True), frame)
    assert screen.note == note and screen.figures.held_label == "held" and path_of(screen).ahead is None
    down = practise_screen(view(None, State.HEELS_DOWN, heels_seen=seen), frame)
    assert down.headline == "Raise both heels." and down.shape is Shape.DIAMOND and not path_of(down).solid


def test_to_exhaustion_the_rules_suggest_and_the_big_key_ends() -> None:
    frame = replace(FRAME, goal=replace(FRAME.goal, to_exhaustion=True))
    going = practise_screen(view(), frame)
    assert going.key == "" and words.FAULT_HINT in going.hint
    marked = replace(view(), sets=Sets((FIRST,), (25.0,)))
    stopped = practise_screen(marked, frame)
    assert stopped.headline == "You may stop: a fault was marked." and stopped.key == words.END_SET


def test_a_blind_set_shows_what_to_do_and_nothing_else() -> None:
    blind = view(Phase.LOWERING, State.TOO_LITTLE, replace(FIRST, to_s=30.0), SetSpan(2, 31.0, blind=True))
    screen = practise_screen(blind, FRAME, aids=Aids(heels=Heels(0.5, 0.5)))
    assert screen.headline == "Do 10 raises, as you practised them."
    assert screen.state == "set 2 of 3, without the screen" and screen.shape is Shape.NONE
    path = path_of(screen)
    assert path.hidden and screen.figures == Figures() and screen.pulse is None and screen.note == ""
    assert path.place is None and path.low is None and path.ahead is None and path.heels is None and path.beat is None


def test_a_sound_that_is_off_is_told_where_an_alarm_would_need_it() -> None:
    limited = replace(FRAME, settings=replace(LOWERING, ceiling=Ceiling(kg=20.0)), silent=True)
    assert words.ALARM_SILENT in practise_screen(view(), limited).warnings
    assert words.ALARM_SILENT not in practise_screen(view(), replace(FRAME, silent=True)).warnings


def test_a_rest_has_a_clock_and_the_figures_of_the_set() -> None:
    screen = resting(40.0)
    rest = screen.rest
    assert screen.step is Step.REST and screen.path is None and screen.key == words.NEXT_SET and rest is not None
    assert (rest.title, rest.left, rest.over) == ("Set 1 of 3 is done", "0:45", False)
    assert rest.left_fraction == pytest.approx(44.5 / 60.0)
    assert [figure.value for figure in rest.figures] == ["90", "2.0", "80"]
    assert rest.lines == ("2 of 10 raises counted.",)


def test_the_clock_goes_on_without_data_and_what_was_done_stays() -> None:
    screen = rest_screen(view(Phase.BOTTOM, State.NOBODY, replace(FIRST, to_s=24.5), age_s=10.0), FRAME)
    assert screen.rest is not None and screen.rest.left == "0:35" and screen.rest.figures[0].value == "90"
    assert screen.shape is Shape.CROSS and screen.state == "link lost"


def test_a_rest_that_is_over_says_so_and_what_is_missing() -> None:
    over = view(Phase.BOTTOM, State.NOBODY, replace(FIRST, to_s=24.5), time_s=90.0, basis=Basis.PACED)
    screen = rest_screen(over, FRAME)
    assert screen.rest is not None and screen.rest.over and screen.rest.left == "0:00"
    assert screen.headline == "Step on: one foot on each plate."
    assert rest_screen(over, replace(FRAME, goal=replace(FRAME.goal, rest_s=0.0))).rest is not None


def test_who_passed_the_limit_is_not_praised() -> None:
    """Two alarms, seven seconds over the limit, and then `Well done`."""
    limited = replace(FRAME, settings=replace(LOWERING, ceiling=Ceiling(kg=55.0)), goal=Goal(sets=1))
    events = (
        CeilingEvent(12.0, 13.0, 600.0),
        CeilingEvent(20.0, 21.0, None, unread=True),
        CeilingEvent(22.0, 24.0, 590.0),
    )
    done = Practised(view(ceiling_events=events).snapshot, Sets((replace(FIRST, to_s=30.0),)))
    assert summary_screen(done, limited).headline == "The limit of load was passed 2 times. Step off now."
    calm = Practised(view(ceiling_events=events[1:2]).snapshot, done.sets)
    assert summary_screen(calm, limited).headline.startswith("Well done")


def test_the_foot_that_was_off_as_asked_is_no_fault_on_the_screen() -> None:
    single = replace(FRAME, settings=Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_LOWERING, tempo=TEMPO))
    screen = practise_screen(view(Phase.BOTTOM, State.ONE_FOOT_OFF), single)
    assert (screen.state, screen.shape) == ("at the bottom", Shape.RING)


@pytest.mark.parametrize(("exercise", "state"), [(Exercise.SQUAT, "standing"), (Exercise.SIT_TO_STAND, words.SEATED)])
def test_between_squats_nobody_is_at_the_bottom(exercise: Exercise, state: str) -> None:
    """Who stood tall between two squats was said to be at the bottom."""
    bending = replace(FRAME, settings=Settings(Side.RIGHT, 50.0, exercise=exercise, tempo=TEMPO))
    screen = practise_screen(view(Phase.BOTTOM, State.AT_BOTTOM), bending)
    assert (screen.state, screen.shape) == (state, Shape.RING)


def test_an_overload_is_marked_in_a_blind_set_too() -> None:
    screen = practise_screen(view(Phase.LOWERING, State.OVERLOAD, replace(FIRST, blind=True)), FRAME)
    assert (screen.state, screen.shape) == ("overload", Shape.CROSS) and "step off" in screen.headline


def test_the_summary_of_sets_is_a_table() -> None:
    shot = view().snapshot
    sets = Sets((replace(FIRST, to_s=18.0), SetSpan(2, 19.0, 30.0), SetSpan(3, 31.0, 39.0, blind=True)))
    screen = summary_screen(Practised(shot, sets), FRAME, place="somewhere")
    summary = screen.summary
    assert summary is not None and summary.held_s == () and screen.headline.startswith("Well done")
    assert summary.lines == ("3 of 3 sets, 2 raises", "Kept in somewhere")
    assert [row.cells[:3] for row in summary.rows] == [("1", "1", "75 %"), ("2", "1", "75 %"), ("3", "0", "\u2013")]
    assert summary.rows[2].cells[-1] == "Without the screen" and len(summary.heads) == 8
    cut = summary_screen(Practised(shot, Sets((FIRST,))), FRAME)
    assert cut.headline.startswith("The session has ended") and cut.figures.holds == "0 of 3"
