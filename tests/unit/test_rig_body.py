"""Foot and lever by plain numbers: where the load lies, what a sensor sees, what rising adds to the total."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.scales.rig import body

TIME_S: Floats = np.arange(0.0, 12.0, 0.001)
STILL: Floats = np.zeros_like(TIME_S)


def test_the_part_on_the_front_supports_says_where_the_load_lies() -> None:
    assert body.front_part(0.0) == 0.5
    assert body.front_part(120.0) == 1.0
    assert body.front_part(-120.0) == 0.0
    # the ball of the foot of somebody of 1.72 m, whose heel stands 90 mm behind the middle
    ball_y_mm = body.HEEL_Y_MM + body.ball_mm(1.72)
    assert ball_y_mm == pytest.approx(92.0, abs=0.1)
    assert body.front_part(ball_y_mm) == pytest.approx(0.883, abs=0.001)


def test_a_sensor_forward_of_the_heel_sees_less_of_its_height() -> None:
    assert body.seen_part(0.0, 1.72) == 1.0
    assert body.seen_part(40.0, 1.72) == pytest.approx(0.78, abs=0.001)
    assert body.seen_part(40.0, 1.93) > body.seen_part(40.0, 1.53)


@pytest.mark.parametrize(("a_minute", "percent"), [(30.0, 5.0), (15.0, 1.3)])
def test_a_sinusoidal_rise_of_10_cm_changes_the_total_as_by_newton(a_minute: float, percent: float) -> None:
    # (h / 2) (2 pi f)^2 / g of body weight, computed by hand: 5.03 % and 1.26 %
    omega = 2 * np.pi * a_minute / 60.0
    half_mm = 50.0 / body.LEVER  # of the heels: the centre of mass then rises by 100 mm from end to end
    wave = half_mm * np.sin(omega * TIME_S)
    heel = wave, half_mm * omega * np.cos(omega * TIME_S), -(omega**2) * wave
    even = np.full_like(TIME_S, 0.5), STILL, STILL
    part = body.thrust(body.centre_acceleration(even, [heel, heel]))
    assert 100.0 * part.max() == pytest.approx(percent, abs=0.06)
    assert 100.0 * part.min() == pytest.approx(-percent, abs=0.06)


def test_the_centre_of_mass_rides_on_the_heel_that_bears() -> None:
    rising = 0.5 * 300.0 * TIME_S**2, 300.0 * TIME_S, np.full_like(TIME_S, 300.0)
    lying = STILL, STILL, STILL
    for part in (0.0, 0.25, 1.0):
        share = np.full_like(TIME_S, part), STILL, STILL
        acceleration = body.centre_acceleration(share, [rising, lying])
        assert acceleration == pytest.approx(np.full_like(TIME_S, part * body.LEVER * 0.3))


def test_a_shift_between_heels_of_different_height_moves_the_centre_too() -> None:
    # the height of the centre itself, differentiated twice by differences
    share = 0.5 + 0.3 * np.sin(TIME_S), 0.3 * np.cos(TIME_S), -0.3 * np.sin(TIME_S)
    high = 80.0 + 20.0 * np.cos(2 * TIME_S), -40.0 * np.sin(2 * TIME_S), -80.0 * np.cos(2 * TIME_S)
    low = np.full_like(TIME_S, 60.0), STILL, STILL
    centre_m = body.LEVER / 1000.0 * (share[0] * high[0] + (1 - share[0]) * low[0])
    twice = np.diff(centre_m, 2) / 0.001**2
    assert body.centre_acceleration(share, [high, low])[1:-1] == pytest.approx(twice, abs=1e-5)


def test_there_is_less_room_to_sway_on_the_ball_of_the_foot() -> None:
    sway = np.random.default_rng(1).standard_normal(20000)
    standing = body.sway_front(np.full_like(sway, 0.42), sway)
    up = body.sway_front(np.full_like(sway, 0.86), sway)
    assert standing == pytest.approx(np.clip(0.42 + body.FRONT_SWAY * sway, 0.01, 0.99))
    assert up.std() == pytest.approx(0.4 * body.FRONT_SWAY, rel=0.05)
    assert body.sway_front(np.array([0.9]), np.array([50.0]))[0] <= 0.99
