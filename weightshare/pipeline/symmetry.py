"""Symmetry of the two sides, from one number each (mean force, repetitions, height ...)."""

from __future__ import annotations

import math


def limb_symmetry_index(injured: float, uninjured: float) -> float | None:
    """Return 100 F_i / F_u in percent; above 100 the injured side carries more. None where F_u is 0.

    Source: the customary form of the index in rehabilitation (common practice, no source).
    """
    return 100.0 * injured / uninjured if uninjured else None


def symmetry_index(injured: float, uninjured: float) -> float | None:
    """Return 100 (F_u - F_i) / (0.5 (F_u + F_i)) in percent. None where the sum is 0.

    Source: Robinson, Herzog and Nigg (1987), J Manipulative Physiol Ther 10:172.
    """
    total = injured + uninjured
    return 100.0 * (uninjured - injured) / (0.5 * total) if total else None


def symmetry_angle(injured: float, uninjured: float) -> float | None:
    """Return 100 (45 deg - atan(F_i / F_u)) / 90 deg in percent. None where both are 0.

    Source: Zifchock, Davis, Higginson and Royer (2008), Gait Posture 27:622.
    """
    if not injured and not uninjured:
        return None
    return 100.0 * (45.0 - math.degrees(math.atan2(injured, uninjured))) / 90.0


def indices_u(lsi_percent: float, u_points: float) -> tuple[float, float, float]:
    """Return what an uncertainty of the share (points) leaves in the three indices, percent, in the order of this page.

    Of the share P in percent they are 100 P / (100 - P), 200 - 4 P, and (by the first as r) an angle; the slope of each
    is what u is multiplied by (JCGM 100:2008, 5.1.3).
    """
    u_lsi = ((100.0 + lsi_percent) / 100.0) ** 2 * u_points
    turn = math.degrees(1.0) / 90.0 / (1.0 + (lsi_percent / 100.0) ** 2)
    return u_lsi, 4.0 * u_points, turn * u_lsi
