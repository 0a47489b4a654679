"""From counts to newtons: which calibration, which channels, what sums to what."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from tests.unit.counts import DEVICE, FOUR, TWO, make_calibration, make_chunk, make_identity, make_timed
from weightshare.errors import CalibrationError, ProtocolError
from weightshare.model import STANDARD_GRAVITY, Calibration, Channel, ChannelCalibration, Quantity, Side
from weightshare.pipeline import Pipeline
from weightshare.pipeline.block import OVERLOAD
from weightshare.pipeline.calibrate import Calibrator, find_calibration
from weightshare.task import Settings


def calibrated(*channels: ChannelCalibration) -> Calibration:
    return Calibration(DEVICE, date(2026, 11, 2), channels)


def test_force_has_a_linear_and_a_quadratic_term() -> None:
    """0.00125 (c - 8123) + 2e-10 (c - 8123)^2, by hand for c = 408123: 500 + 32."""
    calibration = calibrated(ChannelCalibration(0, 8123.0, 0.00125, 2e-10), ChannelCalibration(1, -500.0, 0.002))
    block = Calibrator(make_identity(), calibration).push(
        make_timed([[408123.0, 8123.0, -391877.0], [0.0, -500.0, 499500.0]])
    )
    np.testing.assert_allclose(block.values[0], [532.0, 0.0, -468.0], rtol=1e-12)
    np.testing.assert_allclose(block.values[1], [1.0, 0.0, 1000.0], rtol=1e-12)
    assert block.columns == ("left_N", "right_N")


def test_channels_are_found_by_their_index_in_any_order() -> None:
    calibration = make_calibration()
    turned = replace(calibration, channels=calibration.channels[::-1])
    readings = make_timed([[2000.0], [3100.0]])
    for each in (calibration, turned):
        np.testing.assert_allclose(Calibrator(make_identity(), each).push(readings).values[:, 0], [10.0, 20.0])


def test_the_calibration_is_that_of_the_device() -> None:
    other = replace(make_calibration(), device_id="ffffffffffffffff")
    assert find_calibration(make_identity(), [other, make_calibration()]) == make_calibration()


def test_without_a_calibration_a_scale_is_refused_with_the_command_that_makes_one() -> None:
    with pytest.raises(CalibrationError, match=f"{DEVICE}.*no calibration.*weightshare calibrate run"):
        find_calibration(make_identity(), [])


def test_the_calibration_of_another_device_is_refused_by_name() -> None:
    other = replace(make_calibration(), device_id="ffffffffffffffff")
    with pytest.raises(CalibrationError, match=f"{DEVICE}.*that of ffffffffffffffff"):
        find_calibration(make_identity(), [other])
    with pytest.raises(CalibrationError, match="ffffffffffffffff"):
        Pipeline(Settings(Side.LEFT), [other]).push(make_identity())


def test_a_calibration_that_leaves_a_channel_out_is_refused() -> None:
    with pytest.raises(CalibrationError, match="leaves out force channel 3"):
        find_calibration(make_identity(FOUR), [make_calibration(3)])


def test_only_force_channels_need_a_calibration() -> None:
    channels = (*TWO, Channel(Quantity.HEEL_HEIGHT, Side.LEFT), Channel(Quantity.TEMPERATURE, None))
    assert find_calibration(make_identity(channels), [make_calibration(2)]) == make_calibration(2)


@pytest.mark.parametrize("side", [Side.LEFT, Side.RIGHT])
def test_a_scale_without_a_force_under_each_foot_is_refused(side: Side) -> None:
    channels = (Channel(Quantity.FORCE, side), Channel(Quantity.FORCE, None))
    with pytest.raises(ProtocolError, match=f"no force channel for the {side.other} foot"):
        Calibrator(make_identity(channels), make_calibration())


def test_parts_are_told_apart_by_their_place() -> None:
    """y runs forward; the order of the channels does not matter."""
    channels = (FOUR[3], FOUR[0], FOUR[1], FOUR[2])
    block = Calibrator(make_identity(channels), make_calibration(4)).push(
        make_timed([[11000.0], [21100.0], [31200.0], [41300.0]])
    )
    found = dict(zip(block.columns, block.values[:, 0], strict=True))
    assert found == pytest.approx(
        {
            "left_N": 500.0,
            "right_N": 500.0,
            "left_front_N": 200.0,
            "left_rear_N": 300.0,
            "right_front_N": 400.0,
            "right_rear_N": 100.0,
        }
    )


def test_several_cells_make_one_part() -> None:
    channels = (*FOUR, Channel(Quantity.FORCE, Side.LEFT, 60, 120))
    block = Calibrator(make_identity(channels), make_calibration(5)).push(make_timed([[2000.0]] * 5))
    found = dict(zip(block.columns, block.values[:, 0], strict=True))
    assert found["left_front_N"] == pytest.approx(10.0 + 6.0)
    assert found["left_N"] == pytest.approx(found["left_front_N"] + found["left_rear_N"])


@pytest.mark.parametrize("channels", [TWO, (*FOUR, Channel(Quantity.FORCE, Side.LEFT, 0, 0)), FOUR[:3]])
def test_where_front_and_rear_cannot_be_told_apart_there_are_sides_alone(channels: tuple[Channel, ...]) -> None:
    block = Calibrator(make_identity(channels), make_calibration(5)).push(make_timed([[2000.0]] * len(channels)))
    assert block.columns == ("left_N", "right_N")


def test_heel_heights_come_in_micrometres() -> None:
    heights = (Channel(Quantity.HEEL_HEIGHT, Side.RIGHT), Channel(Quantity.HEEL_HEIGHT, Side.LEFT))
    block = Calibrator(make_identity((*TWO, *heights)), make_calibration()).push(
        make_timed([[1000.0, 1000.0], [1100.0, 1100.0], [81500.0, np.nan], [0.0, -250.0]])
    )
    assert block.columns == ("left_N", "right_N", "left_heel_height_mm", "right_heel_height_mm")
    np.testing.assert_allclose(block.values[2], [0.0, -0.25])
    np.testing.assert_allclose(block.values[3], [81.5, np.nan])


def test_a_missing_reading_is_missing_in_its_side_alone() -> None:
    block = Calibrator(make_identity(), make_calibration()).push(make_timed([[2000.0, np.nan], [np.nan, 2100.0]]))
    np.testing.assert_allclose(block.values, [[10.0, np.nan], [np.nan, 10.0]])
    assert not block.flags.any()


@pytest.mark.parametrize(
    ("counts", "over"), [(101_000.0, False), (101_001.0, True), (-99_000.0, False), (-99_001.0, True)]
)
def test_a_force_beyond_its_range_is_an_overload_and_no_reading(counts: float, over: bool) -> None:
    calibrator = Calibrator(make_identity(), make_calibration(range_N=1000.0))
    block = calibrator.push(make_timed([[counts, 1000.0], [1100.0, 1100.0]]))
    assert bool(np.isnan(block.values[0, 0])) is over
    assert [bool(flag & OVERLOAD) for flag in block.flags] == [over, False]
    assert block.values[1, 0] == 0.0


def test_without_a_range_nothing_is_too_much() -> None:
    block = Calibrator(make_identity(), make_calibration()).push(make_timed([[8_388_607.0], [1100.0]]))
    assert not block.flags.any()


def test_20_kg_left_and_60_kg_right_as_counts_are_a_right_share_of_75() -> None:
    """Each side of two cells, each cell with its own zero and slope; the load lies unevenly on them."""
    slopes = (0.00125, 0.0013, 0.0012, 0.00118)
    calibration = calibrated(*(ChannelCalibration(i, 5000.0 - 700 * i, slope) for i, slope in enumerate(slopes)))
    loads_kg = (5.0, 15.0, 33.0, 27.0)
    counts = [
        round(5000 - 700 * i + kg * STANDARD_GRAVITY / slope)
        for i, (kg, slope) in enumerate(zip(loads_kg, slopes, strict=True))
    ]
    empty = [5000 - 700 * i for i in range(4)]
    pipeline = Pipeline(Settings(Side.RIGHT, 75.0), [calibration])
    pipeline.push(make_identity(FOUR))
    for k in range(160):
        rows = np.array([[empty if k < 40 else counts] * 4], dtype=np.int32)
        pipeline.push(make_chunk([k * 4 * 12_500], readings=rows))
    shown = pipeline.snapshot()
    assert shown.share_percent == pytest.approx(75.0, abs=0.001)
    assert shown.injured_N == pytest.approx(60.0 * STANDARD_GRAVITY, abs=0.01)
    assert shown.body_weight_N == pytest.approx(80.0 * STANDARD_GRAVITY, abs=0.01)
