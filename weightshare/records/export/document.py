"""An export as one JSON object: each session with its samples, column by column, and its tables, row by row.

`json_schema` is what the object keeps to (JSON Schema, draft 2020-12), made from the same catalogue.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from weightshare import __version__
from weightshare.records.export.catalogue import SAMPLES
from weightshare.records.export.column import Column, Kind, Table
from weightshare.records.export.dictionary import Filed
from weightshare.records.export.folder import Folder
from weightshare.records.export.sample import Columns, sample_table
from weightshare.records.export.saved import SavedSession
from weightshare.records.export.tabular import tables_of

SCHEMA = "weightshare.sessions/1"
FILE_NAME = "sessions.json"
_TYPES = {Kind.NUMBER: "number", Kind.INTEGER: "integer", Kind.BOOLEAN: "boolean"}


def write_document(sessions: Iterable[SavedSession], folder: Folder, *, more: bool = False) -> list[Filed]:
    """Write `sessions` into `folder` as one JSON object; return what was filed. more: see `write_tables`."""
    tables = tables_of(more=more)
    rows = dict.fromkeys([SAMPLES.name, *(table.name for table in tables)], 0)
    told: list[str] = []
    for session in sessions:
        content = _session(session, tables)
        told.append(json.dumps(content, ensure_ascii=False, allow_nan=False))
        rows[SAMPLES.name] += session.trace.time_s.size
        for table in tables:
            rows[table.name] += 1 if table.key else len(content[table.name])
    head = json.dumps({"schema": SCHEMA, "program": f"weightshare {__version__}"})
    folder.put(FILE_NAME, (head[:-1] + ', "sessions": [\n' + ",\n".join(told) + "\n]}\n").encode())
    return [Filed(table, (FILE_NAME,), rows[table.name]) for table in (SAMPLES, *tables)]


def _session(session: SavedSession, tables: Iterable[Table]) -> dict[str, Any]:
    """Return one session: the row of `sessions`, the rows of the other tables without their id, and the samples."""
    rows, found = session.rows(), dict[str, Any]()
    for table in tables:
        names = [name for name in table.names if table.key or name != "session"]
        told = [{name: row.get(name) for name in names} for row in rows[table.name]]
        found[table.name if not table.key else "session"] = told[0] if table.key else told
    return found | {"samples": dict(_samples(session.columns()))}


def _samples(columns: Columns) -> Iterator[tuple[str, list[Any]]]:
    for column in sample_table(columns).columns:
        values = columns[column.name]
        if column.kind is Kind.NUMBER:
            yield column.name, [None if value != value else value for value in values.tolist()]  # noqa: PLR0124 - NaN
        else:
            missing = {Kind.STRING: "", Kind.INTEGER: 0}.get(column.kind)
            yield column.name, [None if value == missing else value for value in values.tolist()]


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema of the object."""
    tables = tables_of(more=True)
    sessions = next(table for table in tables if table.key)
    others = {table.name: {"type": "array", "items": _object(table, "session")} for table in tables if not table.key}
    session = {
        "type": "object",
        "required": ["session", *others, "samples"],
        "additionalProperties": False,
        "properties": {"session": _object(sessions), **others, "samples": _arrays()},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Sessions exported by weightshare",
        "type": "object",
        "required": ["schema", "program", "sessions"],
        "additionalProperties": False,
        "properties": {
            "schema": {"const": SCHEMA},
            "program": {"type": "string"},
            "sessions": {"type": "array", "minItems": 1, "items": session},
        },
    }


def _object(table: Table, *left_out: str) -> dict[str, Any]:
    columns = [one for one in table.columns if one.name not in left_out]
    asked = [one.name for one in columns if one.name not in ("name", "words")]
    properties = {one.name: _described(one, _value(one)) for one in columns}
    return {"type": "object", "required": asked, "additionalProperties": False, "properties": properties}


def _arrays() -> dict[str, Any]:
    arrays = {
        one.name: _described(one, {"type": "array", "minItems": 1, "items": _value(one)}) for one in SAMPLES.columns
    }
    asked = ["time_s", "left_N", "right_N"]
    return {"type": "object", "required": asked, "additionalProperties": False, "properties": arrays}


def _described(column: Column, schema: Mapping[str, Any]) -> dict[str, Any]:
    unit = f" ({column.unit.written})" if column.unit.written else ""
    return {**schema, "description": f"{column.words}{unit}"}


def _value(column: Column) -> dict[str, Any]:
    kind = _TYPES.get(column.kind, "string")
    if column.among:
        return {"enum": [*column.among, *(() if column.required else (None,))]}
    return {"type": kind if column.required else [kind, "null"]}
