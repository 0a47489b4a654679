"""Tables of a bundle after the Frictionless standard (Data Package and Table Schema, version 1): those of exports.

Column names carry their units; what cannot be had is an empty field. Whose sessions they are stands beside the tables.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from weightshare.records.diary import Diary
from weightshare.records.export.catalogue import (
    DIARY,
    EVENTS,
    FIGURES,
    HOLDS,
    PHASES,
    REPETITIONS,
    SAMPLES,
    SESSIONS,
    SETS,
)
from weightshare.records.export.column import Column, Row, Table
from weightshare.records.export.row import Origin, rows_of
from weightshare.records.figure import Figure
from weightshare.records.session import CSV_NAME
from weightshare.records.setting import SessionHead
from weightshare.records.store.visit import Visit

TABLES = (
    SESSIONS.without("patient", "name"),
    REPETITIONS,
    PHASES,
    HOLDS,
    SETS,
    EVENTS,
    FIGURES,
    DIARY.without("words"),
)


def path_of(table: Table) -> str:
    """Return where a table lies in the bundle."""
    return f"data/{table.name}.csv"


def visit_rows(
    visit: Visit, head: SessionHead, content: Mapping[str, Any], figures: Sequence[Figure], diary: Diary
) -> dict[str, list[Row]]:
    """Return the rows of one session by the name of their table; content: its analysis, as its JSON object has it."""
    trace = f"sessions/{visit.record}/{CSV_NAME}"
    rows = rows_of(Origin(visit.record, head, visit.ending, visit.devices, samples_file=trace), content, figures, diary)
    return {table.name: rows[table.name] for table in TABLES}


def trace_schema(path: Path) -> dict[str, Any]:
    """Return the Table Schema of a session's trace, by its header. Raises OSError."""
    with path.open(encoding="utf-8") as file:
        names = file.readline().strip().split(",")
    known = {column.name: column for column in SAMPLES.columns}
    return Table("trace", "", tuple(known.get(name, Column(name, "")) for name in names)).schema()
