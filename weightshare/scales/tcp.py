"""A scale behind a TCP port: plain sockets, opened and closed by the one thread that uses them."""

from __future__ import annotations

import socket

from weightshare.errors import DeviceError
from weightshare.scales.transport import Transport

CONNECT_TIMEOUT_S = 2.0
WRITE_TIMEOUT_S = 1.0
READ_BYTES = 65_536


class TcpTransport(Transport):
    """A byte stream to the scale that listens at `host` and `port`."""

    def __init__(self, host: str, port: int) -> None:
        self.host = host
        self.port = port
        self.name = f"tcp://[{host}]:{port}" if ":" in host else f"tcp://{host}:{port}"
        self._socket: socket.socket | None = None

    def open(self) -> None:
        """Connect. Raises DeviceError where nothing listens, or nothing answers within 2 s."""
        self.close()
        try:
            self._socket = self._connect()
        except ConnectionRefusedError as error:
            raise DeviceError(f"{self.name}: nothing listens there; switch the scale on and check the port") from error
        except socket.gaierror as error:
            raise DeviceError(f"{self.name}: this host is not known; check its name and the network") from error
        except TimeoutError as error:
            raise DeviceError(f"{self.name}: no answer; check the address and the network") from error
        except OSError as error:
            raise DeviceError(f"{self.name}: cannot be reached ({error.strerror or error})") from error

    def _connect(self) -> socket.socket:
        link = socket.create_connection((self.host, self.port), timeout=CONNECT_TIMEOUT_S)
        # Trying a closed port of one's own machine again and again can meet one's own socket: it would echo for ever.
        if link.getsockname() == link.getpeername():
            link.close()
            raise ConnectionRefusedError
        link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return link

    def read(self, timeout_s: float) -> bytes:
        """Return what has come within `timeout_s`. Raises DeviceError where the other end closed or failed."""
        link = self._opened()
        try:
            link.settimeout(max(timeout_s, 1e-3))
            data = link.recv(READ_BYTES)
        except TimeoutError:
            return b""
        except OSError as error:
            raise DeviceError(f"{self.name}: the link was lost ({error.strerror or error})") from error
        if not data:
            raise DeviceError(f"{self.name}: the scale closed the link; check that it is on")
        return data

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises DeviceError where that takes over 1 s, or the link was lost."""
        link = self._opened()
        try:
            link.settimeout(WRITE_TIMEOUT_S)
            link.sendall(data)
        except OSError as error:
            raise DeviceError(f"{self.name}: the link was lost ({error.strerror or error})") from error

    def close(self) -> None:
        """Close the socket; closing twice is nothing."""
        if self._socket is not None:
            self._socket.close()
            self._socket = None

    def _opened(self) -> socket.socket:
        if self._socket is None:
            raise DeviceError(f"{self.name}: the link is not open")
        return self._socket
