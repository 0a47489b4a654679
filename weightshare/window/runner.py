"""Starts and ends sessions in the background, so that the window never waits."""

from __future__ import annotations

from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.task import Goal, Settings
from weightshare.tongue import say
from weightshare.window.errand import Errands
from weightshare.window.feed import Ended, Feed, OpenFeed, Sides, Sources


class Runner(Errands):
    """Holds the session that runs. The window reads `view()` and `ended`; workers write, one after the other."""

    def __init__(self, open_feed: OpenFeed) -> None:
        super().__init__("weightshare-session", say("Press F5 to try again."))
        self.feed: Feed | None = None
        self.ended: Ended | None = None
        """What is left of the session that was finished; None while it still runs or is being closed."""
        self._open_feed = open_feed
        self._sources: Sources = ("",)

    def start(self, sources: Sources, sides: Sides, settings: Settings, goal: Goal) -> None:
        """End what runs and start anew, in the background."""
        old, self.feed = self.feed, None
        self._sources, self.trouble, self.ended = sources, "", None

        def work() -> None:
            if old is not None:
                old.stop()
            self._open(sources, sides, settings, goal)

        self.hand_over(work)

    def finish(self) -> None:
        """End the session in the background; `ended` says when that is done. No session: nothing."""
        old, self.feed = self.feed, None
        if old is not None:
            self.hand_over(lambda: self._close(old))

    def release(self) -> None:
        """End in the background what runs, and what is being opened: the scale is wanted for something else."""

        def work() -> None:
            old, self.feed = self.feed, None
            if old is not None:
                self._close(old)

        self.hand_over(work)

    def view(self) -> LiveView:
        """Return the session's newest view; without a session, one that says why."""
        feed, trouble = self.feed, self.trouble
        if feed is not None:
            return feed.view()
        state = LinkState.REFUSED if trouble else LinkState.CONNECTING
        return LiveView(links=tuple(LinkView(source, state, trouble) for source in self._sources))

    def leave(self) -> bool:
        """End everything and wait for it, as long as `wait` does; return whether all is closed."""
        self.finish()
        self.wait()
        # a session that was still being opened when the window closed
        self.finish()
        self.wait()
        return not self.is_busy

    def _open(self, sources: Sources, sides: Sides, settings: Settings, goal: Goal) -> None:
        feed = self._open_feed(sources, sides, settings, goal)
        feed.start()
        self.feed = feed

    def _close(self, feed: Feed) -> None:
        ended = Ended(trouble=say("The session could not be closed in order; its raw record is kept."))
        try:
            ended = feed.stop()
        finally:
            self.ended = ended
