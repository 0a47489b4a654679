"""The instants and figures of a true movement: found from the true course alone, without filter and without noise."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats

LEAVES, REACHES, PLATEAU = 0.1, 0.9, 0.75
"""Parts of the way, as the measures define them: where phases begin, where the top does, what the plateau is of."""
BACK_MM = 15.0
"""Whoever is back within this of where the movement began has done it all."""
BEFORE_S, AFTER_S = 2.0, 1.0
_SLACK_S = 0.05


@dataclass(frozen=True, slots=True)
class Instants:
    """Of one movement up and down: levels (mm) and instants (s)."""

    before_mm: float
    plateau_mm: float
    after_mm: float
    start_s: float
    top_s: float
    lowering_s: float
    end_s: float

    @property
    def height_mm(self) -> float:
        """The plateau over the level before."""
        return self.plateau_mm - self.before_mm

    def level_mm(self, part: float) -> float:
        """Return the height at `part` of the way from the level after to the plateau."""
        return self.after_mm + part * (self.plateau_mm - self.after_mm)


@dataclass(frozen=True, slots=True)
class Window:
    """What is known of a movement from its plan, s: from when to when it is done, and where its neighbours are."""

    from_s: float
    to_s: float
    earliest_s: float = -np.inf
    """Where the movement before ended."""
    latest_s: float = np.inf
    """Where the next begins, or the stream ends."""


def find_instants(time_s: Floats, height_mm: Floats, window: Window) -> Instants | None:
    """Return levels and instants of one planned movement; None where it was not done to its end.

    `time_s` and `height_mm` have shape (n,). Instants lie on straight lines between the samples.
    """
    begin_s = max(window.from_s - BEFORE_S, window.earliest_s - _SLACK_S)
    stop_s = min(window.to_s + AFTER_S, window.latest_s + _SLACK_S)
    time_s, height_mm = cut(time_s, height_mm, begin_s, stop_s)
    done = (time_s >= window.from_s) & (time_s <= window.to_s)
    if not done.any():
        return None
    before = float(height_mm[time_s <= window.from_s + _SLACK_S].min())
    peak = int(np.argmax(np.where(done, height_mm, -np.inf)))
    after = float(height_mm[peak:].min())
    if after > before + BACK_MM:
        return None
    high = height_mm[done]
    plateau = float(np.median(high[high > before + PLATEAU * (high.max() - before)]))
    tops = cross(time_s, height_mm, before + REACHES * (plateau - before), up=True)
    starts = cross(time_s, height_mm, before + LEAVES * (plateau - before), up=True)
    lowerings = cross(time_s, height_mm, after + REACHES * (plateau - after), up=False)
    ends = cross(time_s, height_mm, after + LEAVES * (plateau - after), up=False)
    if not (tops.size and lowerings.size and (starts < tops[0]).any() and (ends > lowerings[-1]).any()):
        return None
    start, end = starts[starts < tops[0]][-1], ends[ends > lowerings[-1]][0]
    return Instants(before, plateau, after, float(start), float(tops[0]), float(lowerings[-1]), float(end))


def cut(time_s: Floats, values: Floats, from_s: float, to_s: float) -> tuple[Floats, Floats]:
    """Return times and values (n,) from `from_s` to `to_s`."""
    place = slice(int(np.searchsorted(time_s, from_s)), int(np.searchsorted(time_s, to_s, side="right")))
    return time_s[place], values[place]


def cross(time_s: Floats, values: Floats, level: float, *, up: bool) -> Floats:
    """Return the instants (s, shape (k,)) at which values (n,) come up, or go down, through `level`."""
    over = values >= level
    turns = np.flatnonzero(~over[:-1] & over[1:] if up else over[:-1] & ~over[1:])
    part = (level - values[turns]) / (values[turns + 1] - values[turns])
    instants: Floats = time_s[turns] + part * (time_s[turns + 1] - time_s[turns])
    return instants
