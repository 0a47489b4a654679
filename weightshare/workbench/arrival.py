"""When a load came: what creep is reckoned from."""

from __future__ import annotations

import math


class Arrival:
    """Follows a plate's reading from the asking on, in blocks.

    A load that comes bit by bit makes a cell creep, to first order, as if all of it had come at the mean of the bits'
    instants, each weighted by its size.
    """

    def __init__(self) -> None:
        self.reset()

    def reset(self) -> None:
        """Forget what came: another step is asked for."""
        self._first_s = self._time_s = math.nan
        self._value = math.nan
        self._sum = self._moment = self._moved = 0.0

    def push(self, time_s: float, value: float) -> None:
        """Take the mean reading of a block whose samples have the mean time `time_s`; NaN is passed over."""
        if math.isnan(value):
            return
        if math.isnan(self._value):
            self._first_s = time_s
        else:
            change = value - self._value
            self._sum += change
            self._moment += (0.5 * (self._time_s + time_s) - self._first_s) * change
            self._moved += abs(change)
        self._time_s, self._value = time_s, value

    def came_s(self, still_s: float) -> float:
        """Return when the load came, s; `still_s`, since when it is still, where no more came than went."""
        if self._moved == 0.0 or abs(self._sum) < 0.5 * self._moved:
            return still_s
        return min(max(self._first_s + self._moment / self._sum, self._first_s), still_s)
