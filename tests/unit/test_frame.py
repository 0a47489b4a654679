"""Frames, byte for byte: the protocol's golden frames both ways, published vectors, and what must be refused."""

from __future__ import annotations

import struct
from dataclasses import replace
from pathlib import Path
from zlib import crc32

import numpy as np
import pytest
from cobs import cobs

from weightshare.model import NO_READING, Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.frame import (
    CRC_RESIDUE,
    MAX_BODY,
    MAX_FRAME,
    MAX_STUFFED,
    Blink,
    Command,
    ContentError,
    Echo,
    Kind,
    LengthError,
    Message,
    Ping,
    Reply,
    Result,
    Start,
    Stop,
    UnknownKindError,
    Who,
    close_body,
    encode,
    encode_samples,
    open_frame,
    parse_command,
    parse_message,
    to_stream,
)

LEFT_SCALE = Identity(
    device_id="0011223344556677",
    firmware=(1, 2, 3),
    boot_count=5,
    tick_rate_Hz=1_000_000,
    rate_Hz=80.0,
    channels=(
        Channel(Quantity.FORCE, Side.LEFT, 0, 140),
        Channel(Quantity.FORCE, Side.LEFT, 0, -140),
        Channel(Quantity.HEEL_HEIGHT, Side.LEFT, 0, -90),
    ),
    name="left",
)
READINGS = np.array([[8388607, -1, 0], [256, NO_READING, 65536]], np.int32)


def make_chunk(sequence: int, tick: int, step: int, readings: np.ndarray) -> Chunk:
    return Chunk(
        np.array([sequence], np.uint16),
        np.array([tick], np.uint32),
        np.array([step], np.uint32),
        np.array([0], np.int64),
        readings[None].astype(np.int32),
    )


# docs/wire-protocol.md, "Golden frames": the value, its body with CRC, and how it goes over a byte stream.
GOLDEN_MESSAGES: dict[str, tuple[Message, str, str]] = {
    "identity": (
        LEFT_SCALE,
        "01 01 00 11 22 33 44 55 66 77 01 02 03 05 00 40 42 0f 00 20 03 03 01 01 00 00 8c 00 01 01 00 00 74 ff "
        "02 01 00 00 a6 ff 04 6c 65 66 74 0e 35 62 b8",
        "03 01 01 0c 11 22 33 44 55 66 77 01 02 03 05 04 40 42 0f 06 20 03 03 01 01 01 02 8c 03 01 01 01 05 74 ff "
        "02 01 01 0c a6 ff 04 6c 65 66 74 0e 35 62 b8 00",
    ),
    "samples": (
        make_chunk(7, 250_000, 12_500, READINGS),
        "02 07 00 90 d0 03 00 d4 30 00 00 02 ff ff 7f 00 ff ff ff ff 00 00 00 00 00 01 00 00 00 00 00 80 00 00 01 00 "
        "ad 34 84 83",
        "03 02 07 04 90 d0 03 03 d4 30 01 05 02 ff ff 7f 05 ff ff ff ff 01 01 01 01 02 01 01 01 01 01 02 80 01 02 01 "
        "05 ad 34 84 83 00",
    ),
    "condition": (
        Condition(1_000_000, 3300, 21.5, 0, 0),
        "03 40 42 0f 00 e4 0c 66 08 00 00 00 00 00 00 ba 9c 04 d5",
        "05 03 40 42 0f 05 e4 0c 66 08 01 01 01 01 01 05 ba 9c 04 d5 00",
    ),
    "reply": (Reply(Kind.START, 9, Result.DONE), "04 82 09 00 ec 3c 55 9d", "04 04 82 09 05 ec 3c 55 9d 00"),
    "echo": (
        Echo(0x01020304, 123456789),
        "05 04 03 02 01 15 cd 5b 07 bf 7e 0f 50",
        "0e 05 04 03 02 01 15 cd 5b 07 bf 7e 0f 50 00",
    ),
}
GOLDEN_COMMANDS: dict[str, tuple[Command, str, str]] = {
    "start": (Start(9, 80.0), "82 09 20 03 3b ef 48 65", "09 82 09 20 03 3b ef 48 65 00"),
    "ping": (Ping(0x01020304), "85 04 03 02 01 e5 b3 31 77", "0a 85 04 03 02 01 e5 b3 31 77 00"),
}
GOLDEN = GOLDEN_MESSAGES | GOLDEN_COMMANDS


