"""What stands in a body: the layout of each kind, and how a body is read at either end of the link."""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterable
from itertools import repeat

import numpy as np

from weightshare.model import Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.message import Blink, Command, Echo, Kind, Message, Ping, Reply, Result, Start, Stop, Who

PROTOCOL = 1

UNKNOWN_TEMPERATURE = -32768
SIDES = (None, Side.LEFT, Side.RIGHT)
SIDE_CODES = {side: code for code, side in enumerate(SIDES)}

IDENTITY = struct.Struct("<BB8s3BHIHB")
CHANNEL = struct.Struct("<BBhh")
SAMPLES = struct.Struct("<BHIIB")
CONDITION = struct.Struct("<BIHhIH")
REPLY = struct.Struct("<BBBB")
ECHO = struct.Struct("<BII")
TOKEN = struct.Struct("<BB")
TOKEN_AND_NUMBER = struct.Struct("<BBH")
NONCE = struct.Struct("<BI")


class FrameError(ValueError):
    """A body with a right CRC that is still not to be used."""


class UnknownKindError(FrameError):
    """The kind is none of those that this end understands."""


class LengthError(FrameError):
    """The length does not fit the kind."""


class ContentError(FrameError):
    """A field holds what the protocol does not allow."""


def parse_message(body: bytes, channels: int | None = None, arrival_ns: int = 0) -> Message:
    """Return what a scale said in `body` (without its CRC).

    `channels` is the channel count of the scale's IDENTITY, which SAMPLES need. An IDENTITY of another protocol
    version has only its `protocol` filled in. Raises UnknownKindError, LengthError or ContentError.
    """
    kind = body[0] if body else None
    if kind == Kind.SAMPLES:
        return _parse_samples(body, channels, arrival_ns)
    if kind == Kind.ECHO:
        return _parse_echo(body, arrival_ns)
    if kind is None:
        raise LengthError("an empty body has no kind")
    parser = _PARSERS.get(kind)
    if parser is None:
        raise UnknownKindError(f"no scale sends the kind {kind:#04x}")
    return parser(body)


def parse_command(body: bytes) -> Command | Reply | None:
    """Return the command in `body` (without its CRC), or the Reply with which a scale has to refuse it.

    An unknown kind and a wrong length are answered with the first payload byte as token, or 0 where there is none.
    None for an empty body, which has no kind to answer.
    """
    if not body:
        return None
    kind, token = body[0], body[1] if len(body) > 1 else 0
    shape = _COMMANDS.get(kind)
    if shape is None:
        return Reply(kind, token, Result.UNKNOWN_COMMAND)
    layout, build = shape
    if len(body) != layout.size:
        return Reply(kind, token, Result.WRONG_LENGTH)
    return build(*layout.unpack(body)[1:])


_COMMANDS: dict[int, tuple[struct.Struct, Callable[..., Command]]] = {
    Kind.WHO: (TOKEN, Who),
    Kind.START: (TOKEN_AND_NUMBER, lambda token, tenths_Hz: Start(token, tenths_Hz / 10)),
    Kind.STOP: (TOKEN, Stop),
    Kind.BLINK: (TOKEN_AND_NUMBER, Blink),
    Kind.PING: (NONCE, Ping),
}


def _check_size(layout: struct.Struct, body: bytes) -> None:
    if len(body) != layout.size:
        raise LengthError(f"a body of kind {body[0]:#04x} has {layout.size} bytes, not {len(body)}")


def _parse_identity(body: bytes) -> Identity:
    protocol = body[1] if len(body) > 1 else PROTOCOL
    if protocol != PROTOCOL:
        return Identity("", (0, 0, 0), 0, 0, 0.0, (), protocol=protocol)
    names_at, count = _measure_identity(body)
    _, _, device_id, *firmware, boot_count, tick_rate_Hz, tenths_Hz, _ = IDENTITY.unpack_from(body)
    if not tick_rate_Hz or not tenths_Hz:
        raise ContentError("an IDENTITY without a tick rate or a sampling rate gives no time")
    channels = [CHANNEL.unpack_from(body, IDENTITY.size + i * CHANNEL.size) for i in range(count)]
    return Identity(
        device_id.hex(),
        (firmware[0], firmware[1], firmware[2]),
        boot_count,
        tick_rate_Hz,
        tenths_Hz / 10,
        tuple(_parse_channel(*fields) for fields in channels),
        _parse_name(body[names_at + 1 :]),
    )


