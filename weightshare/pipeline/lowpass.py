"""The live filter: a second-order Butterworth low-pass, causal, started in its steady state."""

from __future__ import annotations

import importlib.machinery
import importlib.util
import math
from collections.abc import Callable
from functools import cache
from pathlib import PurePath
from typing import TypeAlias

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.block import GAP_INTERVALS, Block, Integers, find_runs, join

Kernel: TypeAlias = Callable[[Floats, Floats, Floats], None]

_UNRESOLVED = GAP_INTERVALS - 1.0
"""Intervals after its last reading up to which a missing run may still turn out short."""

_HALF_RATE = 0.5 - 1e-6
"""Cut-off over rate; an interval that is the difference of two rounded times must not let a half pass."""


def delay_s(cutoff_Hz: float | None) -> float:
    """Return the filter's delay (s) at low frequencies: sqrt(2) / (2 pi f), the slope of its phase at 0 Hz."""
    return 0.0 if cutoff_Hz is None else math.sqrt(2.0) / (2.0 * math.pi * cutoff_Hz)


def can_filter(cutoff_Hz: float, interval_s: float) -> bool:
    """Return whether samples at this interval allow this cut-off: it has to lie under half their rate."""
    return cutoff_Hz * interval_s < _HALF_RATE


def design(cutoff_Hz: float, rate_Hz: float) -> Floats:
    """Return the section (1, 6) of a second-order Butterworth low-pass by the bilinear transform with prewarping.

    Source: Oppenheim and Schafer, Discrete-Time Signal Processing, bilinear transformation of the Butterworth
    prototype (from memory); a test holds it against scipy.signal.butter.
    """
    k = math.tan(math.pi * cutoff_Hz / rate_Hz)
    scale = 1.0 / (1.0 + math.sqrt(2.0) * k + k * k)
    gain = k * k * scale
    poles = (2.0 * (k * k - 1.0) * scale, (1.0 - math.sqrt(2.0) * k + k * k) * scale)
    return np.array([[gain, 2.0 * gain, gain, 1.0, *poles]])


def steady_state(section: Floats) -> Floats:
    """Return the state (2,) in which the section gives out 1 for ever while it is fed with 1."""
    b0, b1, b2, _, a1, a2 = section[0]
    gain = (b0 + b1 + b2) / (1.0 + a1 + a2)
    return np.array([gain - b0, b2 - a2 * gain])


def load_kernel() -> Kernel:
    """Return scipy's compiled section filter: kernel(sections, x (k, n), state (k, 1, 2)), x and state in place.

    Only the compiled file is loaded where that works: the whole of scipy.signal takes a second to import, which a
    patient would wait through. Otherwise the public function serves; a test holds that both give the same bits.
    """
    package = importlib.util.find_spec("scipy")
    for folder in (package.submodule_search_locations or []) if package else []:
        finder = importlib.machinery.PathFinder.find_spec("_sosfilt", [str(PurePath(folder) / "signal")])
        try:
            if finder is not None and finder.loader is not None:
                module = importlib.util.module_from_spec(finder)
                finder.loader.exec_module(module)
                kernel: Kernel = module._sosfilt
                kernel(np.array([[1.0, 0, 0, 1, 0, 0]]), np.zeros((1, 1)), np.zeros((1, 1, 2)))
                return kernel
        except (ImportError, AttributeError, TypeError, ValueError):
            break
    return public_kernel


def public_kernel(sections: Floats, x: Floats, state: Floats) -> None:
    """Filter `x` (k, n) in place with scipy.signal.sosfilt, keeping `state` (k, 1, 2)."""
    from scipy.signal import sosfilt

    x[:], after = sosfilt(sections, x, axis=1, zi=np.swapaxes(state, 0, 1))
    state[:] = np.swapaxes(after, 0, 1)


@cache
def the_kernel() -> Kernel:
    """Return the filter. The first call loads it, which may take a tenth of a second."""
    return load_kernel()


def run_kernel(sections: Floats, x: Floats, state: Floats) -> None:
    """Filter `x` (k, n) in place, keeping `state` (k, 1, 2)."""
    the_kernel()(sections, x, state)


