"""The samples of one session as columns: unfiltered, as they were shown live, and what each moment belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from weightshare.model import SIDE_COLUMNS, TRACE_COLUMNS, Floats, Trace
from weightshare.records.export.catalogue import PHASES_NAMED, SAMPLES
from weightshare.records.export.column import Table
from weightshare.records.export.row import numbers_of, phases_of
from weightshare.state import Results

TIME = "time_s"
Spans = Sequence[tuple[int, float | None, float | None]]
Columns = dict[str, NDArray[Any]]


def sample_table(columns: Mapping[str, object]) -> Table:
    """Return the table of samples with those columns that a session has."""
    return SAMPLES.only(list(columns))


def samples_of(trace: Trace, results: Results, content: Mapping[str, Any]) -> Columns:
    """Return the columns of a session's samples by name, in the order of the table, each of shape (n,).

    Numbers are float64 with NaN for what is missing; `in_band` is bool; `set`, `hold` and `repetition` are int64 with 0
    for none; `phase` is text, empty for none. content: the session's analysis, as its JSON object has it.
    """
    time_s = trace.time_s
    sets = [(one["number"], one["from_s"], one["to_s"]) for one in content.get("sets") or ()]
    holds = [(place, one["start_s"], one["end_s"]) for place, one in enumerate(content["holds"] or (), 1)]
    rows = content["repetitions"]
    lifts = [(number, one["start_s"], one["end_s"]) for number, one in zip(numbers_of(content), rows, strict=True)]
    found: Columns = {
        TIME: time_s,
        **{name: trace.columns[name] for name in TRACE_COLUMNS if name in trace.columns},
        **_shown(time_s, results),
        "set": _numbers(time_s, sets),
        "hold": _numbers(time_s, holds),
        "repetition": _numbers(time_s, lifts),
        "phase": _phases(time_s, rows),
    }
    return {name: found[name] for name in SAMPLES.names if name in found}


def _shown(time_s: Floats, results: Results) -> Columns:
    """Return what was shown at each of the trace's times; NaN where nothing was."""
    place = np.searchsorted(results.time_s, time_s)
    inside = place < results.time_s.size
    known = inside & (results.time_s[np.where(inside, place, 0)] == time_s) if results.time_s.size else inside
    rows = place[known]
    same = {f"{name.removesuffix('_N')}_filtered_N": getattr(results, name) for name in SIDE_COLUMNS}
    same |= {name: getattr(results, name) for name in ("share_percent", "on_plates_percent", "aim_percent")}
    found: Columns = {}
    for name, values in same.items():
        found[name] = np.full(time_s.shape, np.nan)
        found[name][known] = values[rows]
    found["in_band"] = np.zeros(time_s.shape, dtype=bool)
    found["in_band"][known] = results.counts[rows]
    return found


def _numbers(time_s: Floats, spans: Spans) -> NDArray[np.int64]:
    """Return the number of the span that each time lies in, its end not among them; 0 for none."""
    found = np.zeros(time_s.shape, dtype=np.int64)
    for number, start_s, end_s in spans:
        found[_rows(time_s, start_s, end_s)] = number
    return found


def _rows(time_s: Floats, start_s: float | None, end_s: float | None) -> slice:
    """Return the rows from `start_s` up to `end_s`, which is the end of all where it is None; none without a start."""
    if start_s is None:
        return slice(0)
    first = int(np.searchsorted(time_s, start_s))
    return slice(first, time_s.size if end_s is None else int(np.searchsorted(time_s, end_s)))


def _phases(time_s: Floats, rows: Iterable[Mapping[str, Any]]) -> NDArray[np.str_]:
    found = np.zeros(time_s.shape, dtype=f"U{max(map(len, PHASES_NAMED))}")
    for row in rows:
        for phase, span in phases_of(row).items():
            found[_rows(time_s, *span)] = phase
    return found
