"""When the window paints."""

from __future__ import annotations

from itertools import pairwise

import pytest

from weightshare.window.pace import Pace

FRAME_S = 1 / 60


def paints(data_every_s: float, seconds: float = 2.0) -> list[tuple[float, float]]:
    """Return when was painted, and how long the newest sample had been there, looking every 4 ms."""
    pace, painted = Pace(FRAME_S), []
    for step in range(round(seconds / 0.004)):
        now_s = step * 0.004
        sample_s = now_s // data_every_s * data_every_s
        if pace.is_due(sample_s, now_s):
            painted.append((now_s, now_s - sample_s))
    return painted


def first_waits(data_every_s: float) -> list[float]:
    """Return how long each sample waited for its first paint, sorted."""
    firsts: dict[int, float] = {}
    for now_s, wait_s in paints(data_every_s):
        firsts.setdefault(round((now_s - wait_s) / data_every_s), wait_s)
    return sorted(firsts.values())


def test_news_at_the_pipelines_rate_are_painted_as_they_come() -> None:
    waits = first_waits(0.02)
    assert len(waits) == 100 and waits[-1] <= 0.004 + 1e-9


@pytest.mark.parametrize("data_every_s", [0.02, 0.025, 0.0333, 0.05])
def test_no_news_wait_for_a_whole_frame(data_every_s: float) -> None:
    assert first_waits(data_every_s)[-1] <= 0.8 * FRAME_S + 0.004 + 1e-9


@pytest.mark.parametrize("data_every_s", [0.001, 0.01, 0.02, 0.05, 10.0])
def test_the_rate_is_near_the_displays_whatever_comes(data_every_s: float) -> None:
    times = [now_s for now_s, _wait in paints(data_every_s)]
    gaps = [later - earlier for earlier, later in pairwise(times)]
    assert min(gaps) >= 0.8 * FRAME_S - 1e-9 and max(gaps) <= 1.5 * FRAME_S + 0.004 + 1e-9


def test_nothing_is_painted_twice_at_once() -> None:
    pace = Pace(FRAME_S)
    assert pace.is_due(None, 5.0) and not pace.is_due(None, 5.0) and not pace.is_due(1.0, 5.0)
    assert pace.is_due(1.0, 5.0 + 0.81 * FRAME_S)
