"""Traces as Parquet files and as pandas frames: whatever numbers they hold, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

import weightshare
from weightshare.errors import OptionError, TraceError
from weightshare.model import Trace
from weightshare.records.trace import frame_trace, read_trace

TIMES, LEFTS, RIGHTS = [0.0, 0.5, 1.0], [300.0, 301.0, 302.0], [400.0, 399.0, 398.0]
Reader = Callable[[dict[str, Any]], Trace]


def good() -> dict[str, Any]:
    return {"time_s": TIMES, "left_N": LEFTS, "right_N": RIGHTS}


def refusal(read_it: Callable[[], object]) -> str:
    """Return the message of the refusal, which is one line."""
    with pytest.raises(TraceError) as caught:
        read_it()
    assert len(str(caught.value).splitlines()) == 1
    return str(caught.value)


def check(trace: Trace, left: list[float] = LEFTS) -> None:
    for values, expected in (
        (trace.time_s, TIMES),
        (trace.columns["left_N"], left),
        (trace.columns["right_N"], RIGHTS),
    ):
        assert values.dtype == np.float64
        np.testing.assert_array_equal(values, expected)


def saved(folder: Path, table: pa.Table, name: str = "trace.parquet") -> Path:
    pq.write_table(table, folder / name)
    return folder / name


FIGURES = {
    "float32": np.array(LEFTS, dtype=np.float32),
    "int64": np.array(LEFTS, dtype=np.int64),
    "int16": np.array(LEFTS, dtype=np.int16),
    "uint64": np.array(LEFTS, dtype=np.uint64),
}


@pytest.mark.parametrize("kind", FIGURES)
def test_columns_may_be_of_any_kind_of_number(tmp_path: Path, kind: str) -> None:
    columns = good() | {"left_N": FIGURES[kind]}
    check(frame_trace(pd.DataFrame(columns)))
    check(read_trace(saved(tmp_path, pa.table(columns))))


def test_whole_times_are_read_as_they_are() -> None:
    columns = good() | {"time_s": np.array([10, 20, 30])}
    np.testing.assert_array_equal(frame_trace(pd.DataFrame(columns)).time_s, [10.0, 20.0, 30.0])


def test_times_in_nanoseconds_are_no_times_in_seconds(tmp_path: Path) -> None:
    """A number too long for a float is no reason for a traceback."""
    columns = good() | {"time_s": np.array([1732000000000000001, 1732000000010000001, 1732000000020000001])}
    for read_it in (
        lambda: frame_trace(pd.DataFrame(columns)),
        lambda: read_trace(saved(tmp_path, pa.table(columns))),
    ):
        assert "line 2, column time_s: 1.732e+18 is no time in seconds" in refusal(read_it)


MISSING: dict[str, Any] = {
    "nullable floats": pd.Series([300.0, None, 302.0]).astype("Float64"),
    "nullable integers": pd.Series([300.0, None, 302.0]).astype("Int64"),
    "objects": np.array([300.0, None, 302], dtype=object),
    "objects with NA": np.array([300.0, pd.NA, 302], dtype=object),
    "Arrow's": pd.Series([300.0, None, 302.0]).astype("double[pyarrow]"),
    "Arrow's integers": pd.Series([300.0, None, 302.0]).astype("int64[pyarrow]"),
}


@pytest.mark.parametrize("kind", MISSING)
def test_what_a_frame_lacks_is_a_missing_reading(kind: str) -> None:
    check(frame_trace(pd.DataFrame(good() | {"left_N": MISSING[kind]})), [300.0, np.nan, 302.0])


@pytest.mark.parametrize("numbers", [[300.0, None, 302.0], [300, None, 302]])
def test_what_a_parquet_file_lacks_is_a_missing_reading(tmp_path: Path, numbers: list[float | None]) -> None:
    check(read_trace(saved(tmp_path, pa.table(good() | {"left_N": numbers}))), [300.0, np.nan, 302.0])


def test_a_column_without_a_reading_is_missing_throughout(tmp_path: Path) -> None:
    """Parquet keeps a column of nothing as a kind of its own."""
    columns = good() | {"left_heel_height_mm": [None, None, None]}
    for trace in (frame_trace(pd.DataFrame(columns)), read_trace(saved(tmp_path, pa.table(columns)))):
        assert np.isnan(trace.columns["left_heel_height_mm"]).all()


NO_NUMBERS: dict[str, tuple[Any, int]] = {
    "text": (["300", "x", "302"], 2),
    "text of digits": (["300", "301", "302"], 2),
    "truth": ([True, False, True], 2),
    "dates": (pd.to_datetime(["2026-11-01", "2026-11-02", "2026-11-03"]), 2),
    "durations": (pd.to_timedelta([1, 2, 3], unit="s"), 2),
    "lists": ([[1.0], [2.0], [3.0]], 2),
    "complex": ([1j, 2j, 3j], 2),
    "text among numbers": (np.array([300.0, 301.0, "x"], dtype=object), 4),
    "truth among numbers": (np.array([300.0, True, 302.0], dtype=object), 3),
    "classes": (pd.Categorical(["a", "b", "a"]), 2),
}


@pytest.mark.parametrize("kind", NO_NUMBERS)
@pytest.mark.parametrize("column", ["time_s", "left_N"])
def test_a_column_of_something_else_is_refused(tmp_path: Path, kind: str, column: str) -> None:
    values, line = NO_NUMBERS[kind]
    frame = pd.DataFrame(good() | {column: values})
    assert refusal(lambda: frame_trace(frame)).startswith(f"frame, line {line}, column {column}: ")


@pytest.mark.parametrize("kind", ["text", "text of digits", "truth", "dates", "durations", "lists"])
@pytest.mark.parametrize("column", ["time_s", "left_N"])
def test_a_parquet_column_of_something_else_is_refused(tmp_path: Path, kind: str, column: str) -> None:
    path = saved(tmp_path, pa.table(good() | {column: pa.array(NO_NUMBERS[kind][0])}))
    message = refusal(lambda: read_trace(path))
    assert message.startswith(f"{path}, line 2, column {column}: ")
    assert "not numbers" in message


WRONG: dict[str, tuple[dict[str, Any], int, str]] = {
    "infinite": ({"left_N": [1.0, np.inf, 1.0]}, 3, "left_N"),
    "too large": ({"right_N": [1.0, 1.0, -20000.5]}, 4, "right_N"),
    "time stands": ({"time_s": [0.0, 1.0, 1.0]}, 4, "time_s"),
    "time missing": ({"time_s": [0.0, None, 1.0]}, 3, "time_s"),
    "no readings at the end of time": ({"time_s": [0.0, 1.0, np.inf]}, 4, "time_s"),
}


@pytest.mark.parametrize("what", WRONG)
def test_wrong_values_are_refused_with_their_place(tmp_path: Path, what: str) -> None:
    columns, line, column = WRONG[what]
    path = saved(tmp_path, pa.table(good() | columns))
    assert refusal(lambda: read_trace(path)).startswith(f"{path}, line {line}, column {column}: ")
    frame = pd.DataFrame(good() | columns)
    assert refusal(lambda: frame_trace(frame)).startswith(f"frame, line {line}, column {column}: ")


def test_columns_missing_or_doubled_are_refused(tmp_path: Path) -> None:
    doubled = pa.table([TIMES, LEFTS, RIGHTS, LEFTS], names=["time_s", "left_N", "right_N", "left_N"])
    path = saved(tmp_path, doubled)
    assert refusal(lambda: read_trace(path)) == f"{path}, line 1, column left_N: stands more than once"
    frame = pd.DataFrame(good())
    twice = pd.concat([frame, frame[["right_N"]]], axis=1)
    assert refusal(lambda: frame_trace(twice)) == "frame, line 1, column right_N: stands more than once"
    lacking = frame[["time_s", "left_N"]]
    assert refusal(lambda: frame_trace(lacking)) == "frame, line 1, column right_N: is missing"
    path = saved(tmp_path, pa.table(lacking))
    assert refusal(lambda: read_trace(path)) == f"{path}, line 1, column right_N: is missing"


def test_other_columns_are_passed_over_even_doubled(tmp_path: Path) -> None:
    names = ["note", "note", "time_s", "left_N", "right_N"]
    check(read_trace(saved(tmp_path, pa.table([["a"] * 3, ["b"] * 3, TIMES, LEFTS, RIGHTS], names=names))))
    frame = pd.DataFrame(good()).assign(note="a")
    check(frame_trace(pd.concat([frame, frame[["note"]]], axis=1)))


def test_the_index_of_a_frame_plays_no_part() -> None:
    frame = pd.DataFrame(good(), index=[7, 7, -1])
    check(frame_trace(frame))
    check(frame_trace(pd.DataFrame(good(), index=pd.to_datetime(["2026-01-01"] * 3))))
    longer = pd.DataFrame({name: np.repeat(values, 2) for name, values in good().items()})
    check(frame_trace(longer.iloc[::2]))


def test_a_frame_is_left_as_it_was() -> None:
    frame = pd.DataFrame(good() | {"left_N": [300.0, np.nan, 302.0]})
    before = frame.copy(deep=True)
    weightshare.analyse(frame, "left", 75.0)
    pd.testing.assert_frame_equal(frame, before)


@pytest.mark.parametrize("rows", [0, 1])
def test_fewer_than_two_rows_are_refused(tmp_path: Path, rows: int) -> None:
    frame = pd.DataFrame(good()).iloc[:rows]
    path = saved(tmp_path, pa.Table.from_pandas(frame))
    for origin, read_it in ((str(path), lambda: read_trace(path)), ("frame", lambda: frame_trace(frame))):
        expected = f"{origin}, line {rows + 1}, column time_s: a trace needs two rows or more"
        assert refusal(read_it) == expected


def test_a_file_that_is_no_parquet_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "trace.parquet"
    for content in (
        b"",
        b"PAR1",
        b"time_s,left_N,right_N\n0,1,1\n1,1,1\n",
        saved(tmp_path, pa.table(good()), "x").read_bytes()[:-20],
    ):
        path.write_bytes(content)
        assert refusal(lambda: read_trace(path)).startswith(f"{path}, line 1: is no Parquet file")
    path.unlink()
    assert refusal(lambda: read_trace(path)) == f"{path}: cannot be read: No such file or directory"


def test_a_parquet_file_with_a_flipped_byte_is_refused_or_read(tmp_path: Path) -> None:
    """Damage is told, not met with a traceback."""
    whole = saved(tmp_path, pa.table(good())).read_bytes()
    path = tmp_path / "damaged.parquet"
    for place in range(0, len(whole), 7):
        path.write_bytes(whole[:place] + bytes([whole[place] ^ 0x55]) + whole[place + 1 :])
        try:
            read_trace(path)
        except TraceError as error:
            assert str(error).startswith(str(path))
            assert len(str(error).splitlines()) == 1


def test_the_options_of_analyse_name_themselves() -> None:
    frame = pd.DataFrame(good())
    anything: Any = "both"
    wrong: list[tuple[str, dict[str, Any]]] = [
        ("--injured", {"injured": anything}),
        ("--target", {"target_percent": 101.0}),
        ("--tolerance", {"tolerance_percent": -1.0}),
        ("--grace", {"grace_s": float("nan")}),
        ("--filter", {"filter_Hz": 0.0}),
        ("--body-weight-N", {"body_weight_N": 1.0}),
    ]
    for option, value in wrong:
        with pytest.raises(OptionError, match=option):
            weightshare.analyse(frame, **({"injured": "left"} | value))
