"""What came of a set: three figures, plain lines, the table, fatigue and ceiling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from tests.shown import snapshot
from tests.unit.series import make_series
from weightshare.exercise import Basis, Ceiling, CeilingEvent, Exercise, Rejected, Repetition, SetSpan, Tempo
from weightshare.model import Side
from weightshare.practice import sheet
from weightshare.practice.outcome import Outcome, find_lower, lines, main_figures, ordinal, outcomes
from weightshare.practice.screen import Figure
from weightshare.task import Goal, Settings

LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0, 1.0))
GOAL = Goal(sets=3, repetitions=10)
TEN = make_series([80.0] * 10)


def of(
    repetitions: Sequence[Repetition],
    settings: Settings = LOWERING,
    rejected: Sequence[Rejected] = (),
    span: SetSpan | None = None,
) -> Outcome:
    shot = snapshot(repetitions=tuple(repetitions), rejected=tuple(rejected))
    return outcomes(shot, [span or SetSpan(1, 0.0, 100.0)], settings)[0]


def test_the_three_figures_of_a_lowering() -> None:
    assert main_figures(of(make_series([80.0] * 7 + [72.0] * 3)), LOWERING, GOAL) == (
        Figure("on the right foot, going down", "75", "%", "aim 75"),
        Figure("time going down", "2.0", "s", "asked 2"),
        Figure("height kept", "90", "%", "last 3 to first 3"),
    )


def test_few_raises_have_a_height_and_none_measured_the_time_in_the_band() -> None:
    few = main_figures(of(TEN[:2]), LOWERING, GOAL)
    assert few[2] == Figure("height of the heel", "80", "mm", "")
    by_force = make_series([80.0] * 2, basis=Basis.FORCE, height_uninjured_mm=None)
    by_force = [replace(one, height_injured_mm=None) for one in by_force]
    assert main_figures(of(by_force), LOWERING, GOAL)[2] == Figure("in the corridor, going down", "90", "%", "")


def test_a_figure_that_cannot_be_had_is_a_dash_without_a_unit() -> None:
    empty = main_figures(of([]), LOWERING, GOAL)
    assert [(figure.value, figure.unit) for figure in empty] == [("\u2013", "")] * 3
    paced = main_figures(of(make_series([80.0] * 2, basis=Basis.PACED)), LOWERING, GOAL)
    assert paced[1] == Figure("time going down", "\u2013", "", "asked 2"), "a metronome's time is not the person's"


@pytest.mark.parametrize(
    ("exercise", "labels"),
    [
        (Exercise.RAISE, ["on the right foot, going down", "time going down", "height kept"]),
        (Exercise.SINGLE_RAISE, ["raises", "time going down", "height kept"]),
        (Exercise.SINGLE_LOWERING, ["raises", "time going down", "height kept"]),
        (Exercise.SQUAT, ["on the right foot, going down", "on the right foot, going up", "time going down"]),
        (Exercise.SIT_TO_STAND, ["on the right foot, going down", "on the right foot, going up", "time going down"]),
    ],
)
def test_each_exercise_has_the_three_that_matter_in_it(exercise: Exercise, labels: list[str]) -> None:
    settings = replace(LOWERING, exercise=exercise)
    assert [figure.label for figure in main_figures(of(TEN, settings), settings, GOAL)] == labels


def test_nothing_is_said_of_a_set_as_it_should_be() -> None:
    assert lines(of(TEN), LOWERING, GOAL) == ()


def test_what_there_is_to_say_is_said_plainly_what_matters_most_first() -> None:
    raises = [replace(one, supported=place in (2, 5)) for place, one in enumerate(make_series([80.0] * 6 + [65.0] * 2))]
    rejected = [
        Rejected(60.0, 61.0, "low"),
        Rejected(63.0, 64.0, "low"),
        Rejected(66.0, 67.0, "a foot left the plates"),
    ]
    assert lines(of(raises, rejected=rejected), LOWERING, GOAL) == (
        "8 of 10 raises",
        "2 of 8 were with a hand on the rail",
        "from the 7th on lower than before",
        "not counted: 2 the heels were too low, 1 a foot left the plates",
    )


def test_a_share_that_fell_an_early_rise_and_the_basis_are_told() -> None:
    falling = [
        replace(one, share_lowering_percent=75.0 - place, incomplete_return=place == 4) for place, one in enumerate(TEN)
    ]
    assert lines(of(falling), LOWERING, GOAL) == (
        "the weight going down fell by 7 points",
        "1 rose again before the heel was down",
    )
    by_force = [replace(one, basis=Basis.FORCE) for one in TEN]
    assert lines(of(by_force), LOWERING, GOAL) == ("height was not measured",)
    assert "metronome" in lines(of([replace(TEN[0], basis=Basis.PACED)]), LOWERING, replace(GOAL, repetitions=1))[0]


@pytest.mark.parametrize(
    ("heights_mm", "number"),
    [
        ([80.0] * 6 + [71.0] * 2, 7),
        ([80.0] * 6 + [73.0] * 2, None),
        ([80.0] * 4 + [60.0, 80.0, 60.0], 7),
        ([80.0] * 4 + [60.0, 80.0], None),
        ([80.0] * 3 + [60.0], 4),
        ([80.0, 60.0], None),
    ],
)
def test_from_which_raise_on_all_were_lower(heights_mm: list[float], number: int | None) -> None:
    """Lower is under nine tenths of the mean of the first three."""
    assert find_lower(of(make_series(heights_mm)), LOWERING) == number


def test_the_working_heel_is_the_one_that_is_followed() -> None:
    single = replace(LOWERING, exercise=Exercise.SINGLE_RAISE, working=Side.LEFT)
    raises = [replace(one, height_uninjured_mm=60.0 if place > 5 else 80.0) for place, one in enumerate(TEN)]
    assert find_lower(of(raises, single), single) == 7 and find_lower(of(raises), LOWERING) is None


def test_numbers_are_told_in_order() -> None:
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 22, 23, 101, 111)] == [
        "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "23rd", "101st", "111th"
    ]  # fmt: skip


def test_a_set_has_only_what_began_in_it() -> None:
    rejected = [Rejected(at_s, at_s + 1.0, "low") for at_s in (4.0, 6.0, 30.0)]
    outcome = of(TEN, rejected=rejected, span=SetSpan(2, 5.0, 30.0))
    assert [one.start_s for one in outcome.repetitions] == [5.0, 10.0, 15.0, 20.0, 25.0]
    assert [one.start_s for one in outcome.rejected] == [6.0]
    assert outcome.own_times_s([4.0, 5.0, 29.9, 30.0]) == (5.0, 29.9)


def test_the_table_of_sets() -> None:
    assert sheet.heads(LOWERING) == ("set", "raises", "share down", "in the band", "time down", "height", "notes")
    raises = [replace(one, supported=place == 2) for place, one in enumerate(TEN)]
    blind = of(raises, rejected=[Rejected(60.0, 61.0, "low")], span=SetSpan(2, 0.0, 100.0, blind=True))
    assert sheet.row(blind, LOWERING, GOAL).cells == (
        "2", "10", "75 %", "90 %", "2.0 s", "80 mm",
        "without the screen; 1 with a hand on the rail; not counted: 1 the heels were too low",
    )  # fmt: skip
    assert sheet.row(of([]), LOWERING, GOAL).cells == ("1", "0", "\u2013", "\u2013", "\u2013", "\u2013", "")


@pytest.mark.parametrize("exercise", [exercise for exercise in Exercise if exercise.is_repeated])
def test_rows_are_as_long_as_their_heads(exercise: Exercise) -> None:
    settings = replace(LOWERING, exercise=exercise)
    assert len(sheet.row(of(TEN, settings), settings, GOAL).cells) == len(sheet.heads(settings))


def test_to_exhaustion_the_row_says_what_ended_the_set() -> None:
    goal = replace(GOAL, to_exhaustion=True)
    in_time = make_series([80.0] * 5)
    assert sheet.row(of(in_time), LOWERING, goal, faults_s=(16.0,)).cells[-1] == "3 until a fault was marked"
    assert sheet.row(of(in_time), LOWERING, goal).cells[-1] == ""
    assert lines(of(in_time), LOWERING, goal) == ("5 raises",)


def test_fatigue_is_told_set_by_set_where_there_was_any() -> None:
    fell = make_series([80.0] * 7 + [64.0] * 3)
    found = [of(TEN), replace(of(fell), result=replace(of(fell).result, number=2))]
    assert sheet.say_fatigue(found) == ("Set 2: height fell by 20 % from the first to the last.",)
    assert sheet.say_fatigue(found[:1]) == (sheet.NOTHING_FELL,)
    assert sheet.say_fatigue([of(TEN[:2])]) == ()


def test_what_came_of_the_ceiling() -> None:
    settings = replace(LOWERING, ceiling=Ceiling(kg=20.0))
    over = CeilingEvent(3.0, 3.4, 26.5 * 9.80665), CeilingEvent(7.0, 7.8, 22.0 * 9.80665)
    unread = CeilingEvent(9.0, 12.2, None, unread=True)
    shot = snapshot(ceiling_N=196.133, ceiling_events=(*over, unread))
    assert sheet.say_ceiling(shot, settings) == (
        "Over the limit of 20.0 kg 2 times, at most 26.5 kg, for 1.2 s in all.",
        "For 3.2 s the load could not be read.",
    )
    assert sheet.say_ceiling(snapshot(ceiling_N=196.133), settings) == ("Never over the limit of 20.0 kg.",)
    assert sheet.say_ceiling(shot, LOWERING) == ()
