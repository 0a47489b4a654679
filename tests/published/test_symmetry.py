"""Worked examples of share and symmetry."""

from __future__ import annotations

import math

import pytest

from weightshare.cli.split import split_load
from weightshare.pipeline.symmetry import limb_symmetry_index, symmetry_angle, symmetry_index


def test_right_25_and_left_20() -> None:
    """Left over right 80, right share 55.556; symmetry index 22.222 (Robinson, Herzog and Nigg, 1987, J Manipulative
    Physiol Ther 10:172); symmetry angle 7.0447 in size (Zifchock, Davis, Higginson and Royer, 2008, Gait Posture
    27:622).
    """
    assert limb_symmetry_index(20.0, 25.0) == pytest.approx(80.0)
    assert symmetry_index(20.0, 25.0) == pytest.approx(22.222, abs=5e-4)
    assert symmetry_angle(20.0, 25.0) == pytest.approx(7.0447, abs=5e-5)
    assert split_load(20.0, 25.0, "right")["share_percent"] == pytest.approx(55.556, abs=5e-4)


@pytest.mark.parametrize(("injured", "uninjured"), [(20.0, 25.0), (3.0, 7.0), (630.0, 70.0)])
def test_the_symmetry_angle_is_the_papers_formula(injured: float, uninjured: float) -> None:
    """Zifchock and others (2008), symmetry angle: (45 deg - arctan(X_left / X_right)) / 90 deg x 100 %."""
    by_hand = 100.0 * (math.pi / 4 - math.atan(injured / uninjured)) / (math.pi / 2)
    assert symmetry_angle(injured, uninjured) == pytest.approx(by_hand)
