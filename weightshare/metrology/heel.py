"""What the height of a heel is worth, and what was lifted over it."""

from __future__ import annotations

import math

from weightshare.model import Calibration, HeelWorth

_ROOT3 = math.sqrt(3.0)
"""A limit that is all that is known is divided by it: a rectangular distribution (JCGM 100:2008, 4.3.7)."""
SENSOR_MM = 2.0
"""Within so much a sensor reads from 0 to 120 mm, once it has passed its test (see hardware/bench-tests.md, 12)."""
PLACE_MM = 5.0
"""Within so much the toe stop brings a foot back to its place: common practice, no source."""
PLACE_PART_PER_MM = 0.0054
"""So much less of its height a heel shows for each mm that the foot is out of place (see hardware/mechanics.md)."""
STANDARD_HEEL = HeelWorth(SENSOR_MM / _ROOT3, PLACE_PART_PER_MM * PLACE_MM / _ROOT3)


def heel_of(calibration: Calibration) -> tuple[HeelWorth, bool]:
    """Return what heights from a scale with this calibration are worth, and whether that is assumed: the standard
    build's, where nobody measured it."""
    told = None if calibration.worth is None else calibration.worth.heel
    return (STANDARD_HEEL, True) if told is None else (told, False)


def height_u_mm(heel: HeelWorth, height_mm: float) -> float:
    """Return the standard uncertainty of a height, mm. It stays the same from one repetition to the next."""
    return math.hypot(heel.height_mm, heel.place_part * height_mm)


def travel_u_J(heel: HeelWorth, travel_J: float, height_mm: float, force_part: float) -> float:
    """Return the standard uncertainty of load x heel travel, J, over that height; `force_part`: of the load.

    Load and height are independent factors (JCGM 100:2008, 5.1.6). Without height there is no travel, and no doubt.
    """
    if not height_mm > 0.0:
        return 0.0
    return abs(travel_J) * math.hypot(force_part, height_u_mm(heel, height_mm) / height_mm)
