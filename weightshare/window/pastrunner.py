"""What the page that looks back does in the background: looks for sessions, opens one, corrects one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from weightshare.practice.past.opening import Past, open_past, prepare
from weightshare.practice.past.shelf import Entry, find_entries
from weightshare.records.current import Wish, correct
from weightshare.tongue import say
from weightshare.window.errand import Errands


def nothing() -> None:
    """There is nothing to wait for."""


class PastRunner(Errands):
    """Looks for sessions and opens one in the background. The page reads `entries` and `past`; a thread writes them."""

    def __init__(self) -> None:
        super().__init__("weightshare-past", say("Press Esc, and try again."))
        self.entries: tuple[Entry, ...] | None = None
        self.past: Past | None = None

    def search(self, place: Path, first: Callable[[], None] = nothing) -> None:
        """Look for the sessions in `place`, once `first` has returned."""
        self.entries = None

        def work() -> None:
            first()
            self.entries = find_entries(place)
            prepare()

        self.hand_over(work)

    def correct(self, folder: Path, wishes: Sequence[Wish], by: str) -> None:
        """Correct the session in `folder`, one wish after the other, and open it again."""
        self.past, self.trouble = None, ""

        def work() -> None:
            for wish in wishes:
                correct(folder, wish, at=datetime.now().astimezone().isoformat(timespec="seconds"), by=by)
            past = open_past(folder)
            self.past = past

        self.hand_over(work)

    def open(self, path: Path) -> None:
        """Open the session at `path`; what keeps it from that is told in `trouble`."""
        self.past, self.trouble = None, ""

        def work() -> None:
            past = open_past(path)
            self.past = past

        self.hand_over(work)
