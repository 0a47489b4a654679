"""Signs of plates that are not free: one that touches the other, or something else; one that rocks on its feet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import PART_COLUMNS, Bools, Floats, Side

LOADED_N = 150.0
"""From this total on somebody is on the plates."""
NOBODY_N, EMPTY_N = 25.0, 60.0
"""Nobody is, where the total is under the first and neither side is over the second: friction is no weight."""
SETTLE_S, STILL_S, STILL_N = 1.0, 1.0, 2.0
"""How long after the load left, and over how long, with how little spread, an empty plate is read."""
STAYS_N = 5.0
"""A plate that is so far from its zero after the load left did not come back (common practice, no source; creep leaves
a tenth of it)."""
AGAINST_N = 3.0
"""Two empty plates that move against one another by more push each other."""

JUMP_PART = 0.06
"""A plate goes over where the front's part of its load changes by more than this within JUMP_S."""
JUMP_S, LEVEL_S = 0.03, 0.03
"""A foot cannot move its load so fast; and over how long the levels before and after are taken."""
LEAST_JUMPS = 2
FOREFOOT_PART, AROUND_S = 0.7, 0.5
"""With more of a plate's load than this on its front supports a heel is raised, which shifts the load by intent: not
looked at, nor so long before and after (our own choice, no source)."""
PLATE_N, SAME_PART = 100.0, 0.06
"""The plate's own load for it, and how little of that may change meanwhile."""
LIFTED_N, LIFTED_S = 8.0, 0.3
"""A support that pulls, by so much for so long while its plate is loaded, hangs in the air."""


@dataclass(frozen=True, slots=True)
class Contact:
    """What was seen; `rocking_seen` is False where the scale has no front and rear parts to see it by."""

    touching: tuple[str, ...] = ()
    """In words, one line each; empty where there was no sign."""
    rocking: tuple[Side, ...] = ()
    rocking_seen: bool = True

    @property
    def words(self) -> tuple[str, ...]:
        """Everything, in words that say what to do."""
        rocks = (
            f"the {side} plate rocks: put it on a level, hard floor, all of its feet on it" for side in self.rocking
        )
        return (*self.touching, *rocks)


def find_contact(time_s: Floats, columns: dict[str, Floats]) -> Contact:
    """Return the signs in unfiltered, zeroed forces (N, all of shape (n,)) at rising times (s), named as in traces."""
    touching = find_touching(time_s, columns["left_N"], columns["right_N"])
    if not all(name in columns for name in PART_COLUMNS):
        return Contact(touching, (), rocking_seen=False)
    parts = [columns[name] for name in PART_COLUMNS]
    pairs = zip(Side, (parts[:2], parts[2:]), strict=True)
    return Contact(touching, tuple(side for side, (front, rear) in pairs if is_rocking(time_s, front, rear)))


def find_touching(time_s: Floats, left_N: Floats, right_N: Floats) -> tuple[str, ...]:
    """Return in words what the empty plates say: a zero that did not come back, or one plate against the other."""
    known = np.isfinite(left_N) & np.isfinite(right_N)
    time_s, left_N, right_N = time_s[known], left_N[known], right_N[known]
    said = [
        _left_over(left_N[rows], right_N[rows], after_load=after_load)
        for rows, after_load in _empty_stretches(time_s, left_N, right_N)
    ]
    return tuple(dict.fromkeys(words for words in said if words))


def _empty_stretches(time_s: Floats, left_N: Floats, right_N: Floats) -> list[tuple[slice, bool]]:
    """Return where nobody was on for long enough, settling left out, and whether somebody had been before."""
    total = left_N + right_N
    empty = (np.abs(total) < NOBODY_N) & (np.maximum(np.abs(left_N), np.abs(right_N)) < EMPTY_N)
    loaded = np.maximum.accumulate(total > LOADED_N) if total.size else empty
    found = []
    for begin, end in _runs(empty):
        first = int(np.searchsorted(time_s, time_s[begin] + (SETTLE_S if loaded[begin] else 0.0)))
        if first < end and time_s[end - 1] - time_s[first] >= STILL_S:
            found.append((slice(first, end), bool(loaded[begin])))
    return found


def _left_over(left_N: Floats, right_N: Floats, *, after_load: bool) -> str:
    """Return what is wrong with plates that nobody stands on; nothing where they are free."""
    left, right = float(np.median(left_N)), float(np.median(right_N))
    against = float(np.std(left_N - right_N)), float(np.std(left_N + right_N))
    if against[0] > 2.0 * AGAINST_N and against[1] < 0.4 * against[0]:
        return "the two plates push each other: leave a finger's breadth between them"
    if not after_load or max(abs(left), abs(right)) < STAYS_N or max(left_N.std(), right_N.std()) > STILL_N:
        return ""
    if left * right < 0 and min(abs(left), abs(right)) > 0.4 * max(abs(left), abs(right)):
        return f"the plates touch: {abs(left):.0f} N stayed between them when nobody was on; move them apart"
    side, stays_N = (Side.LEFT, left) if abs(left) > abs(right) else (Side.RIGHT, right)
    return f"the {side} plate did not come back to zero, {stays_N:+.0f} N stayed: does it touch something?"


def is_rocking(time_s: Floats, front_N: Floats, rear_N: Floats) -> bool:
    """Tell whether a plate tips between its front and its rear feet, by their forces (N, (n,)) at rising times (s)."""
    known = np.isfinite(front_N) & np.isfinite(rear_N)
    time_s, front_N, rear_N = time_s[known], front_N[known], rear_N[known]
    if time_s.size < 8:
        return False
    interval_s = float(np.median(np.diff(time_s)))
    load_N = front_N + rear_N
    if _is_lifted(np.minimum(front_N, rear_N), load_N, interval_s):
        return True
    level, gap = max(round(LEVEL_S / interval_s), 1), max(round(JUMP_S / interval_s), 1)
    if time_s.size < 2 * level + gap:
        return False
    part = _means(np.where(load_N > PLATE_N, front_N / np.maximum(load_N, 1.0), np.nan), level)
    load = _means(load_N, level)
    part[_is_near(part > FOREFOOT_PART, round(AROUND_S / interval_s))] = np.nan
    apart = level + gap
    jumps = np.abs(part[apart:] - part[:-apart]) > JUMP_PART
    same = np.abs(load[apart:] - load[:-apart]) < SAME_PART * load[:-apart]
    return len(_runs(jumps & same)) >= LEAST_JUMPS


def _is_near(where: Bools, reach: int) -> Bools:
    """Tell which values have a true one within `reach` of them."""
    counts = np.concatenate(([0], np.cumsum(where)))
    place = np.arange(where.size)
    near: Bools = counts[np.minimum(place + reach + 1, where.size)] > counts[np.maximum(place - reach, 0)]
    return near


def _is_lifted(least_N: Floats, load_N: Floats, interval_s: float) -> bool:
    lifted = (least_N < -LIFTED_N) & (load_N > PLATE_N)
    return any((end - begin) * interval_s >= LIFTED_S for begin, end in _runs(lifted))


def _means(values: Floats, width: int) -> Floats:
    """Return the mean of every `width` values in a row; NaN where one of them is."""
    means: Floats = np.convolve(values, np.full(width, 1.0 / width), mode="valid")
    return means


def _runs(where: Bools) -> list[tuple[int, int]]:
    """Return begin and end of every run of true values."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], where, [False])).astype(np.int8)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))
