"""Columns of numbers from a CSV file: fast where all is well, and exact about the place where it is not."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np

from weightshare.errors import TraceError
from weightshare.model import Floats

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_MISSING = ("", "nan", "+nan", "-nan")
_INFINITE = ("inf", "infinity")
OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs", "|": "bars", " ": "spaces"}
"""What parts the fields of other tables, and what that is called."""


def read_csv_columns(path: Path, known: Sequence[str], require: Callable[[Sequence[str]], None]) -> dict[str, Floats]:
    """Return the `known` columns that a CSV file has, float64 of shape (rows,), NaN where a field is empty.

    `require` is given the header's names and raises where they do not do. Raises TraceError with file, line and column
    for another encoding or separator, a row that is short or long, and a field that is no number.
    """
    text = decode(path)
    lines = text.split("\n")
    if lines == [""]:
        raise TraceError(f"{path}, line 1, column {known[0]}: the file is empty")
    _, header = next(read_rows(path, lines[:1], 1, known))
    names = [name.strip() for name in header]
    _check_separator(path, names, known[0])
    require(names)
    wanted = {name: names.index(name) for name in known if name in names}
    fast = None if "\n\n" in text else _read_fast(text, names, wanted)
    return _read_slowly(path, lines, names, wanted) if fast is None else fast


def decode(path: Path) -> str:
    """Return the text of the file with line feeds alone between its lines, none at its end.

    Raises OSError, and TraceError with file, line and column for what is no UTF-8 text.
    """
    data = path.read_bytes()
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise TraceError(_place(path, data, error.start) + "is not UTF-8 text") from error
    text = text.replace("\r\n", "\n").rstrip("\n")
    for mark, what in (("\0", "is not UTF-8 text: it holds zero bytes"), ("\r", "a carriage return ends no line")):
        if mark in text:
            data = text.encode()
            raise TraceError(_place(path, data, data.index(mark.encode())) + what)
    return text


def _place(path: Path, data: bytes, at: int) -> str:
    """Say in which line and column the byte `at` lies; columns have numbers where the header itself is in doubt."""
    before = data[:at]
    line, field = before.count(b"\n") + 1, before.rpartition(b"\n")[2].count(b",")
    header = data.partition(b"\n")[0].decode("utf-8-sig", "replace").strip().split(",")
    column = header[field] if field < len(header) and line > 1 else str(field + 1)
    return f"{path}, line {line}, column {column}: "


def _check_separator(path: Path, names: Sequence[str], first: str) -> None:
    for mark, word in OTHER_SEPARATORS.items():
        if first not in names and any(first in name and mark in name for name in names):
            raise TraceError(f"{path}, line 1, column {first}: fields are parted by {word}; a trace needs commas")


def _read_fast(text: str, names: Sequence[str], wanted: dict[str, int]) -> dict[str, Floats] | None:
    """Let a compiled reader parse; None where it meets anything but numbers in rows of one length."""
    import pyarrow as pa
    from pyarrow import csv as reader

    places = [str(place) for place in range(len(names))]
    asked = [str(place) for place in wanted.values()]
    try:
        table = reader.read_csv(
            pa.py_buffer(text.encode()),
            read_options=reader.ReadOptions(column_names=places, skip_rows=1, use_threads=False),
            convert_options=reader.ConvertOptions(
                column_types=dict.fromkeys(asked, pa.float64()),
                include_columns=asked,
                null_values=["", "nan", "NaN", "NAN"],
            ),
        )
    except pa.ArrowException:
        return None
    return {name: table.column(str(place)).to_numpy() for name, place in wanted.items()}


def _read_slowly(path: Path, lines: Sequence[str], names: Sequence[str], wanted: dict[str, int]) -> dict[str, Floats]:
    """Parse field by field, so that the first fault can be named."""
    rows = []
    for line, row in read_rows(path, lines[1:], 2, names):
        if len(row) != len(names):
            at = names[len(row)] if len(row) < len(names) else names[-1]
            raise TraceError(f"{path}, line {line}, column {at}: {len(row)} fields where the header has {len(names)}")
        rows.append([read_number(path, line, name, row[index]) for name, index in wanted.items()])
    values = np.array(rows, dtype=np.float64).reshape(len(rows), len(wanted))
    return {name: values[:, k].copy() for k, name in enumerate(wanted)}


def read_rows(path: Path, lines: Sequence[str], first: int, names: Sequence[str]) -> Iterator[tuple[int, list[str]]]:
    """Yield the fields of each row and the line on which it begins, the first being `first`.

    A quoted field may hold line ends. `names` is the header. Raises TraceError where a row cannot be parted.
    """
    reader = csv.reader(line + "\n" for line in lines)
    while True:
        begins = reader.line_num
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            lengths = [len(field) for field in lines[begins].split(",")]
            name = names[min(lengths.index(max(lengths)), len(names) - 1)]
            raise TraceError(f"{path}, line {first + begins}, column {name}: cannot be read: {error}") from error
        yield first + begins, row


def read_number(path: Path, line: int, name: str, field: str) -> float:
    """Return the number in a field, NaN where it is empty, infinity where it says so. Raises TraceError for text."""
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
