"""Traces in and out: CSV, Parquet and pandas frames. What is wrong with one is said in one line, with its place."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from weightshare.errors import TraceError
from weightshare.model import PART_COLUMNS, SIDE_COLUMNS, TRACE_COLUMNS, Floats, Trace
from weightshare.records.table import read_csv_columns

if TYPE_CHECKING:
    import pandas as pd

TIME = "time_s"
GREATEST_N = 20_000.0
_FIRST_ROW = 2
"""The line of the first row; the header is line 1."""


def read_trace(path: Path) -> Trace:
    """Read a trace from a CSV or (by its ending) a Parquet file.

    Raises TraceError in one line that names the file, the line and the column where the trace cannot be used.
    """
    try:
        if path.suffix.lower() in (".parquet", ".pq"):
            return make_trace(_read_parquet(path), str(path))
        columns = read_csv_columns(path, (TIME, *TRACE_COLUMNS), lambda names: require_columns(names, str(path)))
    except OSError as error:
        raise TraceError(f"{path}: cannot be read: {error.strerror or error}") from error
    return make_trace(columns, str(path))


def frame_trace(frame: pd.DataFrame) -> Trace:
    """Return the trace that a pandas frame holds. Raises TraceError as read_trace does; rows count from line 2."""
    names = [str(name) for name in frame.columns]
    require_columns(names, "frame")
    wanted = [name for name in (TIME, *TRACE_COLUMNS) if name in names]
    columns = {}
    for name in wanted:
        try:
            columns[name] = frame[name].to_numpy(dtype=np.float64, na_value=np.nan)
        except (TypeError, ValueError) as error:
            raise TraceError(f"frame, column {name}: is not a column of numbers: {error}") from error
    return make_trace(columns, "frame")


def _read_parquet(path: Path) -> dict[str, Floats]:
    import pyarrow as pa
    import pyarrow.parquet as pq

    try:
        table = pq.read_table(path)
    except (pa.ArrowException, ValueError) as error:
        raise TraceError(
            f"{path}, line 1: is no Parquet file that can be read: {str(error).splitlines()[0]}"
        ) from error
    require_columns(table.column_names, str(path))
    columns = {}
    for name in (n for n in (TIME, *TRACE_COLUMNS) if n in table.column_names):
        kind = table.schema.field(name).type
        if not (pa.types.is_floating(kind) or pa.types.is_integer(kind)):
            raise TraceError(f"{path}, line {_FIRST_ROW}, column {name}: holds {kind}, not numbers")
        columns[name] = table.column(name).cast(pa.float64()).to_numpy(zero_copy_only=False)
    return columns


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
    if time_s.size < _FIRST_ROW:
        raise TraceError(f"{origin}, line {time_s.size + 1}, column {TIME}: a trace needs two rows or more")
    steps = np.diff(time_s, prepend=-np.inf)
    faults = [
        (~np.isfinite(time_s), TIME, "is not a finite number"),
        (~(steps > 0), TIME, "does not increase"),
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
        raise TraceError(f"{origin}, line {rows[first] + _FIRST_ROW}, column {name}: {value:g} {what}")


def trace_frame(trace: Trace) -> pd.DataFrame:
    """Return the trace as a pandas frame, with the columns of a trace file in their order."""
    import pandas as pd

    columns = {TIME: trace.time_s} | {name: trace.columns[name] for name in TRACE_COLUMNS if name in trace.columns}
    return pd.DataFrame(columns)


def write_csv(trace: Trace, path: Path) -> None:
    """Write a trace as CSV with nine digits; a missing reading is an empty field."""
    trace_frame(trace).to_csv(path, index=False, float_format="%.9g", lineterminator="\n")


def write_parquet(trace: Trace, path: Path) -> None:
    """Write a trace as Parquet, at full precision."""
    trace_frame(trace).to_parquet(path, index=False)
