"""One connection to one scale, from looking for it to leaving it; everything here runs in the loop.

A new connection is a new object, so that what bleak calls late, or for an attempt that it makes again by itself, can
never be taken for news of another one.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable
from dataclasses import replace
from enum import Enum
from typing import TYPE_CHECKING

from weightshare.errors import DeviceError
from weightshare.scales.air.profile import (
    BATTERY_LEVEL,
    COMMANDS,
    FRAMES,
    LEAST_PAYLOAD,
    MANUFACTURER,
    MODEL,
    SERVICE,
    WEIGHT_SCALE,
    About,
)
from weightshare.scales.air.radio import Sighting, find
from weightshare.scales.air.service import Radio
from weightshare.scales.air.trouble import GONE, NOT_NEARBY, SERVICE_GONE, words_for

if TYPE_CHECKING:
    from bleak import BleakClient
    from bleak.backends.characteristic import BleakGATTCharacteristic

FIND_S = 4.0
CONNECT_S = 8.0
WRITE_S = 3.0
PARTING_S = 1.0
"""How long leaving waits for commands that are still on their way: the last of them says STOP."""
LEAVE_S = 3.0
READ_S = 2.0
BATTERY_EVERY_S = 60.0
SMALLEST_PAYLOAD = 20
"""Bytes: what each connection begins with; the true figure may come a moment later (bleak's documentation)."""
GROW_S = 1.5
GROW_STEP_S = 0.05
OTHER_KIND = (
    "this is a store-bought scale, which tells one settled reading now and then and no live share; it can be read by "
    "itself, as settled readings, but not practised on"
)
NO_SCALE = (
    "this is no scale of this program (its Bluetooth service is missing); see `weightshare scales` for those near"
)


class _State(Enum):
    OPENING = "opening"
    UP = "up"
    OVER = "over"


class Connection:
    """A connection to the scale at `address`. `hear` gets each frame, `lose` the words when the link is lost.

    `lose` comes at most once, and neither for a connection that could not be opened nor for one that was closed.
    """

    def __init__(self, address: str, radio: Radio, hear: Callable[[bytes], None], lose: Callable[[str], None]) -> None:
        self.address = address
        self.about = About()
        self._radio = radio
        self._hear = hear
        self._lose = lose
        self._state = _State.OPENING
        self._client: BleakClient | None = None
        self._outbox: asyncio.Queue[bytes] = asyncio.Queue()
        self._tasks: list[asyncio.Task[None]] = []

    async def open(self) -> None:
        """Find the scale, connect and subscribe. Raises DeviceError, or an error of bleak's, with nothing left open."""
        try:
            async with self._radio:
                client = await self._connect()
            self._state = _State.UP
            self._radio.tell(self._note_service_gone)
            await self._check(client)
            await client.start_notify(FRAMES, self._take)
            self._tasks = [asyncio.create_task(self._write(client)), asyncio.create_task(self._ask(client))]
        except BaseException:
            self._state = _State.OVER
            await self._leave()
            raise

    async def _connect(self) -> BleakClient:
        sighting = await find(self.address, FIND_S)
        if sighting is None:
            raise DeviceError(NOT_NEARBY)
        self.about = replace(self.about, rssi_dBm=sighting.rssi_dBm)
        self._client = client = self._make_client(sighting)
        async with asyncio.timeout(CONNECT_S):
            await client.connect()
        return client

    def _make_client(self, sighting: Sighting) -> BleakClient:
        from bleak import BleakClient

        return BleakClient(sighting.device, self._note_gone, timeout=CONNECT_S)

    def _note_gone(self, client: BleakClient) -> None:
        """Bleak says that it is disconnected: also for a first attempt that failed, and where it was asked to be."""
        if self._state is _State.UP and not client.is_connected:
            self._fail(GONE)

    def _note_service_gone(self) -> None:
        self._fail(SERVICE_GONE)

    def _take(self, characteristic: BleakGATTCharacteristic, data: bytearray) -> None:
        if self._state is _State.UP:
            self._hear(bytes(data))

    async def _check(self, client: BleakClient) -> None:
        """Raise DeviceError where this is no scale of ours, or the link carries too little."""
        if client.services.get_service(SERVICE) is None:
            raise DeviceError(OTHER_KIND if client.services.get_service(WEIGHT_SCALE) is not None else NO_SCALE)
        frames = client.services.get_characteristic(FRAMES)
        if frames is None or client.services.get_characteristic(COMMANDS) is None:
            raise DeviceError("the scale offers its Bluetooth service only in part; bring its firmware up to date")
        payload = await _payload(frames)
        if payload < LEAST_PAYLOAD:
            raise DeviceError(
                f"the link carries too little: {payload} bytes, {LEAST_PAYLOAD} are needed; bring the scale's firmware "
                "and this computer's Bluetooth up to date, or use a cable"
            )

    def send(self, frame: bytes) -> None:
        """Have `frame` written after those before it; a failure is told to `lose`."""
        self._outbox.put_nowait(frame)

    async def _write(self, client: BleakClient) -> None:
        while True:
            frame = await self._outbox.get()
            try:
                async with asyncio.timeout(WRITE_S):
                    await client.write_gatt_char(COMMANDS, frame, response=True)
            except TimeoutError:
                self._fail(f"the scale has not answered for {WRITE_S:g} s; bring it nearer, or switch it off and on")
            except Exception as error:
                self._fail(words_for(error))
            self._outbox.task_done()

    async def _ask(self, client: BleakClient) -> None:
        """Read what the scale tells of itself, and its battery again and again."""
        manufacturer, model = [await _read_text(client, uuid) for uuid in (MANUFACTURER, MODEL)]
        self.about = replace(self.about, manufacturer=manufacturer, model=model)
        while client.services.get_characteristic(BATTERY_LEVEL) is not None:
            level = await _read(client, BATTERY_LEVEL)
            percent = level[0] if len(level) == 1 and level[0] <= 100 else None
            self.about = replace(self.about, battery_percent=percent)
            await asyncio.sleep(BATTERY_EVERY_S)

    def _fail(self, words: str) -> None:
        if self._state is _State.UP:
            self._state = _State.OVER
            self._lose(words)

    async def close(self) -> None:
        """Let what is on its way go out, and leave; closing twice is nothing. Never raises."""
        if self._state is _State.UP:
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(PARTING_S):
                    await self._outbox.join()
        self._state = _State.OVER
        await self._leave()

    async def _leave(self) -> None:
        self._radio.untell(self._note_service_gone)
        tasks, self._tasks = self._tasks, []
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        client, self._client = self._client, None
        if client is not None:
            # it may be gone, and its service with it: nothing is left to close then
            with contextlib.suppress(Exception):
                async with asyncio.timeout(LEAVE_S):
                    await client.disconnect()


async def _payload(frames: BleakGATTCharacteristic) -> int:
    """Return how many bytes one notification can carry: the same as one write without response."""
    for _ in range(round(GROW_S / GROW_STEP_S)):
        if frames.max_write_without_response_size != SMALLEST_PAYLOAD:
            break
        await asyncio.sleep(GROW_STEP_S)
    return frames.max_write_without_response_size


async def _read(client: BleakClient, uuid: str) -> bytes:
    """Return what a characteristic holds; b"" where there is none, or it cannot be read."""
    if client.services.get_characteristic(uuid) is None:
        return b""
    try:
        async with asyncio.timeout(READ_S):
            return bytes(await client.read_gatt_char(uuid))
    except Exception:
        # what the scale tells beside the protocol is worth having, and not worth failing for
        return b""


async def _read_text(client: BleakClient, uuid: str) -> str:
    text = (await _read(client, uuid)).decode("utf-8", errors="replace")
    return "".join(letter for letter in text if letter.isprintable()).strip()
