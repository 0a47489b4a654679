"""The virtual scales for other programs: each on a port of its own, all in one loop of one thread."""

from __future__ import annotations

import errno
import os
import socket
from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence

from weightshare.errors import DeviceError, OptionError
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.local import Clock

HOST = "127.0.0.1"
HIGHEST_PORT = 65_535
OUTBOX_BYTES = 65_536
"""What a client that does not read may leave unread before it is dropped, as a serial port would drop it."""
READ_BYTES = 4096
PORT_TRIES = 50


class Port(ABC):
    """Where one scale can be reached. `pump` never waits."""

    source: str
    """How a host names it: `tcp://127.0.0.1:7000`, `serial:PATH`."""
    now_at = ""
    """Where a path that stays the same leads to now; empty where there is no such thing."""

    @abstractmethod
    def pump(self, now: Callable[[], int]) -> None:
        """Take what the host sent, and send what is due; `now` tells the time, ns.

        What was sent came before it was read, so it is stamped after that: a computer that is busy in between makes an
        answer late, and never early. Raises DeviceError where the port cannot be kept.
        """

    @abstractmethod
    def handles(self) -> list[int]:
        """Return the file handles on which something may come in."""

    @abstractmethod
    def next_ns(self, now_ns: int) -> int:
        """Return the instant at which to pump again, whatever comes in."""

    @abstractmethod
    def close(self) -> None:
        """Close everything; closing twice is nothing."""


def serve(ports: Sequence[Port], clock: Clock, seconds: float | None = None) -> None:
    """Serve until `seconds` have passed (None: until interrupted). Raises DeviceError where a port fails."""
    now_ns = clock.now_ns()
    until_ns = None if seconds is None else now_ns + round(seconds * 1e9)
    while until_ns is None or now_ns < until_ns:
        for port in ports:
            port.pump(clock.now_ns)
        next_ns = min(port.next_ns(now_ns) for port in ports)
        handles = [handle for port in ports for handle in port.handles()]
        clock.wait(max(next_ns - clock.now_ns(), 0) / 1e9, handles)
        now_ns = clock.now_ns()


class TcpPort(Port):
    """One scale behind a TCP port of this machine, for one client after the other.

    While the cable is out nothing listens and the client is cut off. The scale goes on by itself between clients.
    """

    def __init__(self, station: Station, number: int) -> None:
        self._station = station
        self._server: socket.socket | None = _listen(number)
        self.number: int = self._server.getsockname()[1]
        self.source = f"tcp://{HOST}:{self.number}"
        self._client: socket.socket | None = None
        self._outbox = bytearray()

    def pump(self, now: Callable[[], int]) -> None:
        """Take in a client where none is there, what it sent, and send what is due."""
        if not self._plug(now()):
            self._station.read(now())
            return
        self._accept()
        self._receive(now)
        data = self._station.read(now())
        if self._client is not None:
            self._send(data)

    def handles(self) -> list[int]:
        """Return the client's handle, or the listening one while there is no client."""
        waited = self._client or self._server
        return [] if waited is None else [waited.fileno()]

    def next_ns(self, now_ns: int) -> int:
        """Return when the station has something again."""
        return self._station.next_ns(now_ns)

    def close(self) -> None:
        """Close the client and the port."""
        self._drop()
        if self._server is not None:
            self._server.close()
            self._server = None

    def _plug(self, now_ns: int) -> bool:
        up = self._station.is_up(now_ns)
        if not up:
            self.close()
        elif self._server is None:
            self._server = _listen(self.number)
        return up

    def _accept(self) -> None:
        if self._client is None and self._server is not None:
            try:
                self._client, _ = self._server.accept()
            except (BlockingIOError, ConnectionError):
                return
            self._client.setblocking(False)
            self._client.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def _receive(self, now: Callable[[], int]) -> None:
        while self._client is not None:
            try:
                data = self._client.recv(READ_BYTES)
            except BlockingIOError:
                return
            except OSError:
                data = b""
            if not data:
                self._drop()
                return
            self._station.write(data, now())

    def _send(self, data: bytes) -> None:
        self._outbox += data
        if len(self._outbox) > OUTBOX_BYTES:
            self._outbox.clear()
        if self._outbox and self._client is not None:
            try:
                del self._outbox[: self._client.send(self._outbox)]
            except BlockingIOError:
                return
            except OSError:
                self._drop()

    def _drop(self) -> None:
        client, self._client = self._client, None
        self._outbox.clear()
        if client is not None:
            client.close()


def open_tcp(stations: Sequence[Station], number: int) -> list[TcpPort]:
    """Open ports from `number` on, one for each station; 0 finds free ones that follow each other.

    Raises OptionError for a number that is no port, and DeviceError where a port is in use or not permitted.
    """
    last = HIGHEST_PORT - len(stations) + 1
    if not 0 <= number <= last:
        raise OptionError(f"--tcp {number} is out of range: it may be 1 to {last}, or 0 for one that is free")
    if number:
        return _open_from(stations, number)
    for _ in range(PORT_TRIES):
        with _listen(0) as finder:
            free: int = finder.getsockname()[1]
        try:
            return _open_from(stations, free)
        except (DeviceError, OptionError):
            continue
    raise DeviceError("--tcp 0: no free port was found on 127.0.0.1; name one with --tcp PORT")


def _open_from(stations: Sequence[Station], number: int) -> list[TcpPort]:
    ports: list[TcpPort] = []
    try:
        for station in stations:
            ports.append(TcpPort(station, number + len(ports)))
    except BaseException:
        for port in ports:
            port.close()
        raise
    return ports


def _listen(number: int) -> socket.socket:
    server = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            # on other systems this would let two programs share the port
            server.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        server.bind((HOST, number))
        server.listen(1)
    except (OSError, OverflowError) as error:
        server.close()
        raise DeviceError(f"--tcp {number}: {_port_words(error)}") from error
    server.setblocking(False)
    return server


def _port_words(error: Exception) -> str:
    number = getattr(error, "errno", None)
    if number == errno.EADDRINUSE:
        return "the port is in use; stop the other program or choose another port"
    if number in (errno.EACCES, errno.EPERM):
        return "no permission to use this port; choose one over 1023"
    return f"cannot listen there ({error})"
