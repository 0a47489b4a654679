"""What tests that cut a stream of forces at random places have in common."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

import numpy as np

from weightshare.exercise import SetSpan
from weightshare.model import TRACE_COLUMNS, Trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.tally import Tally
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

RATE_HZ = 80.0
Played: TypeAlias = tuple[list[Results], dict[int, Snapshot], Tally]
"""Results, the snapshot at each cut, and what it all came to."""


def lose(trace: Trace, rng: np.random.Generator, first: int = 0) -> Trace:
    """Return the trace with readings and rows lost here and there, and ten in a row in each column from `first` on."""
    columns = {name: values.copy() for name, values in trace.columns.items()}
    for values in columns.values():
        values[rng.random(values.size) < 0.002] = np.nan
        start = int(rng.integers(first, values.size - 30))
        values[start : start + 10] = np.nan
    keep = rng.random(trace.time_s.size) > 0.002
    return Trace(trace.time_s[keep], {name: values[keep] for name, values in columns.items()})


def play_trace(trace: Trace, options: Settings, spans: Iterable[SetSpan], cuts: list[int]) -> Played:
    """Push the trace in pieces that end at `cuts`."""
    measure, results, shown = Measure(options), [], {}
    for span in spans:
        measure.begin_set(span)
    columns = tuple(name for name in TRACE_COLUMNS if name in trace.columns)
    values = np.stack([trace.columns[name] for name in columns])
    whole = Block(1.0 / RATE_HZ, columns, trace.time_s, values, np.zeros(trace.time_s.size, dtype=np.uint8))
    for start, stop in zip([0, *cuts], [*cuts, trace.time_s.size], strict=True):
        results.append(measure.push(whole.cut(start, stop)))
        shown[stop] = measure.snapshot()
    results.append(measure.finish())
    return results, shown, measure.tally()


def check_cuts(play_cut: Callable[[list[int]], Played], cuts: Iterable[int], size: int) -> None:
    """Hold a stream of `size` samples that is cut once and one that is cut often to be equal, bit for bit."""
    cuts = sorted(cut for cut in cuts if cut < size)
    one, shown_one, tally_one = play_cut(cuts[:1])
    many, shown_many, tally_many = play_cut(cuts)
    assert _joined(one) == _joined(many)
    assert tally_one == tally_many
    for cut in cuts[:1]:
        assert shown_one[cut] == shown_many[cut]


def _joined(results: list[Results]) -> list[bytes]:
    return [np.concatenate([getattr(result, name) for result in results]).tobytes() for name in Results.__slots__]
