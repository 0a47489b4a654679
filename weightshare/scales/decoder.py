"""What a scale said, out of the bytes that came from it; many frames cost little more than their COBS and CRC calls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from weightshare.model import Chunk, Condition, Identity
from weightshare.scales.batch import make_batch, merge_chunks, read_usual
from weightshare.scales.bulk import Frames
from weightshare.scales.frame import (
    CRC_BYTES,
    PROTOCOL,
    ContentError,
    Echo,
    FrameError,
    Kind,
    LengthError,
    Message,
    Reply,
    Result,
    UnknownKindError,
    parse_message,
)
from weightshare.scales.sequence import SequenceWatch
from weightshare.scales.stream import Counts, Deframer

AnyItem = TypeVar("AnyItem")

_BLOCK = 1 << 19
"""Bytes that are read at once: so many that numpy's calls cost little, so few that memory is used again."""
_FEW = 8
"""Up to so many frames are read faster one by one."""
_SAMPLES = bytes([Kind.SAMPLES])
_NAMES = {Identity: "identity", Chunk: "samples", Condition: "condition", Reply: "reply", Echo: "echo"}
_FAULTS = {UnknownKindError: "unknown_kind", LengthError: "wrong_length", ContentError: "wrong_content"}


class StreamDecoder:
    """Decodes one scale's bytes. However they are cut, the same messages come out (once merged) and the same counts.

    `counts` goes on over all streams; `identity` is that of the scale on the present stream; None until it has told
    it, and until then its SAMPLES are dropped.
    """

    def __init__(self) -> None:
        self.counts = Counts()
        self.identity: Identity | None = None
        self._known: tuple[str, int] | None = None
        self._deframer = Deframer(self.counts)
        self._sequence = SequenceWatch(self.counts)

    def start(self) -> None:
        """A new byte stream begins: what was left of the old one is dropped, and a new IDENTITY is needed."""
        self._deframer.close()
        self._sequence.forget()
        self.identity = None

    def feed(self, data: bytes, arrival_ns: int) -> list[Message]:
        """Return what `data` completed. `arrival_ns`: the host's monotonic clock when it came."""
        return self.feed_pieces([data], [arrival_ns])

    def feed_pieces(self, pieces: Sequence[bytes], arrivals_ns: Sequence[int]) -> list[Message]:
        """Return what feeding piece by piece would, at once, with chunks as long as they can be.

        A frame has come when the piece with its closing zero byte has; `arrivals_ns` has one instant per piece.
        """
        data = b"".join(pieces)
        instants = _find_instants(data, pieces, arrivals_ns) if len(pieces) > 1 else None
        blocks: list[list[Message]] = []
        closings = 0
        for start, stop in pairwise(_find_borders(data)):
            frames = self._deframer.feed(data[start:stop])
            if instants is None:
                arrival_ns = np.full(len(frames.sizes), arrivals_ns[0])
            else:
                arrival_ns = instants[closings + frames.closing]
            blocks.append(self._read(frames, arrival_ns))
            closings += frames.closings
        return _join(blocks)

    def _read(self, frames: Frames, arrival_ns: NDArray[np.int64]) -> list[Message]:
        many = len(frames.sizes) > _FEW
        messages = self._read_many(frames, arrival_ns) if many else self._read_few(frames, arrival_ns)
        self._sequence.settle()
        return messages

    def _read_few(self, frames: Frames, arrival_ns: NDArray[np.int64]) -> list[Message]:
        messages: list[Message] = []
        for frame, arrival in zip(frames.each(), arrival_ns.tolist(), strict=True):
            messages.extend(self._read_one(frame, arrival))
        return merge(messages) if len(messages) > 1 else messages

    def _read_many(self, frames: Frames, arrival_ns: NDArray[np.int64]) -> list[Message]:
        blocks: list[list[Message]] = []
        batch = make_batch(frames, arrival_ns)
        for start, stop in pairwise([-1, *batch.find_rare(), len(frames.sizes)]):
            if start >= 0:
                blocks.append(self._read_one(batch.frame(start), int(arrival_ns[start])))
            if stop > start + 1:
                usual = batch.part(slice(start + 1, stop))
                blocks.append(read_usual(usual, self._channels, self.counts, self._sequence))
        return _join(blocks)

    @property
    def _channels(self) -> int:
        return len(self.identity.channels) if self.identity else 0

    def _read_one(self, frame: bytes, arrival_ns: int) -> list[Message]:
        body = frame[:-CRC_BYTES]
        try:
            message = parse_message(body, self._channels or None, arrival_ns)
        except FrameError as error:
            early = self.identity is None and body[:1] == _SAMPLES
            self._count("before_identity" if early else _FAULTS[type(error)])
            return []
        self._count(_NAMES[type(message)])
        if isinstance(message, Identity):
            self._meet(message)
        elif isinstance(message, Chunk):
            self._sequence.watch(message.sequence)
        elif isinstance(message, Reply) and message.command == Kind.START and message.result is Result.DONE:
            self._sequence.expect(0)
        return [message]

    def _meet(self, identity: Identity) -> None:
        """Take note of who speaks. Who speaks another protocol version is passed on, to be refused, and not read."""
        speaks = identity.protocol == PROTOCOL
        self.identity = identity if speaks else None
        told = (identity.device_id, identity.boot_count)
        if speaks and told != self._known:
            self.counts.restarts += self._known is not None
            self._known = told
            self._sequence.forget()

    def _count(self, name: str) -> None:
        setattr(self.counts, name, getattr(self.counts, name) + 1)


def merge(items: Iterable[AnyItem]) -> list[AnyItem | Chunk]:
    """Return `items` with chunks of one shape that follow each other joined into one."""
    merged: list[AnyItem | Chunk] = []
    run: list[Chunk] = []
    for item in items:
        if run and not (isinstance(item, Chunk) and item.readings.shape[1:] == run[0].readings.shape[1:]):
            merged.append(merge_chunks(run))
            run = []
        if isinstance(item, Chunk):
            run.append(item)
        else:
            merged.append(item)
    return [*merged, merge_chunks(run)] if run else merged


def _join(blocks: list[list[Message]]) -> list[Message]:
    """Chain blocks of messages that are each merged; only at their borders can two chunks of one shape meet."""
    if len(blocks) == 1:
        return blocks[0]
    parts: list[Message | list[Message]] = []
    for block in blocks:
        parts.extend([block[0], block[1:-1], block[-1]] if len(block) > 2 else block)
    joined: list[Message] = []
    for part in merge(parts):
        joined.extend(part if isinstance(part, list) else [part])
    return joined


def _find_borders(data: bytes) -> Iterator[int]:
    """Where blocks of `data` begin and end: behind a zero byte where there is one, so that no frame is cut."""
    at = 0
    yield at
    while at < len(data):
        closed = data.rfind(b"\0", at, at + _BLOCK) + 1
        at = closed or min(at + _BLOCK, len(data))
        yield at


def _find_instants(data: bytes, pieces: Sequence[bytes], arrivals_ns: Sequence[int]) -> NDArray[np.int64]:
    """When the piece came that held each zero byte of `data`, shape (zero bytes,)."""
    zeros = np.flatnonzero(np.frombuffer(data, np.uint8) == 0)
    ends = np.cumsum(np.fromiter(map(len, pieces), np.int64, len(pieces)))
    return np.asarray(arrivals_ns, np.int64)[np.searchsorted(ends, zeros, side="right")]
