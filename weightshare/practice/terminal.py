"""A practice session in the terminal: one line that is written over, or a line at each change."""

from __future__ import annotations

import re
import shutil
from typing import TextIO

from weightshare.practice.coach import is_warming_up, own_repetitions
from weightshare.practice.gauge import doubt_now, tenths
from weightshare.practice.preview import WORDS as PHASE_WORDS
from weightshare.practice.prompt import name_of
from weightshare.practice.view import LinkState, LiveView
from weightshare.practice.words import load_kg
from weightshare.state import State
from weightshare.task import DEFAULT_FILTER_HZ, Goal, Settings

_REDRAW_S = 0.1
_CLEAR = "\r\x1b[K"
_STAND = "warm-up stand"
_FIGURE = re.compile(r"\d+(?:\.\d+)?")


def count_columns(stream: TextIO) -> int:
    """Return the width of the terminal behind `stream`; 0 where there is none."""
    return shutil.get_terminal_size().columns if stream.isatty() else 0


class LiveLine:
    """Shows views on `stream`. `columns` is the terminal's width; 0 where it is none, but a file or a pipe.

    `settings` say what is practised; without them repetitions are shown from the first set on.
    """

    def __init__(self, stream: TextIO, goal: Goal, columns: int = 0, settings: Settings | None = None) -> None:
        self._stream = stream
        self._goal = goal
        self._columns = columns
        self._settings = settings
        self._said = ""
        self._told: set[str] = set()
        self._open = False
        self._drawn_s = float("-inf")

    def show(self, view: LiveView, now_s: float) -> None:
        """Bring the line up to `view`; `now_s` is any clock that goes forward."""
        for message in (*view.messages, view.recording):
            # the figures of a warning that stands change with every second: it is told once all the same
            self.tell(message, _FIGURE.sub("#", message) if message in view.snapshot.warnings else message)
        if not self._columns:
            self._say(view)
        elif now_s - self._drawn_s >= _REDRAW_S:
            self._drawn_s = now_s
            self._draw(live_text(view, self._goal, self._settings))

    def close(self) -> None:
        """Take the line away: what comes next starts at the left."""
        if self._open:
            self._stream.write(_CLEAR)
            self._stream.flush()
            self._open = False

    def _draw(self, text: str) -> None:
        self._stream.write(_CLEAR + text[: self._columns - 1])
        self._stream.flush()
        self._open = True

    def _say(self, view: LiveView) -> None:
        time_s = view.snapshot.time_s
        if time_s is None and view.age_s == float("inf"):
            # Before the first samples the caller has the word: a scale that cannot be used gets one line.
            return
        words = change_text(view, self._goal, self._settings)
        if words != self._said:
            self._said = words
            self.say(words if time_s is None else f"{time_s:8.2f} s  {words}")

    def tell(self, message: str, known_as: str = "") -> None:
        """Show a message, unless it is empty or was shown before, it or another that is `known_as` the same."""
        known_as = known_as or message
        if message and known_as not in self._told:
            self._told.add(known_as)
            self.say(f"note: {message}")

    def say(self, text: str) -> None:
        """Write a line of its own, above the live one."""
        if self._open:
            self._stream.write(_CLEAR)
        self._stream.write(text + "\n")
        self._stream.flush()


def state_text(view: LiveView) -> str:
    """Return what is going on, in words; where no data come, what is wrong with the link."""
    troubled = [link.words for link in view.links if link.state is not LinkState.SAMPLING]
    if troubled and (view.stale or view.snapshot.time_s is None):
        return "; ".join(troubled)
    if view.stale and view.snapshot.time_s is not None:
        return "no data"
    words = _STAND if is_warming_up(view.snapshot) else view.snapshot.state.value
    words = f"{_STAND}: {words}" if view.snapshot.state is State.WEIGHING else words
    return f"{words}, part of the weight is elsewhere" if view.snapshot.supported else words


def change_text(view: LiveView, goal: Goal, settings: Settings | None = None) -> str:
    """Return what is worth a line of its own when it changes: the state, or in a set how many were counted in it."""
    if not view.sets.spans or view.stale:
        return state_text(view)
    return _set_text(view, goal, settings)


def live_text(view: LiveView, goal: Goal, settings: Settings | None = None) -> str:
    """Return the live line: state, share, load, and what was done. Old numbers are not among them."""
    words = state_text(view)
    snapshot = view.snapshot
    cutoff_Hz = DEFAULT_FILTER_HZ if settings is None else settings.filter_Hz
    figures = ["share  --.- %", "--.- kg"] if view.stale else _fresh(view, cutoff_Hz)
    # in supported work there is no share
    figures = figures[1:] if settings is not None and settings.is_supported else figures
    if view.sets.spans or _lifts(settings):
        phase = "" if view.stale or snapshot.phase is None else PHASE_WORDS[snapshot.phase]
        return " | ".join([f"{words:<24}", *figures, f"{phase:<4}", _set_text(view, goal, settings)])
    held = f"held {'--.-' if view.stale else format(snapshot.held_s, '.1f'):>5} s of {goal.hold_s:g}"
    return " | ".join([f"{words:<24}", *figures, held, f"holds {snapshot.holds_done(goal.hold_s)} of {goal.holds}"])


def _lifts(settings: Settings | None) -> bool:
    return settings is not None and settings.exercise is not None and settings.exercise.is_repeated


def _set_text(view: LiveView, goal: Goal, settings: Settings | None) -> str:
    """Return which set is under way and what was counted in it, or how long the rest still lasts."""
    span, until_s = view.sets.newest, view.sets.rest_until_s(goal)
    if span is None:
        return f"{goal.sets} sets to do"
    count = len(own_repetitions(span, view.snapshot))
    counted = f"{count} of {goal.repetitions} {name_of(settings, goal.repetitions)}"
    if goal.to_exhaustion:
        counted = f"{count} {name_of(settings, count)}"
    done = f"set {span.number} of {goal.sets}: {counted}"
    if until_s is None or view.now_s is None:
        return done
    return f"{done}, rest until {until_s:.0f} s"


def _fresh(view: LiveView, cutoff_Hz: float | None) -> list[str]:
    share, load_N = view.snapshot.share_percent, view.snapshot.injured_N
    doubt = doubt_now(view.gauge, view.snapshot, cutoff_Hz)
    worth = "" if doubt is None else f" +- {tenths(doubt.expanded_points)}"
    return [
        "share  --.- %" if share is None else f"share {share:5.1f}{worth} %",
        "--.- kg" if load_N is None else f"{load_kg(load_N):>7}",
    ]
