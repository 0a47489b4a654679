"""What the shift of the load from leg to leg does to the centre of mass is learnt while the heels are down."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.raises import least_jerk
from weightshare.model import Floats
from weightshare.pipeline.shift import LEAST_S, MOST_M, Shift
from weightshare.pipeline.travel import integrate_twice

RATE_HZ = 100.0
TIME_S = np.arange(131) / RATE_HZ
RISE_M = 0.06


def shares(time_s: Floats, by: float = -0.25) -> Floats:
    """Return a share that moves by a quarter of the load within half a second."""
    return 0.75 + by * least_jerk((time_s - 0.4) / 0.5)


def accelerations(time_s: Floats, by: float = -0.25) -> Floats:
    """Return the acceleration of a centre of mass that goes with the share."""
    step = 1e-3
    levels = [RISE_M * shares(time_s + at, by) for at in (-step, 0.0, step)]
    bend: Floats = (levels[0] - 2.0 * levels[1] + levels[2]) / step**2
    return bend


def test_nothing_is_expected_at_first() -> None:
    assert Shift().rise_m == 0.0


def test_what_goes_with_the_share_is_learnt() -> None:
    shift = Shift()
    shift.learn(TIME_S, accelerations(TIME_S) + 0.01, shares(TIME_S))
    once = shift.rise_m
    assert once == pytest.approx(RISE_M, rel=0.2)
    for by in (0.25, -0.25, 0.2):
        shift.learn(TIME_S, accelerations(TIME_S, by), shares(TIME_S, by))
    assert once < shift.rise_m == pytest.approx(RISE_M, rel=0.06)


def test_who_stands_still_teaches_nothing() -> None:
    rng = np.random.default_rng(1)
    shift = Shift()
    for _ in range(20):
        share = 0.5 + 0.002 * rng.normal(size=TIME_S.size)
        shift.learn(TIME_S, 0.02 * rng.normal(size=TIME_S.size), share)
    assert abs(shift.rise_m) < 0.1 * RISE_M


def test_too_short_a_stretch_teaches_nothing() -> None:
    shift = Shift()
    short = TIME_S < LEAST_S - 0.02
    shift.learn(TIME_S[short], accelerations(TIME_S)[short], shares(TIME_S)[short])
    assert shift.rise_m == 0.0


def test_what_is_not_read_is_passed_over() -> None:
    acceleration = accelerations(TIME_S)
    acceleration[60:63] = np.nan
    shift = Shift()
    shift.learn(TIME_S, acceleration, shares(TIME_S))
    assert shift.rise_m == pytest.approx(RISE_M, rel=0.25)
    shift.learn(TIME_S, np.full(TIME_S.size, np.nan), shares(TIME_S))
    assert np.isfinite(shift.rise_m)


def test_no_shift_moves_the_body_by_more_than_a_hand_s_breadth() -> None:
    shift = Shift()
    shift.learn(TIME_S, 100.0 * accelerations(TIME_S), shares(TIME_S))
    assert shift.rise_m == MOST_M


def test_its_course_is_that_of_the_share_from_rest_on() -> None:
    shift = Shift()
    for _ in range(100):
        shift.learn(TIME_S, accelerations(TIME_S), shares(TIME_S))
    inside = slice(55, 100)
    speed, place = shift.course(TIME_S[inside], TIME_S, shares(TIME_S))
    expected_speed, expected_place = integrate_twice(TIME_S[inside], accelerations(TIME_S)[inside])
    np.testing.assert_allclose(place, expected_place, atol=6e-4)
    assert speed[-1] == pytest.approx(expected_speed[-1], abs=6e-3)
    assert place[0] == speed[0] == 0.0


def test_its_speed_is_that_of_the_share() -> None:
    shift = Shift()
    for _ in range(100):
        shift.learn(TIME_S, accelerations(TIME_S), shares(TIME_S))
    fastest = 1.875 * -0.25 * RISE_M / 0.5
    assert shift.speed_m_s(TIME_S, shares(TIME_S), 0.65) == pytest.approx(fastest, rel=0.1)
    assert shift.speed_m_s(TIME_S[:0], TIME_S[:0], 0.65) == 0.0
