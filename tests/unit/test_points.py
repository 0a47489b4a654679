"""Points from CSV: read as they are, or refused with their place."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.points import Plate, make_points
from weightshare.errors import CalibrationError
from weightshare.metrology.point import Points
from weightshare.model import Side
from weightshare.records.points import read_points


def read(tmp_path: Path, text: str | bytes) -> list[Points]:
    path = tmp_path / "points.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_points(path)


def refused(tmp_path: Path, text: str | bytes) -> str:
    with pytest.raises(CalibrationError) as refusal:
        read(tmp_path, text)
    words = str(refusal.value)
    assert "\n" not in words and words.startswith(f"{tmp_path / 'points.csv'}, line ")
    return words.removeprefix(f"{tmp_path / 'points.csv'}, ")


def test_loads_and_counts(tmp_path: Path) -> None:
    (points,) = read(tmp_path, "load_N,counts,note\n0,8123,nothing on\n98.1,86603,\n196.2,165083,\n")
    assert (points.x_name, points.y_name, points.channel) == ("load_N", "counts", None)
    assert points.x.tolist() == [0.0, 98.1, 196.2]
    assert points.y.tolist() == [8123.0, 86603.0, 165083.0]
    assert points.line.tolist() == [2, 3, 4]
    assert (points.run, points.going, points.place_mm) == (None, None, None)


def test_columns_stand_in_any_order(tmp_path: Path) -> None:
    (points,) = read(tmp_path, "y,run,x\n2,1,10\n4,1,20\n")
    assert (points.x.tolist(), points.y.tolist()) == ([10.0, 20.0], [2.0, 4.0])


def test_loads_come_before_x_and_y(tmp_path: Path) -> None:
    (points,) = read(tmp_path, "x,y,mass_kg,counts\n1,2,3,4\n5,6,7,8\n")
    assert (points.x_name, points.x.tolist(), points.y.tolist()) == ("mass_kg", [3.0, 7.0], [4.0, 8.0])


def test_what_is_known_beside_them(tmp_path: Path) -> None:
    text = "mass_kg,counts,run,direction,x_mm,y_mm\n0,1,1,up,0,0\n5,2,1,Up,,\n5,3,1,down,-100,150\n5,4,2,,0,0\n"
    (points,) = read(tmp_path, text)
    assert points.run is not None and points.run.tolist() == [1, 1, 1, 2]
    assert points.going is not None and points.going.tolist() == [1, 1, -1, 0]
    assert points.place_mm is not None and points.place_mm[2].tolist() == [-100.0, 150.0]
    assert points.in_middle.tolist() == [True, True, False, True]


def test_each_channel_has_its_points(tmp_path: Path) -> None:
    first, second = read(tmp_path, "load_N,counts,channel\n0,1,2\n0,5,0\n10,2,2\n10,7,0\n")
    assert (first.channel, second.channel) == (0, 2)
    assert (first.y.tolist(), second.y.tolist()) == ([5.0, 7.0], [1.0, 2.0])
    assert (first.line.tolist(), second.line.tolist()) == ([3, 5], [2, 4])


def test_carriage_returns_marks_and_quotes_are_no_matter(tmp_path: Path) -> None:
    (points,) = read(tmp_path, b'\xef\xbb\xbf"load_N",counts\r\n"0", 1\r\n10,2e3\r\n\r\n')
    assert points.y.tolist() == [1.0, 2000.0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "line 1, column load_N: the file is empty"),
        ("counts\n1\n", "line 1, column load_N or mass_kg: is missing"),
        ("load_N,count\n1,2\n", "line 1, column counts: is missing"),
        ("x,z\n1,2\n", "line 1, column y: is missing"),
        ("y,z\n1,2\n", "line 1, column x: is missing"),
        ("load_N,counts,load_N\n1,2,3\n", "line 1, column load_N: stands more than once"),
        ("load_N,mass_kg,counts\n1,2,3\n", "line 1, column mass_kg: the load is told twice"),
        ("load_N,counts,x_mm\n1,2,3\n", "line 1, column y_mm: is missing"),
        ("load_N;counts\n0;1\n", "line 1, column load_N: fields are parted by semicolons; points need commas"),
        ("load_N\tcounts\n0\t1\n", "line 1, column load_N: fields are parted by tabs"),
        ("load_N,counts\n", "line 2, column load_N: there are no points"),
        ("load_N,counts\n0,1\n10\n", "line 3, column counts: 1 fields where the header has 2"),
        ("load_N,counts\n0,1\n10,2,3\n", "line 3, column counts: 3 fields where the header has 2"),
        ("load_N,counts\n0,1\n\n10,2\n", "line 3, column load_N: 0 fields where the header has 2"),
        ("load_N,counts\n0,1\nten,2\n", "line 3, column load_N: 'ten' is not a number"),
        ("load_N,counts\n0,1\n10,inf\n", "line 3, column counts: inf is no measurement"),
        ("load_N,counts\n0,1\n10,1e30\n", "line 3, column counts: 1e+30 is no measurement"),
        ("load_N,counts\n0,1\n10,\n", "line 3, column counts: is empty"),
        ("load_N,counts,x_mm,y_mm\n0,1,0,0\n10,2,inf,0\n", "line 3, column x_mm: inf is no measurement"),
        ("load_N,counts,direction\n0,1,up\n10,2,on\n", "line 3, column direction: 'on' is neither up nor down"),
        ("load_N,counts,channel\n0,1,0\n10,2,1.5\n", "line 3, column channel: 1.5 is no whole number"),
        ("load_N,counts,channel\n0,1,0\n10,2,16\n", "line 3, column channel: 16 is no channel: they are 0 to 15"),
        ("load_N,counts,run\n0,1,1\n10,2,1.2\n", "line 3, column run: 1.2 is no whole number"),
        ("mass_kg,counts\n0,1\n-5,2\n", "line 3, column mass_kg: a mass of -5 kg is under 0"),
        (b"load_N,counts\n0,1\n\xb5,2\n", "line 3, column load_N: is not UTF-8 text"),
        ("load_N,counts\n0,1\n".encode("utf-16"), "line 1, column 1: is not UTF-8 text"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(tmp_path: Path, text: str | bytes, words: str) -> None:
    assert refused(tmp_path, text).startswith(words)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("mass_kg,counts\n0,8\n10000,8e4\n", "column mass_kg: 10000 kg is beyond 2,039 kg: were they grams?"),
        ("load_N,counts\n0,8\n60000,8e5\n", "column load_N: 60000 N is beyond 20,000 N: were they grams?"),
        ("load_N,counts\n8000,0\n480000,588\n", "column load_N: 480000 N is beyond 20,000 N: are load_N and counts"),
        ("load_N,counts\n0,8000\n6e9,8e5\n", "column load_N: 6e+09 N is beyond 20,000 N: what is its unit?"),
    ],
)  # fmt: skip
def test_a_load_that_nobody_puts_on_a_scale_is_refused_with_a_hint(tmp_path: Path, text: str, words: str) -> None:
    assert refused(tmp_path, text).startswith(f"line 3, {words}")


def test_x_and_y_may_be_anything(tmp_path: Path) -> None:
    (points,) = read(tmp_path, "x,y\n-150000,1e-9\n3000000,2.1\n")
    assert points.x.tolist() == [-150000.0, 3000000.0]


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(CalibrationError, match=r"nowhere\.csv: cannot be read: No such file"):
        read_points(tmp_path / "nowhere.csv")
    with pytest.raises(CalibrationError, match="cannot be read: Is a directory"):
        read_points(tmp_path)


def test_points_off_the_middle_are_not_fitted(tmp_path: Path) -> None:
    points = make_points(tmp_path / "points.csv", Plate(corners=(0.001, -0.002, 0.0, 0.02)))
    assert (points.x.size, int(points.in_middle.sum()), points.fit(1).n) == (30, 26, 26)


def test_a_channel_has_its_plate(tmp_path: Path) -> None:
    text = "load_N,counts,channel,side\n0,1,0,Left\n5,2,0,\n0,1,1,right\n0,1,2,\n"
    assert [points.side for points in read(tmp_path, text)] == [Side.LEFT, Side.RIGHT, None]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("load_N,counts,side\n0,1,l\n", "line 2, column side: 'l' is neither left nor right"),
        ("load_N,counts,side\n0,1,left\n0,1,\n5,2,right\n", "line 4, column side: another plate than in the lines"),
    ],
)
def test_a_plate_that_cannot_be_is_refused(tmp_path: Path, text: str, words: str) -> None:
    assert refused(tmp_path, text).startswith(words)
