"""The firmware's frames and bodies, byte for byte, under MicroPython."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
from cobs import cobs

from weightshare.model import NO_READING
from weightshare.scales.frame import close_body, encode_samples

GOLDEN = """
from binascii import hexlify
from scale import body
from scale.frame import close, stuff
from scale.packet import Packet
from array import array

packet = Packet(3)
rows = array("i", [8388607, -1, 0, 256, body.NO_READING, 65536])
packet.add(250000, rows, 0)
packet.add(262500, rows, 3)
channels = [(1, 1, 0, 140), (1, 1, 0, -140), (2, 1, 0, -90)]
device = bytes([0, 0x11, 0x22, 0x33, 0x44, 0x55, 0x66, 0x77])
frames = [
    close(body.identity(device, version=(1, 2, 3), boot_count=5, tenths_Hz=800, channels=channels, name=b"left")),
    bytes(packet.frame(7, 12500)),
    close(body.condition(1000000, 3300, 0, 0, centi_degC=2150)),
    close(body.reply(body.START, 9, body.DONE)),
    close(body.echo(0x01020304, 123456789)),
]
for frame in frames:
    out = bytearray(200)
    print(hexlify(frame).decode(), hexlify(out[:stuff(out, 0, frame)]).decode())
"""


def golden_frames(checkout: Path) -> list[tuple[str, str]]:
    """Body and stream form of each golden frame of the protocol's page, in its order."""
    page = (checkout / "docs" / "wire-protocol.md").read_text(encoding="utf-8")
    section = page.partition("## Golden frames")[2].partition("\n## ")[0]
    lines = [line.replace(" ", "") for line in re.findall(r"^    ([0-9a-f ]+)$", section, flags=re.MULTILINE)]
    return list(zip(lines[::2], lines[1::2], strict=True))


def test_golden_frames(micropython: Callable[..., str], checkout: Path) -> None:
    made = [tuple(line.split(" ")) for line in micropython(GOLDEN).splitlines()]
    assert made == golden_frames(checkout)[:5]
    assert len(made) == 5


def test_golden_commands_are_understood(micropython: Callable[..., str], checkout: Path) -> None:
    streams = [stream for _, stream in golden_frames(checkout)[5:]]
    code = f"""
from scale.frame import Reader
reader = Reader()
for stream in {streams}:
    for byte in bytes.fromhex(stream):
        body = reader.feed(byte)
        if body:
            print(body.hex())
"""
    assert micropython(code).split() == ["82092003", "8504030201"]


def random_frames() -> list[bytes]:
    """Frames of all lengths around the groups of 254, with few zeros, many, and none."""
    chance = random.Random(5)
    lengths = [*range(6), 253, 254, 255, 256, 507, 508, 509, 510, 1023, 1024, 1027, 1028]
    return [
        bytes(chance.randint(0, 255) if chance.random() < part else fill for _ in range(length))
        for length in lengths
        for part, fill in ((0.0, 0), (0.0, 1), (0.0, 255), (1.0, 1), (0.02, 7), (0.5, 0))
    ]


def test_cobs_is_that_of_the_reference_library(micropython: Callable[..., str]) -> None:
    """Both ways, against the PyPI package cobs."""
    frames = random_frames()
    code = f"""
from binascii import hexlify, unhexlify
from scale.frame import stuff, unstuff
for text in {[frame.hex() for frame in frames]}:
    frame = unhexlify(text)
    out = bytearray(1100)
    end = stuff(out, 0, frame)
    assert unstuff(out[:end - 1]) == frame, text
    print(hexlify(out[:end]).decode())
"""
    assert micropython(code).split() == [(cobs.encode(frame) + b"\0").hex() for frame in frames]


def test_damaged_cobs_is_none_or_what_the_reference_makes_of_it(micropython: Callable[..., str]) -> None:
    chance = random.Random(6)
    damaged = [bytes(chance.randint(1, 255 if chance.random() < 0.3 else 6) for _ in range(n)) for n in range(40)] * 4
    code = f"""
from binascii import hexlify, unhexlify
from scale.frame import unstuff
for text in {[one.hex() for one in damaged]}:
    made = unstuff(unhexlify(text))
    print("none" if made is None else "=" + hexlify(made).decode())
"""
    assert micropython(code).split() == [reference_unstuff(one) for one in damaged]


def reference_unstuff(stuffed: bytes) -> str:
    try:
        return f"={cobs.decode(stuffed).hex()}"
    except cobs.DecodeError:
        return "none"


def test_samples_are_those_of_the_programs_own_encoder(micropython: Callable[..., str]) -> None:
    chance = np.random.default_rng(7)
    readings = chance.integers(-(2**31), 2**31, (4, 6), dtype=np.int64).astype(np.int32)
    readings[2, 3] = NO_READING
    code = f"""
from array import array
from scale.packet import Packet
packet = Packet(6)
values = array("i", {readings.ravel().tolist()})
for row in range(4):
    packet.add(0xFFFFFFF0 + row, values, 6 * row)
print(bytes(packet.frame(65541, 12500)).hex())
packet.clear()
packet.add(1, values, 0)
print(bytes(packet.frame(0, 1)).hex())
"""
    first, second = micropython(code).split()
    assert first == encode_samples(5, 0xFFFFFFF0, 12_500, readings).hex()
    assert second == encode_samples(0, 1, 1, readings[:1]).hex()


def test_rows_of_a_frame_follow_from_what_the_link_carries(micropython: Callable[..., str]) -> None:
    """Frames of 160 bytes and of 1,028, by hand: 12 bytes of head, 4 of CRC, 4 for each channel of a row."""
    asked = ((160, 4), (160, 6), (160, 16), (1028, 4), (9999, 1))
    code = f"from scale.packet import most_rows; print([most_rows(payload, channels) for payload, channels in {asked}])"
    assert json.loads(micropython(code)) == [9, 6, 2, 63, 253]


def test_a_frame_with_a_wrong_crc_or_no_kind_is_none(micropython: Callable[..., str]) -> None:
    frames = [
        close_body(b"\x81\x05"),
        close_body(b"\x81\x05")[:-1] + b"\0",
        close_body(b""),
        b"",
        close_body(bytes(1024)),
    ]
    code = f"""
from binascii import unhexlify
from scale.frame import open_frame
print([open_frame(unhexlify(text)) for text in {[frame.hex() for frame in frames]}][:4])
print(len(open_frame(unhexlify("{frames[4].hex()}"))))
"""
    assert micropython(code).split("\n")[:2] == ["[b'\\x81\\x05', None, None, None]", "1024"]
