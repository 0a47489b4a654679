"""What is called out: short words at the right moment, seldom, never late, and nothing beside an alarm."""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.exercise import Exercise, Phase, Tempo
from weightshare.model import Side
from weightshare.practice.call import AFTER_ALARM_S, AGAIN_AFTER_S, APART_S, LATE_S, WRONG_FOR_S, Caller
from weightshare.practice.screen import Alarm, AlarmKind, Figures, Path, Screen, Shape, Step
from weightshare.task import Settings

SETTINGS = Settings(Side.RIGHT, target_percent=75.0, exercise=Exercise.LOWERING)
LIFT = Screen(
    Step.PRACTISE,
    "",
    "",
    Shape.DISC,
    Side.RIGHT,
    Figures(held="0", held_unit=""),
    path=Path(counts=True),
    phase=Phase.BOTTOM,
)
ALARM = Alarm(AlarmKind.OVER, "", "")


def called(*seen: tuple[float, Screen], settings: Settings = SETTINGS) -> list[tuple[float, str]]:
    """Return what is called as these screens are seen at these times, s."""
    caller, said = Caller(), list[tuple[float, str]]()
    for now_s, screen in seen:
        if words := caller.push(screen, settings, now_s):
            said.append((now_s, words))
    return said


def lift(phase: Phase, count: int = 0, **more: object) -> Screen:
    return replace(LIFT, phase=phase, figures=Figures(held=str(count), held_unit=""), **more)  # type: ignore[arg-type]


def test_a_repetition_is_led_and_counted() -> None:
    said = called(
        (0.0, lift(Phase.BOTTOM)),
        (1.0, lift(Phase.RISE)),
        (2.0, lift(Phase.TOP)),
        (3.0, lift(Phase.LOWERING)),
        (3.1, lift(Phase.LOWERING)),
        (6.0, lift(Phase.BOTTOM, 1)),
        (8.0, lift(Phase.RISE, 1)),
    )
    assert said == [(1.0, "Up"), (2.0, "Hold"), (3.0, "Slowly down"), (6.0, "1"), (8.0, "Up")]


@pytest.mark.parametrize(
    ("exercise", "tempo", "down", "up"),
    [
        (Exercise.SQUAT, None, "Slowly down", "Up again"),
        (Exercise.SIT_TO_STAND, None, "Sit down slowly", "Stand up"),
        (Exercise.SIT_TO_STAND, Tempo(1, 0, 1, 1), "Sit down", "Stand up"),
        (Exercise.RAISE, Tempo(1, 1, 1, 1), "Down", "Up"),
        (Exercise.RAISE, Tempo(1, 1, 3, 1), "Slowly down", "Up"),
    ],
)
def test_words_are_those_of_the_exercise_and_its_tempo(
    exercise: Exercise, tempo: Tempo | None, down: str, up: str
) -> None:
    settings = replace(SETTINGS, exercise=exercise, tempo=tempo)
    said = called((0.0, lift(Phase.RISE)), (2.0, lift(Phase.LOWERING)), settings=settings)
    assert [words for _now_s, words in said] == [up, down]


def test_two_calls_keep_apart_and_a_late_one_is_dropped() -> None:
    rise, top = lift(Phase.RISE), lift(Phase.TOP)
    said = called((0.0, rise), (0.3, top), (0.5, top), (APART_S + 0.01, top))
    assert said == [(0.0, "Up"), (APART_S + 0.01, "Hold")], "it waits until the first was heard"
    # the screen stood still, and what it would tell is of before
    late = called((0.0, rise), (0.3, top), (0.3 + LATE_S + 0.1, top))
    assert late == [(0.0, "Up")]


def test_an_alarm_ends_it_and_nothing_is_called_for_a_while_after() -> None:
    said = called(
        (0.0, lift(Phase.RISE)),
        (1.0, replace(lift(Phase.TOP), alarm=ALARM)),
        (1.2, lift(Phase.LOWERING)),
        (1.2 + AFTER_ALARM_S + 0.1, lift(Phase.BOTTOM, 1)),
    )
    assert said == [(0.0, "Up"), (1.2 + AFTER_ALARM_S + 0.1, "1")]


def test_where_the_load_belongs_is_called_after_a_while_and_not_again_at_once() -> None:
    wrong = lift(Phase.TOP, shape=Shape.TO_LEFT)
    times = [2.0 + 0.1 * step for step in range(90)]
    said = called((0.0, lift(Phase.TOP)), *((now_s, wrong) for now_s in times))
    (first, second) = [(now_s, words) for now_s, words in said if words != "Hold"]
    assert first[1] == second[1] == "More on the left"
    assert WRONG_FOR_S <= first[0] - 2.0 < WRONG_FOR_S + 0.2
    assert AGAIN_AFTER_S <= second[0] - first[0] < AGAIN_AFTER_S + 0.2
    # where the band turns nobody is told off
    turning = replace(wrong, path=Path(cued=False))
    assert called(*((now_s, turning) for now_s in times)) == [(2.0, "Hold")]
    flicker = [(0.1 * step, lift(Phase.TOP, shape=Shape.TO_LEFT if step % 2 else Shape.DISC)) for step in range(60)]
    assert [words for _now_s, words in called(*flicker)] == ["Hold"]


def test_a_hold_is_called_where_it_begins_and_where_it_is_done() -> None:
    hold = replace(LIFT, figures=Figures(held="0"), path=Path(counts=False), phase=None)
    inside = replace(hold, path=Path(counts=True))
    done = replace(inside, figures=Figures(held="30", held_fraction=1.0))
    settings = replace(SETTINGS, exercise=Exercise.HOLD)
    assert called((0.0, hold), (1.0, inside), (2.0, inside), (31.0, done), (32.0, done), settings=settings) == [
        (1.0, "Hold"),
        (31.0, "Rest"),
    ]


@pytest.mark.parametrize(
    "screen",
    [
        replace(lift(Phase.RISE), path=Path(hidden=True)),
        replace(lift(Phase.RISE), blank=True),
        replace(lift(Phase.RISE), step=Step.READY),
        replace(lift(Phase.RISE), step=Step.CHECK, path=None),
    ],
    ids=["a set without help", "no data", "before practice", "the check"],
)
def test_nothing_is_called_where_nothing_is_known_or_nothing_may_help(screen: Screen) -> None:
    assert called((0.0, screen), (5.0, screen)) == []


def test_a_rest_is_called_once() -> None:
    rest = replace(LIFT, step=Step.REST, path=None, phase=None)
    assert called((0.0, lift(Phase.LOWERING)), (3.0, rest), (9.0, rest))[1:] == [(3.0, "Rest")]
