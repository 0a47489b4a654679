"""Blocks opened at once: the same frames as one by one, and not a single wrong bit let through."""

from __future__ import annotations

import random

import pytest
from cobs import cobs

from weightshare.scales.bulk import open_at_once
from weightshare.scales.frame import MAX_FRAME, close_body, to_stream
from weightshare.scales.stream import Counts, Deframer, sift, unstuff


def make_frames(count: int, seed: int = 1, longest: int = 60) -> list[bytes]:
    """Frames of random sizes and bytes, half of them zero."""
    chance = random.Random(seed)
    sizes = [chance.choice((0, 1, 14, 14, 14, longest)) for _ in range(count)]
    return [close_body(bytes(chance.choice((0, chance.randrange(256))) for _ in range(size))) for size in sizes]


def one_by_one(block: bytes) -> list[bytes]:
    stuffed = block.split(b"\0")[:-1]
    return list(sift(stuffed, unstuff(stuffed), Counts()).each())


@pytest.mark.parametrize("count", [1, 2, 15, 16, 17, 32, 33, 200])
def test_sound_frames_are_opened_at_once(count: int) -> None:
    frames = make_frames(count)
    opened = open_at_once(b"".join(map(to_stream, frames)))
    assert opened is not None
    assert list(opened.each()) == frames
    assert opened.closing.tolist() == list(range(count))
    assert opened.closings == count


def test_empty_frames_are_passed_over_and_the_others_know_what_closed_them() -> None:
    frames = make_frames(3)
    opened = open_at_once(b"\0\0" + to_stream(frames[0]) + b"\0" + to_stream(frames[1]) + to_stream(frames[2]) + b"\0")
    assert opened is not None
    assert list(opened.each()) == frames
    assert opened.closing.tolist() == [2, 4, 5]
    assert opened.closings == 7


def test_no_wrong_bit_is_let_through() -> None:
    block = b"".join(map(to_stream, make_frames(40)))
    for bit in range(8 * len(block) - 8):
        flipped = bytearray(block)
        flipped[bit // 8] ^= 1 << bit % 8
        assert open_at_once(bytes(flipped)) is None, bit


@pytest.mark.parametrize("apart", [1, 7, 15, 16])
def test_the_same_wrong_bits_in_two_frames_do_not_hide_each_other(apart: int) -> None:
    frames = [close_body(bytes([number]) * 20) for number in range(1, 40)]
    for at in range(24):
        for wrong in (0x01, 0x80, 0xFF):
            altered = [bytearray(frame) for frame in frames]
            altered[3][at] ^= wrong
            altered[3 + apart][at] ^= wrong
            assert open_at_once(b"".join(to_stream(bytes(frame)) for frame in altered)) is None


@pytest.mark.parametrize("cut", range(2, 30))
def test_a_frame_that_lost_bytes_is_not_let_through(cut: int) -> None:
    frames = [close_body(bytes([number, 0] * 12)) for number in range(30)]
    streams = list(map(to_stream, frames))
    short = streams[10][:-cut] + b"\0"
    assert open_at_once(b"".join([*streams[:10], short, *streams[11:]])) is None


def test_a_code_that_runs_over_into_the_next_frame_is_not_let_through() -> None:
    # Were the two taken for one chain, their bytes would come out in order and only a border would be missing.
    frames = make_frames(20)
    stuffed = [bytes(cobs.encode(frame)) for frame in frames]
    first, second = close_body(b"\1" * 8), close_body(b"\2" * 8)
    joint = bytes(cobs.encode(first + second))
    stuffed[5:7] = [joint[:9], joint[9:]]
    block = b"\0".join(stuffed) + b"\0"
    assert open_at_once(block) is None
    assert one_by_one(block) == frames[:5] + frames[7:]


@pytest.mark.parametrize("size", [253, 254, 255, 600, MAX_FRAME - 4])
@pytest.mark.parametrize("fill", [b"\0", b"\xff"])
def test_long_frames_come_out_right_whichever_way(size: int, fill: bytes) -> None:
    frames = [*make_frames(20), close_body(fill * size), *make_frames(20, seed=2)]
    block = b"".join(map(to_stream, frames))
    opened = open_at_once(block)
    assert opened is None or list(opened.each()) == frames
    deframer = Deframer(Counts())
    assert list(deframer.feed(block).each()) == frames


@pytest.mark.parametrize("body", [b"\0" * 1030, b"\xff" * 1030])
def test_frames_that_are_too_long_or_too_short_are_left_to_be_counted(body: bytes) -> None:
    frames = b"".join(map(to_stream, make_frames(100)))
    counts = Counts()
    opened = Deframer(counts).feed(frames + bytes(cobs.encode(body)) + b"\0" + b"\x03ab\0" + frames)
    assert len(opened.sizes) == 200
    assert (counts.over_long, counts.damaged) == (1, 1)


@pytest.mark.parametrize("seed", range(30))
def test_with_damage_large_blocks_come_out_as_small_ones_do(seed: int) -> None:
    chance = random.Random(seed)
    block = bytearray(b"".join(map(to_stream, make_frames(150, seed))))
    for _ in range(chance.randrange(6)):
        block[chance.randrange(len(block))] = chance.choice((0, 0, 1, chance.randrange(256)))
    at_once, in_pieces = Counts(), Counts()
    large = list(Deframer(at_once).feed(bytes(block)).each())
    deframer = Deframer(in_pieces)
    small = [frame for at in range(0, len(block), 11) for frame in deframer.feed(bytes(block[at : at + 11])).each()]
    assert large == small
    assert at_once == in_pieces
