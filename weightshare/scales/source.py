"""The spelling of a source, and the transport that it stands for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import OptionError
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
    "lsl": "lsl:Plates",
}
_TCP = re.compile(r"//(?:\[(?P<six>[0-9A-Fa-f:.%\w]+)\]|(?P<host>[^\s:/\[\]@]+)):(?P<port>\d{1,5})/?")
_MAX_BAUD = 20_000_000
_BLE = re.compile(r"(?:[0-9A-Fa-f]{2}:){5}[0-9A-Fa-f]{2}|[0-9A-Fa-f]{8}(?:-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}")
"""An address of Bluetooth, or the UUID that macOS gives in its place."""


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


@dataclass(frozen=True, slots=True)
class BleSource:
    """A scale by Bluetooth: its address, or on macOS its UUID there; in capitals."""

    address: str


@dataclass(frozen=True, slots=True)
class LabSource:
    """A force stream of a laboratory; `spec` is what follows `lsl:`."""

    spec: str


Source = RigSource | TcpSource | SerialSource | FileSource | BleSource | LabSource


def parse_source(text: str) -> Source:
    """Return what the source string `text` stands for.

    Raises OptionError, with an example, where it is spelled wrongly.
    """
    kind, colon, rest = text.partition(":")
    if not colon or kind not in _EXAMPLES:
        raise OptionError(f"--source {text!r} is no source; write one of: {', '.join(_EXAMPLES.values())}")
    if kind == "rig":
        return RigSource(rest)
    if not rest.strip():
        raise _misspelt(text, kind)
    if kind == "ble":
        return _parse_ble(text, rest)
    if kind == "file":
        return FileSource(Path(rest).expanduser())
    if kind == "lsl":
        return _parse_lab(rest)
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


def _parse_ble(text: str, rest: str) -> BleSource:
    if _BLE.fullmatch(rest) is None:
        raise _misspelt(text, "ble")
    return BleSource(rest.upper())


def _parse_lab(rest: str) -> LabSource:
    from weightshare.scales.lab.wish import parse_wish

    parse_wish(rest)
    return LabSource(rest)


def _misspelt(text: str, kind: str) -> OptionError:
    return OptionError(f"--source {text!r} is misspelt; write it like {_EXAMPLES[kind]}")


def may_be_pair(sources: Sequence[str]) -> bool:
    """Return whether `sources` can bring two separate scales: two do, a virtual pair wished so, and a record may."""
    kind, _, spec = sources[0].partition(":")
    return len(sources) > 1 or kind == "file" or (kind == "rig" and wants_two(spec))


def check_sources(sources: Sequence[str]) -> None:
    """Raise OptionError unless `sources` are one scale, or two separate ones."""
    if not 1 <= len(sources) <= 2:
        raise OptionError(f"--source was given {len(sources)} times; give it once, or twice for two separate scales")
    if len(sources) == 1:
        return
    for text in sources:
        if text.startswith(("rig:", "file:")):
            pair = "rig:separate=yes is two virtual ones" if text.startswith("rig:") else "a saved session has both"
            raise OptionError(f"--source {text!r} cannot be one of two scales; give it alone: {pair}")
    first, second = map(parse_source, sources)
    if first == second:
        raise OptionError(f"--source {sources[0]} is given twice; give the other scale's own")


def open_sources(sources: Sequence[str], settings: Settings | None = None, goal: Goal | None = None) -> list[Transport]:
    """Return the transports of a session's `sources`, not yet opened: one, or two for two separate scales.

    One source may bring two: a virtual pair that is wished `separate`, and the record of a session on two scales.
    Raises OptionError where they cannot go together, and as `parse_source` and `open_source` do.
    """
    check_sources(sources)
    parsed = [parse_source(text) for text in sources]
    first = parsed[0]
    if isinstance(first, FileSource):
        from weightshare.scales.playing import play

        return play(first.path)
    if isinstance(first, RigSource) and wants_two(first.spec):
        from weightshare.scales.rig import rig_pair

        return list(rig_pair(first.spec, settings or Settings(Side.LEFT), goal or Goal()))
    return [open_source(source, settings, goal) for source in parsed]


def wants_two(spec: str) -> bool:
    """Return whether what follows `rig:` wishes for two separate scales."""
    return "separate=yes" in [wish.strip() for wish in spec.split(",")]


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
    if isinstance(source, BleSource):
        from weightshare.scales.air.transport import AirTransport

        return AirTransport(source.address)
    if isinstance(source, LabSource):
        from weightshare.scales.lab.transport import LabTransport

        return LabTransport(source.spec)
    return _open_rig(source, settings or Settings(Side.LEFT), goal or Goal())


def _open_rig(source: RigSource, settings: Settings, goal: Goal) -> Transport:
    from weightshare.scales.rig import rig_transport

    return rig_transport(source.spec, settings, goal)
