"""From a load over the ceiling to its alarm, over a real pseudo-terminal: 150 ms in all, paint and sound among them."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from weightshare.exercise import Ceiling, Exercise
from weightshare.model import Side
from weightshare.practice.engine import Engine
from weightshare.practice.flow import Flow
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import AlarmKind
from weightshare.task import Goal, Settings

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are POSIX's")

RATE_HZ, FRAME_ROWS = 80.0, 4
COUNT_N = 0.01
LIGHT_N, PULSE_N, TOTAL_N = 130.0, 260.0, 700.0
CEILING = Ceiling(kg=20.0)
"""196 N."""
FIRST_S, EVERY_S, PULSE_S, PULSES = 4.0, 3.2, 0.25, 3
WITHIN_S = 0.11
"""What is left for paint and sound of 150 ms: a frame at 60 Hz, and the sound's own buffer."""


class Presses:
    """Somebody who stands mostly on the right foot, and presses the left one for a moment now and then."""

    def __init__(self) -> None:
        self.pressed_s: list[float] = []
        """When the first sample of each press was taken, on the host's clock."""

    def __call__(self, sample: int) -> tuple[int, int]:
        time_s = sample / RATE_HZ
        if time_s < 2.0:
            return 0, 0
        turn, since_s = divmod(time_s - FIRST_S, EVERY_S)
        pressing = 0.0 <= turn < PULSES and since_s < PULSE_S
        if pressing and since_s < 0.5 / RATE_HZ:
            # samples of one frame are told together, when its last one was taken
            self.pressed_s.append(time.monotonic() - (FRAME_ROWS - 1 - sample % FRAME_ROWS) / RATE_HZ)
        left_N = PULSE_N if pressing else LIGHT_N
        return round(left_N / COUNT_N), round((TOTAL_N - left_N) / COUNT_N)


def test_a_press_over_the_ceiling_is_alarmed_about_in_time(
    tiny_pty: Callable[..., Any], tiny_calibration: Path, tmp_path: Path
) -> None:
    presses = Presses()
    host = tiny_pty(presses, RATE_HZ)
    settings = Settings(Side.LEFT, exercise=Exercise.RAISE, ceiling=CEILING)
    options = PractiseOptions(settings, Goal(), (host.source,), (tiny_calibration,), save=tmp_path)
    engine, flow = Engine(options), Flow(settings, Goal(), host.source)
    alarmed_s: list[float] = []
    pause = threading.Event()
    engine.start()
    try:
        end_s, alarm = time.monotonic() + FIRST_S + EVERY_S * PULSES, None
        while time.monotonic() < end_s and len(alarmed_s) + (alarm is None) <= PULSES:
            before, alarm = alarm, flow.update(engine.view())[0].alarm
            if alarm is not None and before is None:
                assert alarm.kind is AlarmKind.OVER
                alarmed_s.append(time.monotonic())
            pause.wait(0.002)
    finally:
        finished = engine.stop()
    assert len(alarmed_s) == len(presses.pressed_s) == PULSES
    late_s = [seen - pressed for seen, pressed in zip(alarmed_s, presses.pressed_s, strict=True)]
    assert 0.0 < median(late_s) <= WITHIN_S, late_s
    assert finished.analysis is not None and finished.analysis.ceiling is not None
    assert [event.peak_N for event in finished.analysis.ceiling] == pytest.approx([PULSE_N] * PULSES, abs=0.5)
    assert [event.duration_s for event in finished.analysis.ceiling] == pytest.approx([PULSE_S] * PULSES, abs=0.03)
