"""However a stream of squats, or of rises from a chair, is cut: repetitions and phases are equal, bit for bit."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.exercise import Exercise, SetSpan, Tempo
from weightshare.model import SIDE_COLUMNS, Side, Trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.visit import measured_visit
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

RATE_HZ = 80.0
BENDING = (Exercise.SQUAT, Exercise.SIT_TO_STAND)
NAMES = ("raiser", "jerky", "pausing", "rail", "stepping-off")


@cache
def moving(exercise: Exercise, seed: int) -> Trace:
    """Half a minute of somebody, with holes in the load and rows that are missing."""
    rng = np.random.default_rng(seed)
    task = Task(exercise=exercise, tempo=Tempo(0.8, 0.4, 1.0, 0.7), sets=1, repetitions=7)
    cast = Cast(PEOPLE[NAMES[seed % len(NAMES)]], FAULTS["clean"], task, seed=seed, heels=HeelBuild(fitted=False))
    trace, _ = measured_visit(cast, 36.0, RATE_HZ)
    columns = {name: trace.columns[name].copy() for name in SIDE_COLUMNS}
    for values in columns.values():
        values[rng.random(values.size) < 0.002] = np.nan
        start = int(rng.integers(1300, values.size - 30))
        values[start : start + 10] = np.nan
    keep = rng.random(trace.time_s.size) > 0.002
    return Trace(trace.time_s[keep], {name: values[keep] for name, values in columns.items()})


def play(trace: Trace, exercise: Exercise, cuts: list[int]) -> tuple[list[Results], dict[int, Snapshot], object]:
    """Push the trace in pieces; return results, the snapshot at each cut, and what it all came to."""
    measure = Measure(Settings(Side.LEFT, 50.0, exercise=exercise))
    measure.begin_set(SetSpan(1, 8.0))
    results, shown = [], {}
    values = np.stack([trace.columns[name] for name in SIDE_COLUMNS])
    whole = Block(1.0 / RATE_HZ, SIDE_COLUMNS, trace.time_s, values, np.zeros(trace.time_s.size, dtype=np.uint8))
    for start, stop in zip([0, *cuts], [*cuts, trace.time_s.size], strict=True):
        results.append(measure.push(whole.cut(start, stop)))
        shown[stop] = measure.snapshot()
    results.append(measure.finish())
    return results, shown, measure.tally()


def joined(results: list[Results]) -> list[bytes]:
    return [np.concatenate([getattr(result, name) for result in results]).tobytes() for name in Results.__slots__]


@pytest.mark.parametrize("exercise", BENDING)
@given(seed=st.integers(0, 19), cuts=st.lists(st.integers(1, 2800), min_size=1, max_size=60, unique=True))
@settings(max_examples=20, deadline=None)
def test_cuts_make_no_difference(exercise: Exercise, seed: int, cuts: list[int]) -> None:
    trace = moving(exercise, seed)
    cuts = sorted(cut for cut in cuts if cut < trace.time_s.size)
    one, shown_one, tally_one = play(trace, exercise, cuts[:1])
    many, shown_many, tally_many = play(trace, exercise, cuts)
    assert joined(one) == joined(many)
    assert tally_one == tally_many
    for cut in cuts[:1]:
        assert shown_one[cut] == shown_many[cut]


@pytest.mark.parametrize("exercise", BENDING)
def test_every_phase_is_the_same_sample_by_sample(exercise: Exercise) -> None:
    trace = moving(exercise, 5)
    stops = list(range(1, trace.time_s.size, 7))
    _, shown, tally = play(trace, exercise, stops)
    for stop in stops[200::400]:
        _, alone, _ = play(trace, exercise, [stop])
        assert (alone[stop].phase, alone[stop].phase_since_s) == (shown[stop].phase, shown[stop].phase_since_s)
    assert {shown[stop].phase for stop in stops} >= {"bottom", "rise", "lowering"}
    assert len(tally.repetitions) >= 4  # type: ignore[attr-defined]
