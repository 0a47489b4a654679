"""Body and foot in figures: from heel heights and load to the forces on the supports."""

from __future__ import annotations

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Floats

SUPPORT_MM = 120.0
"""The front supports lie so far before the middle of a plate, the rear ones so far behind."""
HEEL_Y_MM = -90.0
"""Where on the plate the heel is, and under it the height sensor."""
BALL_PART = 0.1058
"""From the heel to the ball of the foot, in parts of the stature: 182 mm of 1.72 m. The foot turns about the ball."""
LEVER = 0.75
"""The centre of mass rises with the ankle, by this part of the heel's travel: so far between ball and heel it lies."""
FRONT_SWAY = 0.03
"""Standard deviation of the front part while standing."""
_LEAST_SWAY = 0.4
"""The part of it that is left on the ball of the foot."""


def front_part(y_mm: float) -> float:
    """Return the part of a load on the front supports whose centre lies at `y_mm`, forward of the plate's middle."""
    return (y_mm + SUPPORT_MM) / (2 * SUPPORT_MM)


def ball_mm(stature_m: float) -> float:
    """Return how far the ball of the foot is before the heel, mm."""
    return 1000.0 * BALL_PART * stature_m


def seen_part(placement_mm: float, stature_m: float) -> float:
    """Return the part of the heel's height that a sensor `placement_mm` forward of the heel sees."""
    return 1.0 - placement_mm / ball_mm(stature_m)


def sway_front(front: Floats, sway: Floats) -> Floats:
    """Return front parts with the feet's sway (in standard deviations); on the ball there is less room to sway."""
    room = np.clip((0.93 - front) / 0.4, _LEAST_SWAY, 1.0)
    swayed: Floats = front + FRONT_SWAY * sway * room
    return np.clip(swayed, 0.01, 0.99)


def centre_acceleration(share: tuple[Floats, Floats, Floats], heels: list[tuple[Floats, Floats, Floats]]) -> Floats:
    """Return the upward acceleration (m/s^2) of the centre of mass as it rides on two heels.

    `share` is the injured side's part of the load, 0 to 1; `heels` are the injured and the good heel's heights (mm);
    each as value, speed and acceleration, shape (n,). The centre's height is the heels' mean, weighted by load, times
    the lever; this is its second derivative.
    """
    part, part_speed, part_bend = share
    (injured, injured_speed, injured_bend), (good, good_speed, good_bend) = heels
    bend: Floats = part * injured_bend + (1 - part) * good_bend
    bend = bend + 2 * part_speed * (injured_speed - good_speed) + part_bend * (injured - good)
    return LEVER * bend / 1000.0


def thrust(acceleration: Floats) -> Floats:
    """Return the total's change in parts of body weight for an upward acceleration (m/s^2): F = m (g + a)."""
    part: Floats = acceleration / STANDARD_GRAVITY
    return part
