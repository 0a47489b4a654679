"""The link over USB: frames on the board's serial port, without ever waiting for the host."""

import select
import sys

import micropython

from scale.frame import MAX_FRAME, MAX_STUFFED, Reader, stuff

PIECE = 64
"""Bytes written at once: what one USB packet carries."""
READ_AT_ONCE = 64
"""Bytes read before something else has its turn."""


class UsbLink:
    """Stuffed frames in and out."""

    payload = MAX_FRAME
    """Bytes of the longest frame that it takes."""

    def __init__(self) -> None:
        micropython.kbd_intr(-1)  # the byte 3 is data here, not Ctrl-C
        self._input, self._output = sys.stdin.buffer, sys.stdout.buffer
        self._poll_in, self._poll_out = select.poll(), select.poll()
        self._poll_in.register(sys.stdin, select.POLLIN)
        self._poll_out.register(sys.stdout, select.POLLOUT)
        self._byte = bytearray(1)
        self._reader = Reader()
        self._out = bytearray(2 * (MAX_STUFFED + 1))
        self._view = memoryview(self._out)
        self._sent = self._filled = 0

    def receive(self) -> "bytes | None":
        """Return the body of the next command that is whole, or None."""
        for _ in range(READ_AT_ONCE):
            if not self._poll_in.poll(0):
                return None
            self._input.readinto(self._byte)
            body = self._reader.feed(self._byte[0])
            if body:
                return body
        return None

    def lost(self) -> bool:
        """Return whether the host went away. A cable does not tell: silence does."""
        return False

    def idle(self) -> bool:
        """Return whether all that was given has gone out."""
        return self._sent == self._filled

    def send(self, frame) -> bool:
        """Take a frame; False where there is no room for it."""
        if self.idle():
            self._sent = self._filled = 0
        if len(self._out) - self._filled < len(frame) + len(frame) // 254 + 2:
            return False
        self._filled = stuff(self._out, self._filled, frame)
        self.pump()
        return True

    def pump(self) -> None:
        """Write what the port takes now."""
        while self._sent < self._filled and self._poll_out.poll(0):
            end = min(self._sent + PIECE, self._filled)
            self._sent += self._output.write(self._view[self._sent : end]) or 0
