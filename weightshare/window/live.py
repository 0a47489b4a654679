"""A real session for the window. Loaded on the session's own thread: what it brings along takes a second."""

from __future__ import annotations

from weightshare.model import Goal, Settings
from weightshare.practice.engine import Engine
from weightshare.practice.option import PractiseOptions
from weightshare.practice.view import LiveView
from weightshare.window.feed import Ended


class EngineFeed:
    """An Engine as the window needs it. Raises what Engine raises."""

    def __init__(self, options: PractiseOptions) -> None:
        self._engine = Engine(options)

    def start(self) -> None:
        """Connect, and begin to record and to measure."""
        self._engine.start()

    def view(self) -> LiveView:
        """Return the newest of everything."""
        return self._engine.view()

    def change(self, settings: Settings, goal: Goal) -> None:
        """Measure against other settings from now on."""
        self._engine.change(settings, goal)

    def begin_practice(self) -> None:
        """Holds count from now on."""
        self._engine.begin_practice()

    def steer(self, delta_points: float) -> None:
        """Shift a steered virtual person's weight to the injured side."""
        self._engine.steer(delta_points)

    @property
    def is_over(self) -> bool:
        """Whether the asked seconds have passed, or nothing more will come."""
        return self._engine.is_over

    def stop(self) -> Ended:
        """End the session; what is kept of it lies where `Ended.place` says."""
        finished = self._engine.stop()
        return Ended("" if finished.folder is None else str(finished.folder), finished.trouble)
