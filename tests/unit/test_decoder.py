"""Streams of bytes decoded: what comes out, what is dropped, and that nothing is guessed at."""

from __future__ import annotations

import struct
from dataclasses import asdict, replace
from zlib import crc32

import numpy as np
import pytest
from cobs import cobs
from numpy.typing import NDArray

from weightshare.model import Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.decoder import StreamDecoder, merge
from weightshare.scales.frame import (
    MAX_BODY,
    MAX_STUFFED,
    Blink,
    Command,
    Echo,
    Kind,
    Message,
    Ping,
    Reply,
    Result,
    Start,
    Who,
    encode,
    encode_samples,
    to_stream,
)
from weightshare.scales.stream import CommandReader

CHANNELS = 3
FORCES = tuple(Channel(Quantity.FORCE, side) for side in (Side.LEFT, Side.RIGHT, None))
SCALE = Identity("0011223344556677", (1, 2, 3), 5, 1_000_000, 80.0, FORCES, "plates")
FOREIGN = bytes([Kind.IDENTITY, 2]) + bytes(20)


def put(*messages: Message | Command) -> bytes:
    return b"".join(to_stream(encode(message)) for message in messages)


def raw(body: bytes) -> bytes:
    """A frame of whatever body, its CRC right."""
    return bytes(cobs.encode(body + struct.pack("<I", crc32(body)))) + b"\0"


def samples(sequence: int, rows: int = 2, channels: int = CHANNELS, tick: int = 0, step: int = 10) -> bytes:
    readings = np.arange(rows * channels, dtype=np.int32).reshape(rows, channels) + sequence
    return to_stream(encode_samples(sequence, tick, step, readings))


def run(first: int, count: int, rows: int = 2) -> bytes:
    return b"".join(samples(number, rows, tick=number * rows * 10) for number in range(first, first + count))


def sequences(messages: list[Message]) -> list[int]:
    return [int(number) for item in messages if isinstance(item, Chunk) for number in item.sequence]


def faults(decoder: StreamDecoder) -> dict[str, int]:
    """All counts that are not zero, those of frames that were taken left out."""
    taken = {"bytes", "identity", "samples", "condition", "reply", "echo"}
    return {name: count for name, count in asdict(decoder.counts).items() if count and name not in taken}


@pytest.mark.parametrize("frames", [1, 3, 40])
def test_samples_that_follow_each_other_become_one_chunk(frames: int) -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(put(SCALE) + run(0, frames), arrival_ns=123)
    assert messages[0] == SCALE
    assert decoder.identity == SCALE
    assert decoder.identity is not None
    assert len(messages) == 2
    chunk = messages[1]
    assert isinstance(chunk, Chunk)
    assert chunk.readings.shape == (frames, 2, CHANNELS)
    np.testing.assert_array_equal(chunk.sequence, np.arange(frames))
    np.testing.assert_array_equal(chunk.tick, np.arange(frames) * 20)
    np.testing.assert_array_equal(chunk.step, np.full(frames, 10))
    np.testing.assert_array_equal(chunk.arrival_ns, np.full(frames, 123))
    np.testing.assert_array_equal(chunk.readings[:, 0, 0], np.arange(frames))
    assert faults(decoder) == {}
    assert decoder.counts.frames == frames + 1


@pytest.mark.parametrize("frames", [2, 40])
def test_arrays_are_of_the_promised_kind(frames: int) -> None:
    chunk = StreamDecoder().feed(put(SCALE) + run(0, frames), 0)[1]
    assert isinstance(chunk, Chunk)
    promised = {"sequence": "u2", "tick": "u4", "step": "u4", "arrival_ns": "i8", "readings": "i4"}
    for name, kind in promised.items():
        array: NDArray[np.generic] = getattr(chunk, name)
        assert array.dtype == np.dtype(kind)
        assert array.flags.aligned
        assert array.flags.c_contiguous


def test_messages_keep_their_order_between_samples() -> None:
    state, echo, reply = Condition(7, 3300, 21.5, 0, 0), Echo(1, 2), Reply(Kind.STOP, 3, Result.DONE)
    stream = put(SCALE) + run(0, 20) + put(state, echo) + run(20, 20) + put(reply, state) + run(40, 20, rows=1)
    messages = StreamDecoder().feed(stream, 0)
    assert [item for item in messages if not isinstance(item, Chunk)] == [SCALE, state, echo, reply, state]
    assert [type(item) for item in messages].count(Chunk) == 3
    assert [isinstance(item, Chunk) for item in messages] == [False, True, False, False, True, False, False, True]
    assert sequences(messages) == list(range(60))


