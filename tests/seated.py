"""Scales on real ports, and somebody on a chair before them who presses a plate lightly when a test says so."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import replace

from weightshare.metrology.reading import Kind, Mass, Placement
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.scales.rig.bench import BENCH_PROFILE, BenchScene
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.local import HostClock
from weightshare.scales.rig.pair import make_stations
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.serve import Port, open_tcp
from weightshare.scales.rig.terminal import Terminals
from weightshare.task import Goal, Settings

FOOT = Mass("a foot, set down lightly", 6.0, 0.0)
PUMP_S = 0.002


class Seated:
    """The rig's own scales behind its own ports, served by one thread; nobody stands on them.

    `press` sets a foot on a plate, `lift` takes it off; the side is where the plate lies, whatever the scale says.
    """

    def __init__(self, faults: str = "clean", *, separate: bool = True) -> None:
        task = Task.of(Settings(Side.LEFT), Goal())
        cast = Cast(replace(BENCH_PROFILE), FAULTS[faults], task)
        self.scene = BenchScene(cast)
        self.clock = HostClock()
        self.stations = make_stations(self.scene, find_carrier("direct"), 100.0, self.clock.now_ns(), separate=separate)
        self.lit: list[str] = []
        for station in self.stations:
            station.scale.lamp = self._lamp(str(station.scale.side or "board"))
        self._number = 0
        self._ports: Sequence[Port] = ()
        self._thread: threading.Thread | None = None
        self._stopping = threading.Event()

    def _lamp(self, name: str) -> Callable[[int], None]:
        return lambda _ms: self.lit.append(name)

    def open_tcp(self, number: int = 0) -> list[str]:
        """Listen on ports of this machine that follow each other; return their sources, the left one first."""
        return self._serve(open_tcp(self.stations, number), lambda: None)

    def open_pty(self) -> list[str]:
        """Be there as serial ports; return their sources."""
        names = ("left", "right") if len(self.stations) == 2 else ("board",)
        terminals = Terminals(self.stations, names)
        return self._serve(terminals.ports, terminals.close)

    def _serve(self, ports: Sequence[Port], close: Callable[[], None]) -> list[str]:
        self._ports = ports
        self._stopping.clear()

        def run() -> None:
            while not self._stopping.is_set():
                for port in ports:
                    port.pump(self.clock.now_ns)
                handles = [handle for port in ports for handle in port.handles()]
                self.clock.wait(PUMP_S, handles)
            for port in ports:
                port.close()
            close()

        self._thread = threading.Thread(target=run, name="seated")
        self._thread.start()
        return [port.source for port in ports]

    def press(self, side: Side) -> None:
        """Set a foot lightly on the plate that lies on `side`."""
        self._place(side, (0,))

    def lift(self, side: Side) -> None:
        """Take it off again."""
        self._place(side, ())

    def _place(self, side: Side, masses: tuple[int, ...]) -> None:
        self._number += 1
        self.scene.place(Placement(self._number, side, Kind.SERIES, masses), [FOOT], STANDARD_GRAVITY)

    def close(self) -> None:
        """Switch the scales off."""
        thread, self._thread = self._thread, None
        if thread is not None:
            self._stopping.set()
            thread.join(5.0)
