"""What is worth telling of a session while it runs: said once, kept in order."""

from __future__ import annotations

from weightshare.scales.link import Phase, Status


class Watch:
    """Collects messages. Called from one thread; `messages` may be read from any."""

    def __init__(self) -> None:
        self.messages: tuple[str, ...] = ()
        self._phase = Phase.CONNECTING
        self._lost = False

    def tell(self, message: str) -> None:
        """Add a message, unless it is empty or was told before."""
        if message and message not in self.messages:
            self.messages = (*self.messages, message)

    def follow(self, status: Status, time_s: float | None, *, sampled: bool) -> None:
        """Tell where the link was lost and came back; `time_s` is the newest sample time. Before a scale has `sampled`
        there is nothing to lose."""
        before, self._phase = self._phase, status.phase
        if before is status.phase or not sampled:
            return
        at = "" if time_s is None else f" at {time_s:.1f} s"
        if status.phase is Phase.LOST and not self._lost:
            self._lost = True
            self.tell(f"the link was lost{at}: {status.fault or status.words}")
        elif status.phase is Phase.SAMPLING and self._lost:
            self._lost = False
            self.tell(f"the link is back{f' after {time_s:.1f} s' if time_s is not None else ''}")
