"""However two scales' streams are cut into batches, in whatever order of the sources, all is equal, bit for bit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.links import CHANNELS, MODELS, merge, play_two
from weightshare.model import Calibration, ChannelCalibration, Chunk, Item, Side, Sourced
from weightshare.pipeline import Pipeline
from weightshare.task import Settings

SIDES = (Side.LEFT, Side.RIGHT)
SECONDS = 24.0


@cache
def visit(seed: int) -> tuple[Sourced, ...]:
    """Somebody stands on two scales and sways; one restarts, the other loses its link; ticks wrap."""
    first = replace(MODELS["radio, bursts"], restart_s=12.0)
    second = replace(MODELS["loss"], away_s=(15.0, 16.5), start_tick=2**32 - 8_000_000)
    rng = np.random.default_rng(seed)
    return tuple(Sourced(one.source, _load(one.item, rng)) for one in play_two(first, second, seed, SECONDS))


def _load(item: Item, rng: np.random.Generator) -> Item:
    if not isinstance(item, Chunk):
        return item
    # nobody for three seconds, then some 300 N on each cell
    at_s = item.readings[:, :, :1] * 1e-5
    load = np.where(at_s > 4.0, 300_000 + 50_000 * np.sin(3.0 * at_s), 0.0) + rng.normal(
        0.0, 100.0, item.readings.shape
    )
    return replace(item, readings=np.rint(load).astype(np.int32))


def _play(batches: Sequence[Sequence[Sourced]]) -> tuple[list[bytes], str]:
    channels = tuple(ChannelCalibration(index, 0.0, 1e-3) for index in range(len(CHANNELS)))
    calibrations = [Calibration(f"{device:016x}", date(2026, 11, 2), channels) for device in (1, 2)]
    pipeline = Pipeline(Settings(Side.LEFT, 50.0), calibrations, keep_trace=True, sides=SIDES)
    results = [pipeline.push_all(batch) for batch in batches] + [pipeline.finish()]
    told = [np.concatenate([getattr(one, name) for one in results]).tobytes() for name in type(results[0]).__slots__]
    trace = pipeline.trace()
    told += [trace.time_s.tobytes(), *(values.tobytes() for values in trace.columns.values())]
    return told, repr(pipeline.analysis())


@cache
def played_at_once(seed: int) -> tuple[list[bytes], str]:
    return _play([merge(visit(seed))])


@settings(max_examples=12)
@given(st.integers(1, 3), st.lists(st.integers(1, 3000), max_size=60), st.booleans())
def test_cuts_and_order_change_nothing(seed: int, cuts: list[int], merged: bool) -> None:
    items, places = visit(seed), sorted(set(cuts))
    borders = [0, *(place for place in places if place < len(visit(seed))), len(items)]
    batches = [items[start:stop] for start, stop in pairwise(borders)]
    assert _play([merge(batch) if merged else batch for batch in batches]) == played_at_once(seed)


def test_item_by_item_is_the_same_too() -> None:
    assert _play([[one] for one in visit(1)]) == played_at_once(1)


def test_the_visit_has_what_makes_cuts_matter() -> None:
    _, told = played_at_once(1)
    assert "restarts=1" in told
    assert "gaps=(Gap(" in told
    assert "share_percent=ShareSummary(mean=4" in told or "share_percent=ShareSummary(mean=5" in told
