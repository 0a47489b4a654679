"""Tables as pandas frames with the types of the catalogue, and exported tables read again with those types."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.errors import RecordError
from weightshare.records.export.column import Column, Kind, Row, Table
from weightshare.records.export.dictionary import DICTIONARY_NAME, SCHEMA
from weightshare.records.export.sample import Columns
from weightshare.records.export.text import plain_text

if TYPE_CHECKING:
    import pandas as pd

DTYPES = {
    Kind.NUMBER: "float64",
    Kind.INTEGER: "Int64",
    Kind.BOOLEAN: "boolean",
    Kind.STRING: "string",
    Kind.DATETIME: "string",
}
"""What pandas holds each kind in; an instant is then made a time of UTC."""


def row_frame(table: Table, rows: Iterable[Row]) -> pd.DataFrame:
    """Return `rows` as a frame with the columns of `table` and their types."""
    import pandas as pd

    found = list(rows)
    data = {one.name: _series([row.get(one.name) for row in found], str(one.kind)) for one in table.columns}
    return pd.DataFrame(data, columns=list(table.names))


def column_frame(table: Table, columns: Columns) -> pd.DataFrame:
    """Return `columns` (see `samples_of`) as a frame with the columns of `table` and their types."""
    import pandas as pd

    return pd.DataFrame({one.name: _missing(one, columns) for one in table.columns})


def _missing(column: Column, columns: Columns) -> pd.Series[Any]:
    import pandas as pd

    values = columns[column.name]
    if column.kind in (Kind.INTEGER, Kind.STRING):
        found: pd.Series[Any] = pd.Series(values, dtype=DTYPES[column.kind])
        return found.mask(values == ("" if column.kind is Kind.STRING else 0))
    return pd.Series(values, dtype=DTYPES[column.kind])


def _series(values: Any, kind: str) -> pd.Series[Any]:
    import pandas as pd

    series: pd.Series[Any] = pd.Series(values, dtype=DTYPES[Kind(kind)])
    return pd.to_datetime(series, utc=True) if kind == Kind.DATETIME else series


def read_export(place: Path) -> dict[str, pd.DataFrame]:
    """Return the tables of an export as CSV, data package or Parquet, by the name of their file without its ending.

    Types are the data dictionary's: float64, Int64, boolean, string, and instants as times of UTC. The mark before
    text that a spreadsheet would compute is taken off again. Raises RecordError where the folder holds no such export.
    """
    tables: dict[str, pd.DataFrame] = {}
    for table in read_dictionary(place)["tables"]:
        for name in table["files"]:
            tables[Path(name).stem] = _read(place / name, table["columns"])
    if not tables:
        raise RecordError(f"{place}: has no tables; export them with --as csv, package or parquet")
    return tables


def read_dictionary(place: Path) -> dict[str, Any]:
    """Return the data dictionary of the export in the folder `place`. Raises RecordError where there is none."""
    path = place / DICTIONARY_NAME
    try:
        content = json.loads(path.read_bytes())
        if content["schema"] != SCHEMA:
            raise RecordError(f"{path}: is of another version ({content['schema']}); this program reads {SCHEMA}")
    except OSError as error:
        raise RecordError(
            f"{path}: cannot be read ({error.strerror or error}); name the folder of an export"
        ) from error
    except (ValueError, TypeError, KeyError) as error:
        raise RecordError(f"{path}: is no data dictionary of an export") from error
    return dict(content)


def _read(path: Path, columns: Iterable[Mapping[str, Any]]) -> pd.DataFrame:
    import pandas as pd
    import pyarrow as pa

    kinds = {str(one["name"]): Kind(one["type"]) for one in columns}
    types = {pa.int64(): pd.Int64Dtype(), pa.bool_(): pd.BooleanDtype(), pa.string(): pd.StringDtype()}
    try:
        frame = _load(path, kinds).to_pandas(types_mapper=types.get)
    except (OSError, ValueError, KeyError) as error:
        raise RecordError(f"{path}: cannot be read: {' '.join(str(error).split())}") from error
    is_marked = path.suffix == ".csv"
    return pd.DataFrame({name: _typed(frame[name], kind, is_marked=is_marked) for name, kind in kinds.items()})


def _load(path: Path, kinds: Mapping[str, Kind]) -> Any:
    """Return the file as an arrow table: it reads each number to the last bit, whatever pandas does."""
    import pyarrow as pa
    from pyarrow import csv, parquet

    if path.suffix == ".parquet":
        return parquet.read_table(path)
    named = {Kind.NUMBER: pa.float64(), Kind.INTEGER: pa.int64(), Kind.BOOLEAN: pa.bool_()}
    return csv.read_csv(
        path,
        parse_options=csv.ParseOptions(newlines_in_values=True),
        convert_options=csv.ConvertOptions(
            column_types={name: named.get(kind, pa.string()) for name, kind in kinds.items()},
            null_values=[""],
            strings_can_be_null=True,
        ),
    )


def _typed(series: pd.Series[Any], kind: Kind, *, is_marked: bool) -> pd.Series[Any]:
    if kind is Kind.STRING and is_marked:
        series = series.map(plain_text, na_action="ignore").astype("string")
    return _series(series, kind)
