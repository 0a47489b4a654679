"""The instants and figures of a true movement: found from the true course alone, without filter and without noise."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats

LEAVES, REACHES, PLATEAU = 0.1, 0.9, 0.75
"""Parts of the way, as the measures define them: where phases begin, where the top does, what the plateau is of."""
LIFT_MM = 15.0
"""A lift begins where the heel is so far over its lowest, and ends where it is back within this of it."""
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

    `time_s` and `height_mm` have shape (n,). Instants lie on straight lines between the samples. The levels before and
    after are the lowest of the 2 s before the heel is 15 mm up, and of the 1 s after it is back within 15 mm of that.
    """
    time_s, height_mm = cut(time_s, height_mm, window.earliest_s - _SLACK_S, window.latest_s + _SLACK_S)
    lifts = _find_lift(time_s, height_mm, window)
    if lifts is None:
        return None
    lifted_s, back_s = lifts
    before = float(cut(time_s, height_mm, lifted_s - BEFORE_S, lifted_s)[1].min())
    after = float(cut(time_s, height_mm, back_s, back_s + AFTER_S)[1].min())
    high = cut(time_s, height_mm, lifted_s, back_s)[1]
    plateau = float(np.median(high[high > before + PLATEAU * (high.max() - before)]))
    time_s, height_mm = cut(time_s, height_mm, lifted_s - BEFORE_S, back_s + AFTER_S)
    tops = cross(time_s, height_mm, before + REACHES * (plateau - before), up=True)
    starts = cross(time_s, height_mm, before + LEAVES * (plateau - before), up=True)
    lowerings = cross(time_s, height_mm, after + REACHES * (plateau - after), up=False)
    ends = cross(time_s, height_mm, after + LEAVES * (plateau - after), up=False)
    if not (tops.size and lowerings.size and (starts < tops[0]).any() and (ends > lowerings[-1]).any()):
        return None
    start, end = starts[starts < tops[0]][-1], ends[ends > lowerings[-1]][0]
    return Instants(before, plateau, after, float(start), float(tops[0]), float(lowerings[-1]), float(end))


def _find_lift(time_s: Floats, height_mm: Floats, window: Window) -> tuple[float, float] | None:
    """Return when the heel is 15 mm over where it was, and when it is back within 15 mm of that; None where never."""
    low = cut(time_s, height_mm, window.from_s - BEFORE_S, window.from_s + _SLACK_S)[1]
    if not low.size:
        return None
    level = float(low.min()) + LIFT_MM
    done_s, done_mm = cut(time_s, height_mm, window.from_s, window.to_s + _SLACK_S)
    lifted = np.flatnonzero(done_mm >= level)
    if not lifted.size:
        return None
    back = int(np.argmax(done_mm)) + np.flatnonzero(done_mm[int(np.argmax(done_mm)) :] <= level)
    return (float(done_s[lifted[0]]), float(done_s[back[0]])) if back.size else None


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
