"""Rows that are missing altogether are put in, so that what comes after sees missing readings of one kind only."""

from __future__ import annotations

import numpy as np

from weightshare.pipeline.block import FILLED, GAP_INTERVALS, MISSING_FROM, Block, steps_s


class Fill:
    """Puts NaN rows where rows are missing: each missing one in a short run, a single one in a gap."""

    def __init__(self) -> None:
        self.reset()

    def reset(self) -> None:
        """Forget the last row."""
        self._last_s: float | None = None

    def push(self, block: Block) -> Block:
        """Return the block with rows put in; those are flagged."""
        if not block.time_s.size:
            return block
        before = block.time_s[0] - block.interval_s if self._last_s is None else self._last_s
        self._last_s = float(block.time_s[-1])
        steps = steps_s(before, block.time_s) / block.interval_s
        if steps.max() < MISSING_FROM:
            return block
        counts = np.where(steps < MISSING_FROM, 0, np.rint(steps).astype(int) - 1)
        counts[steps > GAP_INTERVALS] = 1
        return _insert(block, counts, before)


def _insert(block: Block, counts: np.ndarray[tuple[int], np.dtype[np.int64]], before: float) -> Block:
    """Put counts[k] rows before row k, evenly spaced; a gap's single row one interval after the last."""
    rows = np.repeat(np.arange(counts.size), counts)
    nth = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts) + 1
    starts = np.concatenate(([before], block.time_s[:-1]))
    span = block.time_s - starts
    pitch = np.where(span > GAP_INTERVALS * block.interval_s, block.interval_s, span / (counts + 1))
    times = starts[rows] + nth * pitch[rows]
    return Block(
        block.interval_s,
        block.columns,
        np.insert(block.time_s, rows, times),
        np.insert(block.values, rows, np.nan, axis=1),
        np.insert(block.flags, rows, np.uint8(FILLED)),
    )
