"""Holds the setting-up of scales, and lets them go in the background, so that the window never waits."""

from __future__ import annotations

from collections.abc import Callable

from weightshare.practice.start import Start
from weightshare.practice.startknown import Chosen
from weightshare.records.pair import Pair, write_pair
from weightshare.scales.finder import Finder
from weightshare.tongue import mark, say
from weightshare.window.errand import Errands

NOT_KEPT = mark("The scales could not be remembered ({reason}): they have to be set up again next time.")

OpenFinder = Callable[[tuple[str, ...]], Finder]
"""Makes what looks for scales, at these sources too."""


class StartRunner(Errands):
    """The page works on `start`; a thread waits for the scales, and for those that are let go."""

    def __init__(self, open_finder: OpenFinder = Finder) -> None:
        super().__init__("weightshare-start", say("Press Esc, and try again."))
        self.start: Start | None = None
        self._open_finder = open_finder

    def begin(self, known: Pair | None, first: Callable[[], None], *, straight: bool) -> None:
        """Begin in the background, once `first` has returned: it waits until nobody holds the scales."""
        start = Start(self._open_finder(() if known is None else known.sources), known, straight=straight)
        self.start, self.trouble = start, ""

        def work() -> None:
            first()
            start.begin()

        self.hand_over(work)

    def begin_again(self) -> None:
        """Go on where it was stopped."""
        if self.start is not None:
            self.start = self.start.again()
            self.hand_over(self.start.begin)

    def stop(self, chosen: Chosen | None = None) -> None:
        """Let go of the scales in the background, and remember those that were chosen."""
        start = self.start

        def work() -> None:
            if start is not None:
                start.stop()
            if chosen is not None and chosen.pair is not None:
                try:
                    write_pair(chosen.pair)
                except OSError as error:
                    self.trouble = say(NOT_KEPT, reason=error.strerror or error)

        self.hand_over(work)
