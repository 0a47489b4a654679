"""All frames of a block opened at once, where all are sound: no call for each, and no less sure than one by one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from zlib import crc32

import numpy as np
from cobs import cobs
from numpy.typing import NDArray

from weightshare.scales.frame import CRC_BYTES, MAX_FRAME, close_body

_GROUP = 16
"""Frames whose CRCs are checked by one call."""


@dataclass(frozen=True, slots=True)
class Frames:
    """Frames with a right CRC, in order."""

    data: bytes
    starts: NDArray[np.int64]
    """Where in `data` each frame starts, shape (frames,)."""
    sizes: NDArray[np.int64]
    """Bytes of each frame, shape (frames,)."""
    closing: NDArray[np.int64]
    """By which zero byte of this delivery each was closed, counted from 0; shape (frames,)."""
    closings: int
    """Zero bytes in this delivery."""

    def each(self) -> Iterator[bytes]:
        """Yield the frames one by one."""
        for start, stop in zip(self.starts.tolist(), (self.starts + self.sizes).tolist(), strict=True):
            yield self.data[start:stop]


def open_at_once(block: bytes) -> Frames | None:
    """Return the frames of `block`, which ends with a zero byte; None where not all could be opened so.

    None does not mean damage: a frame with 254 bytes in a row that are not zero is one that has to be opened by itself.
    """
    zeros = np.flatnonzero(np.frombuffer(block, np.uint8) == 0)
    stops = zeros - np.arange(len(zeros))
    starts = np.concatenate([[0], stops[:-1]])
    closing = np.flatnonzero(stops > starts)
    starts, sizes = starts[closing], (stops - starts)[closing] - 1
    if not len(sizes) or sizes.min() < CRC_BYTES or sizes.max() > MAX_FRAME:
        return None
    data = _unstuff_chain(block.replace(b"\0", b""), starts)
    if data is None or not _fits_crcs(data, starts, sizes):
        return None
    return Frames(data, starts, sizes, closing, len(zeros))


def _unstuff_chain(stuffed: bytes, starts: NDArray[np.int64]) -> bytes | None:
    """Undo the COBS of frames that stand one after another without a gap, by one call; one zero byte parts them then.

    COBS (Cheshire and Baker, 1999) turns a code byte into the zero that ends the block before it, in its place, unless
    that block is of the longest kind. So where nothing was shortened, a byte that came out zero was a code byte; and
    a frame that starts with one is whole, and so is the frame before it.
    """
    try:
        data: bytes = cobs.decode(stuffed)
    except cobs.DecodeError:
        return None
    nothing_shortened = len(data) == len(stuffed) - 1
    if not nothing_shortened or np.frombuffer(data, np.uint8)[starts[1:] - 1].any():
        return None
    return data


def _fits_crcs(data: bytes, starts: NDArray[np.int64], sizes: NDArray[np.int64]) -> bool:
    """Tell whether the CRCs of all frames are right, group by group.

    A CRC is linear: runs of right frames of the same sizes have the same CRC over the whole run, whatever the frames
    say. One wrong frame always changes it; several at once may leave it as it is with a chance of 2^-32, the same with
    which a wrong frame slips through its own.
    """
    view = memoryview(data)
    stops = starts + sizes
    firsts, lasts = starts[::_GROUP].tolist(), [*stops[_GROUP - 1 :: _GROUP].tolist(), int(stops[-1])]
    listed = sizes.tolist()
    groups = (tuple(listed[at : at + _GROUP]) for at in range(0, len(listed), _GROUP))
    return all(
        crc32(view[first:last]) == _crc_of_right_frames(group)
        for first, last, group in zip(firsts, lasts, groups, strict=False)
    )


@lru_cache(maxsize=4096)
def _crc_of_right_frames(sizes: tuple[int, ...]) -> int:
    """The CRC over frames of these sizes with right CRCs of their own, and one zero byte between each two."""
    return crc32(b"\0".join(close_body(bytes(size - CRC_BYTES)) for size in sizes))
