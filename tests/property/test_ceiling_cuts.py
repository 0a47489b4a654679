"""However the samples come, the ceiling's alarms and events are equal after each of them, bit for bit."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.plates import make_block
from weightshare.exercise import Ceiling, CeilingEvent
from weightshare.pipeline.block import LEFT, OVERLOAD, Block
from weightshare.pipeline.ceiling import CeilingStage
from weightshare.pipeline.fill import Fill

RATE_HZ = 80.0
HELD_BACK_S = 2.5 / RATE_HZ
"""The live filter may hold the row that tells body weight back for so long."""


def recorded(seed: int) -> Block:
    """Ten seconds of a load about the limit, with jitter, lost rows, missing and saturated readings."""
    rng = np.random.default_rng(seed)
    time_s = (np.arange(800) + rng.uniform(-0.2, 0.2, 800)) / RATE_HZ
    load_N = 190.0 + 40.0 * np.sin(rng.uniform(1.0, 9.0) * time_s) + rng.normal(0.0, 4.0, 800)
    block = make_block(time_s, load_N, 400.0, RATE_HZ)
    for start in rng.integers(0, 800, 12):
        block.values[LEFT, start : start + rng.integers(1, 8)] = np.nan
    saturated = rng.random(800) < 0.006
    block.values[LEFT, saturated] = np.nan
    block.flags[saturated] |= OVERLOAD
    kept = np.ones(800, dtype=np.bool_)
    for start in rng.integers(5, 800, 4):
        kept[start : start + rng.integers(1, 40)] = False
    rows = np.flatnonzero(kept)
    return Fill().push(Block(block.interval_s, block.columns, time_s[rows], block.values[:, rows], block.flags[rows]))


def play(block: Block, cuts: list[int], ceiling: Ceiling, known: int) -> dict[int, tuple[object, ...]]:
    """Push the rows in groups that end at `cuts`; body weight, known with row `known`, is told when it would be."""
    stage, known_s = CeilingStage(ceiling, LEFT), float(block.time_s[known])
    seen: dict[int, tuple[object, ...]] = {}
    for begin, end in pairwise([0, *cuts, block.time_s.size]):
        if float(block.time_s[end - 1]) > known_s + HELD_BACK_S:
            stage.weigh(760.0, known_s)
        stage.push(block.cut(begin, end))
        seen[end] = (stage.over, stage.unread, stage.events) if stage.armed else (False, False, ())
    stage.finish()
    seen[-1] = (stage.over, stage.unread, stage.events)
    return seen


@settings(max_examples=20, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1),
    ways=st.lists(st.sets(st.integers(1, 700), max_size=80), min_size=3, max_size=3),
    ceiling=st.sampled_from([Ceiling(kg=20.0), Ceiling(percent=25.0)]),
    known=st.integers(0, 400),
)
def test_cuts_do_not_matter(seed: int, ways: list[set[int]], ceiling: Ceiling, known: int) -> None:
    block = recorded(seed)
    reference = play(block, list(range(1, block.time_s.size)), ceiling, known)
    for way in ways:
        cuts = sorted(cut for cut in way if cut < block.time_s.size)
        for row, seen in play(block, cuts, ceiling, known).items():
            assert seen == reference[row]


def test_the_samples_have_what_cuts_could_spoil() -> None:
    events: list[CeilingEvent] = []
    for seed in range(8):
        stage = CeilingStage(Ceiling(kg=20.0), LEFT)
        stage.push(recorded(seed))
        stage.finish()
        events += stage.events
    assert sum(event.unread for event in events) > 30
    assert sum(not event.unread for event in events) > 30
