"""The bounded queue between the links and the pipeline."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Sequence

from weightshare.model import Chunk, Condition, Item, Sourced

LIMIT = 4096
"""Items; at the protocol's least of 20 frames a second, more than three minutes of standing still."""


class Inbox:
    """Takes items from any thread, hands them to one. Full, it drops samples and counts them, and never blocks."""

    def __init__(self, limit: int = LIMIT) -> None:
        self.dropped_samples = 0
        self._limit = limit
        self._items: deque[Sourced] = deque()
        self._news = threading.Condition()
        self._closed = False

    def put(self, items: Sequence[Item], source: int = 0) -> None:
        """Add `items` of `source` in order. What changes the meaning of all that follows is kept, full or not."""
        with self._news:
            for item in items:
                if len(self._items) < self._limit or not isinstance(item, Chunk | Condition):
                    self._items.append(Sourced(source, item))
                elif isinstance(item, Chunk):
                    self.dropped_samples += item.readings.shape[0] * item.readings.shape[1]
            self._news.notify()

    def take(self, timeout_s: float) -> list[Sourced]:
        """Return all that is there, waiting up to `timeout_s` for the first item; nothing more waits once closed."""
        with self._news:
            self._news.wait_for(lambda: bool(self._items) or self._closed, timeout_s)
            items = list(self._items)
            self._items.clear()
        return items

    def close(self) -> None:
        """Say that nothing more will come."""
        with self._news:
            self._closed = True
            self._news.notify()

    @property
    def waiting(self) -> int:
        """How many items wait to be taken."""
        return len(self._items)

    @property
    def is_over(self) -> bool:
        """Whether it was closed, and everything was taken."""
        with self._news:
            return self._closed and not self._items
