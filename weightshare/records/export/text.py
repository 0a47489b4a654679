"""Tables as CSV: numbers to the last bit, and no text that a spreadsheet would take for something to compute.

A cell that begins with `=`, `+`, `-`, `@`, a tab or a line end is computed by spreadsheets (OWASP, "CSV injection").
Such text gets an apostrophe before it, and so does text that begins with an apostrophe: so it can be told and taken
off.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from weightshare.records.export.column import Kind, Row, Table

MARK = "'"
_COMPUTED = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""The last four are the wide forms of the first four, which some spreadsheets take for them."""


def harmless(text: str) -> str:
    """Return `text` as a cell that no spreadsheet computes; `plain_text` takes it back."""
    return MARK + text if text.startswith((*_COMPUTED, MARK)) else text


def plain_text(cell: str) -> str:
    """Return the text that stands in a cell."""
    return cell[1:] if cell.startswith(MARK) else cell


def to_csv(table: Table, rows: Iterable[Row]) -> bytes:
    """Return `rows` as CSV: UTF-8, a header, line feeds; what is missing is an empty field."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(table.names)
    writer.writerows([_say(row.get(one.name), one.kind) for one in table.columns] for row in rows)
    return out.getvalue().encode()


def _say(value: object, kind: Kind) -> str:
    if value is None:
        return ""
    if kind is Kind.STRING:
        return harmless(str(value))
    return str(value).lower() if isinstance(value, bool) else str(value)
