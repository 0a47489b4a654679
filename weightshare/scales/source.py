"""The spelling of a source, and the transport that it stands for."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import DeviceError, OptionError
from weightshare.model import Side
from weightshare.scales.cable import DEFAULT_BAUD, SerialTransport
from weightshare.scales.tcp import TcpTransport
from weightshare.scales.transport import Transport
from weightshare.task import Goal, Settings

DEFAULT_SOURCE = "rig:"

_EXAMPLES = {
    "rig": "rig:",
    "tcp": "tcp://192.168.1.20:7000",
    "serial": "serial:/dev/ttyACM0@115200 or serial:COM3",
    "file": "file:session-2026-11-24-101500",
    "ble": "ble:AA:BB:CC:DD:EE:FF",
}
_TCP = re.compile(r"//(?:\[(?P<six>[0-9A-Fa-f:.%\w]+)\]|(?P<host>[^\s:/\[\]@]+)):(?P<port>\d{1,5})/?")
_MAX_BAUD = 20_000_000


@dataclass(frozen=True, slots=True)
class RigSource:
    """The virtual pair of scales that runs inside this program; `spec` is what follows `rig:`."""

    spec: str = ""


@dataclass(frozen=True, slots=True)
class TcpSource:
    """A scale behind a TCP port."""

    host: str
    port: int


@dataclass(frozen=True, slots=True)
class SerialSource:
    """A scale on a serial port."""

    port: str
    baud: int = DEFAULT_BAUD


@dataclass(frozen=True, slots=True)
class FileSource:
    """A recorded session or a capture, played back as a scale."""

    path: Path


Source = RigSource | TcpSource | SerialSource | FileSource


def parse_source(text: str) -> Source:
    """Return what the source string `text` stands for.

    Raises OptionError, with an example, where it is spelled wrongly, and DeviceError for Bluetooth, which this
    version has not.
    """
    kind, colon, rest = text.partition(":")
    if not colon or kind not in _EXAMPLES:
        spellings = ", ".join(_EXAMPLES[name] for name in ("rig", "tcp", "serial", "file"))
        raise OptionError(f"--source {text!r} is no source; write one of: {spellings}")
    if kind == "rig":
        return RigSource(rest)
    if not rest.strip():
        raise _misspelt(text, kind)
    if kind == "ble":
        raise DeviceError(f"{text}: Bluetooth is not in this version; connect the scale by USB serial or TCP")
    if kind == "file":
        return FileSource(Path(rest).expanduser())
    return _parse_tcp(text, rest) if kind == "tcp" else _parse_serial(text, rest)


def _parse_tcp(text: str, rest: str) -> TcpSource:
    match = _TCP.fullmatch(rest)
    if match is None or not 1 <= int(match["port"]) <= 65_535:
        raise _misspelt(text, "tcp")
    return TcpSource(match["six"] or match["host"], int(match["port"]))


def _parse_serial(text: str, rest: str) -> SerialSource:
    port, at, speed = rest.rpartition("@")
    if not at:
        return SerialSource(rest)
    if not port or not speed.isascii() or not speed.isdecimal() or not 50 <= int(speed) <= _MAX_BAUD:
        raise _misspelt(text, "serial")
    return SerialSource(port, int(speed))


def _misspelt(text: str, kind: str) -> OptionError:
    return OptionError(f"--source {text!r} is misspelt; write it like {_EXAMPLES[kind]}")


def open_source(source: Source, settings: Settings | None = None, goal: Goal | None = None) -> Transport:
    """Return the transport of `source`, not yet opened; a rig's and a file's are made ready here.

    A virtual person does what `settings` and `goal` ask for. Raises OptionError where a rig's wish is not known, and
    RecordError where a file cannot be played back.
    """
    if isinstance(source, TcpSource):
        return TcpTransport(source.host, source.port)
    if isinstance(source, SerialSource):
        return SerialTransport(source.port, source.baud)
    if isinstance(source, FileSource):
        from weightshare.scales.replay import ReplayTransport

        return ReplayTransport(source.path)
    return _open_rig(source, settings or Settings(Side.LEFT), goal or Goal())


def _open_rig(source: RigSource, settings: Settings, goal: Goal) -> Transport:
    from weightshare.scales.rig import rig_transport

    return rig_transport(source.spec, settings, goal)
