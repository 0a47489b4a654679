"""What was set by hand beside a stage, in words: as the command keeps it, and as the window does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.exercise import Ceiling, Exercise, Tempo
from weightshare.model import Side
from weightshare.practice.asked import revise
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import find_programme
from weightshare.window.byhand import say_by_hand


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("--ceiling 80%", "limit of load by hand: 80 % of body weight"),
        ("--ceiling 42.5kg, not none", "limit of load by hand: 42.5 kg, not none"),
        ("--target 70, not 75", "target by hand: 70 %, not 75 %"),
        ("--hold-goal 20, not 45", "length of a hold by hand: 20 s, not 45 s"),
        ("--tempo 1-1-3-1, not 1-1-2-1", "tempo by hand: 1-1-3-1 s, not 1-1-2-1 s"),
        ("--blind-sets 2,3, not none", "sets without the screen by hand: 2,3, not none"),
    ],
)
def test_an_option_of_the_command_is_told_in_words(kept: str, said: str) -> None:
    """A clinician read "--ceiling 80%" among a patient's sessions."""
    assert say_by_hand(kept) == said


@pytest.mark.parametrize("kept", ["--basis force, not none", "no change at all", ""])
def test_what_is_not_known_is_told_as_it_was_kept(kept: str) -> None:
    assert say_by_hand(kept) == f"by hand: {kept}"


def test_what_the_window_keeps_is_known_too() -> None:
    kept = find_programme("achilles")
    stage = next(one for one in kept.programme.stages if one.exercise is Exercise.LOWERING)
    settings, goal = prescribe(stage, Side.LEFT), goal_of(stage)
    other = replace(settings, target_percent=77.0, tolerance_percent=4.0, ceiling=Ceiling(kg=80.0), tempo=Tempo(2.0))
    changed = revise(kept.prescription(stage), other, replace(goal, sets=2, repetitions=4, rest_s=30.0))
    assert changed is not None and len(changed.changed) == 7
    assert all(" by hand: " in say_by_hand(one) and "_" not in say_by_hand(one) for one in changed.changed)
