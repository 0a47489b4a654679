"""What a scale and its host say to each other, beyond the values that the whole package shares."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from typing import TypeAlias

from weightshare.model import Chunk, Condition, Identity


class Kind(IntEnum):
    """The first byte of a body."""

    IDENTITY = 0x01
    SAMPLES = 0x02
    CONDITION = 0x03
    REPLY = 0x04
    ECHO = 0x05
    WHO = 0x81
    START = 0x82
    STOP = 0x83
    BLINK = 0x84
    PING = 0x85


class Result(IntEnum):
    """How a scale took a command."""

    DONE = 0
    UNKNOWN_COMMAND = 1
    WRONG_LENGTH = 2
    OUT_OF_RANGE = 3
    BUSY = 4


@dataclass(frozen=True, slots=True)
class Reply:
    """A scale's answer to a command. `command` is the command's kind, 0 to 255, which need not be a known one."""

    command: int
    token: int
    result: Result


@dataclass(frozen=True, slots=True)
class Echo:
    """A scale's answer to a PING: the PING's nonce, and the scale's tick when it was read (both 32 bits)."""

    nonce: int
    tick: int
    arrival_ns: int = field(default=0, compare=False)
    """When it came, by the host's monotonic clock; no part of what was said."""


@dataclass(frozen=True, slots=True)
class Who:
    """Ask for an IDENTITY."""

    token: int


@dataclass(frozen=True, slots=True)
class Start:
    """Ask for SAMPLES at `rate_Hz`, kept in tenths of a hertz; 0 is the scale's own rate."""

    token: int
    rate_Hz: float = 0.0


@dataclass(frozen=True, slots=True)
class Stop:
    """Ask for an end of SAMPLES."""

    token: int


@dataclass(frozen=True, slots=True)
class Blink:
    """Ask for a light of `duration_ms`, so that a person can tell which scale it is."""

    token: int
    duration_ms: int


@dataclass(frozen=True, slots=True)
class Ping:
    """Ask for an ECHO of the same nonce (32 bits)."""

    nonce: int


Message: TypeAlias = Identity | Chunk | Condition | Reply | Echo
"""Scale to host: what decoding yields."""

Command: TypeAlias = Who | Start | Stop | Blink | Ping
"""Host to scale."""
