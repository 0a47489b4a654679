"""The readings of store-bought scales beside what the standard says, and beside a general-purpose decoder of it."""

from __future__ import annotations

from datetime import datetime

import pytest
from bluetooth_sig.gatt.characteristics.weight_measurement import WeightMeasurementCharacteristic, WeightMeasurementData
from bluetooth_sig.gatt.characteristics.weight_scale_feature import WeightScaleFeatureCharacteristic
from bluetooth_sig.types.units import WeightUnit

from weightshare.errors import ProtocolError
from weightshare.scales.air.weighing import MassUnit, Weighing, decode_step, decode_weighing

# Made from the field table of the Bluetooth SIG's GATT Specification Supplement, Weight Measurement: 0.005 kg, 0.01 lb,
# body mass index 0.1, height 0.001 m or 0.1 in; reckoned by hand.
IN_KG = "00 A8 3A"
"""0x3AA8 is 15016 steps of 0.005 kg: 75.08 kg."""
IN_LB = "01 58 43"
"""0x4358 is 17240 steps of 0.01 lb: 172.40 lb."""
WITH_ALL = "0E 68 3D EA 07 0B 18 0E 1E 00 03 DC 00 DE 06"
"""0x3D68 is 15720: 78.60 kg, on 2026-11-24 at 14:30:00, user 3, body mass index 22.0, height 1.758 m."""


def decode(text: str) -> Weighing:
    return decode_weighing(bytes.fromhex(text))


def decode_elsewhere(text: str) -> WeightMeasurementData:
    """Decode with the package `bluetooth-sig`, which knows the SIG's whole catalogue."""
    found = WeightMeasurementCharacteristic().parse_value(bytearray.fromhex(text))
    assert isinstance(found, WeightMeasurementData)
    return found


def test_kilograms() -> None:
    assert decode(IN_KG) == Weighing(15016)
    assert decode(IN_KG).load_kg == 75.08


def test_pounds() -> None:
    found = decode(IN_LB)
    assert (found.value, found.unit) == (172.40, MassUnit.LB)
    # 1 lb is 0.45359237 kg exactly (NIST SP 811, appendix B.8)
    assert found.load_kg == pytest.approx(78.199324588, abs=1e-9)


def test_all_that_a_reading_can_carry() -> None:
    assert decode(WITH_ALL) == Weighing(15720, MassUnit.KG, datetime(2026, 11, 24, 14, 30), 3, 22.0, 1.758)


@pytest.mark.parametrize("text", [IN_KG, IN_LB, WITH_ALL, "05 58 43 01", "09 58 43 DC 00 B4 02"])
def test_another_decoder_reads_the_same(text: str) -> None:
    ours, theirs = decode(text), decode_elsewhere(text)
    assert ours.value == pytest.approx(theirs.weight, rel=1e-12)
    assert (ours.unit is MassUnit.LB) is (theirs.weight_unit is WeightUnit.LB)
    assert (ours.stamp, ours.user) == (theirs.timestamp, theirs.user_id)
    height_m = theirs.height if ours.unit is MassUnit.KG or theirs.height is None else theirs.height * 0.0254
    assert ours.bmi_kg_m2 == pytest.approx(theirs.bmi) and ours.height_m == pytest.approx(height_m)


def test_where_the_other_decoder_shows_a_load_that_was_never_weighed() -> None:
    # Weight Scale Service 1.0: a weight of 0xFFFF says that the measurement was unsuccessful
    assert decode_elsewhere("00 FF FF").weight == pytest.approx(327.675)
    assert decode("00 FF FF").has_failed and decode("00 FF FF").load_kg is None
    assert decode("01 FF FF").load_kg is None


def test_where_the_other_decoder_guesses_at_a_reserved_flag() -> None:
    # bits 4 to 7 are reserved for future use; some makers set bit 4 for a load below zero, which then reads 0
    assert decode_elsewhere("10 A8 3A").weight == pytest.approx(75.08)
    with pytest.raises(ProtocolError, match="flag 4"):
        decode("10 A8 3A")


@pytest.mark.parametrize("text", ["00 A8 3A 00", "0E A8 3A"], ids=["too long", "cut short"])
def test_where_the_other_decoder_takes_a_reading_of_the_wrong_length(text: str) -> None:
    assert decode_elsewhere(text).weight == pytest.approx(75.08)
    with pytest.raises(ProtocolError, match="bytes"):
        decode(text)


# GATT Specification Supplement, Weight Scale Feature: bits 3 to 6 are the weight resolution
@pytest.mark.parametrize(
    ("number", "kg", "lb"),
    [
        (0, None, None),
        (1, 0.5, 1.0),
        (2, 0.2, 0.5),
        (3, 0.1, 0.2),
        (4, 0.05, 0.1),
        (5, 0.02, 0.05),
        (6, 0.01, 0.02),
        (7, 0.005, 0.01),
        (8, None, None),
    ],
)
def test_steps(number: int, kg: float | None, lb: float | None) -> None:
    data = (number << 3 | 0b111).to_bytes(4, "little")
    assert (decode_step(data, MassUnit.KG), decode_step(data, MassUnit.LB)) == (kg, lb)
    if kg is not None and lb is not None:
        theirs = WeightScaleFeatureCharacteristic().parse_value(bytearray(data))
        assert str(theirs.weight_measurement_resolution) == f"{kg:g}_kg_or_{lb:g}_lb"
