"""A scale on a serial port, through pyserial, opened and closed by the one thread that uses it."""

from __future__ import annotations

import errno
import sys
from typing import TYPE_CHECKING

from weightshare.errors import DeviceError
from weightshare.scales.transport import Transport

if TYPE_CHECKING:
    from serial import Serial

DEFAULT_BAUD = 115_200
WRITE_TIMEOUT_S = 1.0

_ABSENT = {errno.ENOENT, errno.ENODEV, errno.ENXIO}
_TAKEN = {errno.EBUSY, errno.EAGAIN, errno.EWOULDBLOCK}
_FORBIDDEN = {errno.EACCES, errno.EPERM}


class SerialTransport(Transport):
    """A byte stream to the scale on `port`, at `baud` bits a second, eight bits, no parity, one stop bit."""

    def __init__(self, port: str, baud: int = DEFAULT_BAUD) -> None:
        self.port = port
        self.baud = baud
        self.name = f"serial:{port}" if baud == DEFAULT_BAUD else f"serial:{port}@{baud}"
        self._serial: Serial | None = None

    def open(self) -> None:
        """Open the port for this program alone. Raises DeviceError where it is absent, in use or not permitted."""
        import serial

        self.close()
        device = serial.Serial(baudrate=self.baud, timeout=0.05, write_timeout=WRITE_TIMEOUT_S, exclusive=True)
        device.port = self.port
        try:
            device.open()
        # termios has an error of its own, which is no OSError, and exists on POSIX only
        except Exception as error:
            raise DeviceError(f"{self.name}: {opening_words(error)}") from error
        self._serial = device

    def read(self, timeout_s: float) -> bytes:
        """Return what has come within `timeout_s`. Raises DeviceError where the port was unplugged."""
        device = self._opened()
        try:
            # Each change of the timeout sets up the whole port anew.
            if device.timeout != timeout_s:
                device.timeout = timeout_s
            first = device.read(1)
            # An unplugged port raises SerialException from read, but plain OSError from in_waiting.
            return first + device.read(device.in_waiting) if first else b""
        except Exception as error:
            raise DeviceError(f"{self.name}: the port was unplugged or failed; check the cable") from error

    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises DeviceError where that takes over 1 s, or the port was unplugged."""
        device = self._opened()
        try:
            device.write(data)
        except Exception as error:
            raise DeviceError(f"{self.name}: the port was unplugged or failed; check the cable") from error

    def close(self) -> None:
        """Close the port; closing twice is nothing."""
        device, self._serial = self._serial, None
        if device is not None:
            try:
                device.close()
            except OSError:
                # It is gone already: nothing is left to close.
                return

    def _opened(self) -> Serial:
        if self._serial is None:
            raise DeviceError(f"{self.name}: the port is not open")
        return self._serial


def opening_words(error: Exception) -> str:
    """Return what an error from opening a port means, and what a person can do about it."""
    number = getattr(error, "errno", None)
    text = str(error)
    # On Windows pyserial keeps the cause only as text.
    if number in _ABSENT or "FileNotFoundError" in text:
        return "there is no such port; plug the scale in, and see `weightshare scales` for the ports there are"
    if number in _TAKEN or "PermissionError" in text:
        return "the port is in use; close the other program that has it open"
    if number in _FORBIDDEN:
        return f"no permission to open the port; {permission_words()}"
    if isinstance(error, ValueError):
        return "the port does not take this speed; leave @BAUD out for 115200"
    return f"this is no serial port that can be used ({text})"


def permission_words() -> str:
    """Return how a person gets at serial ports on this system."""
    if sys.platform.startswith("linux"):
        return "add yourself to its group (`sudo usermod -aG dialout $USER`) and log in again"
    return "ask who looks after this computer for the right to use it"
