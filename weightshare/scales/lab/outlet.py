"""A session's own forces, offered to a laboratory's network as they are measured."""

from __future__ import annotations

from typing import Any

import numpy as np

from weightshare.model import Floats
from weightshare.scales.lab.library import load_library
from weightshare.state import Results

CHANNELS = (("left_N", "N"), ("right_N", "N"), ("share_percent", "percent"))
FOLLOW_PART = 2e-4
"""How quickly the clock of a scale that runs slow is followed: more than any oscillator is off."""
KEEP_PART = 0.5
"""Stamps are never drawn back by more than this part of what has passed, so that they always increase."""


class SampleClock:
    """From sample time to the network's clock: the shortest way that a sample took is taken to be the way of all."""

    def __init__(self) -> None:
        self._ahead_s: float | None = None
        self._last_s = 0.0

    def place(self, time_s: Floats, now_s: float) -> Floats:
        """Return when samples at `time_s` (s of sample time, shape (n,)) were taken, by a clock that shows `now_s`."""
        newest_s = float(time_s[-1])
        offset_s = now_s - newest_s
        passed_s = newest_s - self._last_s
        if self._ahead_s is None:
            self._ahead_s = offset_s
        else:
            latest_s = self._ahead_s + FOLLOW_PART * passed_s
            self._ahead_s = max(min(offset_s, latest_s), self._ahead_s - KEEP_PART * passed_s / len(time_s))
        self._last_s = newest_s
        return time_s + self._ahead_s


class Outlet:
    """A stream of what a session measures: both forces (N) and the share (percent), each sample with its stamp.

    It appears on the network with the first samples. Raises OptionError where the extra `lsl` is not installed.
    """

    def __init__(self, name: str) -> None:
        self._lsl = load_library()
        self._name = name
        self._clock = SampleClock()
        self._outlet: Any = None

    def offer(self, results: Results, rate_Hz: float, device_id: str) -> None:
        """Send what a batch brought; one thread alone calls it. rate_Hz, device_id: the scale's own."""
        if not results.time_s.size:
            return
        if self._outlet is None:
            self._outlet = self._open(rate_Hz, device_id)
        rows = np.stack([results.left_N, results.right_N, results.share_percent], axis=1)
        stamps = self._clock.place(results.time_s, self._lsl.local_clock())
        for row, stamp in zip(rows.tolist(), stamps.tolist(), strict=True):
            self._outlet.push_sample(row, stamp)

    def close(self) -> None:
        """Take the stream off the network; closing twice is nothing."""
        self._outlet = None

    def _open(self, rate_Hz: float, device_id: str) -> Any:
        lsl = self._lsl
        info = lsl.StreamInfo(self._name, "Force", len(CHANNELS), rate_Hz, lsl.cf_double64, f"weightshare-{device_id}")
        channels = info.desc().append_child("channels")
        for label, unit in CHANNELS:
            channel = channels.append_child("channel")
            channel.append_child_value("label", label)
            channel.append_child_value("unit", unit)
            channel.append_child_value("type", "Force" if unit == "N" else "Share")
        return lsl.StreamOutlet(info)
