"""However the recorded frames are grouped, snapshots and results are equal, bit for bit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.model import (
    NO_READING,
    Calibration,
    Channel,
    ChannelCalibration,
    Chunk,
    Floats,
    Identity,
    Item,
    LinkDown,
    LinkUp,
    Quantity,
    Side,
)
from weightshare.pipeline import Analysis, Pipeline, measure
from weightshare.pipeline.block import Block
from weightshare.pipeline.lowpass import LowPass
from weightshare.state import Snapshot
from weightshare.task import Settings

RATE_HZ, TICK_HZ, ROWS = 80.0, 1_000_000, 3
STEP = round(TICK_HZ / RATE_HZ)
SETTINGS = Settings(Side.RIGHT, 70.0, 5.0, 0.5)
CALIBRATION = Calibration(
    "0011223344556677",
    date(2026, 11, 2),
    tuple(ChannelCalibration(i, 8000.0 + 10 * i, 0.01, 0.0, range_N=1000.0) for i in range(2)),
)


def identity(boot: int) -> Identity:
    channels = (Channel(Quantity.FORCE, Side.LEFT), Channel(Quantity.FORCE, Side.RIGHT))
    return Identity("0011223344556677", (1, 0, 0), boot, TICK_HZ, RATE_HZ, channels)


def one_frame(
    sequence: int, tick: int, arrival_ns: int, readings: np.ndarray[tuple[int, int], np.dtype[np.int32]]
) -> Chunk:
    return Chunk(
        np.array([sequence % 2**16], dtype=np.uint16),
        np.array([tick % 2**32], dtype=np.uint32),
        np.array([STEP], dtype=np.uint32),
        np.array([arrival_ns], dtype=np.int64),
        readings[None].astype(np.int32),
    )


def recorded(seed: int) -> list[Item]:
    """Ten seconds and more of a person, with a gap, lost frames, missing and overloaded readings, a tick wrap, a link
    that goes and comes back, and a scale that restarts."""
    rng = np.random.default_rng(seed)
    items: list[Item] = [LinkUp(0), identity(1)]
    tick = 2**32 - int(rng.integers(1, 16_000_000))
    frames = 400
    lost = set(rng.integers(130, frames, 4).tolist()) | set(range(140, 150))
    down, restart = int(rng.integers(160, 200)), int(rng.integers(220, 260))
    for k in range(frames):
        time_s = (k * ROWS + np.arange(ROWS)) / RATE_HZ
        if k == down:
            items += [LinkDown(k * 37_500_000, "cut"), LinkUp(k * 37_500_000 + 1), identity(1)]
        if k == restart:
            items += [LinkDown(k * 37_500_000, "gone"), LinkUp(k * 37_500_000 + 1), identity(2)]
            tick = -k * ROWS * STEP
        if k in lost:
            continue
        items.append(one_frame(k, tick + k * ROWS * STEP, k * 37_500_000, counts(rng, time_s)))
    return items


def counts(rng: np.random.Generator, time_s: Floats) -> np.ndarray[tuple[int, int], np.dtype[np.int32]]:
    total = np.where(time_s < 1.4, 0.0, 700.0)
    total = np.where((time_s > 9.2) & (time_s < 9.6), 10.0, total)
    share = np.where(time_s < 5.2, 0.5, 0.7 + 0.055 * np.sin(1.5 * time_s))
    forces = np.stack([total * (1 - share), total * share], axis=1) + rng.normal(0, 0.4, (time_s.size, 2))
    readings = np.rint(forces / 0.01 + [8000.0, 8010.0])
    readings[rng.random(readings.shape) < 0.001] = NO_READING
    readings[rng.random(readings.shape) < 0.0005] = 200_000
    return readings.astype(np.int32)


@dataclass
class Run:
    snapshots: dict[int, Snapshot]
    results: list[Floats]
    analysis: Analysis


def play(items: list[Item], cuts: set[int]) -> Run:
    """Push the items in groups that end at `cuts`; frames of one group go in as one chunk where nothing parts them."""
    pipeline = Pipeline(SETTINGS, [CALIBRATION])
    snapshots, results, waiting = {}, [], list[Chunk]()

    def flush() -> None:
        if waiting:
            names = Chunk.__slots__
            joined = Chunk(*(np.concatenate([getattr(chunk, name) for chunk in waiting]) for name in names))
            results.append(np.stack(as_rows(pipeline.push(joined))))
            waiting.clear()

    def as_rows(result: object) -> list[Floats]:
        return [np.asarray(getattr(result, name), dtype=np.float64) for name in measure.NO_RESULTS.__slots__]

    for k, item in enumerate(items):
        if isinstance(item, Chunk):
            waiting.append(item)
        else:
            flush()
            pipeline.push(item)
        if k in cuts:
            flush()
            snapshots[k] = pipeline.snapshot()
    flush()
    results.append(np.stack(as_rows(pipeline.finish())))
    snapshots[len(items)] = pipeline.snapshot()
    return Run(snapshots, results, pipeline.analysis())


def check(items: list[Item], cuts: set[int], reference: Run) -> None:
    run = play(items, cuts)
    for k, snapshot in run.snapshots.items():
        assert snapshot == reference.snapshots[k]
    np.testing.assert_array_equal(np.concatenate(run.results, axis=1), np.concatenate(reference.results, axis=1))
    assert run.analysis == reference.analysis


cuts = st.sets(st.integers(0, 410), max_size=60)


@settings(max_examples=4, deadline=None)
@given(seed=st.integers(0, 2**32 - 1), ways=st.lists(cuts, min_size=3, max_size=3))
def test_cuts_do_not_matter(seed: int, ways: list[set[int]]) -> None:
    """Several ways of cutting for each record: what they are held against, cut at every item, costs the most."""
    items = recorded(seed)
    reference = play(items, set(range(len(items))))
    for way in ways:
        check(items, way, reference)


def test_the_records_have_what_cuts_could_spoil() -> None:
    runs = [play(recorded(seed), set()) for seed in range(8)]
    assert all(len(run.analysis.gaps) >= 3 for run in runs)
    assert sum(len(run.analysis.holds or ()) for run in runs) >= 8
    assert sum(run.analysis.body_weight_N is not None for run in runs) >= 4
    assert any(gap.end_s - gap.start_s < 0.06 for run in runs for gap in run.analysis.gaps)


def test_a_stage_that_forgets_its_state_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    class Forgetful(LowPass):
        def push(self, block: Block) -> Block:
            self.reset()
            return super().push(block)

    monkeypatch.setattr(measure, "LowPass", Forgetful)
    items = recorded(1)
    with pytest.raises(AssertionError):
        check(items, {50, 100, 150}, play(items, set(range(len(items)))))