def _measure_identity(body: bytes) -> tuple[int, int]:
    """Where the name's length stands, and how many channels come before it; LengthError where that cannot be."""
    if len(body) < IDENTITY.size:
        raise LengthError(f"an IDENTITY of {len(body)} bytes is cut short")
    count = body[IDENTITY.size - 1]
    if not 1 <= count <= 16:
        raise ContentError(f"an IDENTITY has 1 to 16 channels, not {count}")
    names_at = IDENTITY.size + count * CHANNEL.size
    if len(body) <= names_at or len(body) != names_at + 1 + body[names_at]:
        raise LengthError(f"an IDENTITY of {len(body)} bytes does not fit its {count} channels and its name")
    return names_at, count


def _parse_channel(quantity: int, side: int, x_mm: int, y_mm: int) -> Channel:
    try:
        return Channel(Quantity(quantity), SIDES[side], x_mm, y_mm)
    except (ValueError, IndexError) as error:
        raise ContentError(f"no channel has quantity {quantity} and side {side}") from error


def _parse_name(name: bytes) -> str:
    if len(name) > 32:
        raise ContentError(f"a name has up to 32 bytes, not {len(name)}")
    try:
        return name.decode()
    except UnicodeDecodeError as error:
        raise ContentError("a name that is not UTF-8") from error


def read_conditions(data: bytes, starts: Iterable[int]) -> list[Condition]:
    """Return the CONDITIONs whose bodies start at `starts` in `data`."""
    return [
        Condition(tick, battery_mV, None if celsius == UNKNOWN_TEMPERATURE else celsius / 100, lost_samples, faults)
        for _, tick, battery_mV, celsius, lost_samples, faults in map(CONDITION.unpack_from, repeat(data), starts)
    ]


def read_echoes(data: bytes, starts: Iterable[int], arrivals_ns: Iterable[int]) -> list[Echo]:
    """Return the ECHOes whose bodies start at `starts` in `data`, and which came at `arrivals_ns`."""
    bodies = map(ECHO.unpack_from, repeat(data), starts)
    return [Echo(nonce, tick, arrival_ns) for (_, nonce, tick), arrival_ns in zip(bodies, arrivals_ns, strict=True)]


def _parse_condition(body: bytes) -> Condition:
    _check_size(CONDITION, body)
    return read_conditions(body, [0])[0]


def _parse_reply(body: bytes) -> Reply:
    _check_size(REPLY, body)
    _, command, token, result = REPLY.unpack(body)
    if result > max(Result):
        raise ContentError(f"a REPLY has no result {result}")
    return Reply(command, token, Result(result))


def _parse_echo(body: bytes, arrival_ns: int) -> Echo:
    _check_size(ECHO, body)
    return read_echoes(body, [0], [arrival_ns])[0]


_PARSERS: dict[int, Callable[[bytes], Message]] = {
    Kind.IDENTITY: _parse_identity,
    Kind.CONDITION: _parse_condition,
    Kind.REPLY: _parse_reply,
}


def _parse_samples(body: bytes, channels: int | None, arrival_ns: int) -> Chunk:
    count = body[SAMPLES.size - 1] if len(body) >= SAMPLES.size else 0
    if channels is None or not count or len(body) != SAMPLES.size + 4 * count * channels:
        raise LengthError(f"a SAMPLES body of {len(body)} bytes does not fit {count} rows of {channels} channels")
    _, sequence, tick, step, _ = SAMPLES.unpack_from(body)
    if count > 1 and not step:
        raise ContentError(f"{count} rows of SAMPLES cannot be at one and the same tick")
    readings = np.frombuffer(body, "<i4", offset=SAMPLES.size).reshape(1, count, channels)
    return Chunk(
        np.array([sequence], np.uint16),
        np.array([tick], np.uint32),
        np.array([step], np.uint32),
        np.array([arrival_ns], np.int64),
        readings.astype(np.int32),
    )
