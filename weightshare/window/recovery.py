"""Looks for sessions that were cut short, and finishes their records when asked, on a thread of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from weightshare.errors import WeightshareError
from weightshare.practice.message import retell
from weightshare.tongue import plural, say

LEAVE_S = 20.0


class Notice(Protocol):
    """Where something is offered."""

    @property
    def is_free(self) -> bool:
        """Whether nothing is said there."""

    def offer(self, words: str, *offers: tuple[str, Callable[[], None]]) -> None:
        """Say `words` with what can be done."""


class Recovery:
    """`found` and `said` are written by the thread and read by the window; nothing else is shared."""

    def __init__(self, place: Path | None) -> None:
        self.found: list[Path] = []
        """What was cut short, once the search has ended."""
        self.said = ""
        """What came of finishing them, in words."""
        self._place = place
        self._thread: threading.Thread | None = None
        self._offered = False

    def offer_on(self, notice: Notice) -> None:
        """Offer once to finish what was found, and say what came of it, where nothing else is said."""
        if self.found and notice.is_free and not self._offered:
            self._offered = True
            said = plural(
                "A session was cut short. What was recorded is kept, and can be finished now: {folder}",
                "{n} sessions were cut short. What was recorded is kept, and can be finished now: {folder}",
                len(self.found),
                folder=self.found[-1],
            )
            notice.offer(said, (say("&Finish its record"), self.finish_all))
        elif self.said and notice.is_free:
            notice.offer(self.said)
            self.said = ""

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
                failed.append(retell(str(error)))
        self.found = []
        self.said = "; ".join(([say("Recovered: {names}", names=", ".join(kept))] if kept else []) + failed)
