"""Tables of repeated measurements from CSV: a row is a person, a column a measurement."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from weightshare.errors import TraceError
from weightshare.metrology.reliability import LEAST_COLUMNS, LEAST_PEOPLE
from weightshare.model import Floats
from weightshare.records.table import OTHER_SEPARATORS, decode, read_number, read_rows

LABELS = ("id", "code", "name", "participant", "patient", "person", "subject", "target")
"""A first column of such a name says who it is, and is no score."""
GREATEST = 1e12


@dataclass(frozen=True, slots=True)
class Scores:
    """Scores of shape (people, measurements), complete rows only. `left_out`: rows in which one was missing."""

    names: tuple[str, ...]
    values: Floats
    left_out: int
    label: str | None = None
    """The heading of a first column that says who it is."""


def read_scores(path: Path) -> Scores:
    """Read a table of scores from the CSV file `path`.

    A row in which a score is missing (empty, or NaN) is left out whole. Raises TraceError in one line that names the
    file, the line and the column where the table cannot be used.
    """
    try:
        lines = decode(path).split("\n")
    except OSError as error:
        raise TraceError(f"{path}: cannot be read: {error.strerror or error}") from error
    names, label = _read_header(path, lines)
    heads = names if label is None else [label, *names]
    rows = [_read_row(path, line, heads, row)[len(heads) - len(names) :] for line, row in _rows(path, lines, heads)]
    values = np.array(rows, dtype=np.float64).reshape(len(rows), len(names))
    whole = values[~np.isnan(values).any(axis=1)]
    if len(whole) < LEAST_PEOPLE:
        told = f"{len(whole)} complete rows" if len(whole) != 1 else "1 complete row"
        raise TraceError(f"{path}, line {len(lines)}, column {names[0]}: {told}; it takes two people or more")
    return Scores(tuple(names), whole, len(rows) - len(whole), label)


def _read_header(path: Path, lines: Sequence[str]) -> tuple[list[str], str | None]:
    if lines == [""]:
        raise TraceError(f"{path}, line 1, column 1: the file is empty")
    _, header = next(read_rows(path, lines[:1], 1, ["1"]))
    names = [name.strip() for name in header]
    place = f"{path}, line 1, column"
    for mark, word in OTHER_SEPARATORS.items():
        if len(names) == 1 and mark in names[0]:
            raise TraceError(f"{place} 1: fields are parted by {word}; a table of scores needs commas")
    label = names.pop(0) if names[0].lower() in LABELS else None
    for number, name in enumerate(names, 1 if label is None else 2):
        if not name or (_is_number(name) and not _counts_up(names)):
            raise TraceError(f"{place} {number}: has no name; the first line names the measurements")
        if names.count(name) > 1:
            raise TraceError(f"{place} {name}: stands more than once")
    if len(names) < LEAST_COLUMNS:
        raise TraceError(f"{place} {names[0] if names else 1}: it takes two repeated measurements or more")
    return names, label


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _counts_up(names: Sequence[str]) -> bool:
    """Return whether the names are 0, 1, 2 ... or 1, 2, 3 ...: measurements that have numbers for names."""
    return any(list(names) == [str(first + place) for place in range(len(names))] for first in (0, 1))


def _rows(path: Path, lines: Sequence[str], heads: Sequence[str]) -> list[tuple[int, list[str]]]:
    rows = list(read_rows(path, lines[1:], 2, heads))
    for line, row in rows:
        if len(row) != len(heads):
            at = heads[len(row)] if len(row) < len(heads) else heads[-1]
            raise TraceError(f"{path}, line {line}, column {at}: {len(row)} fields where the header has {len(heads)}")
    return rows


def _read_row(path: Path, line: int, heads: Sequence[str], row: Sequence[str]) -> list[float]:
    is_label = [head.lower() in LABELS and not place for place, head in enumerate(heads)]
    each = zip(heads, row, is_label, strict=True)
    return [0.0 if label else _read_score(path, line, head, field) for head, field, label in each]


def _read_score(path: Path, line: int, head: str, field: str) -> float:
    value = read_number(path, line, head, field)
    if abs(value) > GREATEST:
        raise TraceError(f"{path}, line {line}, column {head}: {value:g} is no score")
    return value
