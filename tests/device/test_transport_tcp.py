"""The TCP transport against real sockets on this machine."""

from __future__ import annotations

import socket
import struct
from collections.abc import Iterator

import pytest

from weightshare.errors import DeviceError
from weightshare.scales.tcp import TcpTransport


@pytest.fixture
def listener() -> Iterator[socket.socket]:
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(5)
        yield server


@pytest.fixture
def transport(listener: socket.socket) -> Iterator[TcpTransport]:
    link = TcpTransport("127.0.0.1", listener.getsockname()[1])
    yield link
    link.close()


def test_bytes_go_both_ways(listener: socket.socket, transport: TcpTransport) -> None:
    transport.open()
    far, _ = listener.accept()
    with far:
        far.sendall(b"\x01\x00\x02")
        assert transport.read(5.0) == b"\x01\x00\x02"
        assert transport.read(0.0) == b""
        transport.write(b"\x00\xff" * 1000)
        far.settimeout(5)
        assert far.recv(2000, socket.MSG_WAITALL) == b"\x00\xff" * 1000


def test_a_closed_and_a_reset_link_are_told(listener: socket.socket, transport: TcpTransport) -> None:
    transport.open()
    listener.accept()[0].close()
    with pytest.raises(DeviceError, match=r"tcp://127\.0\.0\.1:\d+: the scale closed the link"):
        transport.read(5.0)
    transport.open()
    far, _ = listener.accept()
    far.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    far.close()
    with pytest.raises(DeviceError, match="the link was lost"):
        transport.read(5.0)
    with pytest.raises(DeviceError, match="the link was lost"):
        transport.write(b"1")


def test_a_closed_port_says_that_nothing_listens(listener: socket.socket, transport: TcpTransport) -> None:
    listener.close()
    with pytest.raises(DeviceError, match="nothing listens there") as refusal:
        transport.open()
    assert refusal.value.exit_status == 3


def test_an_unknown_host_is_said() -> None:
    with pytest.raises(DeviceError, match="host is not known"):
        TcpTransport("no-such-host.invalid", 7000).open()


def test_a_scale_that_takes_nothing_is_a_lost_link(listener: socket.socket, transport: TcpTransport) -> None:
    transport.open()
    far, _ = listener.accept()
    with far, pytest.raises(DeviceError, match="the link was lost"):
        transport.write(bytes(64_000_000))


def test_meeting_ones_own_socket_is_not_a_scale() -> None:
    # An ephemeral port may be picked for both ends of one connection: bind to the very port that is then tried.
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    transport = TcpTransport("127.0.0.1", port)
    real = socket.create_connection

    def from_the_same_port(address: tuple[str, int], timeout: float) -> socket.socket:
        return real(address, timeout, source_address=("127.0.0.1", port))

    with pytest.MonkeyPatch.context() as patch, pytest.raises(DeviceError, match="nothing listens there"):
        patch.setattr(socket, "create_connection", from_the_same_port)
        transport.open()


def test_an_unopened_link_says_so_and_closes_twice(transport: TcpTransport) -> None:
    transport.close()
    for use in (lambda: transport.read(0.0), lambda: transport.write(b"")):
        with pytest.raises(DeviceError, match="not open"):
            use()
