"""Work that the window must not wait for: one piece after the other, each on a thread of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable

from weightshare.errors import WeightshareError
from weightshare.tongue import say
from weightshare.window import complaint

LEAVE_S = 20.0
"""How long the window waits for what was begun when it leaves, s."""


class Errands:
    """Sees to work in the background, in the order in which it is handed over. It speaks by plain attributes.

    `name` is that of the threads; `advice` ends what is said where the program fails inside.
    """

    def __init__(self, name: str, advice: str) -> None:
        self.trouble = ""
        """Why the newest work came to nothing, in words that say what to do; empty where it did not, or not yet."""
        self._name, self._advice = name, advice
        self._worker: threading.Thread | None = None

    @property
    def is_busy(self) -> bool:
        """Whether something is not done yet."""
        return self._worker is not None and self._worker.is_alive()

    def wait(self) -> None:
        """Wait until what was begun is done, LEAVE_S at most; on a thread that may wait."""
        worker = self._worker
        if worker is not None:
            worker.join(LEAVE_S)

    def hand_over(self, work: Callable[[], None]) -> None:
        """Have `work` done once all before it is; what it raises is told in `trouble`."""
        previous = self._worker

        def in_turn() -> None:
            if previous is not None:
                previous.join()
            try:
                work()
            except WeightshareError as error:
                self.trouble = complaint.plain(str(error))
            except Exception as error:
                self.trouble = say(
                    "The program failed inside: {error}. {advice}", error=type(error).__name__, advice=self._advice
                )
                raise

        # no daemon: a recording is closed, and a scale given back, before the program ends
        self._worker = threading.Thread(target=in_turn, name=self._name, daemon=False)
        self._worker.start()
