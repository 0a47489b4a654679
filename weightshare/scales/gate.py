"""Keeps out of the pipeline what another scale says: live and later the same."""

from __future__ import annotations

from collections.abc import Sequence

from weightshare.model import Identity, Item, LinkDown, LinkUp, Sourced
from weightshare.scales.frame import PROTOCOL


class Gate:
    """Open while the scale `device_id` is the one that speaks; what another one says goes no further."""

    def __init__(self, device_id: str) -> None:
        self.device_id = device_id
        self.turned_away = 0
        """Items that were not let through."""
        self._open = False

    def sift(self, items: Sequence[Item]) -> list[Item]:
        """Return those of `items` that are the session's own."""
        return [item for item in items if self._admit(item)]

    def _admit(self, item: Item) -> bool:
        if isinstance(item, LinkUp | LinkDown):
            return True
        if isinstance(item, Identity):
            self._open = item.device_id == self.device_id and item.protocol == PROTOCOL
        self.turned_away += not self._open
        return self._open


class Gates:
    """One gate for each source of a session: `device_ids` in the order of the sources."""

    def __init__(self, device_ids: Sequence[str]) -> None:
        self._gates = [Gate(device_id) for device_id in device_ids]

    def sift(self, batch: Sequence[Sourced]) -> list[Sourced]:
        """Return those of `batch` that are the session's own; a source that it has not is nobody's."""
        return [each for each in batch if each.source < len(self._gates) and self._gates[each.source].sift([each.item])]
