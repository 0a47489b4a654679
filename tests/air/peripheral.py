"""Devices that could be on the air: what they advertise, what they offer, and the virtual scale behind them."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum
from typing import Protocol

from cobs import cobs

# Written down here as the protocol's page and the SIG's Assigned Numbers have them, not taken from the program.
SERVICE = "31d8d319-73a1-414f-bb42-9692ec651a0b"
FRAMES = "f5960238-4425-4997-9dde-507d87e9ba19"
COMMANDS = "8973f634-6421-46a7-b038-64961cd7769d"


def assigned(number: int) -> str:
    return f"0000{number:04x}-0000-1000-8000-00805f9b34fb"


BATTERY, BATTERY_LEVEL = assigned(0x180F), assigned(0x2A19)
INFORMATION, MANUFACTURER, MODEL = (assigned(number) for number in (0x180A, 0x2A29, 0x2A24))
WEIGHT_SCALE, WEIGHT_MEASUREMENT, WEIGHT_FEATURE = assigned(0x181D), assigned(0x2A9D), assigned(0x2A9E)
DEFAULT_MTU = 247


class Refusal(Enum):
    """How a connection may come to nothing."""

    FAILS = "br-connection-unknown"
    ABORTS = "le-connection-abort-by-local"
    """As BlueZ has it where the radio was disturbed: connected for a moment, and gone again."""
    HANGS = "no answer"
    VANISHES = "gone before its services are known"


class Scale(Protocol):
    """What a peripheral speaks for; the rig's stations are such."""

    def write(self, data: bytes, now_ns: int) -> None:
        """Take what the host sent, in stream form."""

    def read(self, now_ns: int) -> bytes:
        """Return what was sent until now, in stream form."""

    def next_ns(self, now_ns: int) -> int:
        """Return when there is something again."""

    def is_up(self, now_ns: int) -> bool:
        """Whether it can be reached at all."""


@dataclass
class Characteristic:
    """One value that is offered. `flags` are BlueZ's words: read, write, notify, indicate."""

    uuid: str
    flags: list[str]
    value: bytes = b""
    path: str = ""
    notifying: bool = False


@dataclass
class Peripheral:
    """One device. `refusals` are what becomes of its next connections, one after the other."""

    address: str
    name: str
    services: dict[str, list[Characteristic]]
    scale: Scale | None = None
    rssi: int = -55
    mtu: int = DEFAULT_MTU
    refusals: deque[Refusal] = field(default_factory=deque)
    is_on: bool = True
    connected: bool = False
    path: str = ""
    sent: int = 0
    """Notifications that went out to somebody who had subscribed."""
    written: list[bytes] = field(default_factory=list)
    on_subscribe: Callable[[], object] | None = None
    """Called when somebody has subscribed: a device that sleeps has something to say then."""

    def find(self, uuid: str) -> Characteristic:
        return next(each for group in self.services.values() for each in group if each.uuid == uuid)

    def forget(self) -> None:
        """Be connected to nobody, with nobody subscribed."""
        self.connected = False
        for each in (each for group in self.services.values() for each in group):
            each.notifying = False

    def is_reachable(self, now_ns: int) -> bool:
        return self.is_on and (self.scale is None or self.scale.is_up(now_ns))

    def obey(self, frame: bytes, now_ns: int) -> None:
        """Take one command, as a write brings it: body and CRC, without COBS."""
        self.written.append(frame)
        if self.scale is not None:
            self.scale.write(cobs.encode(frame) + b"\0", now_ns)

    def speak(self, now_ns: int) -> list[bytes]:
        """Return the frames that its scale has sent until now, as notifications carry them."""
        data = b"" if self.scale is None else self.scale.read(now_ns)
        return [cobs.decode(stuffed) for stuffed in data.split(b"\0") if stuffed]


def frames_service() -> dict[str, list[Characteristic]]:
    return {SERVICE: [Characteristic(FRAMES, ["notify"]), Characteristic(COMMANDS, ["write"])]}


def extras() -> dict[str, list[Characteristic]]:
    """Battery and Device Information, as a finished scale has them."""
    return {
        BATTERY: [Characteristic(BATTERY_LEVEL, ["read", "notify"], bytes([76]))],
        INFORMATION: [
            Characteristic(MANUFACTURER, ["read"], b"A workshop"),
            Characteristic(MODEL, ["read"], b"Plate 2\0"),
        ],
    }


def scale_peripheral(address: str, name: str, scale: Scale) -> Peripheral:
    """Return a scale of the wire protocol, with what a finished one offers beside it."""
    return Peripheral(address, name, frames_service() | extras(), scale)


def bathroom_scale(address: str, name: str = "Bathroom scale") -> Peripheral:
    """Return a store-bought scale: the Weight Scale Service and nothing of ours."""
    feature = Characteristic(WEIGHT_FEATURE, ["read"], bytes([0x18, 0, 0, 0]))
    services = {WEIGHT_SCALE: [Characteristic(WEIGHT_MEASUREMENT, ["indicate"]), feature]}
    return Peripheral(address, name, services | {BATTERY: extras()[BATTERY]})
