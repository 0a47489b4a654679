"""The share over a whole practice, and what was asked of it, thinned for one picture. For the eye only: the record has
every sample."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from weightshare.model import Floats

PIECE_S = 0.1
"""One sample is kept of each piece of sample time this long, s."""
NEWS_S = 0.5
"""Trails overlap: what is newer than so much is taken at once, s."""


ENDS_S = 0.5
"""So long after stepping on and before stepping off the share comes from an end of its axis, and goes there, s."""


class Course(NamedTuple):
    """Times (s), shares and the middles of the band (percent; NaN where there was none), shape (m,) each."""

    time_s: Floats
    share_percent: Floats
    aim_percent: Floats


def without_ends(course: Course) -> Course:
    """Return `course` without the share of who is just stepping on or off: NaN there, as where nobody stands."""
    time_s, share_percent = course.time_s, course.share_percent.copy()
    edges = np.flatnonzero(np.diff(np.isfinite(share_percent).astype(np.int8), prepend=0, append=0))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        piece_s = time_s[begin:end]
        share_percent[begin:end][(piece_s < piece_s[0] + ENDS_S) | (piece_s > piece_s[-1] - ENDS_S)] = np.nan
    return course._replace(share_percent=share_percent)


NO_COURSE = Course(np.empty(0), np.empty(0), np.empty(0))


class History:
    """Gathers trails, view by view, into one course of the share."""

    def __init__(self) -> None:
        self._pieces: list[Course] = []
        self._last_s = -np.inf

    def push(self, time_s: Floats, share_percent: Floats, aim_percent: Floats) -> None:
        """Take a trail, shape (n,) each; what was taken before is passed over.

        aim_percent: the middle of the band; of shape (0,) where that is not told.
        """
        if aim_percent.size != time_s.size:
            aim_percent = np.full_like(time_s, np.nan)
        if len(time_s) == 0 or time_s[-1] - self._last_s < NEWS_S:
            return
        new = slice(int(np.searchsorted(time_s, self._last_s, side="right")), None)
        time_s, share_percent, aim_percent = time_s[new], share_percent[new], aim_percent[new]
        last_piece = np.floor(self._last_s / PIECE_S) if np.isfinite(self._last_s) else -1.0
        keep = np.diff(np.floor(time_s / PIECE_S), prepend=last_piece) != 0
        self._last_s = float(time_s[-1])
        if keep.any():
            self._pieces.append(Course(time_s[keep], share_percent[keep], aim_percent[keep]))

    def course(self) -> Course:
        """Return all that was taken."""
        if not self._pieces:
            return NO_COURSE
        return Course(*(np.concatenate(column) for column in zip(*self._pieces, strict=True)))
