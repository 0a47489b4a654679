"""A calibration with all that it rests on: kept, read back, never lost, and refused where it was altered."""

from __future__ import annotations

import json
import math
import os
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.unit.benches import Plate, make_record
from weightshare.errors import CalibrationError
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Found
from weightshare.metrology.reading import BenchRecord, Mass
from weightshare.model import Calibration
from weightshare.records.bench import history, keep_calibration, known_scales, read_kept
from weightshare.records.calibration import choose_calibration, read_calibration, write_calibration
from weightshare.records.keep import replace_calibration
from weightshare.records.plain import from_plain, to_plain

AT = datetime(2026, 11, 2, 10, 15, tzinfo=UTC)
ID = "0011223344556677"
DAY = AT.date()


@pytest.fixture(scope="module")
def record() -> BenchRecord:
    return make_record(Plate(curve=1e-6, scatter_N=tuple(0.03 * math.sin(7.0 * i) for i in range(60))))


@pytest.fixture(scope="module")
def found(record: BenchRecord) -> Found:
    return evaluate(record)


def of(found: Found, day: date = DAY, factor: float = 1.0) -> Calibration:
    channels = tuple(replace(one, newton_per_count=one.newton_per_count * factor) for one in found.channels)
    return Calibration(ID, day, channels, day + timedelta(days=365), 9.81, found.worth)


def test_everything_comes_back(tmp_path: Path, record: BenchRecord, found: Found) -> None:
    path, before = keep_calibration(of(found), record, found, "the clinic", tmp_path, at=AT)
    assert (path, before) == (tmp_path / f"{ID}.json", None)
    kept = read_kept(path)
    assert kept.calibration == of(found) == read_calibration(path)
    assert (kept.record, kept.found, kept.made_by, kept.made_at) == (record, found, "the clinic", AT)
    assert kept.made_with.startswith("weightshare ")
    assert choose_calibration(ID, folder=tmp_path) == of(found)


def test_what_json_cannot_hold_comes_back(found: Found) -> None:
    figure = replace(found.figures[0], estimate=replace(found.figures[0].estimate, dof=math.inf), low=math.nan)
    plain = json.loads(json.dumps(to_plain(figure), allow_nan=False))
    again = from_plain(type(figure), plain, "here")
    assert math.isinf(again.estimate.dof)
    assert math.isnan(again.low)


def test_the_one_before_is_kept_byte_for_byte(tmp_path: Path, record: BenchRecord, found: Found) -> None:
    path, _ = keep_calibration(of(found), record, found, "", tmp_path, at=AT)
    old = path.read_bytes()
    _, before = keep_calibration(of(found), record, found, "", tmp_path, at=AT + timedelta(days=30))
    assert before == tmp_path / "history" / ID / "2026-11-02T10-15-00.json"
    assert before.read_bytes() == old


def test_the_same_second_never_replaces(tmp_path: Path, found: Found) -> None:
    for number in range(4):
        keep_calibration(of(found, factor=1.0 + number / 1000), None, None, "", tmp_path, at=AT)
    names = sorted(path.name for path in (tmp_path / "history" / ID).iterdir())
    assert names == ["2026-11-02T10-15-00-2.json", "2026-11-02T10-15-00-3.json", "2026-11-02T10-15-00.json"]
    slopes = {one.calibration.channels[0].newton_per_count for one in history(ID, tmp_path).kept}
    assert len(slopes) == 4


def test_a_try_cut_short_leaves_no_second_copy(tmp_path: Path, found: Found) -> None:
    path, _ = keep_calibration(of(found), None, None, "", tmp_path, at=AT)
    folder = tmp_path / "history" / ID
    folder.mkdir(parents=True)
    (folder / "2026-11-02T10-15-00.json").write_bytes(path.read_bytes())
    keep_calibration(of(found), None, None, "", tmp_path, at=AT + timedelta(days=1))
    assert len(list(folder.iterdir())) == 1


def test_a_damaged_one_before_is_kept_too_and_told(tmp_path: Path, found: Found) -> None:
    path = tmp_path / f"{ID}.json"
    path.write_text("{ half a file")
    os.utime(path, (AT.timestamp(), AT.timestamp()))
    _, before = keep_calibration(of(found), None, None, "", tmp_path, at=AT + timedelta(days=1))
    assert before is not None
    assert before.name == "2026-11-02T10-15-00.json"
    told = history(ID, tmp_path)
    assert len(told.kept) == 1
    assert len(told.passed_over) == 1
    assert told.passed_over[0].startswith(f"{before}: this is no JSON file")


