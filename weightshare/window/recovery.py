"""Looks for sessions that were cut short, and finishes their records when asked, on a thread of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from weightshare.errors import WeightshareError

LEAVE_S = 20.0


class Recovery:
    """`found` and `said` are written by the thread and read by the window; nothing else is shared."""

    def __init__(self, place: Path | None) -> None:
        self.found: list[Path] = []
        """What was cut short, once the search has ended."""
        self.said = ""
        """What came of finishing them, in words."""
        self._place = place
        self._thread: threading.Thread | None = None

    def search(self) -> None:
        """Look for sessions that were cut short."""
        self._run(self._search)

    def finish_all(self) -> None:
        """Bring each that was found to its end."""
        self._run(self._finish_all)

    def leave(self) -> None:
        """Wait for what runs, within LEAVE_S."""
        if self._thread is not None:
            self._thread.join(LEAVE_S)

    def _run(self, work: Callable[[], None]) -> None:
        self.leave()
        self._thread = threading.Thread(target=work, name="weightshare-recovery")
        self._thread.start()

    def _search(self) -> None:
        from weightshare.records.place import session_place
        from weightshare.records.session import unfinished

        self.found = unfinished(self._place or session_place())

    def _finish_all(self) -> None:
        from weightshare.records.session import recover

        kept, failed = [], []
        for folder in self.found:
            try:
                recover(folder)
                kept.append(str(folder))
            except WeightshareError as error:
                failed.append(str(error))
        self.found = []
        self.said = "; ".join(([f"Recovered: {', '.join(kept)}"] if kept else []) + failed)