def test_a_frame_arrives_with_the_piece_that_closes_it() -> None:
    one, two = samples(0), samples(1)
    pieces = [put(SCALE), one[:5], one[5:-1], one[-1:] + two[:3], b"", two[3:]]
    arrivals = [10, 20, 30, 40, 50, 60]
    whole = StreamDecoder().feed_pieces(pieces, arrivals)
    live = StreamDecoder()
    one_by_one = merge(
        [message for piece, at in zip(pieces, arrivals, strict=True) for message in live.feed(piece, at)]
    )
    for messages in (whole, one_by_one):
        assert messages[0] == SCALE
        assert isinstance(messages[1], Chunk)
        assert messages[1].arrival_ns.tolist() == [40, 60]


def test_joining_mid_stream_drops_the_frame_that_was_cut_and_says_so() -> None:
    decoder = StreamDecoder()
    messages = decoder.feed((put(SCALE) + run(0, 20))[7:] + put(SCALE) + run(20, 20), 0)
    assert sequences(messages) == list(range(20, 40))
    assert faults(decoder) == {"damaged": 1, "before_identity": 20}


def test_samples_before_the_first_identity_are_dropped_and_who_is_due() -> None:
    decoder = StreamDecoder()
    assert decoder.feed(run(0, 3), 0) == []
    assert decoder.feed(run(3, 30) + put(Condition(1, 0, None, 0, 0)), 0) == [Condition(1, 0, None, 0, 0)]
    assert decoder.identity is None
    assert faults(decoder) == {"before_identity": 33}


@pytest.mark.parametrize("around", [0, 30])
def test_damage_is_dropped_and_counted_and_its_neighbours_live(around: int) -> None:
    decoder = StreamDecoder()
    bad = bytearray(samples(around))
    bad[9] ^= 0x40
    messages = decoder.feed(put(SCALE) + run(0, around) + bytes(bad) + run(around + 1, 5), 0)
    assert sequences(messages) == [*range(around), *range(around + 1, around + 6)]
    assert faults(decoder) == {"damaged": 1} | ({"lost_frames": 1, "gaps": 1} if around else {})


def test_a_truncated_frame_is_dropped_and_the_next_one_is_read() -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(put(SCALE) + samples(0)[:-9] + b"\0" + samples(1), 0)
    assert sequences(messages) == [1]
    assert faults(decoder) == {"damaged": 1}


@pytest.mark.parametrize("extra", [b"", run(0, 30)])
def test_empty_frames_are_nothing(extra: bytes) -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(b"\0\0" + put(SCALE) + extra + b"\0\0\0" + put(Echo(1, 2)) + b"\0", 0)
    assert messages[0] == SCALE
    assert messages[-1] == Echo(1, 2)
    assert faults(decoder) == {"empty": 6}


def test_what_cobs_makes_nothing_of_is_damage_and_not_an_empty_frame() -> None:
    decoder = StreamDecoder()
    assert decoder.feed(b"\x01\0" + b"\x02a\0" + b"\xff\0", 0) == []
    assert faults(decoder) == {"damaged": 3}


@pytest.mark.parametrize("kind", [0x00, 0x06, 0x80, 0x82, 0xFF])
def test_unknown_kinds_are_dropped_and_counted(kind: int) -> None:
    decoder = StreamDecoder()
    unknown = raw(bytes([kind]) + bytes(15))
    messages = decoder.feed(put(SCALE) + unknown + run(0, 20) + unknown + run(20, 20), 0)
    assert sequences(messages) == list(range(40))
    assert faults(decoder) == {"unknown_kind": 2}


@pytest.mark.parametrize("around", [0, 30])
@pytest.mark.parametrize(
    "body",
    [
        b"",
        bytes([Kind.SAMPLES]),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 0),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 0) + bytes(12),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 1) + bytes(8),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 1) + bytes(13),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 2) + bytes(12),
        struct.pack("<BHIIB", Kind.SAMPLES, 0, 0, 10, 1) + bytes(24),
        bytes([Kind.CONDITION]) + bytes(13),
        bytes([Kind.CONDITION]) + bytes(15),
        bytes([Kind.ECHO]) + bytes(9),
        bytes([Kind.REPLY]) + bytes(2),
        bytes([Kind.IDENTITY]),
    ],
)
def test_a_length_that_does_not_fit_is_dropped_and_counted(body: bytes, around: int) -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(put(SCALE) + run(0, around) + raw(body) + run(around, 2), 0)
    assert sequences(messages) == list(range(around + 2))
    assert faults(decoder) == {"wrong_length": 1}


