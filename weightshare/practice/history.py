"""The share over a whole practice, thinned for one picture of it. For the eye only: the record has every sample."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats

PIECE_S = 0.1
"""One sample is kept of each piece of sample time this long, s."""
NEWS_S = 0.5
"""Trails overlap: what is newer than so much is taken at once, s."""


class History:
    """Gathers trails, view by view, into one course of the share."""

    def __init__(self) -> None:
        self._times: list[Floats] = []
        self._shares: list[Floats] = []
        self._last_s = -np.inf

    def push(self, time_s: Floats, share_percent: Floats) -> None:
        """Take a trail, shape (n,) each; what was taken before is passed over."""
        if len(time_s) == 0 or time_s[-1] - self._last_s < NEWS_S:
            return
        new = slice(int(np.searchsorted(time_s, self._last_s, side="right")), None)
        time_s, share_percent = time_s[new], share_percent[new]
        last_piece = np.floor(self._last_s / PIECE_S) if np.isfinite(self._last_s) else -1.0
        keep = np.diff(np.floor(time_s / PIECE_S), prepend=last_piece) != 0
        self._last_s = float(time_s[-1])
        if keep.any():
            self._times.append(time_s[keep])
            self._shares.append(share_percent[keep])

    def course(self) -> tuple[Floats, Floats]:
        """Return times (s) and shares (percent; NaN where there was none), shape (m,) each."""
        if not self._times:
            return np.empty(0), np.empty(0)
        return np.concatenate(self._times), np.concatenate(self._shares)
