"""Points of a calibration from a CSV file; what is wrong with one is said in one line, with its place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import CalibrationError, TraceError
from weightshare.metrology.point import COUNTS, LOAD, MASS, WERE_GRAMS, Points, X, Y
from weightshare.model import STANDARD_GRAVITY, Floats, Side
from weightshare.records.table import OTHER_SEPARATORS, decode, read_number, read_rows

CHANNEL, SIDE, RUN, DIRECTION, X_MM, Y_MM = "channel", "side", "run", "direction", "x_mm", "y_mm"
_BESIDE = (CHANNEL, SIDE, RUN, DIRECTION, X_MM, Y_MM)
PAIRS = ((LOAD, COUNTS), (MASS, COUNTS), (X, Y))
"""Which two columns hold the points: of a file with several, the first that is there."""
GREATEST_N = 20_000.0
GREATEST_CHANNEL = 15
GREATEST = 1e15
"""No measurement is that far from one."""
_WAYS = {"up": 1, "down": -1, "": 0}
_SIDES = {"left": 1, "right": 2, "": 0}
_WORDS = {DIRECTION: (_WAYS, "up nor down"), SIDE: (_SIDES, "left nor right")}
_FIRST_LINE = 2


def read_points(path: Path) -> list[Points]:
    """Return the points of each channel of the CSV file `path`, by channel; of one without a number where none is told.

    Columns: `load_N` or `mass_kg`, and `counts`; or `x` and `y`. Beside them `channel`, `side` (left, right), `run`,
    `direction` (up, down), `x_mm` and `y_mm` where they are known. Others are passed over. Raises CalibrationError in
    one line that names the file, the line and the column where it cannot be used.
    """
    try:
        text = decode(path)
        lines = text.split("\n")
        _, header = next(read_rows(path, lines[:1], 1, [LOAD]))
        names = [name.strip() for name in header]
        pair = _choose_pair(path, names)
        table = _read_table(path, lines, names, pair)
    except OSError as error:
        raise CalibrationError(f"{path}: cannot be read: {error.strerror or error}") from error
    except TraceError as error:
        raise CalibrationError(str(error)) from error
    if not table.line:
        raise CalibrationError(f"{path}, line 2, column {pair[0]}: there are no points")
    return table.points()


def _choose_pair(path: Path, names: Sequence[str]) -> tuple[str, str]:
    """Return the two columns that hold the points; refuse a header that does not do."""
    place = f"{path}, line 1, column"
    if not any(names):
        raise CalibrationError(f"{place} {LOAD}: the file is empty, or its first line")
    for name in (LOAD, MASS, COUNTS, X, Y, *_BESIDE):
        if names.count(name) > 1:
            raise CalibrationError(f"{place} {name}: stands more than once")
    if LOAD in names and MASS in names:
        raise CalibrationError(f"{place} {MASS}: the load is told twice; leave {LOAD} or {MASS}")
    for pair in PAIRS:
        if pair[0] in names and pair[1] in names:
            return _with_whole_place(path, names, pair)
    for mark, word in OTHER_SEPARATORS.items():
        if len(names) == 1 and mark in names[0]:
            raise CalibrationError(f"{place} {LOAD}: fields are parted by {word}; points need commas")
    loads = [name for name in (LOAD, MASS) if name in names]
    missing = COUNTS if loads else (Y if X in names else (X if Y in names else f"{LOAD} or {MASS}"))
    raise CalibrationError(f"{place} {missing}: is missing; points need {LOAD} or {MASS}, and {COUNTS}; or {X} and {Y}")


def _with_whole_place(path: Path, names: Sequence[str], pair: tuple[str, str]) -> tuple[str, str]:
    if (X_MM in names) != (Y_MM in names):
        missing = Y_MM if X_MM in names else X_MM
        raise CalibrationError(f"{path}, line 1, column {missing}: is missing; a place has {X_MM} and {Y_MM}")
    return pair


class _Table:
    """The rows of the file, column by column."""

    def __init__(self, path: Path, names: Sequence[str], pair: tuple[str, str]) -> None:
        self.path = path
        self.pair = pair
        self.line: list[int] = []
        self.values: dict[str, list[float]] = {name: [] for name in (*pair, *_BESIDE) if name in names}

    def add(self, line: int, fields: dict[str, str]) -> None:
        self.line.append(line)
        for name, values in self.values.items():
            values.append(self._read(line, name, fields[name]))

    def _read(self, line: int, name: str, field: str) -> float:
        if name in _WORDS:
            word, (known, neither) = field.strip().lower(), _WORDS[name]
            if word not in known:
                raise self._refusal(line, name, f"{word[:24]!r} is neither {neither}")
            return float(known[word])
        value = read_number(self.path, line, name, field)
        if math.isnan(value) and name in (X_MM, Y_MM):
            return 0.0
        if math.isnan(value):
            raise self._refusal(line, name, "is empty")
        if not abs(value) <= GREATEST:
            raise self._refusal(line, name, f"{value:g} is no measurement")
        if name in (CHANNEL, RUN):
            self._check_whole(line, name, value)
        return value

    def _check_whole(self, line: int, name: str, value: float) -> None:
        if value != int(value):
            raise self._refusal(line, name, f"{value:g} is no whole number")
        if name == CHANNEL and not 0 <= value <= GREATEST_CHANNEL:
            raise self._refusal(line, name, f"{value:g} is no channel: they are 0 to {GREATEST_CHANNEL}")

    def _refusal(self, line: int, name: str, words: str) -> CalibrationError:
        return CalibrationError(f"{self.path}, line {line}, column {name}: {words}")

    def check_loads(self) -> None:
        """Refuse a load that no scale for persons bears, with what may have happened."""
        name = self.pair[0]
        if name == X:
            return
        most = GREATEST_N if name == LOAD else GREATEST_N / STANDARD_GRAVITY
        unit = "N" if name == LOAD else "kg"
        for line, value in zip(self.line, self.values[name], strict=True):
            if abs(value) > most:
                words = f"{value:g} {unit} is beyond {most:,.0f} {unit}"
                raise self._refusal(line, name, f"{words}: {self._why_so_much(most)}")
            if name == MASS and value < 0.0:
                raise self._refusal(line, name, f"a mass of {value:g} kg is under 0")

    def _why_so_much(self, most: float) -> str:
        loads, counts = (np.abs(self.values[name]) for name in self.pair)
        if counts.max() <= most:
            return f"are {self.pair[0]} and {self.pair[1]} exchanged?"
        if self.pair[0] == MASS and loads.max() / 1000.0 <= most:
            return WERE_GRAMS
        if self.pair[0] == LOAD and loads.max() / 1000.0 <= most / STANDARD_GRAVITY:
            return f"{WERE_GRAMS}, into a column {MASS}"
        return "what is its unit?"

    def points(self) -> list[Points]:
        """Return the points of each channel."""
        arrays = {name: np.array(values) for name, values in self.values.items()}
        channels = arrays.get(CHANNEL)
        if channels is None:
            return [self._points(arrays, np.arange(len(self.line)), None)]
        return [
            self._points(arrays, np.flatnonzero(channels == channel), int(channel)) for channel in np.unique(channels)
        ]

    def _points(self, arrays: dict[str, Floats], rows: NDArray[np.int64], channel: int | None) -> Points:
        mine = {name: values[rows] for name, values in arrays.items()}
        return Points(
            x=mine[self.pair[0]],
            y=mine[self.pair[1]],
            x_name=self.pair[0],
            y_name=self.pair[1],
            line=np.array(self.line, dtype=np.int64)[rows],
            channel=channel,
            run=mine[RUN].astype(np.int64) if RUN in mine else None,
            going=mine[DIRECTION].astype(np.int8) if DIRECTION in mine else None,
            place_mm=np.column_stack([mine[X_MM], mine[Y_MM]]) if X_MM in mine else None,
            side=self._side(mine[SIDE], rows) if SIDE in mine else None,
        )

    def _side(self, told: Floats, rows: NDArray[np.int64]) -> Side | None:
        """Return under which plate the points of one channel were taken; None where no row says it."""
        known = np.flatnonzero(told)
        if not known.size:
            return None
        other = known[told[known] != told[known[0]]]
        if other.size:
            words = "another plate than in the lines before, for the same channel"
            raise self._refusal(self.line[rows[other[0]]], SIDE, words)
        return list(Side)[int(told[known[0]]) - 1]


def _read_table(path: Path, lines: Sequence[str], names: Sequence[str], pair: tuple[str, str]) -> _Table:
    table = _Table(path, names, pair)
    for line, row in read_rows(path, lines[1:], _FIRST_LINE, names):
        if len(row) != len(names):
            at = names[len(row)] if len(row) < len(names) else names[-1]
            raise CalibrationError(
                f"{path}, line {line}, column {at}: {len(row)} fields where the header has {len(names)}"
            )
        table.add(line, dict(zip(names, row, strict=True)))
    table.check_loads()
    return table
