"""However a stream of squats, or of rises from a chair, is cut: repetitions and phases are equal, bit for bit."""

from __future__ import annotations

from functools import cache, partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.property.cuts import RATE_HZ, Played, check_cuts, lose, play_trace
from weightshare.exercise import Exercise, SetSpan, Tempo
from weightshare.model import SIDE_COLUMNS, Side, Trace
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.visit import measured_visit
from weightshare.task import Settings

BENDING = (Exercise.SQUAT, Exercise.SIT_TO_STAND)
NAMES = ("raiser", "jerky", "pausing", "rail", "stepping-off")


@cache
def moving(exercise: Exercise, seed: int) -> Trace:
    """Half a minute of somebody, with holes in the load and rows that are missing."""
    rng = np.random.default_rng(seed)
    task = Task(exercise=exercise, tempo=Tempo(0.8, 0.4, 1.0, 0.7), sets=1, repetitions=7)
    cast = Cast(PEOPLE[NAMES[seed % len(NAMES)]], FAULTS["clean"], task, seed=seed, heels=HeelBuild(fitted=False))
    trace, _ = measured_visit(cast, 36.0, RATE_HZ)
    forces = Trace(trace.time_s, {name: trace.columns[name] for name in SIDE_COLUMNS})
    return lose(forces, rng, first=1300)


def play(trace: Trace, exercise: Exercise, cuts: list[int]) -> Played:
    return play_trace(trace, Settings(Side.LEFT, 50.0, exercise=exercise), [SetSpan(1, 8.0)], cuts)


@pytest.mark.parametrize("exercise", BENDING)
@given(seed=st.integers(0, 19), cuts=st.lists(st.integers(1, 2800), min_size=1, max_size=60, unique=True))
@settings(max_examples=10, deadline=None)
def test_cuts_make_no_difference(exercise: Exercise, seed: int, cuts: list[int]) -> None:
    trace = moving(exercise, seed)
    check_cuts(partial(play, trace, exercise), cuts, trace.time_s.size)


@pytest.mark.parametrize("exercise", BENDING)
def test_every_phase_is_the_same_sample_by_sample(exercise: Exercise) -> None:
    trace = moving(exercise, 5)
    stops = list(range(1, trace.time_s.size, 7))
    _, shown, tally = play(trace, exercise, stops)
    for stop in stops[200::400]:
        _, alone, _ = play(trace, exercise, [stop])
        assert (alone[stop].phase, alone[stop].phase_since_s) == (shown[stop].phase, shown[stop].phase_since_s)
    assert {shown[stop].phase for stop in stops} >= {"bottom", "rise", "lowering"}
    assert len(tally.repetitions) >= 4
