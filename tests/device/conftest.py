"""A scale of the tests' own: it speaks the wire protocol by its page, with nothing of the program's frames in it."""

from __future__ import annotations

import contextlib
import json
import os
import select
import socket
import struct
import threading
import time
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import pytest

NO_READING = -(2**31)
TICK_RATE_HZ = 1_000_000
ROWS = 4

Row = Callable[[int], tuple[int, ...]]
"""Sample number to one reading per channel."""


def to_stream(body: bytes) -> bytes:
    """A frame on a byte stream: CRC-32 after the body, COBS over both (for frames with no run of 254), a zero."""
    frame = body + struct.pack("<I", zlib.crc32(body))
    parts = frame.split(b"\0")
    assert all(len(part) < 254 for part in parts)
    return b"".join(bytes([len(part) + 1]) + part for part in parts) + b"\0"


def from_stream(stuffed: bytes) -> bytes:
    """The body of a command: short, so that no COBS group is full."""
    frame, at = b"", 0
    while at < len(stuffed):
        length = stuffed[at]
        frame += stuffed[at + 1 : at + length] + b"\0"
        at += length
    frame = frame[:-1]
    body, crc = frame[:-4], frame[-4:]
    assert struct.unpack("<I", crc)[0] == zlib.crc32(body), f"a damaged command came: {stuffed.hex(' ')}"
    return body


class TinyScale:
    """One scale with a left and a right force cell, served by one thread of its own on any byte stream.

    `row` gives the counts of each sample; `speed` is how much faster than its ticks say it samples. What it is told
    is kept in `heard`. The switches may be turned at any time.
    """

    def __init__(self, row: Row, rate_Hz: float = 80.0, speed: float = 1.0) -> None:
        self.row = row
        self.rate_Hz = rate_Hz
        self.speed = speed
        self.device_id = bytes.fromhex("0011223344556677")
        self.protocol = 1
        self.boot_count = 5
        self.mute = False
        self.noise = b""
        self.start_result = 0
        self.battery_mV = 0
        self.last_sample: int | None = None
        """Samples from this one on are not sent."""
        self.heard: list[bytes] = []
        self.told = threading.Condition()
        self.frames_sent = 0
        self._sequence = self._sample = 0
        self._sampling = False
        self._due = self._power_on = 0.0

    # -- what the protocol says ------------------------------------------------------------------------------------

    def identity(self) -> bytes:
        channels = struct.pack("<BBhh", 1, 1, 0, 0) + struct.pack("<BBhh", 1, 2, 0, 0)
        rate = struct.pack("<HIHB", self.boot_count, TICK_RATE_HZ, round(self.rate_Hz * 10), 2)
        return bytes([1, self.protocol]) + self.device_id + bytes([1, 2, 3]) + rate + channels + b"\x04tiny"

    def samples(self) -> bytes:
        step = round(TICK_RATE_HZ / self.rate_Hz)
        tick = (self._sample * step) & 0xFFFFFFFF
        head = struct.pack("<BHIIB", 2, self._sequence & 0xFFFF, tick, step, ROWS)
        rows = [self.row(self._sample + i) for i in range(ROWS)]
        self._sequence += 1
        self.frames_sent += 1
        self._sample += ROWS
        return head + b"".join(struct.pack("<2i", *row) for row in rows)

    def condition(self) -> bytes:
        return struct.pack("<BIHhIH", 3, 0, self.battery_mV, -32768, 0, 0)

    def answer(self, body: bytes) -> bytes:
        with self.told:
            self.heard.append(body)
            self.told.notify_all()
        kind, token = body[0], body[1]
        if kind == 0x81:
            return to_stream(self.identity())
        if kind == 0x82 and self.start_result == 0:
            self._sampling, self._sequence, self._due = True, 0, time.monotonic()
            self._power_on = self._power_on or self._due
            # Ticks run from power on, with or without a link.
            self._sample = max(self._sample, round((self._due - self._power_on) * self.rate_Hz * self.speed))
            return to_stream(bytes([4, kind, token, 0])) + to_stream(self.condition())
        if kind == 0x82:
            return to_stream(bytes([4, kind, token, self.start_result]))
        if kind == 0x83:
            self._sampling = False
            return to_stream(bytes([4, kind, token, 0]))
        if kind == 0x85:
            return to_stream(b"\x05" + body[1:5] + struct.pack("<I", 0))
        return to_stream(bytes([4, kind, token, 1]))

    # -- serving ---------------------------------------------------------------------------------------------------

    def serve(self, handle: int, stopping: threading.Event) -> None:
        """Speak over the open file `handle` until the other end goes, or until told to stop."""
        pending = b""
        self._sampling = False
        while not stopping.is_set():
            if select.select([handle], [], [], self._wait())[0]:
                data = os.read(handle, 4096)
                if not data:
                    return
                *frames, pending = (pending + data).split(b"\0")
                for frame in filter(None, frames):
                    self._send(handle, self.answer(from_stream(frame)))
            self._stream(handle)

    def _wait(self) -> float:
        return min(max(self._due - time.monotonic(), 0.0), 0.02) if self._sampling else 0.02

    def _stream(self, handle: int) -> None:
        if self.noise:
            os.write(handle, self.noise)
        while self._sampling and time.monotonic() >= self._due:
            self._due += ROWS / self.rate_Hz / self.speed
            if self.last_sample is None or self._sample < self.last_sample:
                self._send(handle, to_stream(self.samples()))

    def _send(self, handle: int, data: bytes) -> None:
        if not self.mute:
            os.write(handle, data)

    def restart(self) -> None:
        """Begin as after a loss of power."""
        self.boot_count += 1
        self._sampling = False
        self._sample, self._power_on = 0, 0.0

    def wait_for(self, kind: int, times: int = 1, timeout_s: float = 10.0) -> None:
        """Come back when the command `kind` was heard so many times."""
        with self.told:
            done = self.told.wait_for(lambda: sum(body[0] == kind for body in self.heard) >= times, timeout_s)
        assert done, f"command {kind:#04x} was not heard {times} times in {timeout_s} s: {self.heard}"


