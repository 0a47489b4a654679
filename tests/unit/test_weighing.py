"""Readings of store-bought scales that are not as they should be."""

from __future__ import annotations

import pytest

from weightshare.errors import ProtocolError
from weightshare.scales.air.weighing import MassUnit, Weighing, decode_step, decode_weighing


def test_nothing_is_no_reading() -> None:
    with pytest.raises(ProtocolError, match="empty"):
        decode_weighing(b"")


@pytest.mark.parametrize("bit", [4, 5, 6, 7])
def test_each_reserved_flag_is_named(bit: int) -> None:
    with pytest.raises(ProtocolError, match=rf"\(flag {bit}\)"):
        decode_weighing(bytes([1 << bit, 0x10, 0x27]))


def test_several_reserved_flags_are_named_together() -> None:
    with pytest.raises(ProtocolError, match="flag 4, 7"):
        decode_weighing(bytes([0x90, 0x10, 0x27]))


def test_a_user_may_be_unknown() -> None:
    assert decode_weighing(bytes.fromhex("04 10 27 FF")) == Weighing(10_000)
    assert decode_weighing(bytes.fromhex("04 10 27 00")).user == 0


@pytest.mark.parametrize("stamp", ["0000 0B 18 0E 1E 00", "EA07 00 18 0E 1E 00", "EA07 0B 00 0E 1E 00"])
def test_a_time_may_be_unknown(stamp: str) -> None:
    assert decode_weighing(bytes.fromhex("02 10 27" + stamp)) == Weighing(10_000)


@pytest.mark.parametrize(
    "stamp", ["EA07 0D 18 0E 1E 00", "EA07 02 1E 0E 1E 00", "EA07 0B 18 18 1E 00", "FFFF 0B 18 0E 1E 00"]
)
def test_a_time_that_cannot_be_is_refused(stamp: str) -> None:
    with pytest.raises(ProtocolError, match="no time"):
        decode_weighing(bytes.fromhex("02 10 27" + stamp))


def test_a_failed_weighing_keeps_when_and_who_but_no_body() -> None:
    found = decode_weighing(bytes.fromhex("0E FF FF EA 07 0B 18 0E 1E 00 03 DC 00 DE 06"))
    assert (found.count, found.user, found.bmi_kg_m2, found.height_m) == (None, 3, None, None)
    assert found.stamp is not None and found.stamp.hour == 14


@pytest.mark.parametrize("data", [b"", b"\x38\0\0", b"\x38\0\0\0\0"])
def test_a_description_of_the_wrong_length_is_refused(data: bytes) -> None:
    with pytest.raises(ProtocolError, match="bytes"):
        decode_step(data, MassUnit.KG)
