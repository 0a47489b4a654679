"""Exports as tables: CSV, Parquet, and CSV as a data package after the Frictionless standard, version 1."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from weightshare import __version__
from weightshare.records.export.arrow import column_table, row_table, samples_csv, to_parquet
from weightshare.records.export.catalogue import TABLES
from weightshare.records.export.column import Row, Table
from weightshare.records.export.dictionary import Filed, to_bytes
from weightshare.records.export.folder import Folder
from weightshare.records.export.sample import sample_table
from weightshare.records.export.saved import SavedSession, named
from weightshare.records.export.text import to_csv
from weightshare.records.manifest import Entry

PACKAGE_NAME = "datapackage.json"
PARQUET, PACKAGE = "parquet", "package"


def write_tables(sessions: Iterable[SavedSession], folder: Folder, form: str, *, more: bool = False) -> list[Filed]:
    """Write the tables of `sessions` into `folder` as csv, parquet or package; return what was filed.

    more: the patient's name and the words of notes have columns. Raises OSError.
    """
    end = ".parquet" if form == PARQUET else ".csv"
    filed: list[Filed] = []
    rows: dict[str, list[Row]] = {table.name: [] for table in TABLES}
    for stamp, session in named(sessions):
        columns, name = session.columns(), f"samples-{stamp}{end}"
        folder.put(name, to_parquet(column_table(columns)) if form == PARQUET else samples_csv(columns))
        filed.append(Filed(sample_table(columns), (name,), session.trace.time_s.size))
        placed = replace(session, origin=replace(session.origin, samples_file=name))
        for kind, found in placed.rows().items():
            rows[kind] += found
    for table in tables_of(more=more):
        data = to_parquet(row_table(table, rows[table.name])) if form == PARQUET else to_csv(table, rows[table.name])
        folder.put(f"{table.name}{end}", data)
        filed.append(Filed(table, (f"{table.name}{end}",), len(rows[table.name])))
    return filed


def tables_of(*, more: bool) -> tuple[Table, ...]:
    """Return the tables beside the samples; without `more` no column for a name or for somebody's own words."""
    return TABLES if more else tuple(table.without("name", "words") for table in TABLES)


def package_of(filed: Iterable[Filed], entries: Iterable[Entry], virtual: int) -> bytes:
    """Return the data package's list: each file with its size, hash and Table Schema.

    virtual: how many of its sessions are of virtual scales; a key of our own.
    """
    tables = {name: one.table for one in filed for name in one.files}
    resources = [_resource(entry, tables[entry.name]) for entry in entries if entry.name in tables]
    return to_bytes(
        {
            "profile": "tabular-data-package",
            "name": "weightshare-export",
            "title": "Weight-share sessions",
            "program": f"weightshare {__version__}",
            "virtual_sessions": virtual,
            "resources": resources,
        }
    )


def _resource(entry: Entry, table: Table) -> dict[str, Any]:
    return {
        "name": entry.name.rpartition(".")[0],
        "path": entry.name,
        "description": table.words,
        "profile": "tabular-data-resource",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": entry.bytes,
        "hash": f"sha256:{entry.sha256}",
        "schema": table.schema(),
    }
