"""Which scales are near, by Bluetooth."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from weightshare.errors import DeviceError
from weightshare.scales.air.loop import AirLoop, air_loop
from weightshare.scales.air.profile import SERVICE, WEIGHT_SCALE
from weightshare.scales.air.radio import Sighting, scan_until
from weightshare.scales.air.trouble import words_for

SEARCH_S = 5.0
SLICE_S = 1.0
"""After so long whoever wants to connect is let in between."""
_SLACK_S = 20.0
"""A connection that is being made may hold a search up."""

Kind = Literal["weightshare", "weight-scale"]


@dataclass(frozen=True, slots=True)
class AirFound:
    """A scale that made itself heard. A connected one does not, and is not found.

    `kind` is "weightshare" for one that speaks the wire protocol, "weight-scale" for a store-bought one that tells
    settled readings. On macOS `address` is a UUID that stands for the scale on this computer alone.
    """

    address: str
    name: str
    rssi_dBm: int | None
    kind: Kind


def search(
    seconds: float = SEARCH_S,
    *,
    tell: Callable[[AirFound], None] | None = None,
    stop: threading.Event | None = None,
) -> list[AirFound]:
    """Return the scales heard within `seconds`, the strongest first; `stop`, once set, ends the search within 1 s.

    `tell` is called with each that is new or has changed, in the loop's thread: it must not block. Raises DeviceError,
    in words with a remedy, where Bluetooth is missing, off or not permitted.
    """
    loop = air_loop()
    found: dict[str, AirFound] = {}
    try:
        loop.run(_search(loop, found, seconds, tell, stop), seconds + _SLACK_S)
    except Exception as error:
        raise DeviceError(words_for(error)) from error
    return sorted(found.values(), key=lambda each: (-(each.rssi_dBm or -999), each.address))


async def _search(
    loop: AirLoop,
    found: dict[str, AirFound],
    seconds: float,
    tell: Callable[[AirFound], None] | None,
    stop: threading.Event | None,
) -> None:
    def hear(sighting: Sighting, services: Sequence[str]) -> None:
        seen = recognise(sighting, services)
        if seen is None or seen == found.get(seen.address):
            return
        found[seen.address] = seen
        if tell is not None:
            tell(seen)

    clock = asyncio.get_running_loop()
    until_s = clock.time() + seconds
    while clock.time() < until_s and not (stop is not None and stop.is_set()):
        async with loop.radio:
            await _scan(min(SLICE_S, max(until_s - clock.time(), 0.0)), hear)


async def _scan(seconds: float, hear: Callable[[Sighting, Sequence[str]], None]) -> None:
    never: asyncio.Future[Sighting] = asyncio.get_running_loop().create_future()
    try:
        async with asyncio.timeout(seconds) as limit:
            await scan_until(never, hear, (SERVICE, WEIGHT_SCALE))
    except TimeoutError:
        if not limit.expired():
            raise


def recognise(sighting: Sighting, services: Sequence[str]) -> AirFound | None:
    """Return what a sighting of a device with these services is to this program; None: nothing."""
    told = {uuid.casefold() for uuid in services}
    if not told & {SERVICE, WEIGHT_SCALE}:
        return None
    kind: Kind = "weightshare" if SERVICE in told else "weight-scale"
    return AirFound(sighting.device.address, sighting.device.name or "", sighting.rssi_dBm, kind)


def look() -> str:
    """Return what keeps this computer from Bluetooth, in words with the mend; empty where nothing does."""
    try:
        search(0.2)
    except DeviceError as error:
        return str(error)
    return ""
