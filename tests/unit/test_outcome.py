"""What came of a set: three figures, plain lines, the table, fatigue and ceiling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from tests.unit.series import make_raise, make_series
from weightshare.exercise import (
    REASONS,
    Basis,
    Ceiling,
    CeilingEvent,
    Exercise,
    Rejected,
    Repetition,
    SetSpan,
    Tempo,
)
from weightshare.model import Side
from weightshare.practice import sheet
from weightshare.practice.outcome import Outcome, find_lower, lines, main_figures, outcomes, say_thirds
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
        Figure("in the corridor, going down", "90", "%", "mean 75 %, aim 75"),
        Figure("time going down", "2.0", "s"),
        Figure("height kept", "90", "%", "last 3 to first 3"),
    )


def test_few_raises_have_a_height_and_where_none_was_measured_that_is_said() -> None:
    few = main_figures(of(TEN[:2]), LOWERING, GOAL)
    assert few[2] == Figure("height of the heel", "80", "mm", "")
    by_force = make_series([80.0] * 2, basis=Basis.FORCE, height_uninjured_mm=None)
    by_force = [replace(one, height_injured_mm=None) for one in by_force]
    assert main_figures(of(by_force), LOWERING, GOAL)[2] == Figure("height of the heel", "\u2013", "", "not measured")
    single = replace(LOWERING, exercise=Exercise.SINGLE_LOWERING)
    assert main_figures(of(by_force, single), single, GOAL)[2].label == "in the corridor, going down"


def test_no_time_that_is_asked_for_stands_beside_the_measured_one() -> None:
    """Who did just what the metronome said was shown as too quick: a phase is measured from 90 to 10 % of the way."""
    for exercise in Exercise:
        if exercise.is_repeated:
            settings = replace(LOWERING, exercise=exercise)
            figures = main_figures(of(TEN, settings), settings, GOAL)
            assert [one.beside for one in figures if one.label == "time going down"] == [""]


def test_a_figure_that_cannot_be_had_is_a_dash_without_a_unit() -> None:
    empty = main_figures(of([]), LOWERING, GOAL)
    assert [(figure.value, figure.unit) for figure in empty] == [("\u2013", "")] * 3
    paced = main_figures(of(make_series([80.0] * 2, basis=Basis.PACED)), LOWERING, GOAL)
    assert paced[1] == Figure("time going down", "\u2013"), "a metronome's time is not the person's"


def sliding(upper: float, middle: float, lower: float, in_band: float = 1.0) -> list[Repetition]:
    """Return ten lowerings whose share slides so from third to third, and was in the band for so long (percent)."""
    figures: dict[str, Any] = {
        "share_lowering_thirds_percent": (upper, middle, lower),
        "lowering_in_band_percent": in_band,
        "share_lowering_percent": 74.3,
    }
    return [replace(one, **figures) for one in TEN]


def test_a_mean_that_is_made_of_too_much_and_too_little_is_no_praise() -> None:
    """91, 72 and 60 % were shown as `74 %, aim 75`, and nothing else was said."""
    outcome = of(sliding(91.2, 72.4, 59.8))
    assert main_figures(outcome, LOWERING, GOAL)[0] == Figure(
        "in the corridor, going down", "1", "%", "mean 74 %, aim 75"
    )
    assert lines(outcome, LOWERING, GOAL) == (
        "Going down: 91 % in the upper part, 72 % in the middle, 60 % in the lower part.",
    )
    assert sheet.row(outcome, LOWERING, GOAL).cells[2:5] == ("74 %", "91 72 60", "1 %")


@pytest.mark.parametrize(
    ("thirds", "in_band", "said"),
    [
        ((78.0, 75.0, 72.0), 90.0, False),
        ((80.0, 75.0, 70.0), 50.0, False),
        ((80.4, 75.0, 72.0), 90.0, True),
        ((78.0, 75.0, 69.9), 90.0, True),
        ((78.0, 75.0, 72.0), 49.0, True),
    ],
)
def test_thirds_are_told_where_one_strays_or_little_was_in_the_corridor(
    thirds: tuple[float, float, float], in_band: float, said: bool
) -> None:
    assert bool(say_thirds(of(sliding(*thirds, in_band=in_band)), LOWERING)) is said
    assert say_thirds(of(sliding(*thirds, in_band=in_band)), replace(LOWERING, target_percent=None)) == ""


def test_the_other_legs_thirds_are_held_against_its_own_band() -> None:
    single = replace(LOWERING, exercise=Exercise.SINGLE_LOWERING, target_percent=100.0)
    span = SetSpan(1, 0.0, 100.0, working=Side.LEFT)
    assert say_thirds(of(sliding(2.0, 1.0, 0.0, in_band=100.0), single, span=span), single) == ""
    assert say_thirds(of(sliding(9.0, 1.0, 0.0, in_band=100.0), single, span=span), single) != ""


@pytest.mark.parametrize(
    ("exercise", "labels"),
    [
        (Exercise.RAISE, ["in the corridor, going down", "time going down", "height kept"]),
        (Exercise.SINGLE_RAISE, ["raises", "time going down", "height kept"]),
        (Exercise.SINGLE_LOWERING, ["raises", "time going down", "height kept"]),
        (Exercise.SQUAT, ["in the corridor, going down", "on the right foot, going up", "time going down"]),
        (Exercise.SIT_TO_STAND, ["in the corridor, going down", "on the right foot, going up", "time going down"]),
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
        "8 of 10 raises counted.",
        "2 of 8 were with a hand on the rail.",
        "Raises 7 and 8 were lower than the first ones.",
        "2 not counted: the heels were too low, 1 not counted: a foot left the plates.",
    )


def test_a_share_that_fell_an_early_rise_and_the_basis_are_told() -> None:
    falling = [
        replace(one, share_lowering_percent=75.0 - place, incomplete_return=place == 4) for place, one in enumerate(TEN)
    ]
    assert lines(of(falling), LOWERING, GOAL) == (
        "The last 3 against the first 3: share going down 7 points lower.",
        "1 rose again before the heel was down.",
    )
    by_force = [replace(one, basis=Basis.FORCE) for one in TEN]
    assert lines(of(by_force), LOWERING, GOAL) == ("Height was not measured.",)
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


@pytest.mark.parametrize(
    ("lower", "said"),
    [
        (1, "Raise 6 was lower than the first ones."),
        (2, "Raises 6 and 7 were lower than the first ones."),
        (4, "Raises 6 to 9 were lower than the first ones."),
    ],
)
def test_lower_raises_are_named(lower: int, said: str) -> None:
    assert said in lines(of(make_series([80.0] * 5 + [60.0] * lower)), LOWERING, replace(GOAL, repetitions=1))


def test_every_line_is_a_sentence() -> None:
    """`not counted: 1 it was cut off`, `from the 4th on lower than before`."""
    tired = [
        replace(one, supported=place == 1, incomplete_return=place == 2, basis=Basis.FORCE)
        for place, one in enumerate(make_series([80.0] * 5 + [50.0] * 2))
    ]
    for count in range(8):
        rejected = [Rejected(60.0, 61.0, reason) for reason in REASONS[:count]]
        for line in lines(of(tired[:count], rejected=rejected), LOWERING, GOAL):
            assert line.endswith(".") and not line[0].islower() and " it was" not in line


def test_what_was_too_low_is_told_in_words_of_the_exercise() -> None:
    squat = replace(LOWERING, exercise=Exercise.SQUAT)
    shallow = of([], squat, rejected=[Rejected(60.0, 61.0, "low")])
    assert lines(shallow, squat, GOAL)[1] == "1 not counted: not deep enough."


def test_a_set_has_only_what_began_in_it() -> None:
    rejected = [Rejected(at_s, at_s + 1.0, "low") for at_s in (4.0, 6.0, 30.0)]
    outcome = of(TEN, rejected=rejected, span=SetSpan(2, 5.0, 30.0))
    assert [one.start_s for one in outcome.repetitions] == [5.0, 10.0, 15.0, 20.0, 25.0]
    assert [one.start_s for one in outcome.rejected] == [6.0]
    assert outcome.own_times_s([4.0, 5.0, 29.9, 30.0]) == (5.0, 29.9)


def test_the_table_of_sets() -> None:
    assert sheet.heads(LOWERING) == (
        "set",
        "raises",
        "share down",
        "in thirds",
        "in the band",
        "time down",
        "height",
        "notes",
    )
    raises = [replace(one, supported=place == 2) for place, one in enumerate(TEN)]
    blind = of(raises, rejected=[Rejected(60.0, 61.0, "low")], span=SetSpan(2, 0.0, 100.0, blind=True))
    assert sheet.row(blind, LOWERING, GOAL).cells == (
        "2", "10", "75 %", "\u2013", "90 %", "2.0 s", "80 mm",
        "Without the screen; 1 with a hand on the rail; 1 not counted: the heels were too low",
    )  # fmt: skip
    assert sheet.row(of([]), LOWERING, GOAL).cells == ("1", "0", *["\u2013"] * 5, "")


@pytest.mark.parametrize("exercise", [exercise for exercise in Exercise if exercise.is_repeated])
def test_rows_are_as_long_as_their_heads(exercise: Exercise) -> None:
    settings = replace(LOWERING, exercise=exercise)
    assert len(sheet.row(of(TEN, settings), settings, GOAL).cells) == len(sheet.heads(settings))


def test_to_exhaustion_the_row_says_what_ended_the_set() -> None:
    goal = replace(GOAL, to_exhaustion=True)
    in_time = make_series([80.0] * 5)
    assert sheet.row(of(in_time), LOWERING, goal, faults_s=(16.0,)).cells[-1] == "3 until a fault was marked"
    assert sheet.row(of(in_time), LOWERING, goal).cells[-1] == ""
    assert lines(of(in_time), LOWERING, goal) == ("5 raises counted.",)


def numbered(number: int, repetitions: Sequence[Repetition]) -> Outcome:
    outcome = of(repetitions)
    return replace(outcome, result=replace(outcome.result, number=number))


def test_fatigue_is_told_set_by_set_with_what_is_held_against_what() -> None:
    """84, 71, 69, 61, 51 mm were told as a fall of 28 % from the first to the last; from 84 to 51 are 39 %."""
    tiring = make_series([84.0, 71.0, 69.0, 61.0, 51.0])
    assert sheet.say_fatigue([of(TEN), numbered(2, tiring)]) == ("Set 2, last 2 against first 2: height 28 % lower.",)
    quicker = [
        make_raise(5.0 * place, lasts_s, share_lowering_percent=share)
        for place, (lasts_s, share) in enumerate([(4.0, 75.0), (4.0, 75.0), (3.5, 72.0), (3.0, 69.0), (3.0, 69.0)])
    ]
    said = "share going down 6 points lower, 33 % quicker"
    assert sheet.say_fatigue([of(quicker)]) == (f"Set 1, last 2 against first 2: {said}.",)
    assert lines(of(quicker), LOWERING, replace(GOAL, repetitions=5)) == (f"The last 2 against the first 2: {said}.",)
    slower = sheet.say_fatigue([of(list(reversed(quicker)))])
    assert slower == ("Set 1, last 2 against first 2: share going down 6 points higher, 25 % slower.",)


def test_only_what_was_measured_is_said_to_have_held() -> None:
    little = "Little change from the first repetitions to the last: "
    assert sheet.say_fatigue([of(TEN)]) == (f"{little}height, share and tempo.",)
    unseen = [replace(one, height_injured_mm=None, basis=Basis.FORCE) for one in TEN]
    assert sheet.say_fatigue([of(TEN), of(unseen)]) == (f"{little}share and tempo.",)
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
    unseen = snapshot(ceiling_N=196.133, ceiling_events=(unread,))
    assert sheet.say_ceiling(unseen, settings)[0] == "Not seen over the limit of 20.0 kg.", (
        "nobody knows that it never was"
    )
    assert sheet.say_ceiling(snapshot(ceiling_N=196.133), settings) == ("Never over the limit of 20.0 kg.",)
    assert sheet.say_ceiling(shot, LOWERING) == ()
