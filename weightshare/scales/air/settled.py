"""One store-bought scale by Bluetooth: it wakes when it is stepped on, says a settled reading, and sleeps again."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from weightshare.errors import DeviceError, OptionError, ProtocolError
from weightshare.scales.air.connection import OTHER_KIND
from weightshare.scales.air.loop import air_loop
from weightshare.scales.air.profile import BATTERY_LEVEL, SERVICE, WEIGHT_MEASUREMENT
from weightshare.scales.air.radio import Sighting, find
from weightshare.scales.air.trouble import (
    NO_ADAPTER,
    NO_BLEAK,
    NO_SERVICE,
    NOT_ALLOWED,
    SWITCHED_OFF,
    words_for,
)
from weightshare.scales.air.weighing import Weighing, decode_weighing

if TYPE_CHECKING:
    from bleak import BleakClient
    from bleak.backends.characteristic import BleakGATTCharacteristic

ASLEEP = "asleep, or out of reach: step on it"
CONNECTING = "found; connecting"
CONNECTED = "connected"
TELLS_MORE = (
    "this scale can do more than settled readings: practise with it without --settled, not beside a store-bought one"
)
NO_READINGS = "this is no scale that tells readings by itself; choose another device"

SEARCH_S = 3.0
"""How long one search lasts: two scales take turns at the radio, and neither is awake for long."""
CONNECT_S = 10.0
AGAIN_S = 1.0
"""The pause before the next try, where one failed."""
DETAIL_S = 3.0
"""How long a scale may take to tell its battery."""
LEAVE_S = 5.0
LONGEST_S = 7 * 86_400.0
_HOPELESS = (NO_BLEAK, NO_SERVICE, NO_ADAPTER, SWITCHED_OFF, NOT_ALLOWED, TELLS_MORE, NO_READINGS)


@dataclass(frozen=True, slots=True)
class Heard:
    """One reading as it came. `weighing` is None where it could not be read; `fault` then says why."""

    weighing: Weighing | None
    arrived_ns: int
    """On the host's monotonic clock."""
    arrived_at: datetime
    """Local time, with its zone."""
    raw: bytes
    fault: str = ""


class SettledPhase(StrEnum):
    """Where the link to a store-bought scale stands."""

    SEARCHING = "searching"
    """It sleeps, or is out of reach."""
    LISTENING = "listening"
    REFUSED = "refused"
    """It cannot be used, or Bluetooth cannot; the words say why. It is tried again all the same."""


@dataclass(frozen=True, slots=True)
class SettledStatus:
    """One link, in words that a patient can act on. `battery_percent` is None where the scale does not say."""

    phase: SettledPhase = SettledPhase.SEARCHING
    words: str = ASLEEP
    name: str = ""
    battery_percent: int | None = None


def is_settled_only(words: str) -> bool:
    """Return whether `words`, why a scale cannot be practised on, say that it is one that tells settled readings."""
    return OTHER_KIND in words


def listen_to(source: str, deliver: Callable[[Heard], None]) -> SettledLink:
    """Return what listens to the scale of `source`, spelled `ble:ADDRESS`; not begun.

    Raises OptionError where it is not spelled so.
    """
    scheme, _, address = source.partition(":")
    if scheme != "ble" or not address.strip():
        raise OptionError(
            f"--source {source!r}: settled readings come by Bluetooth; write it like ble:AA:BB:CC:DD:EE:FF"
        )
    return SettledLink(address, deliver)


class SettledLink:
    """Looks for the scale at `address` again and again, and hands each of its readings to `deliver`.

    That is called on the thread for Bluetooth, and must not wait. `clock_ns` gives host time, `now` local time.
    """

    def __init__(
        self,
        address: str,
        deliver: Callable[[Heard], None],
        clock_ns: Callable[[], int] = time.monotonic_ns,
        now: Callable[[], datetime] = lambda: datetime.now().astimezone(),
    ) -> None:
        self.status = SettledStatus()
        self._address, self._deliver = address, deliver
        self._now_ns, self._now = clock_ns, now
        self._leaving = asyncio.Event()
        self._work: Future[None] | None = None

    def start(self) -> None:
        """Begin to look and to listen."""
        self._loop = air_loop()
        self._work = self._loop.begin(self._serve(), LONGEST_S)

    def stop(self) -> None:
        """Let go of the scale, within LEAVE_S; later calls do nothing."""
        work, self._work = self._work, None
        if work is None:
            return
        self._loop.call(self._leaving.set)
        with contextlib.suppress(TimeoutError):
            work.result(LEAVE_S)

    async def _serve(self) -> None:
        listening = asyncio.create_task(self._listen_again_and_again())
        await self._leaving.wait()
        listening.cancel()
        await asyncio.wait((listening,), timeout=LEAVE_S)

    async def _listen_again_and_again(self) -> None:
        while True:
            try:
                await self._listen()
            except Exception as error:
                words = words_for(error)
                hopeless = words.startswith(_HOPELESS)
                self._say(SettledPhase.REFUSED if hopeless else SettledPhase.SEARCHING, words)
                await asyncio.sleep(AGAIN_S)

    async def _listen(self) -> None:
        """Look once, and listen for as long as the scale stays awake."""
        async with self._loop.radio:
            sighting = await find(self._address, SEARCH_S)
            if sighting is None:
                self._say(SettledPhase.SEARCHING, ASLEEP)
                return
            self.status = replace(self.status, name=sighting.device.name or "")
            self._say(SettledPhase.SEARCHING, CONNECTING)
            client, gone = self._make_client(sighting)
            await client.connect()
            # the callback also comes for a try that failed before this one did not
            gone.clear()
        try:
            await self._subscribe(client)
            await gone.wait()
        finally:
            with contextlib.suppress(Exception):
                await client.disconnect()
        self._say(SettledPhase.SEARCHING, ASLEEP)

    def _make_client(self, sighting: Sighting) -> tuple[BleakClient, asyncio.Event]:
        """Return a client for the scale, and what is set when the link to it is lost."""
        from bleak import BleakClient

        gone = asyncio.Event()
        return BleakClient(sighting.device, lambda _client: gone.set(), timeout=CONNECT_S), gone

    async def _subscribe(self, client: BleakClient) -> None:
        """Subscribe first: the reading that woke the scale comes at once. Raises DeviceError where it tells none."""
        if client.services.get_characteristic(WEIGHT_MEASUREMENT) is None:
            raise DeviceError(TELLS_MORE if client.services.get_service(SERVICE) is not None else NO_READINGS)
        await client.start_notify(WEIGHT_MEASUREMENT, self._hear)
        self._say(SettledPhase.LISTENING, CONNECTED)
        if client.services.get_characteristic(BATTERY_LEVEL) is not None:
            with contextlib.suppress(Exception):
                level = await asyncio.wait_for(client.read_gatt_char(BATTERY_LEVEL), DETAIL_S)
                self.status = replace(self.status, battery_percent=level[0])

    def _hear(self, _characteristic: BleakGATTCharacteristic, data: bytearray) -> None:
        raw, weighing, fault = bytes(data), None, ""
        try:
            weighing = decode_weighing(raw)
        except ProtocolError as error:
            fault = str(error)
        self._deliver(Heard(weighing, self._now_ns(), self._now(), raw, fault))

    def _say(self, phase: SettledPhase, words: str) -> None:
        self.status = replace(self.status, phase=phase, words=words)
