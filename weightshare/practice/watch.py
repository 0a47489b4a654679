"""What is worth telling of a session while it runs: said once, kept in order."""

from __future__ import annotations

from weightshare.scales.link import Phase, Status


class Watch:
    """Collects messages. Called from one thread; `messages` may be read from any."""

    def __init__(self) -> None:
        self.messages: tuple[str, ...] = ()
        self._lost: dict[int, float | None] = {}
        """The sources whose link is lost, and the sample time at which it was."""

    def tell(self, message: str) -> None:
        """Add a message, unless it is empty or was told before."""
        if message and message not in self.messages:
            self.messages = (*self.messages, message)

    def follow(self, status: Status, time_s: float | None, *, sampled: bool, source: int = 0, whose: str = "") -> None:
        """Tell how `source` is read, and where the link to it was lost and came back; `time_s`: the newest sample time.

        Before a scale has `sampled` there is nothing to lose, and the link is back when a new sample is, not when the
        scale promises some. `whose`: which of two scales it is.
        """
        if not sampled:
            return
        self.tell(status.remark)
        at = "" if time_s is None else f" at {time_s:.1f} s"
        link = f"the link to {whose}" if whose else "the link"
        if status.phase is Phase.LOST and source not in self._lost:
            self._lost[source] = time_s
            self.tell(f"{link} was lost{at}: {status.fault or status.words}")
        elif status.phase is Phase.SAMPLING and time_s != self._lost.get(source, time_s):
            del self._lost[source]
            self.tell(f"{link} is back{at}")
