"""However a stream is cut, damaged or made up, the decoder yields what was sent or nothing, and never raises."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from itertools import pairwise
from zlib import crc32

import numpy as np
from cobs import cobs
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.model import NO_READING, Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.decoder import StreamDecoder, merge
from weightshare.scales.frame import (
    Blink,
    Command,
    Echo,
    Kind,
    Message,
    Ping,
    Reply,
    Result,
    Start,
    Stop,
    Who,
    encode,
    encode_samples,
    open_frame,
    parse_command,
    to_stream,
)
from weightshare.scales.stream import CommandReader

u8, u16, u32 = (st.integers(0, 2**bits - 1) for bits in (8, 16, 32))
coordinate = st.integers(-(2**15), 2**15 - 1)
channels = st.builds(Channel, st.sampled_from(Quantity), st.sampled_from([None, *Side]), coordinate, coordinate)
names = st.text(st.characters(codec="utf-8"), max_size=32).filter(lambda name: len(name.encode()) <= 32)
identities = st.builds(
    Identity,
    device_id=st.binary(min_size=8, max_size=8).map(bytes.hex),
    firmware=st.tuples(u8, u8, u8),
    boot_count=u16,
    tick_rate_Hz=st.integers(1, 2**32 - 1),
    rate_Hz=st.integers(1, 2**16 - 1).map(lambda tenths: tenths / 10),
    channels=st.lists(channels, min_size=1, max_size=16).map(tuple),
    name=names,
)
celsius = st.none() | st.integers(-(2**15) + 1, 2**15 - 1).map(lambda hundredths: hundredths / 100)
conditions = st.builds(Condition, u32, u16, celsius, u32, u16)
replies = st.builds(Reply, u8, u8, st.sampled_from(Result))
echoes = st.builds(Echo, u32, u32)
commands = st.one_of(
    st.builds(Who, u8),
    st.builds(Start, u8, u16.map(lambda tenths: tenths / 10)),
    st.builds(Stop, u8),
    st.builds(Blink, u8, u16),
    st.builds(Ping, u32),
)
raw_readings = st.integers(-(2**31), 2**31 - 1) | st.just(NO_READING) | st.just(0)


@st.composite
def samples(draw: st.DrawFn, channel_count: int) -> bytes:
    """One SAMPLES frame for `channel_count` channels."""
    rows = draw(st.integers(1, min(4, 255)))
    values = draw(st.lists(raw_readings, min_size=rows * channel_count, max_size=rows * channel_count))
    step = draw(st.integers(1, 2**32 - 1))
    return encode_samples(draw(u16), draw(u32), step, np.array(values, np.int32).reshape(rows, channel_count))


def raw(body: bytes) -> bytes:
    return body + struct.pack("<I", crc32(body))


@st.composite
def streams(draw: st.DrawFn) -> bytes:
    """A stream as a scale might send it: identities, samples that fit and some that do not, the rest, and noise."""
    stream = b""
    for identity in draw(st.lists(identities, min_size=1, max_size=3)):
        stream += to_stream(encode(identity))
        fitting = samples(len(identity.channels))
        runs = st.lists(fitting, min_size=1, max_size=12)
        frames = st.one_of(
            fitting,
            runs.map(lambda several: b"\0".join(map(cobs.encode, several))),
            st.one_of(conditions, replies, echoes).map(encode),
            samples(3),
            st.binary(max_size=30).map(raw),
            st.binary(max_size=30),
        )
        for frame in draw(st.lists(frames, max_size=12)):
            stream += frame + b"\0" if b"\0" in frame and open_frame(frame) is None else to_stream(frame)
    return stream


def as_values(messages: Sequence[Message]) -> list[object]:
    """Messages as values that can be compared: arrays become lists."""
    return [
        [getattr(item, name).tolist() for name in Chunk.__slots__] if isinstance(item, Chunk) else item
        for item in messages
    ]


def cut_up(data: bytes, cuts: Sequence[int]) -> list[bytes]:
    borders = [0, *sorted(cut % (len(data) + 1) for cut in cuts), len(data)]
    return [data[start:stop] for start, stop in pairwise(borders)]


@given(streams(), st.lists(st.integers(0, 2**20), max_size=40))
@settings(deadline=None, max_examples=60)
def test_any_cut_of_a_stream_yields_the_same_messages(stream: bytes, cuts: list[int]) -> None:
    pieces = cut_up(stream, cuts)
    arrivals = list(range(100, 100 + len(pieces)))
    at_once, live = StreamDecoder(), StreamDecoder()
    bulk = at_once.feed_pieces(pieces, arrivals)
    one_by_one = [
        message for piece, arrival in zip(pieces, arrivals, strict=True) for message in live.feed(piece, arrival)
    ]
    assert as_values(bulk) == as_values(merge(one_by_one))
    assert at_once.counts == live.counts
    assert at_once.identity == live.identity


@given(streams())
@settings(deadline=None, max_examples=40)
def test_byte_by_byte_is_as_good_as_at_once(stream: bytes) -> None:
    at_once, live = StreamDecoder(), StreamDecoder()
    one_by_one = [message for byte in stream for message in live.feed(bytes([byte]), 0)]
    assert as_values(at_once.feed(stream, 0)) == as_values(merge(one_by_one))
    assert at_once.counts == live.counts


@given(streams(), st.integers(1, 40), st.lists(st.integers(0, 2**20), max_size=4))
@settings(deadline=None, max_examples=40)
def test_large_blocks_are_as_good_as_small_pieces(stream: bytes, times: int, hits: list[int]) -> None:
    data = bytearray(stream * times)
    for hit in hits:
        data[hit % len(data)] ^= 1 << hit % 8
    at_once, live = StreamDecoder(), StreamDecoder()
    bulk = at_once.feed(bytes(data), 0)
    in_pieces = [
        message for start in range(0, len(data), 100) for message in live.feed(bytes(data[start : start + 100]), 0)
    ]
    assert as_values(bulk) == as_values(merge(in_pieces))
    assert at_once.counts == live.counts


@given(st.binary(max_size=3000), st.integers(1, 400))
@settings(deadline=None, max_examples=60)
def test_noise_never_raises_and_never_yields_a_message(noise: bytes, size: int) -> None:
    decoder = StreamDecoder()
    for start in range(0, len(noise), size):
        for message in decoder.feed(noise[start : start + size], start):
            # A message out of noise has to have had a right CRC, which only the frames themselves can show.
            frames = [cobs.decode(part) for part in noise.split(b"\0") if is_stuffed(part)]
            assert not isinstance(message, Chunk)
            assert any(open_frame(frame) is not None for frame in frames)
    assert decoder.counts.bytes == len(noise)


def is_stuffed(part: bytes) -> bool:
    try:
        cobs.decode(part)
    except cobs.DecodeError:
        return False
    return True


@given(st.lists(st.binary(max_size=60), max_size=30))
@settings(deadline=None, max_examples=60)
def test_any_body_with_a_right_crc_is_taken_or_counted(bodies: list[bytes]) -> None:
    decoder = StreamDecoder()
    decoder.feed(b"".join(to_stream(raw(body)) for body in bodies), 0)
    assert decoder.counts.frames + decoder.counts.dropped == len(bodies)
    assert decoder.counts.damaged == 0


@given(st.lists(st.one_of(identities, conditions, replies, echoes), max_size=40))
@settings(deadline=None, max_examples=60)
def test_what_is_encoded_is_what_is_decoded(messages: list[Message]) -> None:
    stream = b"".join(to_stream(encode(message)) for message in messages)
    assert StreamDecoder().feed(stream, 0) == messages


@given(st.lists(commands, max_size=10), st.binary(max_size=40))
@settings(deadline=None, max_examples=60)
def test_commands_come_through_at_the_scales_end(sent: list[Command], noise: bytes) -> None:
    stream = b"".join(to_stream(encode(command)) for command in sent)
    reader = CommandReader()
    reader.feed(noise + b"\0")
    assert [heard for byte in stream for heard in reader.feed(bytes([byte]))] == sent


@given(commands.map(encode), st.data())
def test_single_flipped_bits_in_a_frame_are_always_caught(frame: bytes, data: st.DataObject) -> None:
    bit = data.draw(st.integers(0, 8 * len(frame) - 1))
    flipped = bytearray(frame)
    flipped[bit // 8] ^= 1 << bit % 8
    assert open_frame(bytes(flipped)) is None


@given(st.data())
@settings(deadline=None, max_examples=60)
def test_a_bit_flipped_on_the_wire_never_changes_a_message(data: st.DataObject) -> None:
    identity = data.draw(identities)
    frames = data.draw(st.lists(samples(len(identity.channels)), min_size=1, max_size=15))
    stream = b"".join(map(to_stream, [encode(identity), *frames]))
    sent = set(map(bytes, [encode(identity), *frames]))
    bit = data.draw(st.integers(0, 8 * len(stream) - 1))
    flipped = bytearray(stream)
    flipped[bit // 8] ^= 1 << bit % 8
    decoder = StreamDecoder()
    for message in decoder.feed(bytes(flipped), 0):
        assert set(split(message)) <= sent


def split(message: Message) -> list[bytes]:
    """The frames that a message was made of."""
    if not isinstance(message, Chunk):
        return [encode(message)]
    columns = (message.sequence.tolist(), message.tick.tolist(), message.step.tolist(), message.readings)
    return [encode_samples(*frame) for frame in zip(*columns, strict=True)]


@given(u8, u8, st.binary(max_size=12))
def test_every_body_gets_a_command_or_an_answer(kind: int, token: int, rest: bytes) -> None:
    heard = parse_command(bytes([kind, token]) + rest)
    if isinstance(heard, Reply):
        assert heard.command == kind
        assert heard.token == token
        assert heard.result in (Result.UNKNOWN_COMMAND, Result.WRONG_LENGTH)
    else:
        assert heard is not None
        assert Kind.WHO <= kind <= Kind.PING
