"""What a person may be asked for in a session, wherever it is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.errors import OptionError
from weightshare.exercise import Ceiling, Exercise
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions, check_practised, find_clash
from weightshare.task import Settings

HOLD = Settings(Side.LEFT, 75.0, exercise=Exercise.HOLD)
ON_TWO = [exercise for exercise in Exercise if not exercise.is_single]
SEVENTY_KG_N = 70.0 * 9.80665


@pytest.mark.parametrize("exercise", [*ON_TWO, None])
@pytest.mark.parametrize("target", [0.0, 3.0, 97.0, 100.0])
def test_a_target_of_one_leg_is_refused_in_work_on_two(exercise: Exercise | None, target: float) -> None:
    """The window took 100 % for a lowering on two legs, and told the patient to put ever more on the injured foot."""
    with pytest.raises(OptionError, match=f"--target {target:g}: .*single-raise"):
        PractiseOptions(replace(HOLD, exercise=exercise, target_percent=target))


@pytest.mark.parametrize("exercise", list(Exercise))
@pytest.mark.parametrize("target", [3.1, 50.0, 96.9])
def test_between_them_any_target_may_be_asked_for(exercise: Exercise, target: float) -> None:
    settings = replace(HOLD, exercise=exercise, target_percent=target)
    assert check_practised(settings) is settings


@pytest.mark.parametrize("target", [0.0, 100.0, None])
def test_one_leg_may_be_asked_for_where_it_was_chosen(target: float | None) -> None:
    settings = replace(HOLD, exercise=Exercise.SINGLE_RAISE, target_percent=target)
    assert PractiseOptions(settings).settings is settings


def test_a_target_over_a_ceiling_in_percent_is_refused_at_once() -> None:
    limited = replace(HOLD, ceiling=Ceiling(percent=25.0))
    with pytest.raises(OptionError, match="--target 75 --ceiling 25%: 75 % on the left foot is over the limit of 25 %"):
        PractiseOptions(limited)
    assert check_practised(replace(limited, target_percent=25.0)).ceiling == limited.ceiling


def test_an_even_way_up_is_asked_for_whatever_is_asked_of_the_way_down() -> None:
    lowering = replace(HOLD, exercise=Exercise.LOWERING, target_percent=20.0, ceiling=Ceiling(percent=25.0))
    with pytest.raises(OptionError, match="50 % on the left foot"):
        check_practised(lowering)
    check_practised(replace(lowering, exercise=Exercise.RAISE))


def test_a_target_over_a_ceiling_in_kg_is_told_once_body_weight_is_known() -> None:
    """75 % of 70 kg are 52.5 kg: under a limit of 20 kg the aim could never be reached without the alarm."""
    limited = check_practised(replace(HOLD, ceiling=Ceiling(kg=20.0)))
    assert find_clash(limited, None) == ""
    assert find_clash(limited, SEVENTY_KG_N) == "75 % on the left foot is 52.5 kg, over the limit of 20.0 kg"
    assert find_clash(replace(limited, target_percent=28.0), SEVENTY_KG_N) == ""
    with pytest.raises(OptionError, match=r"52\.5 kg"):
        check_practised(replace(limited, body_weight_N=SEVENTY_KG_N))


def test_added_weight_is_carried_too() -> None:
    packed = replace(HOLD, target_percent=28.0, ceiling=Ceiling(kg=20.0), added_weight_N=20.0 * 9.80665)
    assert find_clash(packed, SEVENTY_KG_N) == "28 % on the left foot is 25.2 kg, over the limit of 20.0 kg"


def test_without_a_target_or_a_ceiling_nothing_clashes() -> None:
    assert find_clash(HOLD, SEVENTY_KG_N) == ""
    assert find_clash(replace(HOLD, target_percent=None, ceiling=Ceiling(percent=1.0)), SEVENTY_KG_N) == ""
