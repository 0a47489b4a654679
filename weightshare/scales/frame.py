"""The wire protocol's frames, both ways: values to bytes and bytes to values.

A frame is a body and its CRC-32 (CRC-32/ISO-HDLC, the one of zlib), little-endian; docs/wire-protocol.md describes it.
This is the protocol's public face: the messages and the readers of bodies are to be had from here too.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from zlib import crc32

import numpy as np
from cobs import cobs
from numpy.typing import NDArray

from weightshare.model import Channel, Chunk, Condition, Identity
from weightshare.scales.body import (
    CHANNEL,
    CONDITION,
    ECHO,
    IDENTITY,
    NONCE,
    PROTOCOL,
    REPLY,
    SAMPLES,
    SIDE_CODES,
    TOKEN,
    TOKEN_AND_NUMBER,
    UNKNOWN_TEMPERATURE,
    ContentError,
    FrameError,
    LengthError,
    UnknownKindError,
    parse_command,
    parse_message,
)
from weightshare.scales.message import Blink, Command, Echo, Kind, Message, Ping, Reply, Result, Start, Stop, Who

__all__ = [
    "CRC_BYTES",
    "CRC_RESIDUE",
    "MAX_BODY",
    "MAX_FRAME",
    "MAX_STUFFED",
    "PROTOCOL",
    "Blink",
    "Command",
    "ContentError",
    "Echo",
    "FrameError",
    "Kind",
    "LengthError",
    "Message",
    "Ping",
    "Reply",
    "Result",
    "Start",
    "Stop",
    "UnknownKindError",
    "Who",
    "close_body",
    "encode",
    "encode_samples",
    "open_frame",
    "parse_command",
    "parse_message",
    "to_stream",
]

MAX_BODY = 1024
"""Bytes; a longer body is discarded."""
CRC_BYTES = 4
MAX_FRAME = MAX_BODY + CRC_BYTES
MAX_STUFFED = MAX_FRAME + -(-MAX_FRAME // 254)
"""Bytes of the longest frame after COBS, which adds at most one in 254 (Cheshire and Baker, 1999)."""
CRC_RESIDUE = 0x2144DF1C
"""The CRC-32 of any body followed by its own CRC-32, so that a frame is checked without being sliced."""

_CRC = struct.Struct("<I")


def close_body(body: bytes) -> bytes:
    """Return the frame of `body`: the body and its CRC. Raises ValueError for a body over 1,024 bytes."""
    if len(body) > MAX_BODY:
        raise ValueError(f"a body of {len(body)} bytes is longer than the {MAX_BODY} that a frame may hold")
    return body + _CRC.pack(crc32(body))


def open_frame(frame: bytes) -> bytes | None:
    """Return the body of `frame`, or None where its CRC is wrong, or it is too short or too long to be a frame."""
    if not CRC_BYTES <= len(frame) <= MAX_FRAME or crc32(frame) != CRC_RESIDUE:
        return None
    return frame[:-CRC_BYTES]


def to_stream(frame: bytes) -> bytes:
    """Return `frame` as it goes over a byte stream: COBS-encoded and closed by one zero byte."""
    stuffed: bytes = cobs.encode(frame)
    return stuffed + b"\0"


def encode(message: Message | Command) -> bytes:
    """Return the frame (body and CRC) of a message or a command.

    A Chunk has to be of one frame. Raises ValueError where a field does not fit its place on the wire.
    """
    try:
        return close_body(_BODIES[type(message)](message))
    except (struct.error, KeyError, OverflowError) as error:
        raise ValueError(f"{type(message).__name__} cannot be put into a frame: {error}") from error


def encode_samples(sequence: int, tick: int, step: int, readings: NDArray[np.int32]) -> bytes:
    """Return one SAMPLES frame (body and CRC); the quick way for a scale that sends many.

    sequence, tick and step are taken modulo their widths (16, 32 and 32 bits); readings: int32,
    shape (samples, channels). Raises ValueError for no samples, or more than a frame may hold.
    """
    count = len(readings)
    if not 1 <= count <= 255:
        raise ValueError(f"a SAMPLES frame holds 1 to 255 rows, not {count}")
    head = SAMPLES.pack(Kind.SAMPLES, sequence & 0xFFFF, tick & 0xFFFFFFFF, step & 0xFFFFFFFF, count)
    return close_body(head + readings.astype("<i4", copy=False).tobytes())


def _identity_body(identity: Identity) -> bytes:
    name = identity.name.encode()
    device_id = bytes.fromhex(identity.device_id)
    if len(device_id) != 8 or len(name) > 32 or not 1 <= len(identity.channels) <= 16:
        raise ValueError("an IDENTITY has a device id of 8 bytes, a name of up to 32 bytes and 1 to 16 channels")
    head = IDENTITY.pack(
        Kind.IDENTITY,
        identity.protocol,
        device_id,
        *identity.firmware,
        identity.boot_count,
        identity.tick_rate_Hz,
        round(identity.rate_Hz * 10),
        len(identity.channels),
    )
    return head + b"".join(map(_channel_bytes, identity.channels)) + bytes([len(name)]) + name


def _channel_bytes(channel: Channel) -> bytes:
    return CHANNEL.pack(channel.quantity, SIDE_CODES[channel.side], channel.x_mm, channel.y_mm)


def _chunk_body(chunk: Chunk) -> bytes:
    if len(chunk.sequence) != 1:
        raise ValueError(f"one frame holds one frame's samples, not those of {len(chunk.sequence)}")
    frame = encode_samples(int(chunk.sequence[0]), int(chunk.tick[0]), int(chunk.step[0]), chunk.readings[0])
    return frame[:-CRC_BYTES]


def _condition_body(state: Condition) -> bytes:
    temperature = UNKNOWN_TEMPERATURE if state.temperature_degC is None else round(state.temperature_degC * 100)
    return CONDITION.pack(Kind.CONDITION, state.tick, state.battery_mV, temperature, state.lost_samples, state.faults)


_BODIES: dict[type, Callable[..., bytes]] = {
    Identity: _identity_body,
    Chunk: _chunk_body,
    Condition: _condition_body,
    Reply: lambda reply: REPLY.pack(Kind.REPLY, reply.command, reply.token, reply.result),
    Echo: lambda echo: ECHO.pack(Kind.ECHO, echo.nonce, echo.tick),
    Who: lambda who: TOKEN.pack(Kind.WHO, who.token),
    Start: lambda start: TOKEN_AND_NUMBER.pack(Kind.START, start.token, round(start.rate_Hz * 10)),
    Stop: lambda stop: TOKEN.pack(Kind.STOP, stop.token),
    Blink: lambda blink: TOKEN_AND_NUMBER.pack(Kind.BLINK, blink.token, blink.duration_ms),
    Ping: lambda ping: NONCE.pack(Kind.PING, ping.nonce),
}