class TcpHost:
    """Serves a TinyScale on a port of 127.0.0.1; the port stays the same however often it is closed and opened."""

    def __init__(self, scale: TinyScale) -> None:
        self.scale = scale
        with socket.create_server(("127.0.0.1", 0)) as finder:
            self.port = finder.getsockname()[1]
        self._thread: threading.Thread | None = None

    @property
    def source(self) -> str:
        return f"tcp://127.0.0.1:{self.port}"

    def open(self) -> None:
        self._stopping = threading.Event()
        server = socket.create_server(("127.0.0.1", self.port))
        server.settimeout(0.02)
        self._thread = threading.Thread(target=self._run, args=(server,), name="tiny scale")
        self._thread.start()

    def _run(self, server: socket.socket) -> None:
        with server:
            while not self._stopping.is_set():
                with contextlib.suppress(TimeoutError, ConnectionError):
                    link, _ = server.accept()
                    with link:
                        link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
                        self.scale.serve(link.fileno(), self._stopping)

    def close(self) -> None:
        thread, self._thread = self._thread, None
        if thread is not None:
            self._stopping.set()
            thread.join(5)
            assert not thread.is_alive()


class PtyHost:
    """Serves a TinyScale on a pseudo-terminal, as on a serial port."""

    def __init__(self, scale: TinyScale) -> None:
        self.scale = scale
        self._far, self._near = os.openpty()
        self.port = os.ttyname(self._near)
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=scale.serve, args=(self._far, self._stopping), name="tiny scale")

    @property
    def source(self) -> str:
        return f"serial:{self.port}"

    def open(self) -> None:
        import tty

        tty.setraw(self._near)
        self._thread.start()

    def close(self) -> None:
        """Stop, and take the port away."""
        if self._far >= 0:
            self._stopping.set()
            self._thread.join(5)
            os.close(self._near)
            os.close(self._far)
            self._far = self._near = -1


Host = TypeVar("Host", TcpHost, PtyHost)


@contextlib.contextmanager
def hosting(kind: type[Host]) -> Iterator[Callable[..., Host]]:
    """Give a function that opens a scale behind a host of this kind; all are closed at the end."""
    hosts: list[Host] = []

    def make(row: Row, rate_Hz: float = 80.0, speed: float = 1.0) -> Host:
        hosts.append(kind(TinyScale(row, rate_Hz, speed)))
        hosts[-1].open()
        return hosts[-1]

    yield make
    for host in hosts:
        host.close()


@pytest.fixture
def tiny_scale() -> Iterator[Callable[..., TcpHost]]:
    """Make scales of the tests' own that listen on TCP."""
    with hosting(TcpHost) as make:
        yield make


@pytest.fixture
def tiny_pty() -> Iterator[Callable[..., PtyHost]]:
    """Make scales of the tests' own that listen on a pseudo-terminal."""
    with hosting(PtyHost) as make:
        yield make


N_PER_COUNT = 0.01


def stand_after(empty_s: float, left_kg: float, right_kg: float, rate_Hz: float = 80.0) -> Row:
    """Nobody for `empty_s`, then somebody with so many kilograms on each plate, as still as a weight."""
    left, right = (round(kg * 9.80665 / N_PER_COUNT) for kg in (left_kg, right_kg))
    return lambda sample: (left, right) if sample >= empty_s * rate_Hz else (0, 0)


@pytest.fixture
def stand() -> Callable[..., Row]:
    """Make the readings of somebody who steps on."""
    return stand_after


@pytest.fixture
def tiny_calibration(tmp_path: Path) -> Path:
    """The calibration file of the tests' scale."""
    path = tmp_path / "tiny-calibration.json"
    channels = [{"index": index, "zero_counts": 0, "newton_per_count": N_PER_COUNT} for index in (0, 1)]
    content = {
        "schema": "weightshare.calibration/1",
        "device_id": "0011223344556677",
        "made_on": "2026-11-02",
        "channels": channels,
    }
    path.write_text(json.dumps(content))
    return path


@pytest.fixture
def wait_until() -> Callable[..., None]:
    """Wait, within bounds, until something is so."""

    def wait(done: Callable[[], bool], within_s: float = 20.0) -> None:
        pause, end_s = threading.Event(), time.monotonic() + within_s
        while not done():
            assert time.monotonic() < end_s, f"it did not happen within {within_s} s"
            pause.wait(0.005)

    return wait
