"""What is worth telling of a session while it runs: said once, kept in order."""

from __future__ import annotations

from weightshare.scales.link import Phase, Status


class Watch:
    """Collects messages. Called from one thread; `messages` may be read from any."""

    def __init__(self) -> None:
        self.messages: tuple[str, ...] = ()
        self._lost = False
        self._lost_s: float | None = None

    def tell(self, message: str) -> None:
        """Add a message, unless it is empty or was told before."""
        if message and message not in self.messages:
            self.messages = (*self.messages, message)

    def follow(self, status: Status, time_s: float | None, *, sampled: bool) -> None:
        """Tell where the link was lost and came back; `time_s` is the newest sample time. Before a scale has `sampled`
        there is nothing to lose, and the link is back when a new sample is, not when the scale promises some."""
        if not sampled:
            return
        at = "" if time_s is None else f" at {time_s:.1f} s"
        if status.phase is Phase.LOST and not self._lost:
            self._lost, self._lost_s = True, time_s
            self.tell(f"the link was lost{at}: {status.fault or status.words}")
        elif status.phase is Phase.SAMPLING and self._lost and (time_s is None or time_s != self._lost_s):
            self._lost = False
            self.tell(f"the link is back{at}")
