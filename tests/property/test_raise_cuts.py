"""However a stream with heels is cut, repetitions, phases and aims are equal, bit for bit."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.property.cuts import RATE_HZ, Played, check_cuts, lose, play_trace
from tests.unit.heels import PLAIN, heeled
from tests.unit.raises import Scene
from weightshare.exercise import Ceiling, Exercise, SetSpan, Tempo
from weightshare.model import Side, Trace
from weightshare.task import Settings

SPANS = (SetSpan(1, 6.0, 21.0, Side.LEFT), SetSpan(2, 24.0, None, Side.RIGHT))
LOWERING = replace(PLAIN, exercise=Exercise.LOWERING, tempo=Tempo(), body_weight_N=None, ceiling=Ceiling(percent=60.0))
SINGLE = replace(LOWERING, exercise=Exercise.SINGLE_RAISE, target_percent=None)


def moving(seed: int) -> Trace:
    """Half a minute of raises of all kinds with noise, holes in the heights and in the load."""
    rng = np.random.default_rng(seed)
    scene = Scene()
    while scene.now_s < 30.0:
        rise_s, top_s, lowering_s = rng.uniform((0.2, 0.0, 0.3), (1.2, 1.0, 2.0)).tolist()
        scene.lift(rise_s, top_s, lowering_s, height_mm=float(rng.uniform(10.0, 95.0)), turn=0.25)
        scene.rest(float(rng.uniform(0.0, 1.5)))
    return lose(heeled(scene, RATE_HZ, noise_mm=0.4), rng)


def play(trace: Trace, options: Settings, cuts: list[int]) -> Played:
    return play_trace(trace, options, SPANS, cuts)


@pytest.mark.parametrize("options", [LOWERING, SINGLE], ids=["lowering", "single"])
@given(seed=st.integers(0, 2**16), cuts=st.lists(st.integers(1, 2300), min_size=1, max_size=60, unique=True))
@settings(max_examples=12, deadline=None)
def test_cuts_make_no_difference(options: Settings, seed: int, cuts: list[int]) -> None:
    trace = moving(seed)
    check_cuts(partial(play, trace, options), cuts, trace.time_s.size)


def test_the_streams_hold_what_is_looked_for() -> None:
    """A comparison of nothing with nothing would hold as well."""
    _, shown, tally = play(moving(5), LOWERING, [1000])
    assert shown[1000].repetitions
    assert len(tally.repetitions) >= 5
    assert tally.rejected and tally.ceiling_events
