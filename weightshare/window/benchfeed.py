"""What the window needs of a guided calibration, and the thread that opens and closes one."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from weightshare.errors import DeviceError, WeightshareError
from weightshare.window import complaint
from weightshare.workbench.plan import Wanted
from weightshare.workbench.view import BenchView, Stage

LEAVE_S = 20.0
"""How long the window waits for the scale to be given back when it leaves, s."""


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


class BenchRunner:
    """Holds the calibration that runs. The window reads `view()` and `is_idle`; the thread writes."""

    def __init__(self, open_bench: OpenBench) -> None:
        self._open_bench = open_bench
        self._feed: BenchFeed | None = None
        self._trouble = ""
        self._given_up = False
        self._worker: threading.Thread | None = None

    @property
    def is_idle(self) -> bool:
        """Whether no scale is held, nor being opened or given back."""
        return self._feed is None and (self._worker is None or not self._worker.is_alive())

    def start(self, wish: BenchWish, first: Callable[[], None]) -> None:
        """Begin in the background, once `first` has returned: it waits until the scale is free."""
        self._trouble, self._given_up = "", False

        def work() -> None:
            first()
            feed = self._open_bench(wish)
            feed.start()
            self._feed = feed
            if self._given_up:
                self._close()

        self._hand_over(work)

    def stop(self) -> None:
        """Give the scale back, in the background."""
        self._given_up = True
        self._hand_over(self._close)

    def leave(self) -> bool:
        """Give the scale back and wait for that, within LEAVE_S; return whether it is done."""
        if not self.is_idle:
            self.stop()
        if self._worker is not None:
            self._worker.join(LEAVE_S)
        return self.is_idle

    def view(self) -> BenchView:
        """Return the newest of everything; one that says why where there is no calibration."""
        feed, trouble = self._feed, self._trouble
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

    def _hand_over(self, work: Callable[[], None]) -> None:
        previous = self._worker

        def in_turn() -> None:
            if previous is not None:
                previous.join()
            try:
                work()
            except WeightshareError as error:
                self._trouble = complaint.plain(str(error))
            except Exception as error:
                self._trouble = f"The program failed inside: {type(error).__name__}. Nothing was written."
                raise

        # no daemon: the scale is given back before the program ends
        self._worker = threading.Thread(target=in_turn, name="weightshare-bench", daemon=False)
        self._worker.start()
