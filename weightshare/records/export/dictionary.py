"""The data dictionary: one file that says of each column its unit, type, meaning, and what an empty field says."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from weightshare import __version__
from weightshare.records.export.catalogue import SAMPLES, TABLES
from weightshare.records.export.column import Table
from weightshare.records.export.text import MARK
from weightshare.records.manifest import Entry

DICTIONARY_NAME = "dictionary.json"
SCHEMA = "weightshare.dictionary/1"
_MARKED = (
    f"in CSV a text that a spreadsheet would compute, or that begins with {MARK}, has {MARK} before it: take one off"
)


@dataclass(frozen=True, slots=True)
class Filed:
    """A table as it was written: in which files, with so many rows in all."""

    table: Table
    files: tuple[str, ...]
    rows: int


def dictionary_of(form: str, filed: Iterable[Filed], files: Iterable[Entry], virtual: int) -> dict[str, Any]:
    """Return the dictionary of an export as `form`; files: every file beside it.

    virtual: how many of its sessions are of virtual scales.
    """
    return {
        "schema": SCHEMA,
        "program": f"weightshare {__version__}",
        "form": form,
        "virtual_sessions": virtual,
        "missing_value": {"csv": "", "parquet": None, "json": None},
        "text": _MARKED,
        "tables": [
            {
                "name": one.table.name,
                "meaning": one.table.words,
                "files": list(one.files),
                "rows": one.rows,
                "columns": [column.to_entry() for column in one.table.columns],
            }
            for one in filed
        ],
        "files": [asdict(one) for one in files],
    }


def to_bytes(value: object) -> bytes:
    """Return `value` as readable JSON."""
    return json.dumps(value, indent=1, ensure_ascii=False).encode() + b"\n"


def to_markdown() -> str:
    """Return every table with its columns as Markdown: what the documentation shows."""
    lines: list[str] = []
    for table in (SAMPLES, *TABLES):
        lines += [f"### `{table.name}`", "", f"{table.words[:1].upper()}{table.words[1:]}.", ""]
        lines += ["| column | type | unit | meaning | where it is empty |", "| --- | --- | --- | --- | --- |"]
        for one in table.columns:
            values = f": {', '.join(f'`{each}`' for each in one.among)}" if one.among else ""
            missing = "never" if one.required else one.missing
            lines.append(f"| `{one.name}` | {one.kind} | {one.unit.written} | {one.words}{values} | {missing} |")
        lines.append("")
    return "\n".join(lines)
