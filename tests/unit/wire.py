"""A virtual scale spoken to byte by byte, with nothing of the program's own frames: for tests of the rig."""

from __future__ import annotations

import struct
from zlib import crc32

from cobs import cobs

from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene

SECOND = 1_000_000_000
WHO, START, STOP, BLINK, PING = 0x81, 0x82, 0x83, 0x84, 0x85


def make(fault: str = "clean", *, seed: int = 1, start_tick: int = 0, rate_Hz: float = 100.0) -> VirtualScale:
    scene = Scene(Cast(PEOPLE["steady"], FAULTS[fault], Task(), seed))
    return VirtualScale(scene, start_tick=start_tick, rate_Hz=rate_Hz)


def command(*body: int) -> bytes:
    return cobs.encode(bytes(body) + struct.pack("<I", crc32(bytes(body)))) + b"\0"  # type: ignore[no-any-return]


def start(rate_Hz: float = 0.0, token: int = 9) -> bytes:
    return command(START, token, *struct.pack("<H", round(rate_Hz * 10)))


def bodies(scale: VirtualScale, now_ns: int) -> list[bytes]:
    """All that was sent until now, each frame checked and without its CRC."""
    frames = [cobs.decode(data[:-1]) for _, data in scale.advance(now_ns)]
    assert all(crc32(frame[:-4]) == struct.unpack("<I", frame[-4:])[0] for frame in frames)
    return [frame[:-4] for frame in frames]


def ask(scale: VirtualScale, now_ns: int, data: bytes) -> list[bytes]:
    scale.receive(data, now_ns)
    return bodies(scale, now_ns)


def samples(scale: VirtualScale, until_ns: int) -> list[tuple[int, int, int, int]]:
    """Sequence, tick, step and row count of each SAMPLES frame."""
    return [struct.unpack_from("<HIIB", body, 1) for body in bodies(scale, until_ns) if body[0] == 2]
