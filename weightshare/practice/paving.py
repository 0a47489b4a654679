"""The stretches of the path that count, laid behind the now-line. For the eye only: holds are the pipeline's."""

from __future__ import annotations

KEPT_S = 14.0
"""How far back stretches are kept, s: somewhat longer than the trail that is drawn."""
BREAK_S = 0.3
"""Two views further apart than this are not joined, s."""


class Paving:
    """Gathers, view by view, the sample times from which to which the share counted."""

    def __init__(self) -> None:
        self._runs: list[tuple[float, float]] = []
        self._last_s: float | None = None
        self._open = False

    @property
    def runs(self) -> tuple[tuple[float, float], ...]:
        """Stretches as (from, to) in s, oldest first."""
        return tuple(self._runs)

    def push(self, time_s: float | None, counts: bool) -> None:
        """Take the newest sample time and whether it counts; a missing time is passed over."""
        if time_s is None:
            return
        last_s, self._last_s = self._last_s, time_s
        joined = last_s is not None and 0.0 <= time_s - last_s <= BREAK_S
        if counts and self._open and joined:
            self._runs[-1] = (self._runs[-1][0], time_s)
        elif counts:
            self._runs.append((time_s, time_s))
        self._open = counts
        while self._runs and self._runs[0][1] < time_s - KEPT_S:
            del self._runs[0]
