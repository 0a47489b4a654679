"""The serial transport over real pseudo-terminals, opened by the real pyserial."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from weightshare.errors import DeviceError
from weightshare.scales.cable import SerialTransport, opening_words

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are POSIX's")


class Pty:
    """Both ends of a pseudo-terminal; `unplug` closes the scale's end."""

    def __init__(self) -> None:
        self.far, self._near = os.openpty()
        self.port = os.ttyname(self._near)

    def unplug(self) -> None:
        for handle in (self.far, self._near):
            if handle >= 0:
                os.close(handle)
        self.far = self._near = -1


@pytest.fixture
def pty() -> Iterator[Pty]:
    terminal = Pty()
    yield terminal
    terminal.unplug()


@pytest.fixture
def transport(pty: Pty) -> Iterator[SerialTransport]:
    link = SerialTransport(pty.port)
    yield link
    link.close()


@pytest.mark.parametrize("baud", [115_200, 2_000_000, 123_456])
def test_bytes_go_both_ways_unchanged(pty: Pty, baud: int) -> None:
    every_byte = bytes(range(256))
    transport = SerialTransport(pty.port, baud)
    transport.open()
    try:
        os.write(pty.far, every_byte)
        got = b""
        while len(got) < 256 and (more := transport.read(5.0)):
            got += more
        assert got == every_byte
        assert transport.read(0.01) == b""
        transport.write(every_byte)
        assert os.read(pty.far, 300) == every_byte
    finally:
        transport.close()


def test_a_port_in_use_is_said(pty: Pty, transport: SerialTransport) -> None:
    transport.open()
    second = SerialTransport(pty.port)
    with pytest.raises(DeviceError, match="in use; close the other program"):
        second.open()
    transport.close()
    second.open()
    second.close()


def test_an_absent_port_is_said() -> None:
    with pytest.raises(DeviceError, match="serial:/dev/ttyNONE9@9600: there is no such port"):
        SerialTransport("/dev/ttyNONE9", 9600).open()


@pytest.mark.parametrize("path", ["/dev/null", "/"])
def test_what_is_no_serial_port_is_said(path: str) -> None:
    with pytest.raises(DeviceError, match="no serial port that can be used"):
        SerialTransport(path).open()


def test_an_unplugged_port_is_a_lost_link(pty: Pty, transport: SerialTransport) -> None:
    transport.open()
    pty.unplug()
    with pytest.raises(DeviceError, match="unplugged"):
        transport.read(5.0)
    with pytest.raises(DeviceError, match="unplugged"):
        transport.write(b"1")
    transport.close()


def test_a_port_unplugged_between_two_looks_is_a_lost_link(pty: Pty, transport: SerialTransport) -> None:
    transport.open()
    os.write(pty.far, b"1")

    class Gone:
        """The port as it is where the cable goes after the first byte: reading works, looking for more does not."""

        timeout = 5.0

        def read(self, size: int) -> bytes:
            return b"1"

        @property
        def in_waiting(self) -> int:
            raise OSError(5, "Input/output error")

    with pytest.MonkeyPatch.context() as patch, pytest.raises(DeviceError, match="unplugged"):
        patch.setattr(transport, "_opened", Gone)
        transport.read(5.0)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can take a right away here")
def test_a_port_without_permission_is_said(pty: Pty) -> None:
    Path(pty.port).chmod(0o600)
    code = (
        "import os, sys\n"
        "from weightshare.errors import DeviceError\n"
        "from weightshare.scales.cable import SerialTransport\n"
        "import serial, serial.tools.list_ports\n"
        "os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
        "try: SerialTransport(sys.argv[1]).open()\n"
        "except DeviceError as error: print(error)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code, pty.port], capture_output=True, text=True, timeout=30, check=True
    )
    assert "no permission to open the port; " in told.stdout
    assert told.stderr == ""


def test_windows_tells_the_cause_only_as_text() -> None:
    # as pyserial 3.5's serialwin32.py builds its message
    import serial

    absent = serial.SerialException("could not open port 'COM9': FileNotFoundError(2, 'not found', None, 2)")
    taken = serial.SerialException("could not open port 'COM3': PermissionError(13, 'Access is denied.', None, 5)")
    assert "no such port" in opening_words(absent)
    assert "in use" in opening_words(taken)


def test_a_source_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("keep me")
    with pytest.raises(DeviceError, match="no serial port"):
        SerialTransport(str(path)).open()
    assert path.read_text() == "keep me"
