"""Gaps: more than three nominal intervals without a reading of both sides."""

from __future__ import annotations

import numpy as np

from weightshare.pipeline.block import FILLED, GAP_INTERVALS, LEFT, RIGHT, Block, find_runs


class Gaps:
    """Lists gaps as (last reading, first reading after it), in s; times are those of the samples, without a delay."""

    def __init__(self) -> None:
        self.reset()

    def reset(self) -> None:
        """Forget the gaps and the last reading."""
        self.found: list[tuple[float, float]] = []
        self.samples = 0
        self.first_s: float | None = None
        self.last_s: float | None = None
        self._reading_s: float | None = None
        self._interval_s = 0.0

    def push(self, block: Block) -> None:
        """Take in the rows of a block, filled ones among them."""
        if not block.time_s.size:
            return
        measured = block.flags & FILLED == 0
        self.samples += int(np.count_nonzero(measured))
        self.first_s = float(block.time_s[0]) if self.first_s is None else self.first_s
        self.last_s = float(block.time_s[-1])
        self._interval_s = block.interval_s
        missing = np.isnan(block.values[LEFT] + block.values[RIGHT])
        begins, ends = find_runs(np.flatnonzero(missing))
        # where rows are missing a filled one stands, so that every gap has a missing reading
        if not missing[0]:
            self._note(float(block.time_s[0]))
        for begin, end in zip(begins.tolist(), ends.tolist(), strict=True):
            if begin:
                self._reading_s = float(block.time_s[begin - 1])
            if end < missing.size:
                self._note(float(block.time_s[end]))
        if not missing[-1]:
            self._reading_s = self.last_s

    def _note(self, reading_s: float) -> None:
        """There is a reading again, or still."""
        since_s = self.first_s if self._reading_s is None else self._reading_s
        assert since_s is not None
        if reading_s - since_s > GAP_INTERVALS * self._interval_s:
            self.found.append((since_s, reading_s))
        self._reading_s = reading_s

    def finish(self) -> None:
        """The stream ends here: readings that went missing before its end are a gap too."""
        since_s = self.first_s if self._reading_s is None else self._reading_s
        if since_s is not None and self.last_s is not None and self.last_s - since_s > GAP_INTERVALS * self._interval_s:
            self.found.append((since_s, self.last_s))
