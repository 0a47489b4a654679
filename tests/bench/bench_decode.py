"""Decoding against the plain way to do it: ratios taken within one run.

Run by `make bench`, or by itself: python tests/bench/bench_decode.py
"""

from __future__ import annotations

import struct
import time
from collections.abc import Callable
from zlib import crc32

import numpy as np
from cobs import cobs
from numpy.typing import NDArray

from weightshare.model import Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Echo, Message, encode, encode_samples, to_stream

MINUTES = 10
RATE_HZ = 100
ROWS = 5
CHANNELS = 8
TICK_RATE_HZ = 1_000_000
ROUNDS = 15


def make_capture() -> bytes:
    """Return ten minutes of one board with both plates at 100 Hz, a CONDITION each second and an ECHO every two."""
    rng = np.random.default_rng(20)
    step = TICK_RATE_HZ // RATE_HZ
    sides = (Side.LEFT, Side.RIGHT)
    channels = tuple(Channel(Quantity.FORCE, sides[i // 4], 0, 100) for i in range(CHANNELS))
    identity = Identity("0011223344556677", (1, 0, 0), 1, TICK_RATE_HZ, RATE_HZ, channels, "both")
    frames = [encode(identity)]
    for number in range(MINUTES * 60 * RATE_HZ // ROWS):
        readings = (400_000 + rng.normal(0, 20_000, (ROWS, CHANNELS))).astype(np.int32)
        frames.append(encode_samples(number, number * ROWS * step, step, readings))
        if number % 20 == 0:
            frames.append(encode(Condition(number * ROWS * step, 3700, 21.5, 0, 0)))
        if number % 40 == 0:
            frames.append(encode(Echo(number, number * ROWS * step)))
    return b"".join(map(to_stream, frames))


Columns = tuple[NDArray[np.uint32], NDArray[np.uint16], NDArray[np.int32]]
"""What the command shows of every sample: its tick and sequence, shape (n,), and its readings, shape (n, channels)."""


def decode_ours(capture: bytes) -> list[Message]:
    """The decoder under test."""
    return StreamDecoder().feed(capture, 0)


def decode_to_columns(capture: bytes) -> Columns:
    """The decoder under test, brought to columns."""
    chunks = [message for message in decode_ours(capture) if isinstance(message, Chunk)]
    tick = np.concatenate([chunk.tick for chunk in chunks])[:, None]
    step = np.concatenate([chunk.step for chunk in chunks])[:, None]
    sequence = np.concatenate([chunk.sequence for chunk in chunks])
    readings = np.concatenate([chunk.readings for chunk in chunks])
    ticks = (tick + step * np.arange(ROWS, dtype=np.uint32)).ravel()
    return ticks, sequence.repeat(ROWS), readings.reshape(-1, CHANNELS)


def decode_plainly(capture: bytes) -> Columns:
    """A loop over frames, row by row, to the same columns: what one would write without thinking of speed."""
    ticks, sequences, rows = [], [], []
    others: list[Condition | Echo] = []
    for stuffed in capture.split(b"\0"):
        frame = cobs.decode(stuffed)
        body, told = frame[:-4], frame[-4:]
        if not body or crc32(body) != struct.unpack("<I", told)[0]:
            continue
        if body[0] == 2:
            sequence, tick, step, count = struct.unpack("<HIIB", body[1:12])
            for row in range(count):
                ticks.append(tick + row * step)
                sequences.append(sequence)
                rows.append(struct.unpack("<8i", body[12 + 32 * row : 44 + 32 * row]))
        elif body[0] == 3:
            tick, battery_mV, temperature, lost, faults = struct.unpack("<IHhIH", body[1:])
            others.append(Condition(tick, battery_mV, temperature / 100, lost, faults))
        elif body[0] == 5:
            others.append(Echo(*struct.unpack("<II", body[1:])))
    return np.array(ticks, np.uint32), np.array(sequences, np.uint16), np.array(rows, np.int32)


def call_only(stuffed: list[bytes]) -> None:
    """The two calls that no decoder of this protocol can do without, and nothing else."""
    decode = cobs.decode
    for frame in stuffed:
        crc32(decode(frame))


def measure() -> list[dict[str, str | float]]:
    """Return the two ratios with their limits: of the least times over rounds that interleave the ways."""
    capture = make_capture()
    stuffed = [part for part in capture.split(b"\0") if part]
    for ours, plain in zip(decode_to_columns(capture), decode_plainly(capture), strict=True):
        np.testing.assert_array_equal(ours, plain)
    ways: list[Callable[[], object]] = [
        lambda: decode_to_columns(capture),
        lambda: decode_plainly(capture),
        lambda: decode_ours(capture),
        lambda: call_only(stuffed),
    ]
    rounds = [[_time(way) for way in ways] for _ in range(ROUNDS)]
    columns_s, plainly_s, ours_s, calls_s = map(min, zip(*rounds, strict=True))
    return [
        {
            "name": "decoding to columns: how many times longer a loop takes that unpacks row by row",
            "value": plainly_s / columns_s,
            "limit": 8.0,
            "direction": "at least",
        },
        {
            "name": "decoding: time against its COBS and CRC calls alone",
            "value": ours_s / calls_s,
            "limit": 2.5,
            "direction": "at most",
        },
    ]


def _time(work: Callable[[], object]) -> float:
    began = time.thread_time()
    work()
    return time.thread_time() - began


if __name__ == "__main__":
    for ratio in measure():
        print(f"{ratio['name']}: {ratio['value']:.2f} ({ratio['direction']} {ratio['limit']})")
