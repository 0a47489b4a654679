"""Frames: a body and its CRC-32, stuffed by COBS (Cheshire and Baker, 1999) where they go over a byte stream."""

import struct
from binascii import crc32

MAX_BODY = 1024
MAX_FRAME = MAX_BODY + 4
MAX_STUFFED = MAX_FRAME + 5
"""Without the closing zero: COBS adds one byte in 254."""


def close(body: bytes) -> bytes:
    """Return the frame of a body."""
    return bytes(body) + struct.pack("<I", crc32(body))


def open_frame(frame: bytes) -> "bytes | None":
    """Return the body of a frame, or None where its CRC is wrong or it holds no kind."""
    if not 5 <= len(frame) <= MAX_FRAME:
        return None
    body = bytes(frame[:-4])
    return body if struct.unpack("<I", frame[-4:])[0] == crc32(body) else None


def stuff(out: bytearray, at: int, frame: bytes) -> int:
    """Write `frame` into `out` from `at` on, stuffed and closed by a zero; return where it ends. Allocates nothing."""
    code_at = at
    at += 1
    for i in range(len(frame)):
        if at - code_at == 255:  # a full group stands for no zero
            out[code_at] = 255
            code_at = at
            at += 1
        byte = frame[i]
        if byte:
            out[at] = byte
        else:
            out[code_at] = at - code_at
            code_at = at
        at += 1
    out[code_at] = at - code_at
    out[at] = 0
    return at + 1


def unstuff(stuffed: bytes) -> "bytearray | None":
    """Undo `stuff`; the closing zero is not part of `stuffed`. None where a group is cut short."""
    frame = bytearray()
    at = 0
    while at < len(stuffed):
        code = stuffed[at]
        end = at + code
        if code == 0 or end > len(stuffed):
            return None
        frame.extend(stuffed[at + 1 : end])
        if code < 255 and end < len(stuffed):
            frame.append(0)
        at = end
    return frame


class Reader:
    """A byte stream cut into frames. Whatever comes, it holds no more than one frame."""

    def __init__(self) -> None:
        self._held = bytearray(MAX_STUFFED)
        self._size = 0

    def feed(self, byte: int) -> "bytes | None":
        """Take one byte; return the body that it closed, or None."""
        if byte:
            if self._size < MAX_STUFFED:
                self._held[self._size] = byte
            self._size += 1  # longer than any frame: dropped when it is closed
            return None
        size, self._size = self._size, 0
        if not 0 < size <= MAX_STUFFED:
            return None
        frame = unstuff(memoryview(self._held)[:size])
        return None if frame is None else open_frame(frame)
