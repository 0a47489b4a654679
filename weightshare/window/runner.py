"""Starts and ends sessions on a thread of its own, so that the window never waits. It speaks by plain attributes."""

from __future__ import annotations

import threading
from collections.abc import Callable

from weightshare.errors import WeightshareError
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.task import Goal, Settings
from weightshare.window import complaint
from weightshare.window.feed import Ended, Feed, OpenFeed

LEAVE_S = 20.0
"""How long the window waits for a session to be closed when it leaves, s."""


class Runner:
    """Holds the session that runs. The window reads `view()` and `ended`; workers write, one after the other."""

    def __init__(self, open_feed: OpenFeed) -> None:
        self.feed: Feed | None = None
        self.trouble = ""
        """Why there is no session, in words that say what to do; empty where there is one, or will be."""
        self.ended: Ended | None = None
        """What is left of the session that was finished; None while it still runs or is being closed."""
        self._open_feed = open_feed
        self._source = ""
        self._worker: threading.Thread | None = None

    def start(self, source: str, settings: Settings, goal: Goal) -> None:
        """End what runs and start anew, in the background."""
        old, self.feed = self.feed, None
        self._source, self.trouble, self.ended = source, "", None

        def work() -> None:
            if old is not None:
                old.stop()
            self._open(source, settings, goal)

        self._hand_over(work)

    def finish(self) -> None:
        """End the session in the background; `ended` says when that is done. No session: nothing."""
        old, self.feed = self.feed, None
        if old is not None:
            self._hand_over(lambda: self._close(old))

    def release(self) -> None:
        """End in the background what runs, and what is being opened: the scale is wanted for something else."""

        def work() -> None:
            old, self.feed = self.feed, None
            if old is not None:
                self._close(old)

        self._hand_over(work)

    def wait(self) -> None:
        """Wait until what was begun in the background is done; on a thread that may wait."""
        worker = self._worker
        if worker is not None:
            worker.join(LEAVE_S)

    def view(self) -> LiveView:
        """Return the session's newest view; without a session, one that says why."""
        feed, trouble = self.feed, self.trouble
        if feed is not None:
            return feed.view()
        state = LinkState.REFUSED if trouble else LinkState.CONNECTING
        return LiveView(links=(LinkView(self._source, state, trouble),))

    def leave(self) -> bool:
        """End everything and wait for it, within LEAVE_S; return whether all is closed."""
        self.finish()
        if self._worker is not None:
            self._worker.join(LEAVE_S)
        # a session that was still being opened when the window closed
        self.finish()
        if self._worker is not None:
            self._worker.join(LEAVE_S)
        return self._worker is None or not self._worker.is_alive()

    def _hand_over(self, work: Callable[[], None]) -> None:
        previous = self._worker

        def in_turn() -> None:
            if previous is not None:
                previous.join()
            try:
                work()
            except WeightshareError as error:
                self.trouble = complaint.plain(str(error))
            except Exception as error:
                self.trouble = f"The program failed inside: {type(error).__name__}. Press F5 to try again."
                raise

        # no daemon: a recording is closed before the program ends
        self._worker = threading.Thread(target=in_turn, name="weightshare-session", daemon=False)
        self._worker.start()

    def _open(self, source: str, settings: Settings, goal: Goal) -> None:
        feed = self._open_feed(source, settings, goal)
        feed.start()
        self.feed = feed

    def _close(self, feed: Feed) -> None:
        ended = Ended(trouble="The session could not be closed in order; its raw record is kept.")
        try:
            ended = feed.stop()
        finally:
            self.ended = ended
