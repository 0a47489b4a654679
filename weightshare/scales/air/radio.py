"""Looking for devices on the air; everything here runs in the loop, with its `radio` held."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from weightshare.scales.air.profile import SERVICE, WEIGHT_SCALE

if TYPE_CHECKING:
    from bleak.backends.device import BLEDevice
    from bleak.backends.scanner import AdvertisementData

NOT_KNOWN_DBM = -127
"""What bleak and the standard give where the strength of a signal is not known."""


@dataclass(frozen=True, slots=True)
class Sighting:
    """A device that was heard, and how strongly, dBm (None: not known)."""

    device: BLEDevice
    rssi_dBm: int | None


async def find(address: str, timeout_s: float) -> Sighting | None:
    """Return the device of `address` as soon as it is heard, None where it is not within `timeout_s`.

    One that an earlier program left connected is found too: it no longer makes itself heard.
    """
    heard: asyncio.Future[Sighting] = asyncio.get_running_loop().create_future()

    def hear(sighting: Sighting, services: Sequence[str]) -> None:
        if is_same(sighting.device.address, address) and not heard.done():
            heard.set_result(sighting)

    try:
        async with asyncio.timeout(timeout_s):
            return await _find_connected(address) or await scan_until(heard, hear)
    except TimeoutError:
        return None


async def _find_connected(address: str) -> Sighting | None:
    from bleak import BleakAdapter

    adapter = await BleakAdapter.get()
    connected = await adapter.get_connected_devices([SERVICE, WEIGHT_SCALE])
    found = (device for device in connected if is_same(device.address, address))
    device = next(found, None)
    return None if device is None else Sighting(device, None)


async def scan_until(
    done: asyncio.Future[Sighting],
    hear: Callable[[Sighting, Sequence[str]], None],
    services: Sequence[str] | None = None,
) -> Sighting:
    """Scan until `done` is, and return it; `hear` gets each sighting with the UUIDs of the services it tells of."""
    from bleak import BleakScanner

    def note(device: BLEDevice, told: AdvertisementData) -> None:
        hear(Sighting(device, None if told.rssi <= NOT_KNOWN_DBM else told.rssi), told.service_uuids)

    async with BleakScanner(note, list(services) if services else None):
        return await done


def is_same(address: str, other: str) -> bool:
    """Return whether two addresses (or, on macOS, two UUIDs) are the same."""
    return address.strip().casefold() == other.strip().casefold()