@pytest.mark.parametrize("around", [0, 30])
def test_several_rows_at_one_tick_are_refused_and_a_single_row_is_not(around: int) -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(
        put(SCALE) + run(0, around) + samples(9000, rows=2, step=0) + samples(around, rows=1, step=0), 0
    )
    assert sequences(messages) == list(range(around + 1))
    assert faults(decoder) == {"wrong_content": 1}


def test_a_body_of_1024_bytes_is_read_and_a_longer_one_is_not() -> None:
    # 12 + 4 x 253 = 1,024: the longest SAMPLES that one channel can fill.
    scale = replace(SCALE, channels=SCALE.channels[:1])
    decoder = StreamDecoder()
    longest = samples(0, rows=253, channels=1)
    head = struct.pack("<BHIIB", Kind.SAMPLES, 1, 0, 10, 254)
    messages = decoder.feed(put(scale) + longest + raw(head + bytes(4 * 254)) + raw(head + b"x" * (4 * 254)), 0)
    assert sequences(messages) == [0]
    assert isinstance(messages[1], Chunk)
    assert messages[1].readings.shape == (1, 253, 1)
    assert faults(decoder) == {"over_long": 2}


def test_a_right_crc_does_not_save_a_frame_of_1025_bytes() -> None:
    decoder = StreamDecoder()
    body = bytes([Kind.CONDITION]) + bytes(MAX_BODY)
    assert len(raw(body)) - 1 <= MAX_STUFFED  # no longer on the stream than a body of 1,024 bytes may be
    assert decoder.feed(raw(body), 0) == []
    assert faults(decoder) == {"over_long": 1}


def test_a_stream_without_end_marks_does_not_fill_the_memory() -> None:
    decoder = StreamDecoder()
    decoder.feed(put(SCALE), 0)
    for _ in range(300):
        assert decoder.feed(b"\x55" * 10_000, 0) == []
    held = decoder._deframer._open
    assert len(held) <= MAX_STUFFED + 1
    messages = decoder.feed(b"\x55\0" + samples(0), 0)
    assert sequences(messages) == [0]
    assert faults(decoder) == {"over_long": 1}
    assert decoder.counts.bytes == 3_000_000 + len(put(SCALE)) + len(samples(0)) + 2


def test_sequence_and_ticks_wrap() -> None:
    decoder = StreamDecoder()
    numbers = [65534, 65535, 0, 1]
    stream = b"".join(samples(number, tick=(2**32 - 40 + 20 * i) % 2**32) for i, number in enumerate(numbers))
    chunk = decoder.feed(put(SCALE) + stream * 1, 0)[1]
    assert isinstance(chunk, Chunk)
    assert chunk.sequence.tolist() == numbers
    assert chunk.tick.tolist() == [2**32 - 40, 2**32 - 20, 0, 20]
    assert faults(decoder) == {}


@pytest.mark.parametrize("one_by_one", [True, False])
def test_lost_frames_are_counted_over_the_wrap(one_by_one: bool) -> None:
    decoder = StreamDecoder()
    decoder.feed(put(SCALE), 0)
    frames = [samples(number) for number in (65530, 65533, 65534, 3, 4, 5, 6, 7, 8, 9, 10, 12)]
    for piece in frames if one_by_one else [b"".join(frames)]:
        decoder.feed(piece, 0)
    assert faults(decoder) == {"lost_frames": 2 + 4 + 1, "gaps": 3}


def test_a_start_begins_the_sequence_anew_and_is_no_loss() -> None:
    decoder = StreamDecoder()
    started = put(Reply(Kind.START, 1, Result.DONE))
    decoder.feed(put(SCALE) + run(40_000, 20) + started + run(2, 20), 0)
    assert faults(decoder) == {"lost_frames": 2, "gaps": 1}
    decoder.feed(put(Reply(Kind.START, 2, Result.OUT_OF_RANGE)) + run(22, 20), 0)
    assert faults(decoder) == {"lost_frames": 2, "gaps": 1}


def test_a_step_back_is_told_and_is_not_thousands_of_lost_frames() -> None:
    decoder = StreamDecoder()
    decoder.feed(put(SCALE) + run(500, 20) + run(0, 20), 0)
    assert faults(decoder) == {"out_of_order": 1}


def test_a_restart_is_seen_by_the_boot_count() -> None:
    decoder = StreamDecoder()
    again = replace(SCALE, boot_count=6)
    messages = decoder.feed(put(SCALE) + run(700, 20) + put(SCALE) + run(720, 20) + put(again) + run(5, 20), 0)
    assert [item for item in messages if isinstance(item, Identity)] == [SCALE, SCALE, again]
    assert decoder.identity == again
    assert faults(decoder) == {"restarts": 1}


