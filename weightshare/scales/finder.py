"""Looks for scales by cable and by air in the background, and tells what it has found so far."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from weightshare.errors import WeightshareError
from weightshare.model import Identity
from weightshare.scales.discovery import Reach, ask, list_ports
from weightshare.scales.source import open_source, parse_source

if TYPE_CHECKING:
    from weightshare.scales.air.search import AirFound

LOOK_EVERY_S = 1.0
ASK_AGAIN_S = 5.0
"""A port on which nobody answered is asked again after so long: the scale may have been switched on."""
SEARCH_S = 2.0
"""How long one search by air takes; what is found is told after each."""
FORGET_AFTER_S = 15.0
"""Who was not heard by air for so long is not near any more."""
AT_ONCE = 8
"""So many ports are asked at the same time."""
VIRTUAL = "rig:steered"


class Way(StrEnum):
    """How a scale is reached."""

    CABLE = "by cable"
    NETWORK = "by network"
    AIR = "by Bluetooth"
    INSIDE = "in this computer"


class Sort(StrEnum):
    """What was found."""

    SCALE = "scale"
    """One that speaks the wire protocol."""
    SETTLED = "settled"
    """A store-bought one, which tells a weight when it has settled."""
    VIRTUAL = "virtual"
    NONE = "none"
    """A port on which no scale answers; what is wrong is said."""


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that was found. `signal_dBm`: how strongly it is heard by air; None by cable."""

    source: str
    way: Way
    sort: Sort
    name: str = ""
    identity: Identity | None = None
    """What it said of itself; None where it was only heard."""
    signal_dBm: int | None = None
    said: str = ""
    """Why it cannot be used, in words."""


def search_cable() -> Sequence[Reach]:
    """Return the ports that the system lists."""
    return list_ports()


def search_air(seconds: float) -> Sequence[AirFound]:
    """Return what is heard by Bluetooth within `seconds`. Raises DeviceError, with the remedy, where nobody listens."""
    from weightshare.scales.air.search import search

    return search(seconds)


