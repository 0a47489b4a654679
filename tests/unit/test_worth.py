"""What a calibration file says that its forces are worth: kept whole, refused by the key, passed over where new."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from weightshare.errors import CalibrationError
from weightshare.metrology.build import standard_side, standard_worth, worth_of
from weightshare.model import Calibration, Channel, ChannelCalibration, Quantity, Side, SideWorth, Worth
from weightshare.records.calibration import (
    calibration_to_json,
    parse_calibration,
    read_calibration,
    write_calibration,
)

WORTH = Worth(
    (
        SideWorth(Side.LEFT, 1.5e-4, 0.08, 0.17, 100.0, 0.05, 1e-4, 2e-4, 0.1),
        SideWorth(Side.RIGHT, 1.2e-4, 0.09, 0.16, 80.0),
    ),
    3e-5,
    ("corner_part",),
)
CALIBRATION = Calibration(
    "0011223344556677", date(2026, 11, 2), (ChannelCalibration(0, 0.0, 0.001), ChannelCalibration(1, 0.0, 0.001))
)
CHANNELS = tuple(Channel(Quantity.FORCE, side) for side in Side)


def told(u_left_N: float | None, u_right_N: float | None) -> Calibration:
    channels = [ChannelCalibration(index, 0.0, 0.001, 0.0, u_N) for index, u_N in enumerate((u_left_N, u_right_N))]
    return replace(CALIBRATION, channels=tuple(channels))


def with_worth(**changes: object) -> Any:
    """The file of a worth, with keys changed; `side_x` changes the first side; ... takes a key away."""
    value: Any = json.loads(json.dumps(calibration_to_json(replace(CALIBRATION, worth=WORTH))))
    for key, new in changes.items():
        place = value["worth"]["sides"][0] if key.startswith("side_") else value["worth"]
        name = key.removeprefix("side_")
        if new is ...:
            del place[name]
        else:
            place[name] = new
    return value


def test_a_worth_is_kept_whole(tmp_path: Path) -> None:
    path = tmp_path / "scale.json"
    write_calibration(path, replace(CALIBRATION, worth=WORTH))
    assert read_calibration(path).worth == WORTH


def test_without_one_there_is_none_and_no_key() -> None:
    value = calibration_to_json(CALIBRATION)
    assert "worth" not in value
    assert parse_calibration(value, "scale.json").worth is None


def test_what_is_not_known_is_passed_over_and_what_may_be_left_out_is_none() -> None:
    value = with_worth(made_by="somebody", side_colour="blue", assumed=..., common_part=..., side_creep_part=...)
    worth = parse_calibration(value, "scale.json").worth
    assert worth == Worth((replace(WORTH.sides[0], creep_part=0.0), WORTH.sides[1]))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"side_gain_part": -1e-4}, "worth.sides[0].gain_part is -0.0001"),
        ({"side_gain_part": 1.5}, "worth.sides[0].gain_part is 1.5"),
        ({"side_noise_N": "much"}, "worth.sides[0].noise_N is no finite number"),
        ({"side_noise_rate_Hz": 0.0}, "worth.sides[0].noise_rate_Hz is 0"),
        ({"side_repeatability_N": ...}, "worth.sides[0].repeatability_N is missing"),
        ({"side_side": "middle"}, "worth.sides[0].side is neither"),
        ({"side_side": "right"}, "worth.sides names a side twice"),
        ({"sides": {}}, "worth.sides is not a list"),
        ({"sides": [3]}, "worth.sides[0] is not a JSON object"),
        ({"common_part": True}, "worth.common_part is no finite number"),
        ({"assumed": "all"}, "worth.assumed is not a list"),
    ],
)
def test_a_refusal_names_the_key(changes: dict[str, object], said: str) -> None:
    with pytest.raises(CalibrationError, match=r"scale\.json: ") as error:
        parse_calibration(with_worth(**changes), "scale.json")
    assert said in str(error.value)


def test_a_calibration_that_ends_before_it_begins_is_refused() -> None:
    value = calibration_to_json(replace(CALIBRATION, valid_until=date(2026, 11, 1)))
    with pytest.raises(CalibrationError, match="valid_until is 2026-11-01, before made_on"):
        parse_calibration(value, "scale.json")


def test_a_measured_worth_is_taken_as_it_is() -> None:
    assert worth_of(replace(CALIBRATION, worth=WORTH), CHANNELS) is WORTH


def test_a_channels_uncertainty_stands_for_the_calibration_and_the_rest_is_assumed() -> None:
    worth = worth_of(told(0.5, 0.7), CHANNELS)
    assert [(one.gain_part, one.repeatability_N, one.hysteresis_N) for one in worth.sides] == [(0, 0.5, 0), (0, 0.7, 0)]
    assert worth.sides[0].noise_N == standard_side(Side.LEFT).noise_N
    assert set(worth.assumed) == {"common_part", "noise_N", "creep_part", "corner_part", "zero_drift_N"}


def test_not_knowing_which_channel_is_where_never_makes_it_less() -> None:
    known, unknown = worth_of(told(0.5, 0.7), CHANNELS), worth_of(told(0.5, 0.7))
    for ours, theirs in zip(unknown.sides, known.sides, strict=True):
        assert ours.repeatability_N > theirs.repeatability_N


@pytest.mark.parametrize("calibration", [told(None, None), told(0.5, None)])
def test_where_a_channel_says_nothing_all_is_assumed(calibration: Calibration) -> None:
    worth = worth_of(calibration, CHANNELS)
    assert set(worth.assumed) == set(standard_worth().assumed)
    assert worth.sides[1] == standard_side(Side.RIGHT)
