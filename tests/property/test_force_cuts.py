"""However the stream is cut, raises without heel heights come out equal, bit for bit."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.counting import Run, make_ground, run, trace_motion
from tests.unit.plates import lose
from tests.unit.raises import Scene
from weightshare.exercise import Exercise, SetSpan
from weightshare.model import Floats, Side, Trace
from weightshare.pipeline.force import ForceCounter
from weightshare.pipeline.forefoot import StayFinder, Turn
from weightshare.pipeline.motion import Motion
from weightshare.task import Settings

SETTINGS = {
    "two legs": Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING),
    "one leg": Settings(Side.LEFT, 75.0, exercise=Exercise.SINGLE_LOWERING),
}
SPANS = [SetSpan(1, 0.0, working=Side.LEFT), SetSpan(2, 30.0, working=Side.RIGHT)]


def leave(trace: Trace, begin_s: float, end_s: float) -> Trace:
    """Return the trace of somebody who steps off the plates and comes back."""
    gone = 1.0 - np.interp(trace.time_s, [begin_s, begin_s + 0.4, end_s, end_s + 0.4], [0.0, 1.0, 1.0, 0.0])
    return Trace(trace.time_s, {name: column * gone for name, column in trace.columns.items()})


@cache
def recorded(seed: int) -> Trace:
    """A minute of raises with and without pauses, leans, low ones, a gap, missing readings, steps off and a hold."""
    rng = np.random.default_rng(seed)
    scene = Scene()
    for _ in range(9):
        rise_s, top_s, lowering_s = rng.uniform(0.5, 2.0), rng.uniform(0.0, 2.0), rng.uniform(0.6, 3.0)
        kind = rng.integers(0, 6)
        if kind == 0:
            scene.lean(rng.uniform(0.3, 8.0), rng.uniform(0.55, 0.8))
        elif kind == 1:
            scene.lift(0.4, 0.2, 0.4, height_mm=20.0)
        else:
            scene.lift(rise_s, top_s, lowering_s, turn=0.2)
        scene.rest(rng.choice([0.0, 0.2, 1.0, 2.5]))
    trace = scene.trace(60.0, seed)
    begin_s = rng.uniform(12.0, 0.8 * trace.time_s[-1])
    trace = leave(trace, begin_s, begin_s + rng.uniform(0.3, 3.0))
    for length_s in (0.02, 0.05, 0.5):
        at_s = rng.uniform(8.0, trace.time_s[-1])
        trace = lose(trace, at_s, at_s + length_s)
    return trace


def play(motion: Motion, trace: Trace, setting: str, cuts: set[int]) -> Run:
    return run(ForceCounter(make_ground(trace, SETTINGS[setting])), motion, cuts, SPANS)


def check(seed: int, setting: str, ways: list[set[int]]) -> None:
    trace = recorded(seed)
    motion = trace_motion(trace, SETTINGS[setting])
    whole = play(motion, trace, setting, set())
    for way in [*ways, set(range(motion.time_s.size))]:
        cut = play(motion, trace, setting, way)
        np.testing.assert_array_equal(cut.phases, whole.phases)
        assert (cut.repetitions, cut.rejected, cut.warnings) == (whole.repetitions, whole.rejected, whole.warnings)


@settings(max_examples=4, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1),
    setting=st.sampled_from(sorted(SETTINGS)),
    ways=st.lists(st.sets(st.integers(0, 5000), max_size=60), min_size=2, max_size=2),
)
def test_cuts_do_not_matter(seed: int, setting: str, ways: list[set[int]]) -> None:
    check(seed, setting, ways)


def test_the_streams_have_what_cuts_could_spoil() -> None:
    runs = [
        play(trace_motion(trace, SETTINGS["two legs"]), trace, "two legs", set()) for trace in map(recorded, range(12))
    ]
    assert sum(len(run.repetitions) for run in runs) > 30
    assert {one.reason for run in runs for one in run.rejected} >= {"a forward lean", "a foot left the plates"}
    assert all(set(run.phases) == {-1, 0, 1, 2, 3} for run in runs)


def test_a_stage_that_forgets_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    class Forgetful(StayFinder):
        def push(self, time_s: Floats, front: Floats) -> list[Turn]:
            self._tape.let_go(np.inf)
            return super().push(time_s, front)

    monkeypatch.setattr("weightshare.pipeline.force.StayFinder", Forgetful)
    with pytest.raises(AssertionError):
        check(1, "two legs", [])
