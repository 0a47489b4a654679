"""Traces as files: what is read, and what is refused, in one line with its place."""

from __future__ import annotations

import csv
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from weightshare.errors import TraceError
from weightshare.model import Floats, Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.records.trace import read_trace, write_csv, write_parquet
from weightshare.task import Settings

GOOD = "time_s,left_N,right_N\n0.00,300,400\n0.01,301.5,399\n0.02,302,398.25\n"
PARTS = "left_front_N,left_rear_N,right_front_N,right_rear_N"


@pytest.fixture(autouse=True)
def usual_limit() -> Iterator[None]:
    """The limit of csv is one for the whole process: a library of another test may have lifted it."""
    before = csv.field_size_limit(131_072)
    yield
    csv.field_size_limit(before)


def written(folder: Path, content: str | bytes, name: str = "trace.csv") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def read(folder: Path, content: str | bytes) -> Trace:
    return read_trace(written(folder, content))


def refusal(read_it: Callable[[], object]) -> str:
    """Return the message of the refusal, which is one line."""
    with pytest.raises(TraceError) as caught:
        read_it()
    message = str(caught.value)
    assert "\n" not in message
    assert "\r" not in message
    return message


def check_good(trace: Trace) -> None:
    np.testing.assert_array_equal(trace.time_s, [0.0, 0.01, 0.02])
    np.testing.assert_array_equal(trace.columns["left_N"], [300.0, 301.5, 302.0])
    np.testing.assert_array_equal(trace.columns["right_N"], [400.0, 399.0, 398.25])


