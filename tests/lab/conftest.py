"""Laboratory streams made with the library itself, on this machine only (see the settings in tests/conftest.py)."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from typing import Any
from uuid import uuid4

import numpy as np
import pytest

from weightshare.model import Floats

RATE_HZ = 100.0


class Laboratory:
    """An outlet of a laboratory: `labels` and `units` describe its channels; `push` sends samples with their stamps."""

    def __init__(
        self,
        name: str,
        labels: Sequence[str] = ("Left Fz", "Right Fz"),
        units: Sequence[str] = ("N", "N"),
        *,
        rate_Hz: float = RATE_HZ,
        source: str = "plates-1",
        kind: str = "double64",
    ) -> None:
        import pylsl

        self.name = name
        self.rate_Hz = rate_Hz
        info = pylsl.StreamInfo(name, "Force", len(labels), rate_Hz, kind, source)
        channels = info.desc().append_child("channels")
        for label, unit in zip(labels, units, strict=True):
            channel = channels.append_child("channel")
            channel.append_child_value("label", label)
            channel.append_child_value("unit", unit)
        self.outlet: Any = pylsl.StreamOutlet(info)
        self.sent = 0
        self._begin_s = pylsl.local_clock()

    def push(self, forces: Floats, skip: int = 0) -> None:
        """Send rows of samples, stamped one after the other however quickly they are sent; `skip` samples are lost."""
        self.sent += skip
        for row in forces:
            self.outlet.push_sample(row.tolist(), self._begin_s + self.sent / self.rate_Hz)
            self.sent += 1

    def leave(self) -> None:
        """End the stream, as a program that is closed does."""
        self.outlet = None


def person(share: float = 0.75, empty_s: float = 2.0, seconds: float = 20.0, weight_N: float = 700.0) -> Floats:
    """Return who steps on after a while and sways, N, shape (n, 2); `share` is the right side's."""
    time_s = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    total = np.where(time_s < empty_s, 0.0, weight_N)
    right = share + 0.01 * np.sin(2.0 * np.pi * 0.3 * time_s)
    return np.stack([total * (1.0 - right), total * right], axis=1)


@pytest.fixture
def name() -> str:
    """A name that no other stream has."""
    return f"Plates {uuid4().hex[:8]}"


@pytest.fixture
def wait_until() -> Callable[..., None]:
    """Wait for a condition, with a bound."""

    def wait(condition: Callable[[], bool], within_s: float = 10.0) -> None:
        until_s = time.monotonic() + within_s
        while not condition():
            assert time.monotonic() < until_s, "what was waited for did not happen in time"
            time.sleep(0.005)

    return wait
