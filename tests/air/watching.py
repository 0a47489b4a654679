"""Links by air, what they write down, and bounded waits."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence

from cobs import cobs

from weightshare.model import Item, LinkDown, LinkUp
from weightshare.scales.air.transport import AirTransport
from weightshare.scales.link import Link

BOUND_S = 30.0
SAMPLES = 0x02


class Notes:
    """What a link wrote down and what it delivered, in their order."""

    def __init__(self) -> None:
        self.data = [b""]
        """The bytes of each connection."""
        self.frames = 0
        self.downs: list[str] = []
        self.items: list[Item] = []

    def up(self, arrival_ns: int) -> None:
        self.data.append(b"")

    def down(self, arrival_ns: int, reason: str) -> None:
        self.downs.append(reason)

    def received(self, arrival_ns: int, data: bytes) -> None:
        self.data[-1] += data
        self.frames += data.count(b"\0")

    def sent(self, arrival_ns: int, data: bytes) -> None:
        return

    def deliver(self, items: Sequence[Item]) -> None:
        self.items.extend(items)

    @property
    def turns(self) -> list[type]:
        """Up and down, as they came."""
        return [type(item) for item in self.items if isinstance(item, LinkUp | LinkDown)]

    def sequences(self) -> list[int]:
        """The running number of every SAMPLES frame that came, read from the bytes by the protocol's page."""
        return [number for run in self.runs() for number in run]

    def runs(self) -> list[list[int]]:
        """Return them connection by connection."""
        return [[int.from_bytes(frame[1:3], "little") for frame in _frames(data)] for data in self.data]


def _frames(data: bytes) -> list[bytes]:
    frames = [cobs.decode(stuffed) for stuffed in data.split(b"\0") if stuffed]
    return [frame for frame in frames if frame[0] == SAMPLES]


def link_to(address: str, notes: Notes) -> Link:
    """Return a link to the scale at `address`, begun."""
    link = Link(AirTransport(address), notes, notes.deliver)
    link.start()
    return link


def until(holds: Callable[[], object], what: Callable[[], object] = lambda: "", bound_s: float = BOUND_S) -> None:
    """Come back as soon as something holds; fail where it does not in time."""
    pause = threading.Event()
    for _ in range(round(bound_s / 0.005)):
        if holds():
            return
        pause.wait(0.005)
    raise AssertionError(f"waited in vain: {what()}")


def stop(*links: Link) -> None:
    """End links; each has to end in time."""
    for link in links:
        link.ask_to_stop()
    ended = [link.join(BOUND_S) for link in links]
    assert all(ended)
