"""Bytes and link events in, items out: the same for a live link and for a record of one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import TypeAlias, TypeGuard

from weightshare.model import Chunk, Condition, Identity, Item, LinkDown, LinkUp, RoundTrip
from weightshare.scales.capture import EntryKind, RawEntry, RawRecord
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Message
from weightshare.scales.message import Echo, Ping
from weightshare.scales.stream import CommandReader, Counts

Heard: TypeAlias = Message | LinkUp | LinkDown | RoundTrip
"""What a receiver gives out: the pipeline's items, and the scale's answers to commands."""


def is_item(heard: Heard) -> TypeGuard[Item]:
    """Return whether the pipeline is fed with it; replies and echoes are the conversation's own."""
    return isinstance(heard, Chunk | Identity | Condition | LinkUp | LinkDown | RoundTrip)


class Receiver:
    """One link's receiving end. Every `up` begins a new byte stream, on which the scale has to say anew who it is."""

    def __init__(self) -> None:
        self.decoder = StreamDecoder()
        self._commands = CommandReader()
        self._pings_ns: dict[int, int] = {}
        """When each PING of this stream was sent, by its nonce."""

    @property
    def counts(self) -> Counts:
        """What has come so far, over all streams."""
        return self.decoder.counts

    def up(self, arrival_ns: int) -> list[Heard]:
        """The link was opened."""
        self.decoder.start()
        self._commands = CommandReader()
        self._pings_ns.clear()
        return [LinkUp(arrival_ns)]

    def down(self, arrival_ns: int, reason: str = "") -> list[Heard]:
        """The link was lost or closed; a frame that was not whole yet is counted as damaged."""
        self.decoder.start()
        return [LinkDown(arrival_ns, reason)]

    def sent(self, data: bytes, sent_ns: int) -> None:
        """The host sent `data`: an ECHO that comes after a PING in it makes a round trip."""
        for command in self._commands.feed(data):
            if isinstance(command, Ping):
                self._pings_ns[command.nonce] = sent_ns

    def feed(self, data: bytes, arrival_ns: int) -> list[Heard]:
        """Return what `data` completed. `arrival_ns`: the host's monotonic clock when it came."""
        return self.feed_pieces([data], [arrival_ns])

    def feed_pieces(self, pieces: Sequence[bytes], arrivals_ns: Sequence[int]) -> list[Heard]:
        """Return what feeding piece by piece would, once merged."""
        return [self._pair(message) for message in self.decoder.feed_pieces(pieces, arrivals_ns)]

    def _pair(self, message: Message) -> Heard:
        """Return the round trip of an ECHO whose PING is known; the message as it is otherwise."""
        if not isinstance(message, Echo):
            return message
        sent_ns = self._pings_ns.get(message.nonce)
        if sent_ns is None or message.arrival_ns < sent_ns:
            return message
        del self._pings_ns[message.nonce]
        return RoundTrip(sent_ns, message.arrival_ns, message.tick)


def replay(record: RawRecord, source: int = 0, receiver: Receiver | None = None) -> list[Heard]:
    """Return all that was heard from `source`, merged, as it was heard live; an hour at 100 Hz takes a second at most.

    `receiver`: one of the caller's, where its counts are wanted too.
    """
    ours = (entry for entry in record.entries if entry.source == source)
    return replay_entries(ours, receiver or Receiver())


def replay_entries(entries: Iterable[RawEntry], receiver: Receiver) -> list[Heard]:
    """Return what was heard in the entries of one source, merged; `receiver` goes on where it is in the stream."""
    heard: list[Heard] = []
    # what went out cuts no run of what came in
    told = (entry for entry in entries if entry.kind in _TOLD)
    for kind, run in groupby(told, lambda entry: EntryKind.RX if entry.kind is EntryKind.TX else entry.kind):
        heard.extend(_replay_run(kind, list(run), receiver))
    return heard


_TOLD = frozenset((EntryKind.RX, EntryKind.TX, EntryKind.UP, EntryKind.DOWN))


def _replay_run(kind: EntryKind, run: Sequence[RawEntry], receiver: Receiver) -> Iterable[Heard]:
    if kind is EntryKind.RX:
        for entry in run:
            if entry.kind is EntryKind.TX:
                receiver.sent(entry.payload, entry.arrival_ns)
        came = [entry for entry in run if entry.kind is EntryKind.RX]
        if came:
            yield from receiver.feed_pieces([each.payload for each in came], [each.arrival_ns for each in came])
        return
    for entry in run:
        if kind is EntryKind.UP:
            yield from receiver.up(entry.arrival_ns)
        else:
            yield from receiver.down(entry.arrival_ns, entry.reason())
