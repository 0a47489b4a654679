"""Whatever a trace file holds, it is read or refused in one line; nothing else happens."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.errors import TraceError
from weightshare.model import Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.records.trace import read_trace
from weightshare.task import Settings

GOOD = b"time_s,left_N,right_N\n" + b"".join(b"%.2f,%d.5,%d\n" % (k / 50, 300 + k, 400 - k) for k in range(40))
PIECES = (
    st.sampled_from(b', \n \r " \0 - e . ; nan inf 1e400 \xff \xef\xbb\xbf'.split(b" "))
    | st.just(b" ")
    | st.just(b"9" * 30)
)


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("traces")


def read_or_refuse(path: Path, content: bytes) -> Trace | None:
    path.write_bytes(content)
    try:
        trace = read_trace(path)
    except TraceError as error:
        assert str(error).startswith(f"{path}, line ")
        assert len(str(error).splitlines()) == 1
        return None
    check_sound(trace)
    return trace


def check_sound(trace: Trace) -> None:
    """What is read keeps every promise of a trace, and can be analysed."""
    assert trace.time_s.size >= 2
    assert np.isfinite(trace.time_s).all()
    assert (np.diff(trace.time_s) > 0).all()
    for values in trace.columns.values():
        assert values.shape == trace.time_s.shape
        assert not (np.abs(values) > 20_000.0).any()
    analyse_trace(trace, Settings(Side.LEFT, 75.0)).to_json()


@settings(max_examples=150)
@given(content=st.binary(max_size=200))
def test_noise_is_refused(place: Path, content: bytes) -> None:
    read_or_refuse(place / "noise.csv", content)


@settings(max_examples=300)
@given(st.lists(st.tuples(st.integers(0, len(GOOD)), st.integers(0, 8), PIECES), min_size=1, max_size=3))
def test_a_damaged_trace_is_read_or_refused(place: Path, damage: list[tuple[int, int, bytes]]) -> None:
    content = GOOD
    for begin, length, piece in damage:
        content = content[:begin] + piece + content[begin + length :]
    read_or_refuse(place / "damaged.csv", content)


NUMBERS = st.floats(-20_000.0, 20_000.0).map(repr) | st.sampled_from(["", "nan", "1e3", "+5", ".5", "7.", "-0"])


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=2, max_size=30))
def test_both_ways_of_reading_find_the_same_bits(place: Path, rows: list[tuple[str, str]]) -> None:
    """A quoted line end within a note leads past the fast way."""
    lines = [f"{k / 8},{left},{right}," for k, (left, right) in enumerate(rows)]
    head = "time_s,left_N,right_N,note\n"
    fast = read_or_refuse(place / "fast.csv", (head + "\n".join(lines)).encode())
    slow = read_or_refuse(place / "slow.csv", (head + "\n".join(lines) + '"a\n\nb"').encode())
    assert fast is not None
    assert slow is not None
    for name, values in fast.columns.items():
        np.testing.assert_array_equal(values, slow.columns[name])
