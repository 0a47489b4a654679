"""Two separate virtual scales behind real ports of this machine, and sessions on them, faster than life."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np

from weightshare.model import Side
from weightshare.pipeline import Pipeline
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.option import PractiseOptions
from weightshare.records.session import analyse_session, load_session
from weightshare.scales.rig.carrier import find_carrier
from weightshare.scales.rig.cell import LEFT_ID
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.local import HostClock
from weightshare.scales.rig.pair import make_stations
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.serve import Port, TcpPort, open_tcp, serve
from weightshare.scales.rig.terminal import Terminals
from weightshare.scales.rig.truth import tell_truth
from weightshare.scales.rig.wish import make_cast
from weightshare.state import Results
from weightshare.task import Goal, Settings

LEFT_75 = Settings(Side.LEFT, target_percent=75.0)
GOAL = Goal(3.0, 9)
SPEED = 4.0
TURN_S = 0.2


class Pair:
    """Two scales and their ports, left and right. Their `clock` has to be the session's too."""

    def __init__(self, spec: str, way: str = "tcp", speed: float = SPEED) -> None:
        self.clock = HostClock(speed)
        cast, wishes = make_cast(f"{spec},separate=yes", LEFT_75, GOAL, 0.0)
        self.scene = Scene(cast)
        carrier, rate_Hz, now_ns = find_carrier(wishes["link"]), float(wishes["rate"]), self.clock.now_ns()
        stations = make_stations(self.scene, carrier, rate_Hz, now_ns, separate=True)
        self._terminals = Terminals(stations, ("left", "right")) if way == "pty" else None
        self._ports: list[Port] = [*(self._terminals.ports if self._terminals else open_tcp(stations, 0))]
        self.sources = tuple(port.source for port in self._ports)
        self._off, self._swaps, self._over = set[int](), list[tuple[int, str]](), threading.Event()
        self._thread = threading.Thread(target=self._run, name="two scales")
        self._thread.start()

    def switch_off(self, number: int) -> None:
        """The first or the second scale is switched off for good, and what leads to it is gone."""
        self._off.add(number)

    def replace(self, number: int, device_id: str) -> None:
        """Another scale, switched on just now, is where the first or the second one was."""
        self._swaps.append((number, device_id))
        pause = threading.Event()
        while self._swaps and self._thread.is_alive():
            pause.wait(0.005)

    def truth(self) -> dict[str, Any]:
        """What really happened, as `weightshare rig --truth` tells it."""
        truth = tell_truth(self.scene)
        assert truth is not None
        return truth

    def _run(self) -> None:
        while not self._over.is_set():
            for number in self._off:
                self._ports[number].close()
            for swap in self._swaps:
                self._swap(*swap)
            self._swaps.clear()
            serve([port for number, port in enumerate(self._ports) if number not in self._off], self.clock, TURN_S)

    def _swap(self, number: int, device_id: str) -> None:
        port = self._ports[number]
        assert isinstance(port, TcpPort)
        port.close()
        scale = VirtualScale(self.scene, device_id, power_on_ns=self.clock.now_ns())
        self._ports[number] = TcpPort(Station(self.scene, scale), port.number)

    def close(self) -> None:
        """Take both scales away."""
        self._over.set()
        self._thread.join(20.0)
        assert not self._thread.is_alive()
        for port in self._ports:
            port.close()
        if self._terminals is not None:
            self._terminals.close()


@contextmanager
def sitting(
    spec: str, save: Path, way: str = "tcp", *, twin: bool = False, speed: float = SPEED, **changes: Any
) -> Iterator[tuple[Pair, Engine]]:
    """Give two scales with `spec` (what follows `rig:`) and a session on them that was started; both are ended.

    `twin`: at the second place there is another left scale, with the id of the first.
    """
    pair = Pair(spec, way, speed)
    try:
        if twin:
            pair.replace(1, LEFT_ID)
        asked: dict[str, Any] = {"sources": pair.sources, "save": save} | changes
        engine = Engine(PractiseOptions(LEFT_75, GOAL, **asked), pair.clock.now_ns)
        engine.start()
        try:
            yield pair, engine
        finally:
            engine.stop()
    finally:
        pair.close()


def check_again(engine: Engine) -> Finished:
    """End the session, and hold what was seen live against what its record gives: the same, to the last bit."""
    finished = engine.stop()
    live = engine._worker.appraisal()
    assert finished.trouble == ""
    assert finished.folder is not None and live is not None
    assert finished.analysis == live.analysis == analyse_session(finished.folder)
    shown, again = engine._worker.shown, play_again(finished.folder)
    trail = shown.trail_share_percent
    assert np.array_equal(trail, again.share_percent[len(again.share_percent) - len(trail) :], equal_nan=True)
    return finished


def play_again(folder: Path) -> Results:
    """Return what the pipeline makes of a session's record."""
    session = load_session(folder)
    pipeline = Pipeline(session.settings, session.calibrations, sides=session.head.sides)
    parts = [pipeline.push_all(batch) for batch in session.batches] + [pipeline.finish()]
    return Results(*(np.concatenate([getattr(part, name) for part in parts]) for name in Results.__slots__))
