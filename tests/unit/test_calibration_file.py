"""Calibration files: read, refused in words, written and found."""

from __future__ import annotations

import copy
import json
import stat
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from weightshare.errors import CalibrationError
from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.calibration import (
    calibration_to_json,
    choose_calibration,
    parse_calibration,
    read_calibration,
    write_calibration,
)
from weightshare.records.place import calibration_folder
from weightshare.scales.rig.cell import PAIR_ID, rig_calibration

GIVEN: dict[str, Any] = {
    "schema": "weightshare.calibration/1",
    "device_id": "0011223344556677",
    "made_on": "2026-11-02",
    "gravity_m_s2": 9.80665,
    "valid_until": "2027-11-02",
    "channels": [
        {
            "index": 0,
            "zero_counts": 8123.0,
            "newton_per_count": 0.00125,
            "newton_per_count2": 0.0,
            "standard_uncertainty_N": 2.0,
            "range_N": 2000.0,
        }
    ],
}
MEANT = Calibration(
    device_id="0011223344556677",
    made_on=date(2026, 11, 2),
    channels=(ChannelCalibration(0, 8123.0, 0.00125, 0.0, 2.0, 2000.0),),
    valid_until=date(2027, 11, 2),
    gravity_m_s2=9.80665,
)


def changed(**changes: object) -> dict[str, Any]:
    """The given file with keys changed; `channel_x` changes the first channel; ... takes a key away."""
    value = copy.deepcopy(GIVEN)
    for key, new in changes.items():
        place = value["channels"][0] if key.startswith("channel_") else value
        name = key.removeprefix("channel_")
        if new is ...:
            del place[name]
        else:
            place[name] = new
    return value


def test_the_documented_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "c.json"
    path.write_text(json.dumps(GIVEN))
    assert read_calibration(path) == MEANT


def test_keys_that_are_not_known_are_passed_over() -> None:
    assert parse_calibration(changed(points=[1, 2], channel_fit="quadratic"), "c") == MEANT


def test_optional_keys_may_be_left_out() -> None:
    sparse = changed(
        gravity_m_s2=..., valid_until=..., channel_newton_per_count2=..., channel_standard_uncertainty_N=...,
        channel_range_N=...,
    )  # fmt: skip
    assert parse_calibration(sparse, "c") == Calibration(
        "0011223344556677", date(2026, 11, 2), (ChannelCalibration(0, 8123.0, 0.00125),)
    )


def test_a_device_id_in_capitals_is_the_same_scale() -> None:
    assert parse_calibration(changed(device_id="00AABBCCDDEEFF77"), "c").device_id == "00aabbccddeeff77"


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"schema": "weightshare.calibration/2"}, "schema"),
        ({"schema": ...}, "schema"),
        ({"device_id": "001122334455667"}, "device_id"),
        ({"device_id": 11}, "device_id"),
        ({"made_on": "yesterday"}, "made_on"),
        ({"made_on": ...}, "made_on"),
        ({"valid_until": 3}, "valid_until"),
        ({"gravity_m_s2": 1.62}, "gravity_m_s2"),
        ({"channels": []}, "channels"),
        ({"channels": "left"}, "channels"),
        ({"channels": [3]}, "channels[0]"),
        ({"channels": [GIVEN["channels"][0], GIVEN["channels"][0]]}, "channels"),
        ({"channel_index": 16}, "channels[0].index"),
        ({"channel_index": 0.5}, "channels[0].index"),
        ({"channel_index": True}, "channels[0].index"),
        ({"channel_zero_counts": ...}, "channels[0].zero_counts"),
        ({"channel_zero_counts": float("nan")}, "channels[0].zero_counts"),
        ({"channel_newton_per_count": 0}, "channels[0].newton_per_count"),
        ({"channel_newton_per_count": "0.1"}, "channels[0].newton_per_count"),
        ({"channel_newton_per_count": 10**400}, "channels[0].newton_per_count"),
        ({"channel_standard_uncertainty_N": -1}, "channels[0].standard_uncertainty_N"),
        ({"channel_range_N": 0}, "channels[0].range_N"),
    ],
)
def test_what_does_not_fit_is_refused_with_the_key(changes: dict[str, object], key: str) -> None:
    with pytest.raises(CalibrationError) as refusal:
        parse_calibration(changed(**changes), "c.json")
    assert str(refusal.value).startswith(f"c.json: {key} ")


@pytest.mark.parametrize("content", [b"", b"{", b"\xff\xfe", b"[" * 100_000, b"[]", b"3"])
def test_a_file_that_is_no_json_object_is_refused_by_name(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "c.json"
    path.write_bytes(content)
    with pytest.raises(CalibrationError) as refusal:
        read_calibration(path)
    assert str(refusal.value).startswith(f"{path}: ")
    assert "JSON" in str(refusal.value)


def test_absent_files_and_folders_are_refused(tmp_path: Path) -> None:
    with pytest.raises(CalibrationError, match="there is no such file"):
        read_calibration(tmp_path / "none.json")
    with pytest.raises(CalibrationError, match="cannot be read"):
        read_calibration(tmp_path)


def test_what_is_written_is_read_again_and_is_private(tmp_path: Path) -> None:
    path = tmp_path / "c.json"
    write_calibration(path, MEANT)
    assert read_calibration(path) == MEANT
    assert calibration_to_json(MEANT) == GIVEN
    assert [entry.name for entry in tmp_path.iterdir()] == ["c.json"]
    if sys.platform != "win32":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_calibration_is_found_by_its_scale(tmp_path: Path) -> None:
    own = Calibration("00000000000000aa", date(2026, 1, 1), (ChannelCalibration(0, 0.0, 2.0),))
    write_calibration(tmp_path / "00000000000000aa.json", own)
    assert choose_calibration("0011223344556677", [MEANT], tmp_path) == MEANT
    assert choose_calibration("00000000000000aa", [MEANT], tmp_path) == own
    assert choose_calibration("00000000000000bb", [MEANT, own], tmp_path) is None
    assert choose_calibration(PAIR_ID, [MEANT], tmp_path / "absent") == rig_calibration()


def test_the_users_own_calibration_goes_before_the_virtual_scales(tmp_path: Path) -> None:
    own = Calibration(PAIR_ID, date(2026, 1, 1), (ChannelCalibration(0, 0.0, 2.0),))
    write_calibration(calibration_folder() / f"{PAIR_ID}.json", own)
    try:
        assert choose_calibration(PAIR_ID) == own
    finally:
        (calibration_folder() / f"{PAIR_ID}.json").unlink()
    assert choose_calibration(PAIR_ID) == rig_calibration()


def test_a_calibration_filed_under_another_scale_is_refused(tmp_path: Path) -> None:
    write_calibration(tmp_path / "00000000000000aa.json", MEANT)
    with pytest.raises(CalibrationError, match="is for the scale 0011223344556677, not 00000000000000aa"):
        choose_calibration("00000000000000aa", [], tmp_path)
