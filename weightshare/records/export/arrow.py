"""Tables for pyarrow: typed, units and meanings beside each column; as Parquet, and large ones as CSV."""

from __future__ import annotations

import io
from collections.abc import Iterable
from typing import Any

import numpy as np

from weightshare.records.export.column import Column, Kind, Row, Table
from weightshare.records.export.sample import Columns, sample_table
from weightshare.records.export.text import harmless


def row_table(table: Table, rows: Iterable[Row]) -> Any:
    """Return `rows` as an arrow table; what is missing is null."""
    import pyarrow as pa

    found = list(rows)
    arrays = [pa.array(_cells(one, found), _type(one)) for one in table.columns]
    return pa.Table.from_arrays(arrays, schema=_schema(table))


def _cells(column: Column, rows: Iterable[Row]) -> list[object]:
    cells = [row.get(column.name) for row in rows]
    if column.kind is Kind.NUMBER:
        # a figure that came out whole may be an integer
        return [None if cell is None else float(cell) for cell in cells]  # type: ignore[arg-type]
    return cells


def column_table(columns: Columns) -> Any:
    """Return the samples of a session (see `samples_of`) as an arrow table; what is missing is null."""
    import pyarrow as pa

    table = sample_table(columns)
    arrays = [pa.array(columns[one.name], _type(one), mask=_absent(one, columns)) for one in table.columns]
    return pa.Table.from_arrays(arrays, schema=_schema(table))


def _absent(column: Column, columns: Columns) -> Any:
    values = columns[column.name]
    if column.kind is Kind.NUMBER:
        return np.isnan(values)
    return None if column.kind is Kind.BOOLEAN else values == ("" if column.kind is Kind.STRING else 0)


def _type(column: Column) -> Any:
    import pyarrow as pa

    kinds = {Kind.NUMBER: pa.float64(), Kind.INTEGER: pa.int64(), Kind.BOOLEAN: pa.bool_()}
    return kinds.get(column.kind, pa.string())


def _schema(table: Table) -> Any:
    import pyarrow as pa

    fields = [pa.field(one.name, _type(one), metadata=_about(one)) for one in table.columns]
    return pa.schema(fields, metadata={"table": table.name, "meaning": table.words})


def _about(column: Column) -> dict[str, str]:
    unit = {"unit": column.unit.written, "ucum": column.unit.ucum} if column.unit.written else {}
    return {"meaning": column.words, "type": str(column.kind), **unit}


def to_parquet(table: Any) -> bytes:
    """Return an arrow table as a Parquet file, at full precision."""
    import pyarrow.parquet as pq

    out = io.BytesIO()
    pq.write_table(table, out)
    return out.getvalue()


def samples_csv(columns: Columns) -> bytes:
    """Return the samples of a session as CSV, each number with as many digits as tell it from all others."""
    from pyarrow import csv

    out = io.BytesIO()
    table = column_table(columns)
    out.write((",".join(harmless(name) for name in table.column_names) + "\n").encode())
    # text here is one of our own words
    csv.write_csv(table, out, csv.WriteOptions(include_header=False, quoting_style="none"))
    return out.getvalue()