def test_a_new_identity_changes_how_samples_are_read() -> None:
    decoder = StreamDecoder()
    two = replace(SCALE, boot_count=6, channels=SCALE.channels[:2])
    three_rows = b"".join(samples(number, rows=3, channels=2) for number in range(20))
    messages = decoder.feed(put(SCALE) + run(0, 20) + put(two) + three_rows + run(20, 20), 0)
    shapes = [item.readings.shape for item in messages if isinstance(item, Chunk)]
    assert shapes == [(20, 2, 3), (20, 3, 2)]
    assert faults(decoder) == {"wrong_length": 20, "restarts": 1}


def test_another_protocol_version_is_passed_on_and_its_samples_are_not_read() -> None:
    decoder = StreamDecoder()
    messages = decoder.feed(put(SCALE) + raw(FOREIGN) + run(0, 30), 0)
    assert isinstance(messages[1], Identity)
    assert messages[1].protocol == 2
    assert len(messages) == 2
    assert decoder.identity is None
    assert faults(decoder) == {"before_identity": 30}


def test_a_new_stream_forgets_the_half_frame_and_who_spoke() -> None:
    decoder = StreamDecoder()
    decoder.feed(put(SCALE) + run(0, 5) + samples(5)[:10], 0)
    decoder.start()
    assert decoder.identity is None
    messages = decoder.feed(samples(6) + put(SCALE) + run(900, 3), 0)
    assert sequences(messages) == [900, 901, 902]
    assert faults(decoder) == {"damaged": 1, "before_identity": 1}


@pytest.mark.parametrize("frames", [2, 20])
def test_a_dropped_frame_between_does_not_part_a_chunk(frames: int) -> None:
    # It once did where many frames came at once, but not where they came one by one.
    messages = StreamDecoder().feed(put(SCALE) + run(0, frames) + raw(b"") + run(frames, frames), 0)
    assert len(messages) == 2
    assert sequences(messages) == list(range(2 * frames))


def test_merging_joins_only_neighbours_of_one_shape() -> None:
    decoder = StreamDecoder()
    decoder.feed(put(SCALE), 0)
    pieces = [samples(0), samples(1), samples(2, rows=1), put(Echo(0, 0)), samples(3, rows=1), samples(4, rows=1)]
    items = [message for number, piece in enumerate(pieces) for message in decoder.feed(piece, number)]
    assert len(items) == 6
    merged = merge(items)
    assert [item.readings.shape[:2] if isinstance(item, Chunk) else item for item in merged] == [
        (2, 2),
        (1, 1),
        Echo(0, 0),
        (2, 1),
    ]
    assert sequences(merged) == [0, 1, 2, 3, 4]
    assert merge([]) == []


def test_more_than_a_block_of_bytes_is_decoded_as_if_it_were_less() -> None:
    stream = put(SCALE) + (run(0, 20) + put(Condition(1, 2, 3.0, 4, 5))) * 2500
    assert len(stream) > 2 * 2**20
    at_once = StreamDecoder()
    whole = at_once.feed(stream, 5)
    pieces = [stream[start : start + 300_001] for start in range(0, len(stream), 300_001)]
    in_pieces = StreamDecoder()
    cut = merge([message for piece in pieces for message in in_pieces.feed(piece, 5)])
    assert len(whole) == len(cut) == 1 + 2 * 2500
    assert sequences(whole) == sequences(cut) == list(range(20)) * 2500
    assert at_once.counts == in_pieces.counts


def test_the_scales_end_reads_commands_and_has_its_refusals_ready() -> None:
    reader = CommandReader()
    stream = put(Who(1), Start(2, 80.0), Ping(3)) + raw(bytes([0x82, 9])) + raw(bytes([0x90, 8, 7])) + raw(b"")
    damaged = bytearray(put(Blink(4, 500)))
    damaged[2] ^= 1
    heard: list[Command | Reply] = []
    for byte in stream + bytes(damaged) + put(Blink(5, 500)):
        heard.extend(reader.feed(bytes([byte])))
    assert heard == [
        Who(1),
        Start(2, 80.0),
        Ping(3),
        Reply(0x82, 9, Result.WRONG_LENGTH),
        Reply(0x90, 8, Result.UNKNOWN_COMMAND),
        Blink(5, 500),
    ]
    assert reader.counts.damaged == 1
