"""Reliability of repeated measurements: what is told, what is not, and the command's words."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from weightshare.cli import main
from weightshare.errors import TraceError
from weightshare.metrology.reliability import Interval, Reliability, reliability
from weightshare.model import Floats
from weightshare.records.score import read_scores

TABLE = "first,second\n50.1,51.0\n47.0,46.2\n55.5,54.0\n49.0,50.2\n"


def write(folder: Path, text: str) -> Path:
    path = folder / "scores.csv"
    path.write_text(text, encoding="utf-8")
    return path


def told(path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert main(["reliability", str(path), "--json"]) == 0
    out = capsys.readouterr().out
    assert out.count("\n") == 1
    found: dict[str, Any] = json.loads(out)
    return found


tables = arrays(np.float64, st.tuples(st.integers(3, 8), st.integers(2, 4)), elements=st.floats(-100.0, 100.0))


@given(tables, st.floats(-50.0, 50.0), st.sampled_from([-3.0, 0.5, 10.0]))
def test_another_unit_leaves_the_icc_alone(scores: Floats, shift: float, scale: float) -> None:
    one, other = reliability(scores), reliability(scale * (scores + shift))
    if one.squares.error > 1e-6 and one.squares.rows > 1e-6:
        assert other.icc_c_1.value == pytest.approx(one.icc_c_1.value, abs=1e-6)
        assert other.mdc95 == pytest.approx(abs(scale) * one.mdc95, rel=1e-6, abs=1e-6)


@given(tables)
def test_every_interval_holds_its_value(scores: Floats) -> None:
    found = reliability(scores)
    for one in (found.icc_1_1, found.icc_a_1, found.icc_c_1, found.sem):
        if one.value is not None and one.low is not None and one.high is not None:
            assert one.low - 1e-9 <= one.value <= one.high + 1e-9
            assert one.high <= max(1.0, found.sem.high or 0.0) + 1e-9


@given(tables, st.randoms())
def test_neither_the_order_of_people_nor_of_columns_counts(scores: Floats, random: Any) -> None:
    rows, columns = list(range(scores.shape[0])), list(range(scores.shape[1]))
    random.shuffle(rows)
    random.shuffle(columns)
    one, other = reliability(scores), reliability(scores[np.ix_(rows, columns)])
    assert other.sem.value == pytest.approx(one.sem.value, abs=1e-9)
    assert other.squares.within == pytest.approx(one.squares.within, abs=1e-6)


def test_the_standard_error_is_the_root_of_the_error_mean_square() -> None:
    found = reliability(np.array([[1.0, 2.0], [3.0, 3.5], [5.0, 7.0]]))
    assert found.sem.value == math.sqrt(found.squares.error)
    assert found.mdc95 == pytest.approx(1.96 * math.sqrt(2.0 * found.squares.error))
    assert len(found.agreement) == 1


def test_a_column_that_reads_higher_counts_for_agreement_only() -> None:
    scores = np.array([[1.0, 11.0], [3.0, 13.0], [5.0, 15.0]])
    found = reliability(scores)
    assert found.icc_c_1 == Interval(1.0, 1.0, 1.0)
    assert found.icc_a_1.value is not None and found.icc_a_1.value < 0.1
    assert found.sem.value == 0.0


@pytest.mark.parametrize("far", [1e3, 1e6, 1e9])
def test_large_scores_that_differ_little_are_not_taken_for_rounding(far: float) -> None:
    scores = np.array([[1.0, 1.5, 0.5], [2.0, 2.5, 2.25], [4.0, 3.5, 4.5], [3.0, 3.25, 2.5]])
    near, away = reliability(scores), reliability(scores + far)
    assert away.icc_a_1.value == pytest.approx(near.icc_a_1.value, rel=1e-5)
    assert away.sem.value == pytest.approx(near.sem.value, rel=1e-5)


def test_rounding_is_not_taken_for_a_difference() -> None:
    found = reliability(np.array([[0.1 + 0.2, 0.3], [0.3, 0.1 + 0.2], [0.7 + 0.1, 0.8]]))
    assert found.sem.value == 0.0 and found.icc_c_1.value == 1.0


def test_all_alike_tell_nothing() -> None:
    found = reliability(np.full((4, 3), 7.1))
    assert _values(found) == [None, None, None]
    assert "all scores are the same" in found.warnings[0]


def _values(found: Reliability) -> list[float | None]:
    return [found.icc_1_1.value, found.icc_a_1.value, found.icc_c_1.value]


def test_perfect_agreement_is_one() -> None:
    found = reliability(np.array([[1.0, 1.0, 1.0], [2.0, 2.0, 2.0], [4.0, 4.0, 4.0]]))
    assert _values(found) == [1.0, 1.0, 1.0]
    assert found.warnings == ()


def test_an_interval_that_comes_to_nothing_is_not_told() -> None:
    """McGraw and Wong's approximation gives one that does not hold its own value: columns differ, people do not."""
    found = reliability(
        np.array([[0.0, 4.0, 4.0, 4.0], [0.0, 4.0, 4.0, 4.0], [0.0, 4.0, 4.0, 4.0], [4.0, 1.0, 4.0, 4.0]])
    )
    assert found.icc_a_1.value == pytest.approx(-0.163265, abs=1e-6)
    assert (found.icc_a_1.low, found.icc_a_1.high) == (None, None)
    assert "its approximation fails" in found.warnings[-1]


