"""What is where on a scale that is reached by Bluetooth: services and characteristics by their UUIDs.

Sources: this project's wire protocol, "Bluetooth LE"; Bluetooth SIG, Assigned Numbers, 3.4 and 3.8.
"""

from __future__ import annotations

from dataclasses import dataclass

SERVICE = "31d8d319-73a1-414f-bb42-9692ec651a0b"
FRAMES = "f5960238-4425-4997-9dde-507d87e9ba19"
"""Frames from the scale, one a notification."""
COMMANDS = "8973f634-6421-46a7-b038-64961cd7769d"
"""Commands to the scale, one a write with response."""
LEAST_PAYLOAD = 160
"""Bytes that one notification has to be able to carry."""


def assigned(number: int) -> str:
    """Return the whole UUID of a number that the Bluetooth SIG assigned. Source: Core Specification 5.4, 3.B.2.5.1."""
    return f"{number:08x}-0000-1000-8000-00805f9b34fb"


WEIGHT_SCALE = assigned(0x181D)
WEIGHT_MEASUREMENT = assigned(0x2A9D)
BATTERY_LEVEL = assigned(0x2A19)
"""Of the Battery Service, 0x180F: one byte, percent."""
MANUFACTURER = assigned(0x2A29)
"""Of the Device Information Service, 0x180A, as the next."""
MODEL = assigned(0x2A24)


@dataclass(frozen=True, slots=True)
class About:
    """What a scale tells of itself beside the protocol; empty or None where it does not."""

    manufacturer: str = ""
    model: str = ""
    battery_percent: int | None = None
    rssi_dBm: int | None = None
    """How strong it was heard when it was found."""

    @property
    def words(self) -> str:
        """Battery, maker and model, as far as they are told. The firmware's version is the protocol's to tell."""
        battery = "" if self.battery_percent is None else f"battery {self.battery_percent} %"
        return ", ".join(filter(None, (battery, self.manufacturer, self.model)))
