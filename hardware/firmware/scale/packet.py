"""Rows on their way into one SAMPLES frame. The buffer is made once and used again."""

import struct

from scale.body import SAMPLES, SAMPLES_HEAD, SAMPLES_HEAD_SIZE
from scale.frame import MAX_FRAME, crc32


class Packet:
    """Up to so many rows of one frame."""

    def __init__(self, channels: int) -> None:
        self._channels = channels
        self._buffer = bytearray(MAX_FRAME)
        self._view = memoryview(self._buffer)
        self.rows = 0
        self._tick = 0

    def clear(self) -> None:
        """Forget the rows."""
        self.rows = 0

    def add(self, tick: int, values, start: int) -> None:
        """Take one row: the readings that stand in `values` from `start` on. `tick` counts for the first row only."""
        if not self.rows:
            self._tick = tick
        at = SAMPLES_HEAD_SIZE + 4 * self._channels * self.rows
        for i in range(self._channels):
            struct.pack_into("<i", self._buffer, at + 4 * i, values[start + i])
        self.rows += 1

    def frame(self, sequence: int, step: int):
        """Return the frame of the rows so far; it holds until the next `add`."""
        size = SAMPLES_HEAD_SIZE + 4 * self._channels * self.rows
        struct.pack_into(SAMPLES_HEAD, self._buffer, 0, SAMPLES, sequence & 0xFFFF, self._tick, step, self.rows)
        struct.pack_into("<I", self._buffer, size, crc32(self._view[:size]))
        return self._view[: size + 4]


def most_rows(payload: int, channels: int) -> int:
    """Return how many rows fit into a frame of `payload` bytes."""
    return min((min(payload, MAX_FRAME) - 4 - SAMPLES_HEAD_SIZE) // (4 * channels), 255)
