"""The check of left and right: forces in, verdict out."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Side
from weightshare.practice.check import SideCheck, Verdict

WEIGHT_N = 700.0
RATE_HZ = 50.0


class Someone:
    """Pushes what two feet do into a check."""

    def __init__(self, named: Side) -> None:
        self.check = SideCheck(named, WEIGHT_N)
        self._time_s = 0.0

    def stand(self, left_N: float, right_N: float, seconds: float, sway_N: float = 0.0) -> Verdict:
        for _ in range(round(seconds * RATE_HZ)):
            self._time_s += 1 / RATE_HZ
            sway = sway_N * np.sin(2 * np.pi * 0.3 * self._time_s)
            self.check.push(self._time_s, left_N + sway, right_N - sway)
        return self.check.verdict


@pytest.mark.parametrize("named", list(Side))
@pytest.mark.parametrize(("rest", "press"), [((60.0, 60.0), (100.0, 62.0)), ((350.0, 350.0), (420.0, 275.0))])
def test_the_named_foot_passes_and_the_other_is_swapped(
    named: Side, rest: tuple[float, float], press: tuple[float, float]
) -> None:
    """From a chair both feet weigh some 120 N; standing they carry everything."""
    for pressed, verdict in ((named, Verdict.PASSED), (named.other, Verdict.SWAPPED)):
        someone = Someone(named)
        assert someone.stand(*rest, 1.2) is Verdict.ASKING
        left_right = press if pressed is Side.LEFT else press[::-1]
        assert someone.stand(*left_right, 1.5) is verdict


def test_quiet_sway_is_no_lean() -> None:
    """Five points of share to each side is what quiet standing does."""
    someone = Someone(Side.LEFT)
    someone.stand(350.0, 350.0, 1.2)
    assert someone.stand(350.0, 350.0, 30.0, sway_N=35.0) is Verdict.ASKING


def test_nothing_is_asked_while_nobody_is_still() -> None:
    someone = Someone(Side.LEFT)
    assert someone.stand(350.0, 350.0, 5.0, sway_N=90.0) is Verdict.SETTLING


def test_sitting_down_is_no_press() -> None:
    someone = Someone(Side.LEFT)
    someone.stand(350.0, 350.0, 1.2)
    assert someone.stand(30.0, 90.0, 0.5) is Verdict.SETTLING
    assert someone.stand(30.0, 90.0, 1.2) is Verdict.ASKING
    assert someone.stand(75.0, 90.0, 1.0) is Verdict.PASSED


def test_a_touch_is_too_short() -> None:
    someone = Someone(Side.RIGHT)
    someone.stand(60.0, 60.0, 1.2)
    assert someone.stand(60.0, 110.0, 0.4) is Verdict.ASKING
    assert someone.stand(60.0, 60.0, 0.4) is Verdict.ASKING


def test_a_second_try_forgets_the_first() -> None:
    someone = Someone(Side.RIGHT)
    someone.stand(350.0, 350.0, 1.2)
    assert someone.stand(430.0, 270.0, 2.0) is Verdict.SWAPPED
    someone.check.again()
    assert someone.stand(350.0, 350.0, 1.2) is Verdict.ASKING
    assert someone.stand(270.0, 430.0, 1.0) is Verdict.PASSED


def test_the_same_instant_twice_counts_once() -> None:
    """The window asks faster than samples come."""
    check = SideCheck(Side.LEFT, WEIGHT_N)
    for _ in range(200):
        assert check.push(1.0, 350.0, 350.0) is Verdict.SETTLING


def test_progress_grows_with_the_press_and_never_for_the_other_foot() -> None:
    someone = Someone(Side.RIGHT)
    someone.stand(60.0, 60.0, 1.2)
    seen = []
    for right_N in (60.0, 70.0, 80.0):
        someone.stand(60.0, right_N, 0.2)
        seen.append(someone.check.progress)
    assert seen[0] == 0.0 and seen == sorted(seen) and seen[2] == pytest.approx(20.0 / 35.0, abs=0.02)
    someone.stand(100.0, 60.0, 0.2)
    assert someone.check.progress == 0.0
