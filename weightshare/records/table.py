"""Columns of numbers from a CSV file: fast where all is well, and exact about the place where it is not."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from weightshare.errors import TraceError
from weightshare.model import Floats

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_MISSING = ("", "nan")
_INFINITE = ("inf", "infinity")
_OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs", "|": "bars"}


def read_csv_columns(path: Path, known: Sequence[str], require: Callable[[Sequence[str]], None]) -> dict[str, Floats]:
    """Return the `known` columns that a CSV file has, float64 of shape (rows,), NaN where a field is empty.

    `require` is given the header's names and raises where they do not do. Raises TraceError with file, line and column
    for another encoding or separator, a row that is short or long, and a field that is no number.
    """
    text = _decode(path)
    lines = text.rstrip("\r\n").replace("\r\n", "\n").split("\n")
    if lines == [""]:
        raise TraceError(f"{path}, line 1, column {known[0]}: the file is empty")
    names = [name.strip() for name in next(csv.reader([lines[0]]))]
    _check_separator(path, names, known[0])
    require(names)
    wanted = {name: names.index(name) for name in known if name in names}
    if all(line.count(",") == len(names) - 1 for line in lines):
        fast = _read_fast(text, names, wanted)
        if fast is not None:
            return fast
    return _read_slowly(path, lines, names, wanted)


def _decode(path: Path) -> str:
    data = path.read_bytes()
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line, field = before.count(b"\n") + 1, before.rpartition(b"\n")[2].count(b",")
        header = data.partition(b"\n")[0].decode("utf-8", "replace").strip().split(",")
        column = header[field] if field < len(header) and line > 1 else str(field + 1)
        raise TraceError(f"{path}, line {line}, column {column}: is not UTF-8 text") from error


def _check_separator(path: Path, names: Sequence[str], first: str) -> None:
    for mark, word in _OTHER_SEPARATORS.items():
        if first not in names and any(mark in name for name in names):
            raise TraceError(f"{path}, line 1, column {first}: fields are parted by {word}; a trace needs commas")


def _read_fast(text: str, names: Sequence[str], wanted: dict[str, int]) -> dict[str, Floats] | None:
    """Let pandas parse; None where it meets anything but numbers."""
    import pandas as pd

    try:
        frame = pd.read_csv(
            io.StringIO(text.rstrip("\r\n") + "\n"),
            header=None,
            skiprows=1,
            names=list(range(len(names))),
            usecols=sorted(wanted.values()),
            dtype=np.float64,
            keep_default_na=False,
            na_values=["", "nan", "NaN", "NAN"],
            skip_blank_lines=False,
            float_precision="round_trip",
        )
    except (ValueError, pd.errors.ParserError, pd.errors.EmptyDataError):
        return None
    return {name: frame[index].to_numpy(dtype=np.float64) for name, index in wanted.items()}


def _read_slowly(path: Path, lines: Sequence[str], names: Sequence[str], wanted: dict[str, int]) -> dict[str, Floats]:
    """Parse field by field, so that the first fault can be named."""
    rows = []
    for line, row in enumerate(csv.reader(lines[1:]), start=2):
        if len(row) != len(names):
            at = names[len(row)] if len(row) < len(names) else names[-1]
            raise TraceError(f"{path}, line {line}, column {at}: {len(row)} fields where the header has {len(names)}")
        rows.append([_number(path, line, name, row[index]) for name, index in wanted.items()])
    values = np.array(rows, dtype=np.float64).reshape(len(rows), len(wanted))
    return {name: values[:, k].copy() for k, name in enumerate(wanted)}


def _number(path: Path, line: int, name: str, field: str) -> float:
    text = field.strip()
    if text.lower() in _MISSING:
        return math.nan
    if text.lower().lstrip("+-") in _INFINITE:
        return math.inf
    if not _NUMBER.fullmatch(text):
        raise TraceError(f"{path}, line {line}, column {name}: {_short(text)!r} is not a number")
    return float(text)


def _short(text: str) -> str:
    return text if len(text) <= 24 else text[:21] + "..."
