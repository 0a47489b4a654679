"""A raw record, or the bare bytes of a stream, played back as a scale in the time in which it was recorded."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from weightshare.errors import DeviceError, RecordError
from weightshare.model import Chunk
from weightshare.scales.capture import EntryKind, RawEntry, RawRecord, read_capture
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.link import LAST_RETRY_S, RecordEndedError
from weightshare.scales.rig.local import Clock, HostClock
from weightshare.scales.transport import Transport

WAIT_S = LAST_RETRY_S + 0.5
"""An end of the link in the record is waited for so long when opening, so that a retry never comes too late for it."""
_PLAYED = (EntryKind.UP, EntryKind.DOWN, EntryKind.RX)
_TICK_WRAP = 2**32


class ReplayTransport(Transport):
    """Gives out the bytes of a capture when they are due; what is written to it is lost on it.

    Where the record's link was lost, so is this one, and it comes back when the record's did. `clock` is the time in
    which it plays. Raises RecordError where `path` cannot be played back.
    """

    def __init__(self, path: Path, clock: Clock | None = None) -> None:
        self.name = f"file:{path}"
        self._clock = clock or HostClock()
        self._entries = _read_played(path)
        self._at = 0
        self._began_ns: int | None = None

    def open(self) -> None:
        """Go on where the link came up. Raises DeviceError while it is down, RecordEndedError at the record's end."""
        if self._began_ns is None:
            self._began_ns = self._clock.now_ns() - self._entries[0].arrival_ns
        while self._next().kind is not EntryKind.UP:
            self._at += 1
        wait_s = self._wait_s()
        if wait_s > WAIT_S:
            raise DeviceError(f"{self.name}: in the record the link was lost")
        if wait_s > 0:
            self._clock.wait(wait_s)
        self._at += 1

    def read(self, timeout_s: float) -> bytes:
        """Return what is due within `timeout_s`. Raises DeviceError on a lost link, RecordEndedError at the end."""
        entry = self._next()
        wait_s = self._wait_s()
        if wait_s > 0:
            self._clock.wait(min(wait_s, timeout_s))
            if wait_s > timeout_s:
                return b""
        if entry.kind is EntryKind.RX:
            return self._take_due()
        if not any(later.kind is EntryKind.UP for later in self._entries[self._at :]):
            self._at = len(self._entries)
            self._next()
        reason = entry.reason() if entry.kind is EntryKind.DOWN else ""
        raise DeviceError(f"{self.name}: in the record: {reason or 'the link was lost'}")

    def write(self, data: bytes) -> None:
        """Do nothing: a record hears nothing."""

    def close(self) -> None:
        """Do nothing: a record needs no closing."""

    def _next(self) -> RawEntry:
        if self._at >= len(self._entries):
            raise RecordEndedError(f"{self.name}: the record is at its end")
        return self._entries[self._at]

    def _wait_s(self) -> float:
        due_ns = (self._began_ns or 0) + self._entries[self._at].arrival_ns
        return (due_ns - self._clock.now_ns()) / 1e9

    def _take_due(self) -> bytes:
        due = b""
        while self._at < len(self._entries) and self._entries[self._at].kind is EntryKind.RX and self._wait_s() <= 0:
            due += self._entries[self._at].payload
            self._at += 1
        return due


def _read_played(path: Path) -> list[RawEntry]:
    record = read_capture(path)
    entries = list(_pace(record)) if record.bare else [entry for entry in record.entries if entry.kind in _PLAYED]
    first = next((index for index, entry in enumerate(entries) if entry.kind is EntryKind.UP), None)
    if first is None or not any(entry.kind is EntryKind.RX for entry in entries):
        raise RecordError(f"{path}: holds nothing from a scale that could be played back")
    return entries[first:]


def _pace(record: RawRecord) -> Iterator[RawEntry]:
    """Give bare bytes, frame by frame, the instants that the ticks in them tell."""
    yield record.entries[0]
    stream = b"".join(entry.payload for entry in record.entries)
    decoder = StreamDecoder()
    decoder.start()
    pace = _Pace(decoder)
    for piece in stream.split(b"\0"):
        frame = piece + b"\0"
        for message in decoder.feed(frame, 0):
            if isinstance(message, Chunk):
                pace.follow(message)
        if piece:
            yield RawEntry(EntryKind.RX, 0, pace.elapsed_ns, frame)


class _Pace:
    """How much time the ticks of a stream have told so far."""

    def __init__(self, decoder: StreamDecoder) -> None:
        self.elapsed_ns = 0
        self._decoder = decoder
        self._tick: int | None = None

    def follow(self, chunk: Chunk) -> None:
        """Go on to the last sample of `chunk`; ticks that go back are those of a scale that restarted."""
        identity = self._decoder.identity
        if identity is None:
            return
        last = int(chunk.tick[-1]) + (chunk.readings.shape[1] - 1) * int(chunk.step[-1])
        forward = 0 if self._tick is None else (last - self._tick) % _TICK_WRAP
        self._tick = last
        if forward < _TICK_WRAP // 2:
            self.elapsed_ns += forward * 1_000_000_000 // identity.tick_rate_Hz
