"""The record of a session on two scales, played back as two: in the order in which it came, with its own instants."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from pathlib import Path

from weightshare.errors import DeviceError, RecordError
from weightshare.scales.capture import EntryKind, RawEntry, read_capture
from weightshare.scales.link import RecordEndedError
from weightshare.scales.replay import WAIT_S, ReplayTransport
from weightshare.scales.rig.local import Clock, HostClock
from weightshare.scales.transport import Transport

LOOK_S = 0.005
"""How often a link looks whether its turn has come."""
_PLAYED = (EntryKind.UP, EntryKind.DOWN, EntryKind.RX, EntryKind.TX)


def play(path: Path, clock: Clock | None = None) -> list[Transport]:
    """Return what plays the capture `path` back: one transport, or one for each scale that it holds.

    Raises RecordError where it cannot be played back.
    """
    record = read_capture(path)
    sources = sorted({entry.source for entry in record.entries if entry.kind is EntryKind.UP})
    if record.bare or len(sources) < 2:
        return [ReplayTransport(path, clock)]
    if len(sources) > 2 or not any(entry.kind is EntryKind.RX for entry in record.entries):
        raise RecordError(f"{path}: holds nothing from one or two scales that could be played back")
    player = Player([entry for entry in record.entries if entry.kind in _PLAYED], clock or HostClock())
    return [PlayedTransport(f"file:{path}", player, source) for source in sources]


class Player:
    """Hands out the entries of a record, one at a time, each to its own source and not before it is due.

    What was handed out holds up all others until its source comes back: so the links pass on in the record's order.
    """

    def __init__(self, entries: Sequence[RawEntry], clock: Clock) -> None:
        self.clock = clock
        self.last_ns = clock.now_ns()
        """The instant of the entry that was handed out last, on this host's clock."""
        self._entries = entries
        self._at = 0
        self._shift_ns: int | None = None
        self._busy: int | None = None
        self._lock = threading.Lock()

    def release(self, source: int) -> None:
        """The source has passed on what it was given."""
        with self._lock:
            if self._busy == source:
                self._busy = None

    def is_holding(self, source: int) -> bool:
        """Return whether the source was given something that it has not passed on yet."""
        return self._busy == source

    def has_more(self, source: int, kinds: Sequence[EntryKind] = _PLAYED) -> bool:
        """Return whether an entry of one of these kinds is still to come from the source."""
        return any(entry.source == source and entry.kind in kinds for entry in self._entries[self._at :])

    def take(self, source: int, kinds: Sequence[EntryKind], timeout_s: float) -> RawEntry | None:
        """Return the source's next entry once it is due, None where none is within `timeout_s`.

        Raises DeviceError where it is of none of these `kinds`; it stays.
        """
        until_ns = self.clock.now_ns() + round(timeout_s * 1e9)
        while True:
            wait_ns = self._try(source)
            if wait_ns <= 0:
                return self._hand_out(source, kinds)
            left_ns = until_ns - self.clock.now_ns()
            if left_ns <= 0:
                return None
            self.clock.wait(min(wait_ns, left_ns) / 1e9)

    def _try(self, source: int) -> int:
        """Return for how long to wait before looking again, ns; 0 where the source's turn has come."""
        with self._lock:
            if self._shift_ns is None:
                self._shift_ns = self.clock.now_ns() - self._entries[0].arrival_ns
            if self._busy is not None or self._at >= len(self._entries) or self._entries[self._at].source != source:
                return round(LOOK_S * 1e9)
            return self._entries[self._at].arrival_ns + self._shift_ns - self.clock.now_ns()

    def _hand_out(self, source: int, kinds: Sequence[EntryKind]) -> RawEntry:
        with self._lock:
            entry = self._entries[self._at]
            if entry.kind not in kinds:
                raise DeviceError("in the record the link was lost")
            self._at, self._busy = self._at + 1, source
            self.last_ns = entry.arrival_ns + (self._shift_ns or 0)
            return entry


class PlayedTransport(Transport):
    """One scale of a record, beside the other. What is written to it is lost on it.

    `now_ns` is the clock that its link has to go by; `said` is told what the host said in the record.
    """

    def __init__(self, name: str, player: Player, source: int) -> None:
        self.name = name
        self.said: Callable[[bytes], None] = lambda data: None
        self._player, self._source = player, source
        self._open = False

    def now_ns(self) -> int:
        """Return the instant of what is being passed on; where nothing is, what time it is."""
        if self._open and not self._player.is_holding(self._source):
            return self._player.clock.now_ns()
        return self._player.last_ns

    def open(self) -> None:
        """Go on where the link came up. Raises DeviceError while it is down, RecordEndedError at its end."""
        self._player.release(self._source)
        if not self._player.has_more(self._source, (EntryKind.UP,)):
            raise RecordEndedError(f"{self.name}: the record is at its end")
        while True:
            entry = self._player.take(self._source, _PLAYED, WAIT_S)
            if entry is None:
                raise DeviceError(f"{self.name}: in the record the link was lost")
            if entry.kind is EntryKind.UP:
                self._open = True
                return
            self._player.release(self._source)

    def read(self, timeout_s: float) -> bytes:
        """Return what comes within `timeout_s`. Raises DeviceError on a lost link, RecordEndedError at the end."""
        while True:
            self._player.release(self._source)
            entry = self._player.take(self._source, (EntryKind.RX, EntryKind.TX, EntryKind.DOWN), timeout_s)
            if entry is None and not self._player.has_more(self._source):
                raise RecordEndedError(f"{self.name}: the record is at its end")
            if entry is None:
                return b""
            if entry.kind is EntryKind.RX:
                return entry.payload
            if entry.kind is EntryKind.DOWN:
                raise self._lost(entry.reason())
            self.said(entry.payload)

    def write(self, data: bytes) -> None:
        """Do nothing: a record hears nothing."""

    def close(self) -> None:
        """Close the stream; closed once more, what was given out last counts as passed on."""
        if not self._open:
            self._player.release(self._source)
        self._open = False

    def _lost(self, reason: str) -> DeviceError:
        if self._player.has_more(self._source, (EntryKind.UP,)):
            return DeviceError(f"{self.name}: in the record: {reason or 'the link was lost'}")
        return RecordEndedError(f"{self.name}: the record is at its end")
