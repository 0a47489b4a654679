"""Traces in and out: CSV, Parquet and pandas frames. What is wrong with one is said in one line, with its place."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from weightshare.errors import TraceError
from weightshare.model import PART_COLUMNS, SIDE_COLUMNS, TRACE_COLUMNS, Floats, Trace
from weightshare.records.column import FIRST_ROW, read_frame_columns, read_parquet_columns
from weightshare.records.table import read_csv_columns

if TYPE_CHECKING:
    import pandas as pd

TIME = "time_s"
GREATEST_N = 20_000.0
GREATEST_S = 1e12
"""Beyond this (31,000 years) a time is no number of seconds; its own rounding would be as long as a sample."""
LEAST_STEP_S = 1e-9
"""Times that are closer than this do not increase: no converter tells them apart."""


def read_trace(path: Path) -> Trace:
    """Read a trace from a CSV or (by its ending) a Parquet file.

    Raises TraceError in one line that names the file, the line and the column where the trace cannot be used.
    """
    read = read_parquet_columns if path.suffix.lower() in (".parquet", ".pq") else read_csv_columns
    try:
        columns = read(path, (TIME, *TRACE_COLUMNS), lambda names: require_columns(names, str(path)))
    except (OSError, ValueError) as error:
        raise TraceError(f"{path}: cannot be read: {getattr(error, 'strerror', None) or error}") from error
    return make_trace(columns, str(path))


def frame_trace(frame: pd.DataFrame) -> Trace:
    """Return the trace that a pandas frame holds. Raises TraceError as read_trace does; rows count from line 2."""
    require_columns(list(frame.columns), "frame")
    return make_trace(read_frame_columns(frame, (TIME, *TRACE_COLUMNS), "frame"), "frame")


def require_columns(names: Sequence[str], origin: str) -> None:
    """Raise TraceError where a column that a trace needs is missing, or one that it knows stands twice."""
    for name in (TIME, *TRACE_COLUMNS):
        if list(names).count(name) > 1:
            raise TraceError(f"{origin}, line 1, column {name}: stands more than once")
    parts = all(part in names for part in PART_COLUMNS)
    for name in (TIME, *(() if parts else SIDE_COLUMNS)):
        if name not in names:
            raise TraceError(f"{origin}, line 1, column {name}: is missing")


def make_trace(columns: dict[str, Floats], origin: str) -> Trace:
    """Check the columns and return them as a trace; sides that were left out are summed from their parts."""
    _check_values(columns, origin)
    time_s = columns[TIME]
    rest = {name: values for name, values in columns.items() if name != TIME}
    for side, (front, rear) in zip(SIDE_COLUMNS, (PART_COLUMNS[:2], PART_COLUMNS[2:]), strict=True):
        if side not in rest:
            rest[side] = rest[front] + rest[rear]
    return Trace(time_s, rest)


def _check_values(columns: dict[str, Floats], origin: str) -> None:
    """Raise TraceError for the first row that cannot be used."""
    time_s = columns[TIME]
    if time_s.size < FIRST_ROW:
        raise TraceError(f"{origin}, line {time_s.size + 1}, column {TIME}: a trace needs two rows or more")
    finite = np.abs(time_s) <= GREATEST_S
    steps = np.diff(np.where(finite, time_s, 0.0), prepend=-np.inf)
    faults = [
        (~np.isfinite(time_s), TIME, "is not a finite number"),
        (~finite, TIME, "is no time in seconds"),
        (steps < LEAST_STEP_S, TIME, "does not increase"),
    ]
    for name, values in columns.items():
        if name != TIME:
            faults.append((np.isinf(values), name, "is infinite"))
        if name.endswith("_N"):
            faults.append((np.abs(values) > GREATEST_N, name, f"is beyond {GREATEST_N:,.0f} N"))
    rows = [int(np.argmax(bad)) if bad.any() else time_s.size for bad, _, _ in faults]
    first = int(np.argmin(rows))
    if rows[first] < time_s.size:
        _, name, what = faults[first]
        value = columns[name][rows[first]]
        raise TraceError(f"{origin}, line {rows[first] + FIRST_ROW}, column {name}: {value:g} {what}")


def trace_frame(trace: Trace) -> pd.DataFrame:
    """Return the trace as a pandas frame, with the columns of a trace file in their order."""
    import pandas as pd

    columns = {TIME: trace.time_s} | {name: trace.columns[name] for name in TRACE_COLUMNS if name in trace.columns}
    return pd.DataFrame(columns)


def write_csv(trace: Trace, path: Path) -> None:
    """Write a trace as CSV with nine digits (of times, after the point); a missing reading is an empty field."""
    frame = trace_frame(trace)
    times = [f"{time_s:.9f}".rstrip("0").rstrip(".") for time_s in trace.time_s]
    frame.assign(**{TIME: times}).to_csv(path, index=False, float_format="%.9g", lineterminator="\n")


def write_parquet(trace: Trace, path: Path) -> None:
    """Write a trace as Parquet, at full precision."""
    trace_frame(trace).to_parquet(path, index=False)
