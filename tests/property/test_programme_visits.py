"""Stages of the ready-made programmes, done by virtual people in no time: what is prescribed can be measured.

Those of the Achilles programme are done over the link, in `tests/device/test_rehearsal.py`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from weightshare.exercise import Exercise, SetSpan
from weightshare.model import Side
from weightshare.pipeline import Analysis, analyse_trace
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.visit import measured_visit

BEGIN_S = 6.0
STAGES = {one.key: one for one in find_programme("even-load").programme.stages}
WITH_SUPPORT = {one.key: one for one in find_programme("partial-load").programme.stages}


def visit(stage: Stage, person: str, injured: Side = Side.RIGHT, body_weight_N: float | None = None) -> Analysis:
    """Return what is measured of one set of three, or of one hold."""
    settings = replace(prescribe(stage, injured), body_weight_N=body_weight_N)
    goal = replace(goal_of(stage), sets=1, repetitions=3, holds=1, blind_sets=(), to_exhaustion=False)
    cast = Cast(PEOPLE[person], FAULTS["clean"], Task.of(settings, goal), 3, HeelBuild())
    seconds = BEGIN_S + (3.0 * settings.tempo.cycle_s + 15.0 if settings.tempo else goal.hold_s + 20.0)
    trace, _truth = measured_visit(cast, seconds, cues=[Cue(BEGIN_S, settings.working)])
    spans = [SetSpan(1, BEGIN_S - 0.5, working=settings.working_side if settings.is_single else None)]
    return analyse_trace(trace, settings, spans if settings.is_repeated else ())


@pytest.mark.parametrize("stage", STAGES.values(), ids=STAGES)
def test_a_stage_is_done_and_counted(stage: Stage) -> None:
    found = visit(stage, "steady" if stage.exercise is Exercise.HOLD else "raiser")
    if not stage.exercise.is_repeated:
        assert found.longest_hold_s is not None and found.longest_hold_s >= stage.hold_s - 0.5
        return
    assert [len(one.repetitions) for one in found.sets] == [3]
    if stage.target_percent is not None:
        share = found.sets[0].share_lowering_percent
        assert share == pytest.approx(stage.target_percent, abs=5.0)


@pytest.mark.parametrize("stage", WITH_SUPPORT.values(), ids=WITH_SUPPORT)
def test_a_load_is_held_and_no_limit_passed(stage: Stage) -> None:
    found = visit(stage, "steady", body_weight_N=PEOPLE["steady"].body_weight_N)
    assert found.longest_hold_s is not None and found.longest_hold_s >= stage.hold_s
    assert found.ceiling == (), "the load stays under the limit"
    assert found.load is not None and found.injured_N == pytest.approx(found.load.target_N, rel=0.25)
