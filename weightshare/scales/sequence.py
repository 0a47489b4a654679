"""The running number of SAMPLES frames: what it skips never came."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from weightshare.scales.stream import Counts

_BACKWARDS = 1 << 15
"""A jump of half the range or more is taken for a step back, not for tens of thousands of lost frames."""


class SequenceWatch:
    """Counts the frames that a 16-bit sequence skipped. Numbers are gathered first and looked at all at once."""

    def __init__(self, counts: Counts) -> None:
        self._counts = counts
        self._runs: list[NDArray[np.uint16]] = []
        self._last: int | None = None

    def watch(self, sequence: NDArray[np.uint16]) -> None:
        """Take the next numbers, shape (frames,)."""
        if len(sequence):
            self._runs.append(sequence)

    def expect(self, number: int) -> None:
        """The next number will be `number`, as after a START."""
        self.settle()
        self._last = (number - 1) & 0xFFFF

    def forget(self) -> None:
        """The next number may be any."""
        self.settle()
        self._last = None

    def settle(self) -> None:
        """Bring the counts up to date."""
        if not self._runs:
            return
        numbers = self._runs[0] if len(self._runs) == 1 else np.concatenate(self._runs)
        self._runs.clear()
        if self._last is not None:
            self._count((int(numbers[0]) - self._last - 1) & 0xFFFF)
        self._last = int(numbers[-1])
        if len(numbers) > 1:
            skipped = np.diff(numbers) - np.uint16(1)
            for skip in skipped[skipped > 0].tolist():
                self._count(skip)

    def _count(self, skipped: int) -> None:
        if skipped >= _BACKWARDS:
            self._counts.out_of_order += 1
        elif skipped:
            self._counts.gaps += 1
            self._counts.lost_frames += skipped
