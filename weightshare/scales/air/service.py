"""The system's Bluetooth service: who may use the radio, and when all that is known of it has to be forgotten.

On Linux bleak reads all that BlueZ knows once, and follows BlueZ's signals from then on. A service that crashes sends
none: bleak then takes devices for connected that are not, and asks the next service for what was the last one's ("no
such object"), for as long as the program runs. It notices a message bus that ends, not a service that leaves the bus.
So the bus is asked here to tell of that (D-Bus Specification, "NameOwnerChanged"), and bleak's picture is dropped.
"""

from __future__ import annotations

import asyncio
import contextlib
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dbus_fast import Message
    from dbus_fast.aio import MessageBus

BLUEZ = "org.bluez"
_BUS_NAME, _BUS_PATH = "org.freedesktop.DBus", "/org/freedesktop/DBus"
_CHANGED = "NameOwnerChanged"
_RULE = f"type='signal',sender='{_BUS_NAME}',interface='{_BUS_NAME}',member='{_CHANGED}',arg0='{BLUEZ}'"


class Radio:
    """Held by whoever scans or connects: adapters do one of these at a time. Everything here runs in the loop.

    From the first time that it is held, it hears when the service ends, and tells those who asked for it.
    """

    def __init__(self) -> None:
        self._lock = asyncio.Lock()
        self._bus: MessageBus | None = None
        self._hearing: asyncio.Task[None] | None = None
        self._left: set[Callable[[], None]] = set()

    async def __aenter__(self) -> None:
        await self._lock.acquire()
        try:
            await self._listen()
        except BaseException:
            self._lock.release()
            raise

    async def __aexit__(self, *_: object) -> None:
        self._lock.release()

    def tell(self, left: Callable[[], None]) -> None:
        """Have `left` called when the service ends; it must not block."""
        self._left.add(left)

    def untell(self, left: Callable[[], None]) -> None:
        """Have `left` not called any more; twice is nothing."""
        self._left.discard(left)

    async def close(self) -> None:
        """Hear no more, and close what bleak keeps open for this loop."""
        hearing, self._hearing, self._left = self._hearing, None, set()
        bus, self._bus = self._bus, None
        if bus is not None:
            bus.disconnect()
        waiting = [task for task in (hearing, drop_picture()) if task is not None]
        if waiting:
            await asyncio.wait(waiting, timeout=1.0)

    async def _listen(self) -> None:
        """Ask the bus to tell of the service, once. What fails here bleak meets next, and says."""
        if not sys.platform.startswith("linux") or (self._bus is not None and self._bus.connected):
            return
        from dbus_fast import BusType
        from dbus_fast.aio import MessageBus

        bus = MessageBus(bus_type=BusType.SYSTEM)
        try:
            await bus.connect()
            bus.add_message_handler(self._hear)
            await bus.call(_match())
        except Exception:
            bus.disconnect()
            return
        except BaseException:
            bus.disconnect()
            raise
        self._bus = bus
        self._hearing = asyncio.create_task(self._await_end(bus))

    def _hear(self, message: Message) -> None:
        if message.member == _CHANGED and message.sender == _BUS_NAME:
            name, before, _after = message.body
            if name == BLUEZ and before:
                self._forget_all()

    async def _await_end(self, bus: MessageBus) -> None:
        """Take a bus that ends for the end of the service: nothing could be heard of it any more."""
        with contextlib.suppress(Exception):
            await bus.wait_for_disconnect()  # type: ignore[no-untyped-call]
        if bus is self._bus:
            self._bus = None
            self._forget_all()

    def _forget_all(self) -> None:
        """Tell everybody, then drop what is known: bleak says only that connections ended, and not why."""
        for left in tuple(self._left):
            left()
        drop_picture()


def _match() -> Message:
    from dbus_fast import Message

    return Message(
        destination=_BUS_NAME,
        path=_BUS_PATH,
        interface=_BUS_NAME,
        member="AddMatch",
        signature="s",
        body=[_RULE],
    )


def drop_picture() -> asyncio.Task[Any] | None:
    """Have bleak forget what it knows of the Bluetooth service; it reads all anew when it is used next.

    Its connection to the bus ends, upon which bleak itself tells its clients that they are disconnected. Return what
    ends once that is done; None where bleak knows nothing. bleak 3 has no call for this, so a private name of its is
    used; where that is missing, nothing happens.
    """
    manager = sys.modules.get("bleak.backends.bluezdbus.manager")
    known = getattr(manager, "_global_instances", {}).pop(asyncio.get_running_loop(), None)
    bus = getattr(known, "_bus", None)
    if bus is None:
        return None
    bus.disconnect()
    watcher: asyncio.Task[Any] | None = getattr(known, "_bus_watcher_task", None)
    return watcher
