"""Columns of numbers from a pandas frame or a Parquet file; what holds anything else is refused."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from numbers import Real
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from weightshare.errors import TraceError
from weightshare.model import Floats

if TYPE_CHECKING:
    import pandas as pd

FIRST_ROW = 2
"""The line of the first row; the header is line 1."""


def read_frame_columns(frame: pd.DataFrame, known: Sequence[str], origin: str) -> dict[str, Floats]:
    """Return the `known` columns that a frame has, float64 of shape (rows,), NaN where nothing is.

    Raises TraceError, which names the line and the column, for what is no number; truth, text and times are none.
    """
    return {name: _series_numbers(frame[name], f"{origin}, line", name) for name in known if name in frame.columns}


def _series_numbers(series: pd.Series[Any], place: str, name: str) -> Floats:
    from pandas.api import types

    if series.dtype == object:
        for line, value in enumerate(series.array, start=FIRST_ROW):
            if not _is_number(value):
                raise TraceError(f"{place} {line}, column {name}: {str(value)[:24]!r} is not a number")
    elif (
        not types.is_numeric_dtype(series.dtype)
        or types.is_bool_dtype(series.dtype)
        or types.is_complex_dtype(series.dtype)
    ):
        raise TraceError(f"{place} {FIRST_ROW}, column {name}: holds {series.dtype}, not numbers")
    return series.to_numpy(dtype=np.float64, na_value=np.nan)


def _is_number(value: object) -> bool:
    import pandas as pd

    if isinstance(value, Real | Decimal):
        return not isinstance(value, bool)
    return value is None or value is pd.NA


def read_parquet_columns(
    path: Path, known: Sequence[str], require: Callable[[Sequence[str]], None]
) -> dict[str, Floats]:
    """Return the `known` columns that a Parquet file has, float64 of shape (rows,), NaN where nothing is.

    `require` is given the file's names and raises where they do not do. Raises OSError where the file cannot be opened,
    TraceError where it is none or a column holds no numbers.
    """
    import pyarrow as pa
    import pyarrow.parquet as pq

    with path.open("rb") as file:
        try:
            stored = pq.ParquetFile(file)
            require(stored.schema_arrow.names)
            table = stored.read([name for name in known if name in stored.schema_arrow.names])
            return {name: _arrow_numbers(table.column(name), f"{path}, line", name) for name in table.column_names}
        except (pa.ArrowException, OSError, ValueError) as error:
            what = (str(error).splitlines() or ["it is damaged"])[0]
            raise TraceError(f"{path}, line 1: is no Parquet file that can be read: {what}") from error


def _arrow_numbers(column: Any, place: str, name: str) -> Floats:
    import pyarrow as pa

    kind = column.type
    if pa.types.is_null(kind):
        return np.full(len(column), np.nan)
    if not (pa.types.is_floating(kind) or pa.types.is_integer(kind)):
        raise TraceError(f"{place} {FIRST_ROW}, column {name}: holds {kind}, not numbers")
    return np.asarray(column.to_numpy(zero_copy_only=False), dtype=np.float64)
