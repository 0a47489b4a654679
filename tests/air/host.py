"""The air for tests: a bus of its own, the stack on it in a thread of its own, and two virtual scales for a person."""

from __future__ import annotations

import asyncio
import os
import threading
import time
from collections.abc import Awaitable, Callable
from typing import Any, Self

from tests.air.bus import Bus
from tests.air.peripheral import Peripheral, scale_peripheral
from tests.air.stack import Stack
from weightshare.model import Side
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.catalog import find_fault, find_person
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.pair import make_stations
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.wish import make_cast
from weightshare.task import Goal, Settings

LEFT_ADDRESS, RIGHT_ADDRESS, BOTH_ADDRESS = "00:00:5E:00:53:11", "00:00:5E:00:53:12", "00:00:5E:00:53:10"
"""Addresses that are set aside for documentation. Source: RFC 7042, 2.1.2."""
VARIABLE = "DBUS_SYSTEM_BUS_ADDRESS"
DRIFTS_PPM = (38.0, -52.0)
WITHIN_S = 10.0


def virtual_pair(
    person: str = "steady", seed: int = 1, rate_Hz: float = 100.0, target_percent: float = 50.0, faults: str = "clean"
) -> tuple[Scene, list[Peripheral]]:
    """Return the scene, and the left and the right scale of a person who loads the left (injured) one so much."""
    task = Task.of(Settings(Side.LEFT, target_percent), Goal())
    scene = Scene(Cast(find_person(person), find_fault(faults), task, seed))
    now_ns = time.monotonic_ns()
    made = []
    named = ((LEFT_ADDRESS, "left plate", LEFT_ID), (RIGHT_ADDRESS, "right plate", RIGHT_ID))
    for (address, name, device_id), drift_ppm in zip(named, DRIFTS_PPM, strict=True):
        scale = VirtualScale(scene, device_id, power_on_ns=now_ns, drift_ppm=drift_ppm, rate_Hz=rate_Hz)
        made.append(scale_peripheral(address, name, Station(scene, scale)))
    return scene, made


def virtual_scales(
    spec: str, settings: Settings | None = None, goal: Goal | None = None, *, one: bool = False
) -> tuple[Scene, list[Peripheral]]:
    """Return the scene, and the left and the right scale (or the `one` with both sides), as `spec` wishes them.

    `spec` is what follows `rig:` in a source; what it leaves open is as `settings` and `goal` ask.
    """
    asked = settings or Settings(Side.LEFT, 75.0)
    cast, wishes = make_cast(spec if one else f"{spec},separate=yes", asked, goal or Goal(), 0.0)
    scene = Scene(cast)
    carrier, rate_Hz, now_ns = find_carrier(wishes["link"]), float(wishes["rate"]), time.monotonic_ns()
    stations = make_stations(scene, carrier, rate_Hz, now_ns, separate=not one)
    named = [(BOTH_ADDRESS, "plates")] if one else [(LEFT_ADDRESS, "left plate"), (RIGHT_ADDRESS, "right plate")]
    return scene, [scale_peripheral(*name, station) for name, station in zip(named, stations, strict=True)]


class Air:
    """A bus and a stack, from entering it to leaving it; the program finds them by its environment meanwhile."""

    def __init__(self, *peripherals: Peripheral, bus: Bus | None = None, has_stack: bool = True, **stack: Any) -> None:
        self.bus = bus or Bus()
        self.stack = Stack(self.bus.address, **stack)
        for peripheral in peripherals:
            self.stack.add(peripheral)
        self._has_stack = has_stack
        self._ready = threading.Event()
        self._thread = threading.Thread(target=lambda: asyncio.run(self._serve()), name="the air")
        self._before = os.environ.get(VARIABLE)

    def __enter__(self) -> Self:
        os.environ[VARIABLE] = self.bus.address
        self._thread.start()
        assert self._ready.wait(WITHIN_S)
        return self

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._leaving = asyncio.Event()
        if self._has_stack:
            await self.stack.start()
        self._ready.set()
        await self._leaving.wait()
        await self.stack.stop()

    def __exit__(self, *_: object) -> None:
        self._loop.call_soon_threadsafe(self._leaving.set)
        self._thread.join(WITHIN_S)
        self.bus.close()
        os.environ.pop(VARIABLE, None)
        if self._before is not None:
            os.environ[VARIABLE] = self._before

    def do(self, function: Callable[..., Any], *values: Any) -> Any:
        """Have the stack do something, in its loop; back when it is done."""

        async def work() -> Any:
            done = function(*values)
            return await done if isinstance(done, Awaitable) else done

        return asyncio.run_coroutine_threadsafe(work(), self._loop).result(WITHIN_S)

    def kill_service(self) -> None:
        """The Bluetooth service crashes: it says nothing more, and the bus stays."""
        self.do(self.stack.stop)

    def revive_service(self) -> None:
        """The service is begun again on the same bus; it knows nothing of what was."""
        self.do(self.stack.start)

    def kill_bus(self) -> None:
        """The bus dies, and the stack with it."""
        self.bus.kill()
        self.do(self.stack.stop)

    def revive_bus(self) -> None:
        """The bus is there again, and the stack on it."""
        self.bus.start()
        self.do(self.stack.start)
