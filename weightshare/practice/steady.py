"""What changes faster than anybody reads is held for a moment, by sample time: figures, and what to do."""

from __future__ import annotations

from dataclasses import replace

from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.prompt import FIRST
from weightshare.practice.screen import Figures, Screen
from weightshare.state import Snapshot, State

FIGURES_S = 0.2
"""Share and load change at most this often in figures, s. The puck shows every sample."""
HEADLINE_S = 0.6
"""A headline stays at least so long, s: a few words take about as long to read (common practice, no source)."""
OVERLOAD_S = 3.0
"""Who was told to step off is told so for at least so long, s."""
OVERLOADED = words.practise_headline(State.OVERLOAD, Side.LEFT)
STEADIED = ("share", "share_doubt", "load_kg", "load_percent", "evidence")


class Steadier:
    """Holds figures and headline of the screens of practice still."""

    def __init__(self) -> None:
        self._figures: tuple[Figures, object, float | None] = (Figures(), None, None)
        self._headline: tuple[str, object, float | None] = ("", None, None)

    def push(self, screen: Screen, snapshot: Snapshot, *, asking: bool = False) -> Screen:
        """Return `screen` with what is still to be read of the one before. `asking`: its headline is a question."""
        return replace(
            screen, figures=self._hold_figures(screen, snapshot), headline=self._hold(screen, snapshot, asking=asking)
        )

    def _hold_figures(self, screen: Screen, snapshot: Snapshot) -> Figures:
        """Return the figures of up to FIGURES_S ago, where they say the same state of the same kind."""
        shown, key = screen.figures, (screen.step, screen.state, screen.blank, screen.figures.aim, screen.injured)
        old, old_key, old_s = self._figures
        if key == old_key and _is_within(FIGURES_S, old_s, snapshot.time_s):
            return replace(shown, **{name: getattr(old, name) for name in STEADIED})
        self._figures = shown, key, snapshot.time_s
        return shown

    def _hold(self, screen: Screen, snapshot: Snapshot, *, asking: bool) -> str:
        """Return the headline of up to HEADLINE_S ago, unless something else must be done at once."""
        key = (screen.step, screen.blank, asking, screen.injured, screen.path is None or screen.path.hidden)
        old, old_key, old_s = self._headline
        if screen.headline == old and key == old_key:
            return old
        overloaded, too_much = old == OVERLOADED, snapshot.state is State.TOO_MUCH and screen.state != words.SHIFTING
        at_once = snapshot.state in FIRST or (too_much and not overloaded)
        span_s = OVERLOAD_S if overloaded else HEADLINE_S
        if key == old_key and not at_once and _is_within(span_s, old_s, snapshot.time_s):
            return old
        self._headline = screen.headline, key, snapshot.time_s
        return screen.headline


def _is_within(span_s: float, before_s: float | None, now_s: float | None) -> bool:
    return before_s is not None and now_s is not None and 0.0 <= now_s - before_s < span_s
