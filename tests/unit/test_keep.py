"""A calibration file takes the place of an older one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from weightshare.errors import CalibrationError
from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.bench import history
from weightshare.records.calibration import read_calibration
from weightshare.records.keep import replace_calibration
from weightshare.records.place import calibration_folder

OLDER = Calibration("0011223344556677", date(2025, 11, 2), (ChannelCalibration(0, 8123.0, 0.00125),), date(2026, 11, 2))
NEWER = replace(OLDER, made_on=date(2026, 11, 20), valid_until=None, channels=(ChannelCalibration(0, 8200.0, 0.00126),))


def test_the_first_one_is_written(tmp_path: Path) -> None:
    path = tmp_path / "new" / "scale.json"
    assert replace_calibration(path, OLDER) is None
    assert read_calibration(path) == OLDER


def test_the_one_before_is_kept_beside_it_under_its_date(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    replace_calibration(path, OLDER)
    before = path.read_bytes()
    kept = replace_calibration(path, NEWER)
    assert kept == tmp_path / "scale-2025-11-02.json"
    assert kept.read_bytes() == before
    assert read_calibration(path) == NEWER


def test_what_is_kept_is_never_replaced(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    kept = [replace_calibration(path, OLDER) for _ in range(4)]
    names = [place.name for place in kept if place is not None]
    assert names == ["scale-2025-11-02.json", "scale-2025-11-02-2.json", "scale-2025-11-02-3.json"]


def test_another_scales_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    replace_calibration(path, OLDER)
    with pytest.raises(CalibrationError, match="belongs to the scale 0011223344556677, not 00ff223344556677"):
        replace_calibration(path, replace(NEWER, device_id="00ff223344556677"))
    assert read_calibration(path) == OLDER
    assert [place.name for place in tmp_path.iterdir()] == ["scale.json"]


def test_a_file_that_is_no_calibration_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "diary.txt"
    path.write_text("a walk")
    with pytest.raises(CalibrationError, match="it is left as it is: choose another name"):
        replace_calibration(path, NEWER)
    assert path.read_text() == "a walk"
    with pytest.raises(CalibrationError, match="cannot be read"):
        replace_calibration(tmp_path, NEWER)


def test_what_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    wrong = replace(NEWER, channels=(ChannelCalibration(0, 1.0, 0.0),))
    with pytest.raises(CalibrationError, match="newton_per_count is 0"):
        replace_calibration(path, wrong)
    assert not path.exists()


def test_in_the_users_own_place_the_one_before_goes_to_the_history() -> None:
    device_id = "00aa223344556677"
    path = calibration_folder() / f"{device_id}.json"
    first = replace(OLDER, device_id=device_id)
    assert replace_calibration(path, first) is None
    kept = replace_calibration(path, replace(NEWER, device_id=device_id))
    assert kept is not None and kept.parent == calibration_folder() / "history" / device_id
    assert read_calibration(kept) == first
    assert [one.calibration.made_on for one in history(device_id).kept] == [first.made_on, NEWER.made_on]


def test_a_digit_changed_by_hand_is_told(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    replace_calibration(path, OLDER)
    path.write_text(path.read_text().replace("0.00125", "0.00135"))
    with pytest.raises(CalibrationError, match="altered"):
        read_calibration(path)
    with pytest.raises(CalibrationError, match="it is left as it is"):
        replace_calibration(path, NEWER)
