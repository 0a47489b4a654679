"""Left against right over the virtual scales' links, where both ways are alike: what was asked for, by seed.

Each reading is the true instant at which it was taken, so that the difference of both sides is the error itself.
Clocks are off by up to 100 ppm, the left one's ticks wrap; by `bursts` all is held up for up to 60 ms at a time, and
one packet in two hundred never comes.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.stamped import Told, tell_instants

SOON_S, SOON_MS = 10.0, 10.0
LATE_S, LATE_MS = 60.0, 5.0
LINKS = ("cable", "air", "bursts")


def hold(spec: str, seconds: float = 90.0) -> Told:
    """10 ms after 10 s, and 5 ms after 60 s, at the 95th percentile, are what was asked for."""
    told = tell_instants(spec, seconds)
    assert told.worst_ms(SOON_S) < SOON_MS
    assert told.worst_ms(LATE_S) < LATE_MS
    assert (np.diff(told.time_s) > 0.0).all()
    return told


@pytest.mark.parametrize("link", [pytest.param("cable", marks=pytest.mark.soak), *LINKS[1:]])
def test_left_is_with_right_by_every_link(link: str) -> None:
    """By `bursts` this very seed was 5.1 ms off, before PINGs were timed by what comes."""
    hold(f"seed=2,link={link}")


def test_left_is_with_right_again_after_a_restart() -> None:
    told = hold("seed=1,link=bursts,faults=one-restarts", 110.0)
    assert [scale.restarts for scale in told.alignment.scales] == [0, 2]


@pytest.mark.soak
@pytest.mark.parametrize("link", LINKS)
@pytest.mark.parametrize("seed", range(11, 31))
def test_left_is_with_right_whatever_the_seed(link: str, seed: int) -> None:
    hold(f"seed={seed},link={link}", 120.0)
