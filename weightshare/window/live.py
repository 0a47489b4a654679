"""A real session for the window. Loaded on the session's own thread: what it brings along takes a second."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from weightshare.practice.asked import revise
from weightshare.practice.engine import Engine
from weightshare.practice.finding import say_found
from weightshare.practice.option import PractiseOptions
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.records.assessment import assess_session
from weightshare.task import Goal, Settings
from weightshare.window.feed import Ended


class EngineFeed:
    """An Engine as the window needs it. Raises what Engine raises."""

    def __init__(self, options: PractiseOptions) -> None:
        self._engine = Engine(options)

    def start(self) -> None:
        """Connect, and begin to record and to measure."""
        self._engine.start()

    def view(self) -> LiveView:
        """Return the newest of everything. A link that has not come about, for a reason, counts as lost."""
        view = self._engine.view()
        if self._engine.fault is None:
            return view
        return replace(view, links=tuple(map(_unreached, view.links)))

    def change(self, settings: Settings, goal: Goal) -> None:
        """Measure against other settings from now on; what is kept of the stage says so."""
        options = self._engine.options
        self._engine.options = replace(options, prescription=revise(options.prescription, settings, goal))
        self._engine.change(settings, goal)

    def compare(self) -> None:
        """Compare the two plates from now on."""
        self._engine.compare()

    def swap_sides(self) -> bool:
        """Take each of two scales for the other foot's."""
        return self._engine.swap_sides()

    def begin_practice(self) -> None:
        """Holds count from now on."""
        self._engine.begin_practice()

    def begin_set(self) -> None:
        """Begin the next set."""
        self._engine.begin_set()

    def end_set(self) -> None:
        """End the set that is under way."""
        self._engine.end_set()

    def mark_fault(self) -> None:
        """Mark a fault in what is done now."""
        self._engine.mark_fault()

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
        place = "" if finished.folder is None else str(finished.folder)
        findings = () if finished.appraisal is None else say_found(finished.appraisal.answers)
        assess = None
        if finished.folder is not None and finished.appraisal is not None and self._engine.options.prescription:
            assess = partial(assess_session, finished.folder, finished.appraisal, self._engine.options.elsewhere)
        return Ended(place, finished.trouble, self._engine.view(), findings, assess)


def _unreached(link: LinkView) -> LinkView:
    return replace(link, state=LinkState.LOST) if link.state is LinkState.CONNECTING else link
