"""However a stream with heels is cut, repetitions, phases and aims are equal, bit for bit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.heels import PLAIN, heeled
from tests.unit.raises import Scene
from weightshare.exercise import Ceiling, Exercise, SetSpan, Tempo
from weightshare.model import TRACE_COLUMNS, Side, Trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

RATE_HZ = 80.0
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
    trace = heeled(scene, RATE_HZ, noise_mm=0.4)
    columns = {name: values.copy() for name, values in trace.columns.items()}
    for values in columns.values():
        values[rng.random(values.size) < 0.002] = np.nan
        start = int(rng.integers(0, values.size - 30))
        values[start : start + 10] = np.nan
    keep = rng.random(trace.time_s.size) > 0.002
    return Trace(trace.time_s[keep], {name: values[keep] for name, values in columns.items()})


def play(trace: Trace, options: Settings, cuts: list[int]) -> tuple[list[Results], dict[int, Snapshot], object]:
    """Push the trace in pieces; return results, the snapshot at each cut, and what it all came to."""
    measure, results, shown = Measure(options), [], {}
    for span in SPANS:
        measure.begin_set(span)
    values = np.stack([trace.columns[name] for name in TRACE_COLUMNS])
    whole = Block(1.0 / RATE_HZ, TRACE_COLUMNS, trace.time_s, values, np.zeros(trace.time_s.size, dtype=np.uint8))
    for start, stop in zip([0, *cuts], [*cuts, trace.time_s.size], strict=True):
        results.append(measure.push(whole.cut(start, stop)))
        shown[stop] = measure.snapshot()
    results.append(measure.finish())
    return results, shown, measure.tally()


def joined(results: list[Results]) -> list[bytes]:
    return [np.concatenate([getattr(result, name) for result in results]).tobytes() for name in Results.__slots__]


@pytest.mark.parametrize("options", [LOWERING, SINGLE], ids=["lowering", "single"])
@given(seed=st.integers(0, 2**16), cuts=st.lists(st.integers(1, 2300), min_size=1, max_size=60, unique=True))
@settings(max_examples=12, deadline=None)
def test_cuts_make_no_difference(options: Settings, seed: int, cuts: list[int]) -> None:
    trace = moving(seed)
    cuts = sorted(cut for cut in cuts if cut < trace.time_s.size)
    one, shown_one, tally_one = play(trace, options, cuts[:1])
    many, shown_many, tally_many = play(trace, options, cuts)
    assert joined(one) == joined(many)
    assert tally_one == tally_many
    for cut in cuts[:1]:
        assert shown_one[cut] == shown_many[cut]


def test_the_streams_hold_what_is_looked_for() -> None:
    """A comparison of nothing with nothing would hold as well."""
    _, shown, tally = play(moving(5), LOWERING, [1000])
    assert shown[1000].repetitions
    assert len(tally.repetitions) >= 5  # type: ignore[attr-defined]
    assert tally.rejected and tally.ceiling_events  # type: ignore[attr-defined]
