"""The scales that can be reached from this machine, and the source string of each."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from weightshare.errors import DeviceError
from weightshare.model import Identity
from weightshare.scales.cable import SerialTransport
from weightshare.scales.conversation import Conversation
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.transport import Transport

if TYPE_CHECKING:
    from weightshare.scales.air.search import AirFound

PROBE_S = 1.5
"""How long a port is asked for an answer; a board that restarts when its port is opened needs about a second."""
_GRAIN_S = 0.05


@dataclass(frozen=True, slots=True)
class Reach:
    """One way to reach a scale. `answer` says what answered when asked; empty where nobody was asked."""

    source: str
    description: str
    answer: str = ""
    identity: Identity | None = None


def list_ports() -> list[Reach]:
    """Return the serial ports of this machine with their descriptions, in the order of their names."""
    from serial.tools.list_ports import comports

    ports = sorted(comports(), key=lambda port: port.device)
    return [Reach(f"serial:{port.device}", _describe(port.description, port.manufacturer)) for port in ports]


def _describe(description: str | None, manufacturer: str | None) -> str:
    said = [text for text in (description, manufacturer) if text and text != "n/a"]
    return ", ".join(said) or "a serial port"


def list_rigs() -> list[Reach]:
    """Return the virtual scales inside this program, one for each person on them."""
    return [Reach(f"rig:{name}", f"virtual scales: {profile.words}") for name, profile in PEOPLE.items()]


def list_air(seconds: float) -> list[Reach]:
    """Return the scales that are heard by Bluetooth within `seconds`, the strongest first.

    Raises DeviceError, in words with a remedy, where this computer has no Bluetooth that can be used.
    """
    from weightshare.scales.air.search import search

    return [Reach(f"ble:{found.address}", describe_air(found)) for found in search(seconds)]


def describe_air(found: AirFound) -> str:
    """Return what is known, in words, of a scale that was heard."""
    signal = "" if found.rssi_dBm is None else f"signal {found.rssi_dBm} dBm"
    kind = "Bluetooth" if found.kind == "weightshare" else "Bluetooth, store-bought: settled readings only"
    return ", ".join(filter(None, [found.name, kind, signal]))


def probe(reach: Reach) -> Reach:
    """Return `reach` with what its scale answered to WHO within 1.5 s; a refusal to open it is an answer too."""
    transport = _transport(reach.source)
    try:
        transport.open()
        identity = ask(transport)
    except DeviceError as error:
        words = str(error).removeprefix(f"{transport.name}: ")
        return Reach(reach.source, reach.description, words)
    finally:
        transport.close()
    if identity is None:
        return Reach(reach.source, reach.description, "no scale answers")
    words = f"scale {identity.device_id}" + (f" ({identity.name})" if identity.name else "")
    return Reach(reach.source, reach.description, words, identity)


def _transport(source: str) -> Transport:
    kind, _, rest = source.partition(":")
    if kind == "ble":
        from weightshare.scales.air.transport import AirTransport

        return AirTransport(rest)
    return SerialTransport(rest)


def ask(transport: Transport, timeout_s: float = PROBE_S) -> Identity | None:
    """Return who answers on an opened transport within `timeout_s`, or None. Nothing is started. Raises DeviceError."""
    decoder = StreamDecoder()
    decoder.start()
    began_ns = now_ns = time.monotonic_ns()
    talk = Conversation(now_ns, lambda identity: "only asked who it is")
    while talk.identity is None and now_ns - began_ns < timeout_s * 1e9:
        command = talk.due(now_ns)
        if command:
            transport.write(command)
        data = transport.read(_GRAIN_S)
        now_ns = time.monotonic_ns()
        for message in decoder.feed(data, now_ns):
            talk.hear(message, now_ns)
    return talk.identity
