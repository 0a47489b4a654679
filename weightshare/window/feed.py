"""What the window needs of a practice session's engine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from weightshare.practice.view import LiveView
from weightshare.task import Goal, Settings


@dataclass(frozen=True, slots=True)
class Ended:
    """What is left of a session: where it is kept (empty: it is not), and what went wrong with that, in words."""

    place: str = ""
    trouble: str = ""


class Feed(Protocol):
    """A running session. `view` may be called at the display's rate; nothing here blocks but `start` and `stop`."""

    def start(self) -> None:
        """Open the source. Raises WeightshareError, in words that say what to do."""

    def view(self) -> LiveView:
        """Return the newest of everything."""

    def change(self, settings: Settings, goal: Goal) -> None:
        """Measure against other settings from now on."""

    def begin_practice(self) -> None:
        """Holds count from now on."""

    def steer(self, delta_points: float) -> None:
        """Shift a steered virtual person's weight to the injured side (negative: away); nothing for others."""

    @property
    def is_over(self) -> bool:
        """Whether the time that was asked for is over, or nothing more will come."""

    def stop(self) -> Ended:
        """End the session and keep it."""


OpenFeed = Callable[[str, Settings, Goal], Feed]
"""Makes the session on a source; raises WeightshareError where it cannot be made."""