HEAD = "time_s,left_N,right_N\n"
ROW = "0.00,300,400\n"
REFUSED: dict[str, tuple[str | bytes, int, str, str]] = {
    "a column missing": ("time_s,left_N\n0,1\n1,2\n", 1, "right_N", "is missing"),
    "no time": ("left_N,right_N\n1,2\n1,2\n", 1, "time_s", "is missing"),
    "one part missing": (
        "time_s,left_front_N,left_rear_N,right_front_N\n0,1,1,1\n1,1,1,1\n",
        1,
        "left_N",
        "is missing",
    ),
    "a column doubled": ("time_s,left_N,right_N,left_N\n0,1,2,3\n1,1,2,3\n", 1, "left_N", "more than once"),
    "time doubled": ("time_s,left_N,right_N,time_s\n0,1,2,3\n1,1,2,3\n", 1, "time_s", "more than once"),
    "no header": ("0.00,300,400\n0.01,300,400\n", 1, "time_s", "is missing"),
    "text": (HEAD + ROW + "0.01,heavy,400\n", 3, "left_N", "'heavy' is not a number"),
    "a unit": (HEAD + ROW + "0.01,300 N,400\n", 3, "left_N", "'300 N' is not a number"),
    "a dash": (HEAD + ROW + "0.01,-,400\n", 3, "left_N", "'-' is not a number"),
    "text for time": (HEAD + ROW + "12:00:01,300,400\n", 3, "time_s", "'12:00:01' is not a number"),
    "another word for missing": (HEAD + ROW + "0.01,n/a,400\n", 3, "left_N", "'n/a' is not a number"),
    "a number in hexadecimal": (HEAD + ROW + "0.01,0x1F,400\n", 3, "left_N", "'0x1F' is not a number"),
    "digits parted": (HEAD + ROW + "0.01,1_000,400\n", 3, "left_N", "'1_000' is not a number"),
    "digits of another script": (HEAD + ROW + "0.01,٣٠٠,400\n", 3, "left_N", "is not a number"),
    "infinity": (HEAD + ROW + "0.01,inf,400\n", 3, "left_N", "is infinite"),
    "minus infinity": (HEAD + ROW + "0.01,300,-Infinity\n", 3, "right_N", "is infinite"),
    "infinite by its size": (HEAD + ROW + "0.01,1e999,400\n", 3, "left_N", "is infinite"),
    "infinite time": (HEAD + "-inf,300,400\n" + ROW, 2, "time_s", "is not a finite number"),
    "no time in a row": (HEAD + ROW + ",300,400\n", 3, "time_s", "is not a finite number"),
    "a force too large": (HEAD + ROW + "0.01,300,20000.1\n", 3, "right_N", "is beyond 20,000 N"),
    "a force too far below": (HEAD + ROW + "0.01,-20001,400\n", 3, "left_N", "is beyond 20,000 N"),
    "time that stands": (HEAD + ROW + "0.01,1,1\n0.01,1,1\n", 4, "time_s", "does not increase"),
    "time that falls": (HEAD + "5,1,1\n4,1,1\n", 3, "time_s", "does not increase"),
    "a short row": (HEAD + ROW + "0.01,300\n", 3, "right_N", "2 fields where the header has 3"),
    "a long row": (HEAD + ROW + "0.01,300,400,1\n", 3, "right_N", "4 fields where the header has 3"),
    "a blank line within": (HEAD + ROW + "\n0.01,300,400\n", 3, "time_s", "0 fields where the header has 3"),
    "one row": (HEAD + ROW, 2, "time_s", "two rows or more"),
    "a header alone": (HEAD, 1, "time_s", "two rows or more"),
    "an empty file": ("", 1, "time_s", "the file is empty"),
    "line ends alone": ("\n\n", 1, "time_s", "the file is empty"),
    "semicolons": (HEAD.replace(",", ";") + "0;300;400\n1;300;400\n", 1, "time_s", "parted by semicolons"),
    "tabs": (HEAD.replace(",", "\t") + "0\t300\t400\n", 1, "time_s", "parted by tabs"),
    "spaces": (HEAD.replace(",", " ") + "0 300 400\n", 1, "time_s", "parted by spaces"),
    "semicolons below the header": (HEAD + "0;300;400\n1;300;400\n", 2, "left_N", "1 fields where the header has 3"),
    "a decimal comma": (HEAD + "0,00;300,5;400,5\n", 2, "right_N", "4 fields where the header has 3"),
    "quoted decimal commas": (HEAD + ROW + '"0,01","300,5","400"\n', 3, "time_s", "'0,01' is not a number"),
    "an unclosed quote": (HEAD + ROW + '0.01,"300,400\n0.02,300,400\n', 3, "right_N", "2 fields"),
    "another encoding": (HEAD.encode() + b"0.00,300,400\n0.01,3\xe90,400\n", 3, "left_N", "is not UTF-8"),
    "UTF-16 with a mark": ((HEAD + ROW).encode("utf-16"), 1, "1", "is not UTF-8"),
    "UTF-16 without one": ((HEAD + ROW).encode("utf-16-le"), 1, "1", "is not UTF-8"),
    "noise": (bytes(range(128, 256)), 1, "1", "is not UTF-8"),
    "zero bytes": (b"\0" * 4000, 1, "1", "is not UTF-8"),
    "a very long field": (HEAD + ROW + "0.01," + "9" * 9_000 + ",400\n", 3, "left_N", "is infinite"),
    "a very long text": (HEAD + ROW + "0.01," + "x" * 9_000 + ",400\n", 3, "left_N", "'xxxxxxxxxxxxxxxxxxxxx...'"),
    "an endless text": (HEAD + ROW + "0.01," + "x" * 200_000 + ",400\n", 3, "left_N", "cannot be read"),
    "a blank line's spaces": (HEAD + ROW + "  \n0.01,300,400\n", 3, "left_N", "1 fields where the header has 3"),
    "line ends of old": (HEAD.replace("\n", "\r") + "0,1,2\r1,1,2\r", 1, "3", "carriage return"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_refused_is_told_with_file_line_and_column(tmp_path: Path, what: str) -> None:
    content, line, column, words = REFUSED[what]
    path = written(tmp_path, content)
    message = refusal(lambda: read_trace(path))
    assert message.startswith(f"{path}, line {line}, column {column}: "), message
    assert words in message
    assert len(message) < 300


def test_the_first_fault_is_named_whatever_its_kind(tmp_path: Path) -> None:
    message = refusal(lambda: read(tmp_path, HEAD + ROW + "0.01,30000,400\n0.01,inf,400\n"))
    assert "line 3, column left_N" in message


def test_a_force_right_on_the_limit_is_read(tmp_path: Path) -> None:
    trace = read(tmp_path, HEAD + "0,20000,-20000\n1,1,1\n")
    assert trace.columns["left_N"][0] == 20000.0


READ = {
    "as it is": GOOD,
    "with a byte order mark": "\ufeff" + GOOD,
    "with carriage returns": GOOD.replace("\n", "\r\n"),
    "without a last line end": GOOD.rstrip(),
    "with blank lines at the end": GOOD + "\n\n",
    "with blank lines and carriage returns": GOOD.replace("\n", "\r\n") + "\r\n",
    "with a quoted header": GOOD.replace("time_s,left_N,right_N", '"time_s","left_N","right_N"'),
    "with quoted numbers": GOOD.replace("300,", '"300",'),
    "with spaces": GOOD.replace(",", " , "),
    "with signs and exponents": GOOD.replace("300,", "+3.e2,").replace("0.01,", "1e-2,"),
    "in another order": "right_N,time_s,left_N\n400,0.00,300\n399,0.01,301.5\n398.25,0.02,302\n",
    "with more columns": "note,time_s,left_N,right_N,x\na,0,300,400,\nb,.01,301.5,399,7\n,.02,302,398.25,z\n",
    "with commas in other columns": 'note,time_s,left_N,right_N\n"a,b",0,300,400\n,.01,301.5,399\n,.02,302,398.25\n',
    "with other columns doubled": "x,x,time_s,left_N,right_N\n,,0,300,400\n,,.01,301.5,399\n,,.02,302,398.25\n",
}


@pytest.mark.parametrize("how", READ)
def test_a_trace_is_read(tmp_path: Path, how: str) -> None:
    check_good(read(tmp_path, READ[how]))


@pytest.mark.parametrize("field", ["", "nan", "NaN", "NAN", " "])
def test_an_empty_field_and_nan_are_missing_readings(tmp_path: Path, field: str) -> None:
    trace = read(tmp_path, HEAD + ROW + f"0.01,{field},400\n0.02,300,{field}\n")
    np.testing.assert_array_equal(trace.columns["left_N"], [300.0, np.nan, 300.0])
    np.testing.assert_array_equal(trace.columns["right_N"], [400.0, 400.0, np.nan])


def test_a_line_is_counted_as_an_editor_counts_it(tmp_path: Path) -> None:
    """A quoted field may span lines."""
    content = 'note,time_s,left_N,right_N\n"two\nlines",0,300,400\n,0.01,heavy,400\n'
    assert "line 4, column left_N" in refusal(lambda: read(tmp_path, content))


def test_sides_are_summed_from_their_parts(tmp_path: Path) -> None:
    trace = read(tmp_path, f"time_s,{PARTS},left_heel_height_mm\n0,100,200,150,250,1\n1,100,,150,250,\n")
    np.testing.assert_array_equal(trace.columns["left_N"], [300.0, np.nan])
    np.testing.assert_array_equal(trace.columns["right_N"], [400.0, 400.0])
    np.testing.assert_array_equal(trace.columns["left_heel_height_mm"], [1.0, np.nan])


def test_heel_heights_have_no_limit_of_newtons_but_are_finite(tmp_path: Path) -> None:
    read(tmp_path, "time_s,left_N,right_N,left_heel_height_mm\n0,1,1,30000\n1,1,1,0\n")
    bad = "time_s,left_N,right_N,left_heel_height_mm\n0,1,1,inf\n1,1,1,0\n"
    assert "line 2, column left_heel_height_mm" in refusal(lambda: read(tmp_path, bad))


@pytest.mark.parametrize("start", ["-7", "1e3", "1e9", "1732000000"])
def test_time_may_start_anywhere(tmp_path: Path, start: str) -> None:
    first = float(start)
    trace = read(tmp_path, HEAD + f"{first!r},300,400\n{first + 0.01!r},300,400\n")
    assert trace.time_s[0] == first


def test_times_that_no_clock_could_tell_apart_are_refused(tmp_path: Path) -> None:
    """A step of next to nothing would be a rate beyond all numbers."""
    message = refusal(lambda: read(tmp_path, HEAD + "0,300,400\n1e-320,300,400\n"))
    assert "line 3, column time_s" in message
    message = refusal(lambda: read(tmp_path, HEAD + "-1e308,300,400\n1e308,300,400\n"))
    assert "line 2, column time_s" in message


def test_a_missing_file_is_refused_in_one_line(tmp_path: Path) -> None:
    message = refusal(lambda: read_trace(tmp_path / "none.csv"))
    assert message == f"{tmp_path / 'none.csv'}: cannot be read: No such file or directory"


def test_a_folder_is_no_trace(tmp_path: Path) -> None:
    assert "cannot be read" in refusal(lambda: read_trace(tmp_path))


@pytest.mark.skipif(sys.platform == "win32" or not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may all")
def test_a_file_without_permission_is_refused_in_one_line(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD)
    path.chmod(0)
    assert "cannot be read: Permission denied" in refusal(lambda: read_trace(path))


def made(rng: np.random.Generator, count: int, start_s: float) -> Trace:
    """A trace as a session leaves it: someone who works about the target, readings missing, times from ticks."""
    time_s: Floats = start_s + np.arange(count, dtype=np.float64) * 0.0125
    total = 700.0 + rng.normal(0.0, 1.0, count)
    share = 75.0 + np.interp(time_s, time_s[::80], rng.normal(0.0, 5.0, time_s[::80].size))
    left: Floats = total * share / 100.0
    left[rng.random(count) < 0.002] = np.nan
    return Trace(time_s, {"left_N": left, "right_N": total - left})


@pytest.mark.parametrize("start_s", [0.0, 1234.567891, 1e9])
@pytest.mark.parametrize("write", [write_csv, write_parquet])
def test_a_saved_trace_gives_the_same_analysis(
    tmp_path: Path, write: Callable[[Trace, Path], None], start_s: float
) -> None:
    settings = Settings(Side.LEFT, 75.0, 2.0, 0.1)
    trace = made(np.random.default_rng(7), 8000, start_s)
    path = tmp_path / ("trace.csv" if write is write_csv else "trace.parquet")
    write(trace, path)
    ours, again = analyse_trace(trace, settings), analyse_trace(read_trace(path), settings)
    assert ours.holds is not None
    assert again.holds is not None
    assert len(ours.holds) > 3
    assert again.total_held_s == pytest.approx(ours.total_held_s, abs=1e-6 if start_s < 1e6 else 1e-4)
    assert [hold.start_s for hold in again.holds] == pytest.approx([hold.start_s for hold in ours.holds], abs=1e-6)
    assert again.share_percent.mean == pytest.approx(ours.share_percent.mean, abs=1e-6)
    assert [gap.start_s for gap in again.gaps] == pytest.approx([gap.start_s for gap in ours.gaps], abs=1e-6)


def test_a_saved_trace_has_nine_digits_and_empty_fields(tmp_path: Path) -> None:
    trace = Trace(np.array([0.0, 0.0125]), {"left_N": np.array([1000 / 3, np.nan]), "right_N": np.array([0.5, -2e-7])})
    write_csv(trace, tmp_path / "trace.csv")
    lines = (tmp_path / "trace.csv").read_text(encoding="utf-8").split("\n")
    assert lines[0] == "time_s,left_N,right_N"
    assert lines[1:] == ["0,333.333333,0.5", "0.0125,,-2e-07", ""]
