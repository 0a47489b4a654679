"""What the window needs of a guided calibration, and what opens and closes one in the background."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from weightshare.errors import DeviceError
from weightshare.tongue import say
from weightshare.window.errand import Errands
from weightshare.workbench.plan import Wanted
from weightshare.workbench.view import BenchView, Stage


@dataclass(frozen=True, slots=True)
class BenchWish:
    """What is to be calibrated, with what, where and by whom. `latitude_deg` and `height_m` None: not told."""

    source: str
    wanted: Wanted
    latitude_deg: float | None = None
    height_m: float | None = None
    made_by: str = ""


class BenchFeed(Protocol):
    """A calibration under way. `view` may be called at the display's rate; nothing blocks but `start` and `stop`."""

    def start(self) -> None:
        """Open the scale. Raises WeightshareError, in words that say what to do."""

    def view(self) -> BenchView:
        """Return the newest of everything."""

    def confirm(self) -> None:
        """Take the load as it lies."""

    def back(self) -> None:
        """Measure the step before this one anew."""

    def stop(self) -> None:
        """Give the scale back. What is not done by now is given up: nothing is written."""


OpenBench = Callable[[BenchWish], BenchFeed]
"""Makes the calibration; raises WeightshareError where it cannot be made."""


def refuse_bench(wish: BenchWish) -> BenchFeed:
    """Stand for a program without a workbench. Raises DeviceError."""
    raise DeviceError(f"{wish.source}: nothing here can calibrate a scale")


class BenchRunner(Errands):
    """Holds the calibration that runs. The window reads `view()` and `is_idle`; the thread writes."""

    def __init__(self, open_bench: OpenBench) -> None:
        super().__init__("weightshare-bench", say("Nothing was written."))
        self._open_bench = open_bench
        self._feed: BenchFeed | None = None
        self._given_up = False

    @property
    def is_idle(self) -> bool:
        """Whether no scale is held, nor being opened or given back."""
        return self._feed is None and not self.is_busy

    def start(self, wish: BenchWish, first: Callable[[], None]) -> None:
        """Begin in the background, once `first` has returned: it waits until the scale is free."""
        self.trouble, self._given_up = "", False

        def work() -> None:
            first()
            feed = self._open_bench(wish)
            feed.start()
            self._feed = feed
            if self._given_up:
                self._close()

        self.hand_over(work)

    def stop(self) -> None:
        """Give the scale back, in the background."""
        self._given_up = True
        self.hand_over(self._close)

    def leave(self) -> bool:
        """Give the scale back and wait for that, as long as `wait` does; return whether it is done."""
        if not self.is_idle:
            self.stop()
        self.wait()
        return self.is_idle

    def view(self) -> BenchView:
        """Return the newest of everything; one that says why where there is no calibration."""
        feed, trouble = self._feed, self.trouble
        if feed is not None:
            return feed.view()
        return BenchView(stage=Stage.FAILED if trouble else Stage.CONNECT, trouble=trouble)

    def confirm(self) -> None:
        """Take the load as it lies."""
        if self._feed is not None:
            self._feed.confirm()

    def back(self) -> None:
        """Measure the step before this one anew."""
        if self._feed is not None:
            self._feed.back()

    def _close(self) -> None:
        feed, self._feed = self._feed, None
        if feed is not None:
            feed.stop()
