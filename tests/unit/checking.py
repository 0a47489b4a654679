"""A virtual scale's items, from the cells' counts, for what takes items instead of traces."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from weightshare.model import Chunk, Condition, Floats, Identity, Item, Sourced
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import CHANNELS, COLUMNS, PAIR_ID, Cells
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.shift import Shift

RATE_HZ, BLOCK = 100.0, 10
IDENTITY = Identity(PAIR_ID, (1, 0, 0), 1, 1_000_000, RATE_HZ, CHANNELS)


class Stand:
    """One virtual person on the pair; `until` gives the items up to a time, a tenth of a second each."""

    def __init__(self, name: str = "steady", fault: str = "clean", seed: int = 1) -> None:
        self.profile = PEOPLE[name]
        self._person = Person(self.profile, Task(), seed)
        self._cells = Cells(COLUMNS[PAIR_ID], seed, FAULTS[fault])
        self._block = 0

    def shift(self, wish: Shift) -> None:
        self._person.shift(wish)

    def until(self, time_s: float) -> list[Sourced]:
        items: list[Item] = [IDENTITY, Condition(0, 0, 21.5, 0, 0)] if self._block == 0 else []
        while self._block * BLOCK / RATE_HZ < time_s:
            items.append(self._chunk())
        return [Sourced(0, item) for item in items]

    def _chunk(self) -> Chunk:
        first = self._block * BLOCK
        time_s: Floats = (first + np.arange(BLOCK)) / RATE_HZ
        counts = self._cells.read(time_s, self._person.look(time_s)[0], 1.0 / RATE_HZ)
        self._block += 1
        return Chunk(
            np.array([self._block % 2**16], np.uint16),
            np.array([first * 10_000], np.uint32),
            np.array([10_000], np.uint32),
            np.array([round(first * 1e7)], np.int64),
            counts[None],
        )


def in_pieces(items: Sequence[Sourced], size: int) -> list[list[Sourced]]:
    """Return `items` cut into lists of `size`."""
    return [list(items[k : k + size]) for k in range(0, len(items), size)]