def body_of(name: str) -> bytes:
    body = open_frame(bytes.fromhex(GOLDEN[name][1]))
    assert body is not None
    return body


def test_the_golden_frames_are_those_of_the_protocols_page() -> None:
    page = (Path(__file__).parents[2] / "docs" / "wire-protocol.md").read_text(encoding="utf-8")
    section = page.split("## Golden frames")[1].split("\n## ")[0]
    shown = [line.strip() for line in section.splitlines() if line.startswith("    ")]
    assert shown == [line for _, frame, stream in GOLDEN.values() for line in (frame, stream)]


@pytest.mark.parametrize("name", GOLDEN)
def test_golden_frames_are_written_byte_for_byte(name: str) -> None:
    message, frame, stream = GOLDEN[name]
    assert encode(message) == bytes.fromhex(frame)
    assert to_stream(encode(message)) == bytes.fromhex(stream)


@pytest.mark.parametrize("name", [name for name in GOLDEN_MESSAGES if name != "samples"])
def test_golden_messages_are_read(name: str) -> None:
    assert parse_message(body_of(name)) == GOLDEN_MESSAGES[name][0]


@pytest.mark.parametrize("name", GOLDEN_COMMANDS)
def test_golden_commands_are_read(name: str) -> None:
    assert parse_command(body_of(name)) == GOLDEN_COMMANDS[name][0]


def test_golden_samples_are_read() -> None:
    chunk = parse_message(body_of("samples"), channels=3, arrival_ns=42)
    assert isinstance(chunk, Chunk)
    assert (chunk.sequence.tolist(), chunk.tick.tolist(), chunk.step.tolist()) == ([7], [250_000], [12_500])
    assert chunk.arrival_ns.tolist() == [42]
    assert chunk.readings.shape == (1, 2, 3)
    np.testing.assert_array_equal(chunk.readings[0], READINGS)
    assert [chunk.sequence.dtype, chunk.tick.dtype, chunk.step.dtype, chunk.arrival_ns.dtype, chunk.readings.dtype] == [
        np.dtype(name) for name in ("uint16", "uint32", "uint32", "int64", "int32")
    ]


def test_the_crc_is_the_one_of_zlib_and_ethernet() -> None:
    # CRC-32/ISO-HDLC, the catalogue of parametrised CRC algorithms: check value CBF43926 over "123456789".
    assert close_body(b"123456789") == b"123456789" + bytes.fromhex("26 39 f4 cb")


def test_the_crc_of_a_body_with_its_own_crc_is_constant() -> None:
    # The same catalogue gives the residue DEBB20E3 before the final inversion of all bits.
    assert CRC_RESIDUE == 0xDEBB20E3 ^ 0xFFFFFFFF
    assert all(crc32(bytes.fromhex(frame)) == CRC_RESIDUE for _, frame, _ in GOLDEN.values())


@pytest.mark.parametrize(
    ("plain", "stuffed"),
    [
        # Cheshire and Baker, Consistent Overhead Byte Stuffing, IEEE/ACM Transactions on Networking 7 (2), 1999.
        (b"\0", b"\x01\x01"),
        (bytes.fromhex("11 22 00 33"), bytes.fromhex("03 11 22 02 33")),
        (bytes(range(1, 255)), b"\xff" + bytes(range(1, 255))),
        (bytes(range(1, 256)), b"\xff" + bytes(range(1, 255)) + b"\x02\xff"),
    ],
)
def test_a_stream_is_stuffed_as_published(plain: bytes, stuffed: bytes) -> None:
    assert to_stream(plain) == stuffed + b"\0"