class Finder:
    """Looks from `start` to `stop`, on threads of its own; `found` and `trouble` may be read from any thread.

    `also`: sources to ask besides the ports that the system lists. `ports` and `search` say what is there.
    """

    def __init__(
        self,
        also: Iterable[str] = (),
        ports: Callable[[], Sequence[Reach]] = search_cable,
        search: Callable[[float], Sequence[AirFound]] = search_air,
    ) -> None:
        self.trouble = ""
        """Why nothing can be found by air, in words; empty where it can."""
        self.has_looked = False
        """Whether every port was asked once, and the air was listened to."""
        self._also = tuple(source for source in dict.fromkeys(also) if _is_asked(source))
        self._ports, self._search = ports, search
        self._lock = threading.Lock()
        self._found: dict[str, Found] = {}
        self._held: frozenset[str] = frozenset()
        self._asked_s: dict[str, float] = {}
        self._heard_s: dict[str, float] = {}
        self._looked: set[str] = set()
        self._stopping = threading.Event()
        self._threads = [
            threading.Thread(target=self._look, name="weightshare-ports", daemon=True),
            threading.Thread(target=self._listen, name="weightshare-air", daemon=True),
        ]

    @property
    def found(self) -> tuple[Found, ...]:
        """Everything found so far, in the order in which it was found; the virtual scales last."""
        with self._lock:
            return (*self._found.values(), Found(VIRTUAL, Way.INSIDE, Sort.VIRTUAL, "Virtual scales"))

    def again(self) -> Finder:
        """Return one that looks at the same places, from the beginning."""
        return Finder(self._also, self._ports, self._search)

    def add(self, source: str) -> None:
        """Ask at `source` too: an address of the network, with or without `tcp://`, or a port, `serial:NAME`.

        Raises OptionError where it is neither.
        """
        wanted = source.strip()
        wanted = wanted if _is_asked(wanted) else f"tcp://{wanted}"
        parse_source(wanted)
        self._also = tuple(dict.fromkeys((*self._also, wanted)))

    def start(self) -> None:
        """Begin to look."""
        for thread in self._threads:
            thread.start()

    def hold(self, sources: Iterable[str]) -> None:
        """Leave `sources` alone from now on: somebody has them open."""
        self._held = frozenset(sources)

    def ask_to_stop(self) -> None:
        """Look no more; what is being asked is asked to its end."""
        self._stopping.set()

    def join(self, timeout_s: float) -> bool:
        """Wait until nobody looks any more; return whether that was in time."""
        for thread in self._threads:
            if thread.ident is not None:
                thread.join(timeout_s)
        return not any(thread.is_alive() for thread in self._threads)

    def _look(self) -> None:
        with ThreadPoolExecutor(AT_ONCE, "weightshare-probe") as pool:
            while not self._stopping.is_set():
                listed = [reach.source for reach in self._ports()]
                self._drop(Way.CABLE, {*listed, *self._also})
                due = [source for source in dict.fromkeys((*listed, *self._also)) if self._is_due(source)]
                for one in pool.map(_probe, due):
                    self._note(one)
                self._has_looked("ports")
                self._stopping.wait(LOOK_EVERY_S)

    def _is_due(self, source: str) -> bool:
        with self._lock:
            known, asked_s = self._found.get(source), self._asked_s.get(source)
        if source in self._held or (known is not None and known.sort is not Sort.NONE):
            return False
        if asked_s is not None and time.monotonic() - asked_s < ASK_AGAIN_S:
            return False
        self._asked_s[source] = time.monotonic()
        return True

    def _listen(self) -> None:
        while not self._stopping.is_set():
            try:
                heard = self._search(SEARCH_S)
            except WeightshareError as error:
                self.trouble = str(error)
                self._has_looked("air")
                self._stopping.wait(ASK_AGAIN_S)
                continue
            self.trouble = ""
            for one in heard:
                self._heard_s[one.address] = time.monotonic()
                self._note(_of_air(one))
            near = {
                f"ble:{address}" for address, at_s in self._heard_s.items() if time.monotonic() - at_s < FORGET_AFTER_S
            }
            self._drop(Way.AIR, near)
            self._has_looked("air")

    def _has_looked(self, where: str) -> None:
        self._looked.add(where)
        self.has_looked = len(self._looked) == len(self._threads)

    def _note(self, one: Found) -> None:
        with self._lock:
            before = self._found.get(one.source)
            if before is not None and before.identity is not None and one.identity is None:
                one = replace(one, identity=before.identity)
            self._found[one.source] = one

    def _drop(self, way: Way, there: set[str]) -> None:
        """Forget what came by `way` and is not there any more, unless somebody holds it."""
        with self._lock:
            gone = [
                source
                for source, one in self._found.items()
                if one.way is way and source not in there and source not in self._held
            ]
            for source in gone:
                del self._found[source]
                self._asked_s.pop(source, None)


def _is_asked(source: str) -> bool:
    """Return whether one may ask at `source` who is there: virtual scales and records answer to their own."""
    return source.startswith(("serial:", "tcp:"))


def _probe(source: str) -> Found:
    """Ask at `source` who is there."""
    way = Way.NETWORK if source.startswith("tcp:") else Way.CABLE
    try:
        transport = open_source(parse_source(source))
    except WeightshareError as error:
        return Found(source, way, Sort.NONE, source, said=str(error))
    try:
        transport.open()
        identity = ask(transport)
    except WeightshareError as error:
        return Found(source, way, Sort.NONE, source, said=str(error).removeprefix(f"{transport.name}: "))
    finally:
        transport.close()
    if identity is None:
        return Found(source, way, Sort.NONE, source, said="no scale answers")
    return Found(source, way, Sort.SCALE, identity.name or identity.device_id, identity)


def _of_air(one: AirFound) -> Found:
    sort = Sort.SETTLED if one.kind == "weight-scale" else Sort.SCALE
    return Found(f"ble:{one.address}", Way.AIR, sort, one.name or one.address, signal_dBm=one.rssi_dBm)
