"""The zero of a session: the mean of the first still second, with nobody on."""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from weightshare.model import Floats
from weightshare.pipeline.calibrate import Calibrator
from weightshare.pipeline.clock import Timed

STILL_S = 1.0
STILL_SD_N = 3.0
"""A second is still where neither side's force has a larger standard deviation. Common practice, no source: converters
are quieter by far, and a person who stands at ease is not."""
BELIEVED_WITHIN_N = 20.0
_READ_PART = 0.9
PATIENCE_S = 10.0
"""Without a still second the calibration's zero stands after this long."""

_LOADED = "the zero was not taken: {load:.0f} N lay on the {side} plate; the calibration's own zero stands"
_RESTLESS = "the zero was not taken: the plates were not still for a second; the calibration's own zero stands"


class Zero:
    """Holds samples back until the zero is decided, then lets them through with it.

    `taken` is None while undecided, True where the zero was taken, False where the calibration's stands; `warning`
    says why. `load_N` is the newest total in the meantime.
    """

    def __init__(self, calibrator: Calibrator) -> None:
        self._calibrator = calibrator
        self.reset()

    def reset(self) -> None:
        """Forget the samples held back, and the decision."""
        self.taken: bool | None = None
        self.warning: str | None = None
        self.load_N: float | None = None
        self._held: list[Timed] = []
        self._checked = 0

    def push(self, timed: Timed) -> list[Timed]:
        """Return what may pass: nothing until the zero is decided, then all that was held back."""
        if self.taken is not None:
            return [timed]
        self._held.append(timed)
        self._decide()
        return [] if self.taken is None else self._release()

    def finish(self) -> list[Timed]:
        """At the end of a session without a decision the calibration's zero stands."""
        if self.taken is None and self._held:
            self._refuse(_RESTLESS)
        return self._release()

    def _release(self) -> list[Timed]:
        held, self._held = self._held, []
        return held

    def _decide(self) -> None:
        time_s = np.concatenate([timed.time_s for timed in self._held])
        readings = np.concatenate([timed.readings for timed in self._held], axis=1)
        forces = self._calibrator.forces_N(readings, self._calibrator.zero_counts)
        sides = self._calibrator.sides_N(forces)
        newest = sides[:, -1].sum()
        self.load_N = float(newest) if np.isfinite(newest) else None
        width = max(round(STILL_S / self._held[-1].interval_s), 2)
        end = self._first_still(time_s, sides, width)
        if end is not None:
            self._judge(readings[:, end - width : end], sides[:, end - width : end])
        elif time_s[-1] - time_s[0] >= PATIENCE_S:
            self._refuse(_RESTLESS)

    def _first_still(self, time_s: Floats, sides: Floats, width: int) -> int | None:
        """Return the index past the first still second that ends among the samples not yet looked at."""
        first = max(self._checked - width + 1, 0)
        late = np.flatnonzero(time_s - time_s[0] > PATIENCE_S)
        stop = int(late[0]) if late.size else time_s.size
        self._checked = time_s.size
        if stop - first < width:
            return None
        spans = time_s[first + width - 1 : stop] - time_s[first : stop - width + 1]
        still = (_spread(sides[:, first:stop], width) <= STILL_SD_N).all(axis=0) & (spans < 1.1 * STILL_S)
        found = np.flatnonzero(still)
        return None if not found.size else first + int(found[0]) + width

    def _judge(self, readings: Floats, sides: Floats) -> None:
        load_N = np.nanmean(sides, axis=1)
        if (np.abs(load_N) <= BELIEVED_WITHIN_N).all():
            self._calibrator.zero_counts = np.nanmean(readings[self._calibrator.force_rows], axis=1, keepdims=True)
            self.taken = True
        else:
            worst = int(np.argmax(np.abs(load_N)))
            self._refuse(_LOADED.format(load=load_N[worst], side=("left", "right")[worst]))

    def _refuse(self, warning: str) -> None:
        self.taken, self.warning = False, warning


def _spread(x: Floats, width: int) -> Floats:
    """Return the standard deviation of every window of `x` (k, n), shape (k, n - width + 1).

    A reading that is missing here and there is passed over; a window in which more are missing is never still.
    """
    known = sliding_window_view(~np.isnan(x), width, axis=1)
    windows = sliding_window_view(np.nan_to_num(x), width, axis=1)
    count = np.maximum(known.sum(axis=-1), 1)
    off = (windows - (windows.sum(axis=-1) / count)[..., None]) * known
    spread: Floats = np.sqrt((off * off).sum(axis=-1) / count)
    return np.where(count >= _READ_PART * width, spread, np.inf)
