"""What holds for any reading of a store-bought scale."""

from __future__ import annotations

import contextlib
from datetime import datetime

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from weightshare.errors import ProtocolError
from weightshare.scales.air.weighing import FAILED, MassUnit, Weighing, decode_weighing

STAMPS = st.datetimes(datetime(1582, 1, 1), datetime(9999, 12, 31)).map(lambda stamp: stamp.replace(microsecond=0))
WEIGHINGS = st.builds(
    Weighing,
    st.one_of(st.none(), st.integers(0, FAILED - 1)),
    st.sampled_from(MassUnit),
    st.one_of(st.none(), STAMPS),
    st.one_of(st.none(), st.integers(0, 0xFE)),
)


def encode(weighing: Weighing, body: bytes = b"") -> bytes:
    """Write a reading as a scale does."""
    stamp, user = b"", b""
    if weighing.stamp is not None:
        parts = weighing.stamp.timetuple()[1:6]
        stamp = weighing.stamp.year.to_bytes(2, "little") + bytes(parts)
    if weighing.user is not None:
        user = bytes([weighing.user])
    flags = (weighing.unit is MassUnit.LB) | bool(stamp) << 1 | bool(user) << 2 | bool(body) << 3
    count = FAILED if weighing.count is None else weighing.count
    return bytes([flags]) + count.to_bytes(2, "little") + stamp + user + body


@given(WEIGHINGS)
def test_what_was_written_is_read(weighing: Weighing) -> None:
    assert decode_weighing(encode(weighing)) == weighing


@given(WEIGHINGS, st.binary(min_size=4, max_size=4))
def test_the_load_does_not_depend_on_what_else_is_told(weighing: Weighing, body: bytes) -> None:
    assert decode_weighing(encode(weighing, body)).load_kg == decode_weighing(encode(weighing)).load_kg


@given(WEIGHINGS, st.binary(max_size=4), st.data())
def test_one_byte_less_or_more_is_refused(weighing: Weighing, more: bytes, data: st.DataObject) -> None:
    whole = encode(weighing)
    cut = whole[: data.draw(st.integers(0, len(whole) - 1))]
    for wrong in [cut, *([whole + more] if more else [])]:
        with pytest.raises(ProtocolError):
            decode_weighing(wrong)


@given(st.binary(max_size=24))
@example(bytes.fromhex("F0 FF FF"))
def test_any_bytes_are_a_reading_or_refused(data: bytes) -> None:
    with contextlib.suppress(ProtocolError):
        found = decode_weighing(data)
        assert data[0] < 0x10
        assert found.has_failed is (data[1:3] == b"\xff\xff")
        assert found.load_kg is None or 0.0 <= found.load_kg < 328.0
