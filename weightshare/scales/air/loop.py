"""The one thread for all that goes by Bluetooth, with one asyncio loop in it.

It is begun by whoever needs it first and lasts as long as the process: to begin anew means to read all that the system
knows of Bluetooth anew. On Windows it is also what keeps Bluetooth off a thread with a window.
"""

from __future__ import annotations

import asyncio
import atexit
import logging
import threading
from collections.abc import Coroutine
from concurrent.futures import Future
from typing import Any, TypeVar

from weightshare.errors import DeviceError
from weightshare.scales.air.service import Radio

GRACE_S = 3.0
"""How long work that took too long may take to clear up."""
LEAVING_S = 5.0
TURN_S = 0.05
"""A connection to the bus that was told to end closes its socket when the loop next finds that out."""

# what bleak notes is told by errors too, in words that are meant for people
logging.getLogger("bleak").addHandler(logging.NullHandler())
logging.getLogger("dbus_fast").addHandler(logging.NullHandler())

_T = TypeVar("_T")


class AirLoop:
    """One thread with one loop. `radio` is held by whoever scans or connects: adapters do one of these at a time."""

    def __init__(self) -> None:
        self.radio = Radio()
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._run, name="bluetooth", daemon=True)
        self._thread.start()
        self._ready.wait()

    def _run(self) -> None:
        asyncio.run(self._serve())

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._leaving = asyncio.Event()
        self._ready.set()
        await self._leaving.wait()
        await self.radio.close()
        await asyncio.sleep(TURN_S)

    def begin(self, work: Coroutine[Any, Any, _T], timeout_s: float) -> Future[_T]:
        """Begin `work` and return its future at once; after `timeout_s` it is cancelled with TimeoutError."""
        return asyncio.run_coroutine_threadsafe(asyncio.wait_for(work, timeout_s), self._loop)

    def run(self, work: Coroutine[Any, Any, _T], timeout_s: float) -> _T:
        """Return what `work` comes to; to be called from any thread but the loop's own.

        Raises DeviceError where that takes longer than `timeout_s`, and whatever `work` raises.
        """
        future = self.begin(work, timeout_s)
        try:
            return future.result(timeout_s + GRACE_S)
        except TimeoutError as error:
            future.cancel()
            raise DeviceError(f"Bluetooth did not answer within {timeout_s:g} s; switch it off and on again") from error

    def call(self, function: Any, *values: Any) -> None:
        """Have the loop call `function` with `values` soon; nothing is waited for."""
        self._loop.call_soon_threadsafe(function, *values)

    def close(self) -> None:
        """Cancel what is still under way and end the thread."""
        self._loop.call_soon_threadsafe(self._leaving.set)
        self._thread.join(LEAVING_S)


_lock = threading.Lock()
_loop: AirLoop | None = None


def air_loop() -> AirLoop:
    """Return the process's loop for Bluetooth, begun where it is not yet."""
    global _loop  # noqa: PLW0603 - one a process is the point of it
    with _lock:
        if _loop is None:
            _loop = AirLoop()
            atexit.register(close_air_loop)
        return _loop


def close_air_loop() -> None:
    """End the loop where there is one; the next who needs it gets a new one."""
    global _loop
    with _lock:
        loop, _loop = _loop, None
        if loop is not None:
            loop.close()
            atexit.unregister(close_air_loop)
