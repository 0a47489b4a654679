"""What is asked for, in plain words, and whether a stage is still that stage when something was set by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.exercise import Ceiling, Exercise, Load, Surface, Tempo
from weightshare.model import Side
from weightshare.practice.asked import revise, say_asked, say_share, say_stage
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import READY, find_programme
from weightshare.programme.stage import Knee, Stage
from weightshare.task import Goal, Settings

LOWERING = Stage("lowering-75", "Down with 75 %", Exercise.LOWERING, target_percent=75.0, tempo=Tempo(1, 1, 3, 1))


def test_a_lowering_says_the_way_up_the_way_down_and_the_time() -> None:
    assert say_stage(LOWERING, Side.LEFT) == (
        "Heels up evenly, then down with 75 % on the left foot. 3 sets of 10. 1 s up, 1 s at the top, 3 s down."
    )


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (Settings(Side.LEFT, target_percent=50.0), "the same weight on both feet"),
        (Settings(Side.RIGHT, target_percent=60.0, one_sided=True), "at least 60 % on the right foot"),
        (Settings(Side.LEFT, load=Load(kg=20.0)), "20 kg on the left foot, the rest on crutches or frame"),
        (
            Settings(Side.LEFT, load=Load(percent=25.0), body_weight_N=700.0),
            "25 % of body weight on the left foot, the rest on crutches or frame",
        ),
        (Settings(Side.LEFT), "your weight as you like"),
    ],
)
def test_how_much_is_asked_for(settings: Settings, said: str) -> None:
    assert say_share(settings) == said


def test_a_hold_says_how_often_and_how_long() -> None:
    settings = Settings(Side.LEFT, target_percent=60.0, exercise=Exercise.HEEL_HOLD)
    said = say_asked(settings, Goal(hold_s=45.0, holds=1), Knee.BENT)
    assert said == "Both heels up with 60 % on the left foot, and hold. Once for 45 s. Knees bent."


def test_what_may_hurt_is_named() -> None:
    settings = Settings(
        Side.RIGHT,
        target_percent=100.0,
        exercise=Exercise.SINGLE_RAISE,
        surface=Surface.STEP,
        added_weight_N=49.03325,
        ceiling=Ceiling(percent=110.0),
    )
    said = say_asked(settings, Goal(sets=1))
    assert "on the right leg alone" in said and "Heels over a step." in said and "With 5 kg added." in said
    assert "Never over 110 % of body weight on the right side." in said


def test_to_exhaustion_the_legs_take_turns() -> None:
    settings = Settings(Side.RIGHT, target_percent=100.0, exercise=Exercise.SINGLE_RAISE)
    said = say_asked(settings, Goal(sets=2, to_exhaustion=True))
    assert said == "Heel up and down on the one leg alone. The legs take turns. 2 sets, as many as you can."


@pytest.mark.parametrize("name", READY)
def test_every_ready_made_stage_can_be_said(name: str) -> None:
    for stage in find_programme(name).programme.stages:
        for side in Side:
            said = say_stage(stage, side)
            assert said.endswith(".") and "None" not in said and "{" not in said
            assert "%" not in said or not stage.supported or stage.load is None or stage.load.percent


def test_a_stage_as_it_is_has_no_changes() -> None:
    kept = find_programme("achilles")
    stage = kept.programme.stages[0]
    found = revise(kept.prescription(stage), prescribe(stage, Side.RIGHT), goal_of(stage))
    assert found is not None and found.changed == ()


def test_what_is_set_by_hand_is_kept_and_taking_it_back_is_too() -> None:
    kept = find_programme("achilles")
    stage = next(one for one in kept.programme.stages if one.exercise is Exercise.LOWERING)
    settings, goal = prescribe(stage, Side.LEFT), goal_of(stage)
    bare = kept.prescription(stage)
    changed = revise(bare, replace(settings, target_percent=77.0, ceiling=Ceiling(kg=80.0)), replace(goal, sets=2))
    assert changed is not None
    assert changed.changed == (
        f"target_percent 77, not {stage.target_percent:g}",
        "ceiling 80kg, not none",
        f"sets 2, not {goal.sets}",
    )
    assert revise(changed, settings, goal) == bare


def test_another_exercise_or_leg_is_another_task() -> None:
    kept = find_programme("achilles")
    stage = next(one for one in kept.programme.stages if one.exercise is Exercise.LOWERING)
    settings, goal = prescribe(stage, Side.LEFT), goal_of(stage)
    bare = kept.prescription(stage)
    assert revise(bare, replace(settings, exercise=Exercise.RAISE), goal) is None
    assert revise(bare, replace(settings, surface=Surface.STEP), goal) is None
    assert revise(bare, settings, replace(goal, to_exhaustion=True)) is None
    assert revise(None, settings, goal) is None


def test_what_a_field_with_one_decimal_makes_of_a_weight_is_no_change_by_hand() -> None:
    """5 kg are 49.03 N, which the page of settings gives back as 49.0."""
    kept = find_programme("achilles")
    stage = replace(kept.programme.stages[0], added_weight_kg=5.0)
    bare = replace(kept.prescription(kept.programme.stages[0]), stage=stage)
    settings = prescribe(stage, Side.LEFT)
    found = revise(bare, replace(settings, added_weight_N=49.0), goal_of(stage))
    assert found is not None and not found.changed
    found = revise(bare, replace(settings, added_weight_N=49.2), goal_of(stage))
    assert found is not None and len(found.changed) == 1


def test_what_a_session_finds_out_is_no_change_by_hand() -> None:
    kept = find_programme("achilles")
    stage = kept.programme.stages[0]
    settings = replace(prescribe(stage, Side.LEFT), counting_from_s=12.0, body_weight_N=700.0)
    found = revise(kept.prescription(stage), settings, goal_of(stage))
    assert found is not None and not found.changed
