"""Bytes and link events in, items out: the same for a live link and for a record of one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import TypeAlias, TypeGuard

from weightshare.model import Chunk, Condition, Identity, Item, LinkDown, LinkUp
from weightshare.scales.capture import EntryKind, RawEntry, RawRecord
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Message
from weightshare.scales.stream import Counts

Heard: TypeAlias = Message | LinkUp | LinkDown
"""What a receiver gives out: the pipeline's items, and the scale's answers to commands."""


def is_item(heard: Heard) -> TypeGuard[Item]:
    """Return whether the pipeline is fed with it; replies and echoes are the conversation's own."""
    return isinstance(heard, Chunk | Identity | Condition | LinkUp | LinkDown)


class Receiver:
    """One link's receiving end. Every `up` begins a new byte stream, on which the scale has to say anew who it is."""

    def __init__(self) -> None:
        self.decoder = StreamDecoder()

    @property
    def counts(self) -> Counts:
        """What has come so far, over all streams."""
        return self.decoder.counts

    def up(self, arrival_ns: int) -> list[Heard]:
        """The link was opened."""
        self.decoder.start()
        return [LinkUp(arrival_ns)]

    def down(self, arrival_ns: int, reason: str = "") -> list[Heard]:
        """The link was lost or closed; a frame that was not whole yet is counted as damaged."""
        self.decoder.start()
        return [LinkDown(arrival_ns, reason)]

    def feed(self, data: bytes, arrival_ns: int) -> list[Message]:
        """Return what `data` completed. `arrival_ns`: the host's monotonic clock when it came."""
        return self.decoder.feed(data, arrival_ns)

    def feed_pieces(self, pieces: Sequence[bytes], arrivals_ns: Sequence[int]) -> list[Message]:
        """Return what feeding piece by piece would, once merged."""
        return self.decoder.feed_pieces(pieces, arrivals_ns)


def replay(record: RawRecord, source: int = 0, receiver: Receiver | None = None) -> list[Heard]:
    """Return all that was heard from `source`, merged, as it was heard live; an hour at 100 Hz takes a second at most.

    `receiver`: one of the caller's, where its counts are wanted too.
    """
    receiver = receiver or Receiver()
    heard: list[Heard] = []
    ours = (entry for entry in record.entries if entry.source == source and entry.kind in _HEARD)
    for kind, entries in groupby(ours, lambda entry: entry.kind):
        heard.extend(_replay_run(kind, entries, receiver))
    return heard


_HEARD = frozenset((EntryKind.RX, EntryKind.UP, EntryKind.DOWN))


def _replay_run(kind: EntryKind, entries: Iterable[RawEntry], receiver: Receiver) -> Iterable[Heard]:
    if kind is EntryKind.RX:
        pieces, arrivals_ns = zip(*((entry.payload, entry.arrival_ns) for entry in entries), strict=True)
        yield from receiver.feed_pieces(pieces, arrivals_ns)
        return
    for entry in entries:
        if kind is EntryKind.UP:
            yield from receiver.up(entry.arrival_ns)
        else:
            yield from receiver.down(entry.arrival_ns, entry.reason())
