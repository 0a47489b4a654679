"""However the samples come, and whether its sets are known before or as they happen, the paced count is the same."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.moving import cut_motion, make_motion
from weightshare.exercise import Exercise, SetSpan, Tempo
from weightshare.model import Side
from weightshare.pipeline.motion import Ground, Motion, PhaseNumbers
from weightshare.pipeline.paced import PacedCounter
from weightshare.task import Settings

RATE_HZ, ROWS = 80.0, 2400
SETTINGS = Settings(Side.RIGHT, 70.0, exercise=Exercise.LOWERING, tempo=Tempo(0.5, 0.3, 0.7, 0.2))
GROUND = Ground(SETTINGS, 1.0 / RATE_HZ, 0.0375)


def recorded(seed: int) -> Motion:
    """Half a minute of somebody who steps off, leans on something, and whose readings go missing."""
    rng = np.random.default_rng(seed)
    time_s = 3.0 + (np.arange(ROWS) + rng.uniform(-0.2, 0.2, ROWS)) / RATE_HZ
    share = 0.5 + 0.25 * np.sin(2.0 * time_s) + rng.normal(0.0, 0.01, ROWS)
    plates = 97.0 + 4.0 * np.sin(rng.uniform(0.1, 0.5) * time_s)
    left, right = 700.0 * (1.0 - share), 700.0 * share
    for start in rng.integers(0, ROWS, 4):
        left[start : start + rng.integers(1, 8)] = np.nan
    for start in rng.integers(0, ROWS, 2):
        right[start : start + 60] = 0.0
    return make_motion(time_s, left, right, np.where(rng.random(ROWS) < 0.001, 70.0, plates), Side.RIGHT)


def spans_of(motion: Motion, edges: list[int]) -> list[SetSpan]:
    """Return two sets that begin and end with the samples at `edges`, the metronome of each a while after."""
    first_s, end_s, second_s, last_s = (float(motion.time_s[row]) for row in edges)
    return [
        SetSpan(1, first_s, end_s, paced_from_s=first_s + 0.31),
        SetSpan(2, second_s, last_s, paced_from_s=second_s),
    ]


def look_back(motion: Motion, edges: list[int], cuts: list[int]) -> tuple[PacedCounter, PhaseNumbers]:
    """Push the samples in groups that end at `cuts`, with the sets known from the beginning."""
    counter = PacedCounter(GROUND)
    for span in spans_of(motion, edges):
        counter.begin_set(span)
    phases = [counter.push(cut_motion(motion, *rows)) for rows in pairwise([0, *cuts, ROWS])]
    counter.finish()
    return counter, np.concatenate(phases)


def live(motion: Motion, edges: list[int], cuts: set[int]) -> tuple[PacedCounter, PhaseNumbers]:
    """The same with sets that begin and end as soon as the sample at which they do has come."""
    counter, phases = PacedCounter(GROUND), []
    first, second = spans_of(motion, edges)
    for begin, end in pairwise(sorted({0, *cuts, *(row + 1 for row in edges), ROWS})):
        phases.append(counter.push(cut_motion(motion, begin, end)))
        for span, (start, stop) in zip((first, second), (edges[:2], edges[2:]), strict=True):
            if end == start + 1:
                counter.begin_set(replace(span, to_s=None))
            elif end == stop + 1 and span.to_s is not None:
                counter.end_set(span.to_s)
    counter.finish()
    return counter, np.concatenate(phases)


edges = st.lists(st.integers(10, ROWS - 10), min_size=4, max_size=4, unique=True).map(sorted)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 2**32 - 1), edges=edges, way=st.sets(st.integers(1, ROWS - 1), max_size=60))
def test_cuts_do_not_matter(seed: int, edges: list[int], way: set[int]) -> None:
    motion = recorded(seed)
    whole, phases = look_back(motion, edges, [])
    for counter, seen in (look_back(motion, edges, sorted(way)), live(motion, edges, way)):
        assert counter.repetitions == whole.repetitions
        assert counter.rejected == whole.rejected
        assert set(counter.warnings) == set(whole.warnings)
        np.testing.assert_array_equal(seen, phases)


def test_the_samples_have_what_cuts_could_spoil() -> None:
    counters = [look_back(recorded(seed), [100, 1150, 1200, 2300], [])[0] for seed in range(8)]
    assert sum(len(counter.repetitions) for counter in counters) > 40
    reasons = {rejected.reason for counter in counters for rejected in counter.rejected}
    assert len(reasons) >= 4