def test_people_who_do_not_differ_are_told_of() -> None:
    found = reliability(np.array([[1.0, 2.0], [2.0, 1.0], [1.5, 1.6]]))
    assert "people differ by no more" in found.warnings[0]


@pytest.mark.parametrize("shape", [(1, 3), (3, 1)])
def test_two_of_each_are_needed(shape: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="it takes two of each"):
        reliability(np.zeros(shape))


def test_the_command_prints_one_object(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = told(write(tmp_path, TABLE), capsys)
    assert found["schema"] == "weightshare.reliability/1"
    assert set(found["icc_a_1"]) == {"value", "low", "high"}
    assert found["sem"] == pytest.approx(math.sqrt(found["ms_error"]))
    (one,) = found["limits_of_agreement"]
    assert (one["first"], one["second"]) == ("first", "second")
    assert one["mean_difference"]["value"] == pytest.approx(0.05)
    assert found["warnings"] == []


def test_rows_with_a_missing_score_are_left_out_and_told_of(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = told(write(tmp_path, TABLE), capsys)
    found = told(write(tmp_path, TABLE + "48.0,\nNaN,50\n"), capsys)
    assert found["rows_left_out"] == 2
    assert found["icc_c_1"] == whole["icc_c_1"]
    assert found["warnings"] == ["2 rows left out: a score was missing, and only complete rows are taken"]


def test_a_first_column_may_say_who_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = TABLE.splitlines()
    text = "\n".join(["Person," + rows[0], *(f"P{number},{row}" for number, row in enumerate(rows[1:]))])
    found = told(write(tmp_path, text), capsys)
    assert found["measurements"] == ["first", "second"]
    assert found["warnings"] == ["the column Person says who it is, and is no score"]
    assert found["people"] == 4


def test_measurements_may_have_numbers_for_names(tmp_path: Path) -> None:
    assert read_scores(write(tmp_path, "1,2,3\n1,2,3\n4,5,6\n")).names == ("1", "2", "3")


def test_a_person_reads_a_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["reliability", str(write(tmp_path, TABLE))]) == 0
    out = capsys.readouterr().out
    assert "ICC(A,1), absolute agreement" in out
    assert "first - second" in out
    assert max(map(len, out.splitlines())) <= 120


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "line 1, column 1: the file is empty"),
        ("a;b\n1;2\n", "line 1, column 1: fields are parted by semicolons"),
        ("a\n1\n2\n", "line 1, column a: it takes two repeated measurements"),
        ("a,a\n1,2\n", "line 1, column a: stands more than once"),
        ("50.1,51.0\n47.0,46.2\n", "line 1, column 1: has no name"),
        ("a,\n1,2\n", "line 1, column 2: has no name"),
        ("a,b\n1,2\n3\n", "line 3, column b: 1 fields where the header has 2"),
        ("a,b\n1,2\n3,x\n", "line 3, column b: 'x' is not a number"),
        ("a,b\n1,2\n3,inf\n", "line 3, column b: inf is no score"),
        ("a,b\n1,2\n3,\n", "column a: 1 complete row; it takes two people or more"),
        ("a,b\n", "0 complete rows"),
    ],
)
def test_bad_input_is_one_line(text: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write(tmp_path, text)
    assert main(["reliability", str(path), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1
    assert str(path) in err and words in err


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(TraceError, match=r"no\.csv: cannot be read"):
        read_scores(tmp_path / "no.csv")
