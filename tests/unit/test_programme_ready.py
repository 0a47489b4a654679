"""The ready-made programmes: what they ask for, where their numbers come from, what stays locked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from weightshare.exercise import Exercise
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.reading import ProgrammeError, check_text, read_programme
from weightshare.programme.shelf import READY, find_programme
from weightshare.programme.stage import Lock, Stage
from weightshare.programme.writing import free_stage, write_programme
from weightshare.task import check_together

STAGES = [(name, stage) for name in READY for stage in find_programme(name).programme.stages]
EVERY = pytest.mark.parametrize(("name", "stage"), STAGES, ids=[f"{name}-{stage.key}" for name, stage in STAGES])


@EVERY
def test_a_stage_can_be_practised_with_either_side(name: str, stage: Stage) -> None:
    for side in Side:
        # in percent of body weight a load needs it by hand
        settings = check_together(replace(prescribe(stage, side), body_weight_N=700.0))
        assert (settings.injured, settings.exercise) == (side, stage.exercise)
        assert settings.tolerance_percent == stage.tolerance_points
    assert goal_of(stage).sets >= 1


@EVERY
def test_what_may_not_be_allowed_yet_is_locked(name: str, stage: Stage) -> None:
    """One leg, a step, below the level of standing, and any load after surgery: the clinician frees them."""
    risky = stage.exercise.is_single or stage.surface == "step" or stage.below_level or stage.supported
    assert bool(stage.shut) == risky


@EVERY
def test_every_number_has_a_source(name: str, stage: Stage) -> None:
    programme = find_programme(name).programme
    assert all(programme.source_of(stage, str(one.measure)) for one in stage.criteria)
    assert programme.source_of(stage, "tempo")


def test_the_order_of_targets_in_lowering_is_the_customary_one() -> None:
    """60, 75, 80, 85, 90: common practice, no source."""
    lowering = [one for _, one in STAGES if one.exercise is Exercise.LOWERING]
    assert [one.target_percent for one in lowering] == [60.0, 75.0, 80.0, 85.0, 90.0]
    assert [one.mean_points for one in lowering] == [5.0, 5.0, 2.5, 2.5, 2.5]


def test_the_first_stage_holds_an_even_raise_and_the_last_compares_the_legs() -> None:
    stages = find_programme("achilles").programme.stages
    first, last = stages[0], stages[-1]
    assert (first.exercise, first.target_percent, first.hold_s) == (Exercise.HEEL_HOLD, 50.0, 10.0)
    assert last.to_exhaustion and last.tempo is not None
    # 30 raises a minute: Lunsford and Perry (1995)
    assert 60.0 / last.tempo.cycle_s == 30.0


def test_partial_load_asks_for_loads_only() -> None:
    stages = find_programme("partial-load").programme.stages
    assert all(one.load is not None and prescribe(one, Side.LEFT).target_percent is None for one in stages)


def test_a_working_leg_carries_all_whichever_is_injured() -> None:
    stage = find_programme("achilles").find("one-leg")
    assert prescribe(stage, Side.RIGHT).target_percent == 100.0
    weighted = find_programme("achilles").find("one-leg-weight")
    assert prescribe(weighted, Side.LEFT).added_weight_N == pytest.approx(5.0 * STANDARD_GRAVITY)
    assert goal_of(replace(find_programme("achilles").find("compare"), sets=1)).sets == 2, "one for each leg"


@pytest.mark.parametrize("name", READY)
def test_a_programme_that_is_written_reads_back_equal(name: str) -> None:
    programme = find_programme(name).programme
    assert check_text(write_programme(programme)) == (programme, ())


def test_a_stage_is_found_by_key_or_name() -> None:
    kept = find_programme("achilles")
    assert kept.find("LOWERING-75") is kept.find("down with 75 %")
    with pytest.raises(ProgrammeError, match='no stage "raise-9"; its stages are hold-10, '):
        kept.find("raise-9")
    after = kept.programme.after(kept.find("lowering-75"))
    assert after is not None and after.key == "lowering-80"
    assert kept.programme.after(kept.programme.stages[-1]) is None


def test_freeing_a_stage_leaves_every_other_letter_as_it_was() -> None:
    kept = find_programme("achilles")
    text = free_stage(kept, "one-leg-step", [Lock.ONE_LEG], by="AB", on=date(2026, 11, 24))
    stage = read_programme(text, "x").find("one-leg-step")
    assert stage is not None and stage.shut == (Lock.STEP, Lock.BELOW_LEVEL)
    assert (stage.freed_by, stage.freed_on) == ("AB", "2026-11-24")
    added = [line for line in text.splitlines() if line not in kept.text.splitlines()]
    assert added == ['freed = ["one-leg"]', 'freed_by = "AB"', "freed_on = 2026-11-24"]


def test_freeing_what_is_not_locked_is_refused() -> None:
    kept = find_programme("achilles")
    with pytest.raises(ProgrammeError, match=r"stage raise is not locked$"):
        free_stage(kept, "raise", [], by="AB", on=date(2026, 11, 24))
    with pytest.raises(ProgrammeError, match="stage one-leg is not locked by step"):
        free_stage(kept, "one-leg", [Lock.STEP], by="AB", on=date(2026, 11, 24))