def test_history_is_by_date_and_of_one_scale(tmp_path: Path, found: Found) -> None:
    for days in (400, 0, 200):
        day = AT + timedelta(days=days)
        keep_calibration(of(found, day.date()), None, None, "", tmp_path, at=day)
    write_calibration(tmp_path / "history" / ID / "2026-01-01T00-00-00.json", replace(of(found), device_id="0" * 16))
    told = history(ID, tmp_path)
    assert [one.calibration.made_on for one in told.kept] == [
        (AT + timedelta(days=days)).date() for days in (0, 200, 400)
    ]
    assert [words.partition(": ")[2] for words in told.passed_over] == [f"is of the scale {'0' * 16}, not {ID}"]
    assert known_scales(tmp_path) == (ID,)


def test_one_that_gave_up_its_place_beside_is_in_the_history(tmp_path: Path, found: Found) -> None:
    for years in (0, 1):
        replace_calibration(tmp_path / f"{ID}.json", of(found, DAY.replace(year=2026 + years)))
    assert [one.calibration.made_on.year for one in history(ID, tmp_path).kept] == [2026, 2027]
    assert known_scales(tmp_path) == (ID,)


def test_nothing_is_there(tmp_path: Path) -> None:
    assert history(ID, tmp_path).kept == ()
    assert known_scales(tmp_path / "none") == ()


@pytest.mark.parametrize(
    ("old", "new"),
    [('"made_on": "2026-11-02"', '"made_on": "2026-11-03"'), ('"made_by": "me"', '"made_by": "you"'), ("0.00", "0.01")],
)
def test_an_altered_file_is_refused(tmp_path: Path, record: BenchRecord, found: Found, old: str, new: str) -> None:
    path, _ = keep_calibration(of(found), record, found, "me", tmp_path, at=AT)
    path.write_text(path.read_text().replace(old, new, 1))
    with pytest.raises(CalibrationError, match=f"{ID}.json: checksum does not fit the rest: the file was altered"):
        read_calibration(path)
    with pytest.raises(CalibrationError, match="altered"):
        choose_calibration(ID, folder=tmp_path)


def test_laid_out_anew_is_not_altered(tmp_path: Path, record: BenchRecord, found: Found) -> None:
    path, _ = keep_calibration(of(found), record, found, "me", tmp_path, at=AT)
    path.write_text(json.dumps(json.loads(path.read_text()), sort_keys=True, indent=4))
    assert read_kept(path).found == found


def test_one_written_by_hand_is_taken(tmp_path: Path, found: Found) -> None:
    write_calibration(tmp_path / f"{ID}.json", of(found))
    kept = read_kept(tmp_path / f"{ID}.json")
    assert (kept.calibration, kept.record, kept.found, kept.made_at) == (of(found), None, None, None)


def test_a_record_of_another_scale_writes_nothing(tmp_path: Path, record: BenchRecord, found: Found) -> None:
    with pytest.raises(CalibrationError, match="nothing was written"):
        keep_calibration(of(found), replace(record, device_id="f" * 16), found, "", tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_slope_of_nothing_writes_nothing(tmp_path: Path, record: BenchRecord, found: Found) -> None:
    with pytest.raises(CalibrationError, match="newton_per_count"):
        keep_calibration(of(found, factor=0.0), record, found, "", tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("value", ["1e999", "9" * 400, "true", '"3"', "[]", "1.5", "null", "NaN"])
def test_a_number_that_is_none_is_refused(tmp_path: Path, record: BenchRecord, found: Found, value: str) -> None:
    path, _ = keep_calibration(of(found), record, found, "me", tmp_path, at=AT)
    values = json.loads(path.read_text())
    del values["checksum"]
    text = json.dumps(values).replace('"samples": 100', f'"samples": {value}', 1)
    path.write_text(text)
    with pytest.raises(CalibrationError, match=r"bench\.windows\[0\]\.samples is no whole number"):
        read_kept(path)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ([], "here is not a JSON object"),
        ({"name": "a", "kg": 1.0}, "here.u_kg is missing"),
        ({"name": "a", "kg": "x", "u_kg": 0.1}, "here.kg is no number"),
        ({"name": 3, "kg": 1.0, "u_kg": 0.1}, "here.name is no text"),
    ],
)
def test_a_wrong_key_is_named(value: object, words: str) -> None:
    with pytest.raises(CalibrationError, match=words.replace(".", r"\.")):
        from_plain(Mass, value, "here")
