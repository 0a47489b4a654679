"""A byte stream cut into frames: COBS undone, the CRC checked, and what is of no use counted by its fault."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import compress
from zlib import crc32

import numpy as np
from cobs import cobs

from weightshare.scales.bulk import Frames, open_at_once
from weightshare.scales.frame import CRC_BYTES, CRC_RESIDUE, MAX_FRAME, MAX_STUFFED, Command, Reply, parse_command

_DAMAGED = b"?"
"""Stands for what COBS could not undo: too short to hold a CRC, so that it is counted as damaged."""
_ALL_RIGHT = {CRC_RESIDUE}
_LARGE = 1024
"""Bytes from which on reading all frames at once is worth its overhead."""


@dataclass(slots=True)
class Counts:
    """What a decoder has seen so far: frames by kind, then whatever was dropped, by reason."""

    bytes: int = 0
    identity: int = 0
    samples: int = 0
    condition: int = 0
    reply: int = 0
    echo: int = 0
    empty: int = 0
    """Two zero bytes in a row: nothing, and no fault."""
    damaged: int = 0
    """Neither whole nor right by COBS and CRC; joining mid-stream makes one."""
    over_long: int = 0
    unknown_kind: int = 0
    wrong_length: int = 0
    wrong_content: int = 0
    """A right CRC, and a field that the protocol does not allow."""
    before_identity: int = 0
    """SAMPLES that came before it was known who speaks."""
    lost_frames: int = 0
    """SAMPLES frames that never came, by the jumps in their sequence."""
    gaps: int = 0
    """How many such jumps there were."""
    out_of_order: int = 0
    """Sequence numbers that went backwards without a START or a restart being seen."""
    restarts: int = 0
    """Identities whose device or boot count was not the one before."""

    @property
    def frames(self) -> int:
        """Valid frames of all kinds."""
        return self.identity + self.samples + self.condition + self.reply + self.echo

    @property
    def dropped(self) -> int:
        """Frames that came and were of no use, for whatever reason."""
        faults = self.damaged + self.over_long + self.unknown_kind + self.wrong_length + self.wrong_content
        return faults + self.before_identity


class Deframer:
    """Cuts a byte stream into frames; holds on to no more than one frame that is not closed yet."""

    def __init__(self, counts: Counts) -> None:
        self._counts = counts
        self._open = b""

    def feed(self, data: bytes) -> Frames:
        """Return the frames that `data` closed."""
        self._counts.bytes += len(data)
        block = self._open + data
        closed = block.rfind(b"\0") + 1
        # What is longer than any frame only has to stay longer than any frame until it is closed and counted.
        self._open = block[closed : closed + MAX_STUFFED + 1]
        return self._read(block[:closed])

    def _read(self, block: bytes) -> Frames:
        frames = open_at_once(block) if len(block) >= _LARGE else None
        if frames is not None:
            self._counts.empty += frames.closings - len(frames.sizes)
            return frames
        stuffed = block.split(b"\0")[:-1]
        return sift(stuffed, unstuff(stuffed), self._counts)

    def close(self) -> None:
        """The stream is over: what was not closed is a frame cut short."""
        if self._open:
            _count_fault(self._open, b"", self._counts)
        self._open = b""


def unstuff(stuffed: Iterable[bytes]) -> list[bytes]:
    """Undo COBS; what cannot be undone becomes bytes that no CRC fits."""
    frames: list[bytes] = []
    undoing = map(cobs.decode, stuffed)
    while True:
        try:
            frames.extend(undoing)
        except cobs.DecodeError:
            frames.append(_DAMAGED)
        else:
            return frames


def sift(stuffed: list[bytes], frames: list[bytes], counts: Counts) -> Frames:
    """Keep the frames whose CRC and size are right, and count why the others are dropped.

    `stuffed` are the same frames as they came.
    """
    sizes = np.fromiter(map(len, frames), np.int64, len(frames))
    closing = np.arange(len(frames))
    fits = sizes.min(initial=MAX_FRAME) >= CRC_BYTES and sizes.max(initial=0) <= MAX_FRAME
    if not fits or not _ALL_RIGHT.issuperset(map(crc32, frames)):
        checks = np.fromiter(map(crc32, frames), np.uint32, len(frames))
        right = (checks == CRC_RESIDUE) & (sizes >= CRC_BYTES) & (sizes <= MAX_FRAME)
        for i in np.flatnonzero(~right):
            _count_fault(stuffed[i], frames[i], counts)
        frames, sizes, closing = list(compress(frames, right)), sizes[right], closing[right]
    return Frames(b"".join(frames), np.cumsum(sizes) - sizes, sizes, closing, len(stuffed))


def _count_fault(stuffed: bytes, frame: bytes, counts: Counts) -> None:
    if not stuffed:
        counts.empty += 1
    elif len(stuffed) > MAX_STUFFED or len(frame) > MAX_FRAME:
        counts.over_long += 1
    else:
        counts.damaged += 1


class CommandReader:
    """The scale's end of the link: bytes in, commands out, and ready refusals for what is none."""

    def __init__(self) -> None:
        self.counts = Counts()
        self._deframer = Deframer(self.counts)

    def feed(self, data: bytes) -> list[Command | Reply]:
        """Return the commands that `data` completed, and a Reply to be sent for each that has to be refused."""
        heard = (parse_command(frame[:-CRC_BYTES]) for frame in self._deframer.feed(data).each())
        return [command for command in heard if command is not None]