@pytest.mark.parametrize("fill", [b"\0", b"\1"])
def test_no_frame_grows_beyond_its_bound_when_stuffed(fill: bytes) -> None:
    stuffed = cobs.encode(fill * MAX_FRAME)
    assert len(stuffed) <= MAX_STUFFED
    assert len(cobs.encode(b"\1" * MAX_FRAME)) == MAX_STUFFED


@pytest.mark.parametrize("name", GOLDEN)
def test_a_single_flipped_bit_is_always_caught(name: str) -> None:
    frame = bytes.fromhex(GOLDEN[name][1])
    for bit in range(8 * len(frame)):
        flipped = bytearray(frame)
        flipped[bit // 8] ^= 1 << bit % 8
        assert open_frame(bytes(flipped)) is None


@pytest.mark.parametrize("name", GOLDEN)
def test_a_frame_cut_short_is_caught(name: str) -> None:
    frame = bytes.fromhex(GOLDEN[name][1])
    assert all(open_frame(frame[:length]) is None for length in range(len(frame)))


def test_a_body_is_at_most_1024_bytes() -> None:
    longest = bytes([Kind.ECHO]) * MAX_BODY
    assert open_frame(close_body(longest)) == longest
    with pytest.raises(ValueError, match="1025 bytes"):
        close_body(longest + b"\0")
    longer = longest + b"\0"
    assert open_frame(longer + struct.pack("<I", crc32(longer))) is None


@pytest.mark.parametrize("command", [Who(0), Start(255), Start(1, 1000.0), Stop(7), Blink(3, 65535), Ping(2**32 - 1)])
def test_commands_come_back_as_they_were(command: Command) -> None:
    body = open_frame(encode(command))
    assert body is not None
    assert parse_command(body) == command


@pytest.mark.parametrize(
    ("command", "size"), [(Who(1), 2), (Start(1), 4), (Stop(1), 2), (Blink(1, 500), 4), (Ping(1), 5)]
)
def test_a_command_of_a_wrong_length_is_refused_with_its_first_byte_as_token(command: Command, size: int) -> None:
    body = open_frame(encode(command))
    assert body is not None
    assert len(body) == size
    for wrong in (*(body[:length] for length in range(1, size)), body + b"\0"):
        token = wrong[1] if len(wrong) > 1 else 0
        assert parse_command(wrong) == Reply(body[0], token, Result.WRONG_LENGTH)


@pytest.mark.parametrize("kind", [0x00, 0x01, 0x02, 0x80, 0x86, 0xFF])
def test_an_unknown_command_is_refused_by_name(kind: int) -> None:
    assert parse_command(bytes([kind, 77, 1, 2])) == Reply(kind, 77, Result.UNKNOWN_COMMAND)
    assert parse_command(bytes([kind])) == Reply(kind, 0, Result.UNKNOWN_COMMAND)


def test_an_empty_body_has_nothing_to_answer() -> None:
    assert parse_command(b"") is None
    with pytest.raises(LengthError, match="no kind"):
        parse_message(b"")


@pytest.mark.parametrize("kind", [0x00, 0x06, 0x81, 0x85, 0xFF])
def test_a_kind_that_no_scale_sends_is_unknown(kind: int) -> None:
    with pytest.raises(UnknownKindError, match=f"{kind:#04x}"):
        parse_message(bytes([kind]) + bytes(12))


@pytest.mark.parametrize("name", GOLDEN_MESSAGES)
def test_a_message_of_a_wrong_length_is_refused(name: str) -> None:
    body = body_of(name)
    for wrong in (body[:1], body[:-1], body + b"\0"):
        with pytest.raises(LengthError):
            parse_message(wrong, channels=3)


@pytest.mark.parametrize("channels", [None, 1, 2, 4, 16])
def test_samples_have_to_fit_the_channel_count(channels: int | None) -> None:
    with pytest.raises(LengthError, match="does not fit"):
        parse_message(body_of("samples"), channels)


def test_samples_without_a_row_are_refused() -> None:
    with pytest.raises(LengthError, match="0 rows"):
        parse_message(struct.pack("<BHIIB", Kind.SAMPLES, 1, 2, 3, 0), channels=3)


@pytest.mark.parametrize(
    ("at", "value", "words"),
    [
        (21, 0, "1 to 16 channels"),
        (21, 17, "1 to 16 channels"),
        (22, 0, "quantity 0"),
        (22, 4, "quantity 4"),
        (29, 3, "side 3"),
        (41, 0xFF, "not UTF-8"),
    ],
)
def test_an_identity_with_a_field_out_of_range_is_refused(at: int, value: int, words: str) -> None:
    body = bytearray(body_of("identity"))
    body[at] = value
    with pytest.raises(ContentError, match=words):
        parse_message(bytes(body))


@pytest.mark.parametrize("field", [slice(15, 19), slice(19, 21)])
def test_an_identity_that_gives_no_time_is_refused(field: slice) -> None:
    body = bytearray(body_of("identity"))
    body[field] = bytes(field.stop - field.start)
    with pytest.raises(ContentError, match="no time"):
        parse_message(bytes(body))


def test_a_name_may_have_32_bytes_and_no_more() -> None:
    longest = replace(LEFT_SCALE, name="ß" * 16)
    body = open_frame(encode(longest))
    assert body is not None
    assert parse_message(body) == longest
    longer = body[:40] + bytes([33]) + b"x" * 33
    with pytest.raises(ContentError, match="32 bytes"):
        parse_message(longer)


def test_another_protocol_version_is_told_and_nothing_more_is_guessed() -> None:
    foreign = parse_message(bytes([Kind.IDENTITY, 2]) + b"of whatever length")
    assert isinstance(foreign, Identity)
    assert foreign.protocol == 2
    assert (foreign.device_id, foreign.channels, foreign.tick_rate_Hz) == ("", (), 0)


def test_an_unknown_temperature_is_none_both_ways() -> None:
    state = Condition(5, 0, None, 2**32 - 1, Condition.OVERLOAD | Condition.BUFFER_OVERRAN)
    body = open_frame(encode(state))
    assert body is not None
    assert body[7:9] == struct.pack("<h", -32768)
    assert parse_message(body) == state


def test_a_reply_with_a_result_that_is_none_is_refused() -> None:
    with pytest.raises(ContentError, match="result 5"):
        parse_message(bytes([Kind.REPLY, Kind.START, 9, 5]))


@pytest.mark.parametrize(
    "message",
    [
        Who(256),
        Start(1, 6553.6),
        Start(1, float("inf")),
        Ping(-1),
        Echo(2**32, 0),
        Reply(256, 0, Result.DONE),
        replace(LEFT_SCALE, device_id="0011"),
        replace(LEFT_SCALE, channels=()),
        replace(LEFT_SCALE, channels=LEFT_SCALE.channels * 6),
        replace(LEFT_SCALE, name="x" * 33),
        Condition(0, 0, 400.0, 0, 0),
        make_chunk(0, 0, 0, np.zeros((0, 3), np.int32)),
        make_chunk(0, 0, 0, np.zeros((40, 8), np.int32)),
    ],
)
def test_what_does_not_fit_on_the_wire_is_not_written(message: Message | Command) -> None:
    with pytest.raises(ValueError, match=r"\w+"):
        encode(message)


def test_one_frame_holds_one_frames_samples() -> None:
    one = make_chunk(0, 0, 0, READINGS)
    two = Chunk(*(np.concatenate([getattr(one, name)] * 2) for name in Chunk.__slots__))
    with pytest.raises(ValueError, match="not those of 2"):
        encode(two)


def test_sequence_and_ticks_wrap_when_samples_are_written() -> None:
    wrapped = encode_samples(65536 + 7, 2**32 + 250_000, 12_500, READINGS)
    assert wrapped == bytes.fromhex(GOLDEN["samples"][1])
