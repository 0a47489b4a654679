"""The virtual scales on pseudo-terminals, which look like serial ports; on POSIX systems only."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from weightshare.errors import DeviceError
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.serve import READ_BYTES, Port


class TerminalPort(Port):
    """One scale behind a pseudo-terminal. Its path stays the same when the cable is pulled out and put back."""

    def __init__(self, station: Station, path: Path) -> None:
        self.source = f"serial:{path}"
        self.path = path
        self._station = station
        self._ends: tuple[int, int] | None = None
        self._plug()

    def pump(self, now: Callable[[], int]) -> None:
        """Take what the host sent, and send what is due; what nobody reads is lost, as on a wire."""
        up = self._station.is_up(now())
        if not up:
            self.close()
        elif self._ends is None:
            self._plug()
        if self._ends is not None:
            self._receive(self._ends[0], now)
        data = self._station.read(now())
        if data and self._ends is not None:
            self._send(self._ends[0], data)

    def handles(self) -> list[int]:
        """Return this end of the terminal."""
        return [] if self._ends is None else [self._ends[0]]

    def next_ns(self, now_ns: int) -> int:
        """Return when the station has something again."""
        return self._station.next_ns(now_ns)

    def close(self) -> None:
        """Take the terminal away."""
        ends, self._ends = self._ends, None
        if ends is not None:
            self.path.unlink(missing_ok=True)
            for end in ends:
                os.close(end)

    def _plug(self) -> None:
        import pty
        import tty

        ours, theirs = pty.openpty()
        # the far end is kept open here too, so that a host may come and go
        self._ends = (ours, theirs)
        tty.setraw(theirs)
        os.set_blocking(ours, False)
        self.now_at = os.ttyname(theirs)
        self.path.symlink_to(self.now_at)

    def _receive(self, handle: int, now: Callable[[], int]) -> None:
        try:
            while data := os.read(handle, READ_BYTES):
                self._station.write(data, now())
        except BlockingIOError:
            return

    def _send(self, handle: int, data: bytes) -> None:
        try:
            os.write(handle, data)
        except BlockingIOError:
            return


class Terminals:
    """The ports of all stations, in a folder of their own that is gone at the end."""

    def __init__(self, stations: Sequence[Station], names: Sequence[str]) -> None:
        self._folder = tempfile.TemporaryDirectory(prefix="weightshare-rig-")
        self.ports: list[TerminalPort] = []
        try:
            for station, name in zip(stations, names, strict=True):
                self.ports.append(TerminalPort(station, Path(self._folder.name) / name))
        except OSError as error:
            self.close()
            raise DeviceError(f"--pty: no pseudo-terminal can be had here ({error.strerror or error})") from error

    def close(self) -> None:
        """Take all terminals away, and their folder."""
        for port in self.ports:
            port.close()
        self._folder.cleanup()