class LowPass:
    """Filters each row of a block by itself.

    A missing run of up to three intervals is interpolated for the filter and stays missing in the result; after a
    longer one the row starts anew, in its steady state. Up to three rows are held back while it is open which it is.
    """

    def __init__(self, cutoff_Hz: float | None) -> None:
        self.cutoff_Hz = cutoff_Hz
        self.reset()

    def reset(self) -> None:
        """Forget the filter's state and what is held back."""
        self._section: Floats | None = None
        self._interval_s = 0.0
        self._pending: Block | None = None
        self._state = np.zeros((0, 1, 2))
        self._last_s = np.zeros(0)
        self._last = np.zeros(0)

    def push(self, block: Block) -> Block:
        """Return the rows that are decided, filtered."""
        if not block.time_s.size:
            return block
        if block.interval_s != self._interval_s or block.values.shape[0] != self._last.size:
            self._start(block)
        data = join(self._pending, block)
        missing = np.isnan(data.values)
        if not missing.any():
            self._pending = None
            return self._filter_whole(data)
        return self._filter_patched(data, missing)

    def finish(self) -> Block | None:
        """Give out what is still held back: its readings end here, so it is missing."""
        pending, self._pending = self._pending, None
        if pending is None:
            return None
        values = np.full_like(pending.values, np.nan)
        return Block(pending.interval_s, pending.columns, pending.time_s, values, pending.flags)

    def _start(self, block: Block) -> None:
        rows = block.values.shape[0]
        self._interval_s = block.interval_s
        self._section = None if self.cutoff_Hz is None else design(self.cutoff_Hz, 1.0 / block.interval_s)
        self._state = np.zeros((rows, 1, 2))
        self._last_s, self._last = np.full(rows, -np.inf), np.zeros(rows)

    def _filter_whole(self, data: Block) -> Block:
        """The usual case: no reading is missing, so all rows go through at once."""
        values = np.array(data.values, dtype=np.float64, order="C")
        stale = data.time_s[0] - self._last_s > GAP_INTERVALS * self._interval_s
        self._last_s[:], self._last[:] = data.time_s[-1], values[:, -1]
        if self._section is not None:
            if stale.any():
                self._state[stale, 0] = steady_state(self._section) * values[stale, :1]
            run_kernel(self._section, values, self._state)
        return Block(data.interval_s, data.columns, data.time_s, values, data.flags)

    def _filter_patched(self, data: Block, missing: Bools) -> Block:
        stop = self._decided(data, missing)
        values = np.array(data.values, dtype=np.float64, order="C")
        for row in range(values.shape[0]):
            places = np.flatnonzero(missing[row])
            self._filter_row(row, data.time_s, places, values, stop)
            values[row, places] = np.nan
        self._pending = data.cut(stop) if stop < data.time_s.size else None
        return Block(data.interval_s, data.columns, data.time_s[:stop], values[:, :stop], data.flags[:stop])

    def _decided(self, data: Block, missing: Bools) -> int:
        """Return how many rows can be given out: those before the first missing run that may yet turn out short."""
        stop = data.time_s.size
        for row in np.flatnonzero(missing[:, -1]):
            present = np.flatnonzero(~missing[row])
            first = int(present[-1]) + 1 if present.size else 0
            last_s = data.time_s[present[-1]] if present.size else self._last_s[row]
            if data.time_s[-1] - last_s <= _UNRESOLVED * self._interval_s:
                stop = min(stop, first)
        return stop

    def _filter_row(self, row: int, time_s: Floats, missing: Integers, values: Floats, stop: int) -> None:
        """Filter one row in place up to `stop`, stretch by stretch; stretches are parted by gaps."""
        x = values[row]
        begins, ends = find_runs(missing)
        gaps = ~self._bridge(row, time_s, x, missing, (begins, ends))
        edges = [0, *np.stack((begins[gaps], ends[gaps]), axis=1).ravel().tolist(), x.size]
        goes_on = time_s[0] - self._last_s[row] <= GAP_INTERVALS * self._interval_s
        newest = int(begins.searchsorted(stop)) - 1
        last = stop - 1 if newest < 0 or ends[newest] < stop else int(begins[newest]) - 1
        if last >= 0:
            self._last_s[row], self._last[row] = time_s[last], x[last]
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            piece = values[row : row + 1, start : min(end, stop)]
            if piece.size and self._section is not None:
                if start or not goes_on:
                    self._state[row, 0] = steady_state(self._section) * piece[0, 0]
                run_kernel(self._section, piece, self._state[row : row + 1])

    def _bridge(self, row: int, time_s: Floats, x: Floats, missing: Integers, runs: tuple[Integers, Integers]) -> Bools:
        """Put straight lines into the short ones of a row's missing runs; return which are short."""
        begins, ends = runs
        head, tail = begins == 0, ends == x.size
        before_s = np.where(head, self._last_s[row], time_s[begins - 1])
        before = np.where(head, self._last[row], x[begins - 1])
        span_s, rise = time_s[ends - tail] - before_s, x[ends - tail] - before
        short: Bools = ~tail & (span_s <= GAP_INTERVALS * self._interval_s)
        run = begins.searchsorted(missing, side="right") - 1
        missing, run = missing[short[run]], run[short[run]]
        x[missing] = before[run] + rise[run] / span_s[run] * (time_s[missing] - before_s[run])
        return short
