"""A scale that is reached by Bluetooth, as a byte stream: what links and raw records know how to deal with.

One notification carries one frame, and so does one write; here each is given the form that it has on a byte stream.
"""

from __future__ import annotations

import threading
from collections import deque
from concurrent.futures import CancelledError, Future

from cobs import cobs

from weightshare.errors import DeviceError
from weightshare.scales.air.connection import CONNECT_S, FIND_S, GROW_S, Connection
from weightshare.scales.air.loop import GRACE_S, air_loop
from weightshare.scales.air.profile import About
from weightshare.scales.air.trouble import words_for
from weightshare.scales.frame import to_stream
from weightshare.scales.transport import Transport

OPEN_S = 2 * (FIND_S + CONNECT_S) + GROW_S
"""The other scale of a pair may be looked for first."""
CLOSE_S = 6.0
HELD_FRAMES = 10_000
"""So many frames wait for their reader; the oldest go where there are more, and are missed by their running number."""


class Inbox:
    """What came, from the loop's thread to the reader's, with the words of what ended it."""

    def __init__(self) -> None:
        self._news = threading.Condition()
        self._frames: deque[bytes] = deque(maxlen=HELD_FRAMES)
        self._ending = ""

    def put(self, frame: bytes) -> None:
        """Add one frame, in stream form."""
        with self._news:
            self._frames.append(to_stream(frame))
            self._news.notify()

    def end(self, words: str) -> None:
        """Say that nothing more will come, and why."""
        with self._news:
            self._ending = words
            self._news.notify()

    def take(self, timeout_s: float) -> bytes:
        """Return what came within `timeout_s`. Raises DeviceError with the words of the end, once all is taken."""
        with self._news:
            self._news.wait_for(lambda: self._frames or self._ending, timeout_s)
            if self._ending and not self._frames:
                raise DeviceError(self._ending)
            taken = b"".join(self._frames)
            self._frames.clear()
            return taken


class AirTransport(Transport):
    """A byte stream to the scale at the Bluetooth address `address` (on macOS, the UUID that stands for it)."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.name = f"ble:{address}"
        self._inbox = Inbox()
        self._connection: Connection | None = None
        self._about = About()
        self._pending = b""
        self._opening: Future[None] | None = None
        self._interrupted = threading.Event()

    @property
    def about(self) -> About:
        """What the scale tells of itself beside the protocol, as far as it is known."""
        connection = self._connection
        return self._about if connection is None else connection.about

    @property
    def told(self) -> str:
        """What the scale tells by the Bluetooth SIG's Battery and Device Information Services, in words."""
        return self.about.words

    def open(self) -> None:
        """Find the scale, connect and subscribe: up to 4 s and 8 s.

        Raises DeviceError where Bluetooth is missing, off or not permitted, where the scale is not near, does not let
        itself be connected or is none, and where the link carries too little.
        """
        self.close()
        self._inbox, self._pending = Inbox(), b""
        connection = Connection(self.address, air_loop().radio, self._inbox.put, self._inbox.end)
        try:
            self._wait_open(connection)
        except CancelledError as error:
            raise DeviceError(f"{self.name}: connecting was given up") from error
        except Exception as error:
            raise DeviceError(f"{self.name}: {words_for(error)}") from error
        self._connection = connection

    def _wait_open(self, connection: Connection) -> None:
        loop = air_loop()
        self._opening = loop.begin(connection.open(), OPEN_S)
        if self._interrupted.is_set():
            self._opening.cancel()
        try:
            self._opening.result(OPEN_S + GRACE_S)
        finally:
            self._opening = None

    def interrupt(self) -> None:
        """Give up an `open` that is under way, and begin none any more; from any thread."""
        self._interrupted.set()
        opening = self._opening
        if opening is not None:
            opening.cancel()

    def read(self, timeout_s: float) -> bytes:
        """Return what has come within `timeout_s`. Raises DeviceError where the link was lost, once all was read."""
        self._opened()
        try:
            return self._inbox.take(timeout_s)
        except DeviceError as error:
            raise DeviceError(f"{self.name}: {error}") from None

    def write(self, data: bytes) -> None:
        """Have all of `data` sent; it is not waited for. A link that is lost meanwhile is told by the next `read`."""
        connection = self._opened()
        *commands, self._pending = (self._pending + data).split(b"\0")
        for stuffed in filter(None, commands):
            air_loop().call(connection.send, cobs.decode(stuffed))

    def close(self) -> None:
        """Send what was still to be sent and leave; closing twice is nothing."""
        connection, self._connection = self._connection, None
        if connection is None:
            return
        self._about = connection.about
        try:
            air_loop().run(connection.close(), CLOSE_S)
        except DeviceError:
            # Bluetooth itself hangs: nothing more can be done from here
            return

    def _opened(self) -> Connection:
        if self._connection is None:
            raise DeviceError(f"{self.name}: the link is not open")
        return self._connection
