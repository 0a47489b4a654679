"""Signs of plates that touch, or rock."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.exercise import Exercise, Tempo
from weightshare.metrology.contact import find_contact, find_touching, is_rocking
from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.shift import Shift
from weightshare.scales.rig.visit import measured_visit

TIME_S = np.arange(3000) / 100.0


def stepped(left_after_N: float = 0.0, right_after_N: float = 0.0) -> tuple[Floats, Floats, Floats]:
    """Nobody, then somebody from 5 to 20 s, then nobody, with something left over."""
    on, after = ((TIME_S > 5.0) & (TIME_S < 20.0)).astype(float), (TIME_S >= 20.0).astype(float)
    noise = 0.2 * np.random.default_rng(1).standard_normal((2, TIME_S.size))
    return TIME_S, on * 350.0 + after * left_after_N + noise[0], on * 340.0 + after * right_after_N + noise[1]


def test_plates_that_come_back_to_zero_are_free() -> None:
    assert find_touching(*stepped()) == () and find_touching(*stepped(0.6, -0.6)) == ()


@pytest.mark.parametrize("left_N", [12.0, -28.0])
def test_what_stays_between_the_plates_says_that_they_touch(left_N: float) -> None:
    (words,) = find_touching(*stepped(left_N, -left_N))
    assert "the plates touch" in words and f"{abs(left_N):.0f} N" in words


def test_what_stays_on_one_plate_names_it() -> None:
    (words,) = find_touching(*stepped(0.0, 9.0))
    assert words.startswith("the right plate did not come back to zero, +9 N")


def test_empty_plates_against_one_another_push_each_other() -> None:
    sway = 8.0 * np.sin(TIME_S)
    assert "push each other" in find_touching(TIME_S, sway, -sway)[0]
    assert find_touching(TIME_S, sway, sway) == (), "both together is no touching: somebody walks by"


def test_nothing_is_said_of_somebody_who_stands_there_or_of_no_readings() -> None:
    assert find_touching(TIME_S, np.full(3000, 350.0), np.full(3000, 350.0)) == ()
    assert find_touching(TIME_S, np.full(3000, np.nan), np.full(3000, 1.0)) == ()


def test_a_load_that_jumps_from_front_to_rear_rocks() -> None:
    front = np.where(np.sin(TIME_S) > 0, 0.5, 0.36)
    assert is_rocking(TIME_S, 350.0 * front, 350.0 * (1 - front))


def test_a_lean_and_a_raise_do_not_rock() -> None:
    for lasting_s in (0.8, 1.5):
        front = 0.6 + 0.24 * np.tanh(2.0 * np.sin(TIME_S) / lasting_s)
        assert not is_rocking(TIME_S, 350.0 * front, 350.0 * (1 - front))


def test_a_support_that_hangs_in_the_air_rocks() -> None:
    assert is_rocking(TIME_S, np.full(3000, 370.0), np.full(3000, -12.0))
    assert not is_rocking(TIME_S, np.full(3000, 370.0), np.full(3000, 12.0))


def test_stepping_on_does_not_rock() -> None:
    left = np.where((TIME_S % 6.0) < 3.0, 0.0, 350.0)
    assert not is_rocking(TIME_S, 0.45 * left, 0.55 * left)


def test_too_little_to_see_is_no_rocking() -> None:
    assert not is_rocking(TIME_S[:4], np.ones(4), np.ones(4)) and not is_rocking(TIME_S[:12], np.ones(12), np.ones(12))


def test_a_scale_without_parts_says_that_rocking_is_not_seen() -> None:
    time_s, left_N, right_N = stepped()
    contact = find_contact(time_s, {"left_N": left_N, "right_N": right_N})
    assert not contact.rocking_seen and contact.rocking == () and contact.words == ()


@pytest.mark.parametrize("name", PEOPLE)
def test_the_rigs_rocking_plate_is_seen_and_no_other(name: str) -> None:
    for fault, sides in (("rocking", (Side.LEFT,)), ("clean", ())):
        cast = Cast(PEOPLE[name], FAULTS[fault], Task(), 3)
        trace, _ = measured_visit(cast, 40.0, shifts=[(10.5, Shift())])
        contact = find_contact(trace.time_s, trace.columns)
        assert contact.rocking == sides and contact.touching == (), (name, fault)


@pytest.mark.parametrize("name", ["raiser", "jerky", "weak"])
@pytest.mark.parametrize(
    ("exercise", "tempo"),
    [(Exercise.HEEL_HOLD, Tempo()), (Exercise.LOWERING, Tempo(0.4, 0.2, 0.5, 0.3)), (Exercise.SINGLE_RAISE, Tempo())],
)
def test_heels_that_are_raised_before_practice_rock_no_plate(name: str, exercise: Exercise, tempo: Tempo) -> None:
    """They go up while somebody waits, and in a stage of holds; the next session was told that a plate had rocked."""
    task = Task(exercise=exercise, tempo=tempo, hold_goal_s=3.0, sets=1, repetitions=3)
    trace, _ = measured_visit(Cast(PEOPLE[name], FAULTS["clean"], task, 5), 24.0)
    assert np.nanmax(trace.columns["left_heel_height_mm"]) > 30.0, "heels did go up"
    assert find_contact(trace.time_s, trace.columns).rocking == ()


def test_the_rigs_plates_that_touch_are_seen_once_somebody_stepped_off() -> None:
    for seed in range(5):
        for fault, seen in (("touching", True), ("clean", False)):
            cast = Cast(PEOPLE["leaver"], FAULTS[fault], Task(), seed)
            trace, _ = measured_visit(cast, 30.0)
            assert bool(find_contact(trace.time_s, trace.columns).touching) is seen, (fault, seed)
