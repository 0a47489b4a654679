"""A raise's instants by the travel of the centre of mass, and when they cannot be told."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.raises import least_jerk, when
from tests.unit.test_travel import RATE_HZ, noise_courses
from weightshare.model import Floats
from weightshare.pipeline.ascent import Allowed, find_ascent, possible_lift_mm, sure_lift_mm
from weightshare.pipeline.travel import NOISE_M2_S3, Travel, tie

LEAVES, REACHES = when(0.1), when(0.9)


def raised(rise_s: float, top_s: float, lowering_s: float, height_mm: float = 56.0) -> tuple[Travel, Floats]:
    """Return a travel at rest for 0.2 s at both ends, and its four instants."""
    down_s = 0.2 + rise_s + top_s
    time_s = np.arange(round((down_s + lowering_s + 0.2) * RATE_HZ) + 1) / RATE_HZ
    height = height_mm * (least_jerk((time_s - 0.2) / rise_s) - least_jerk((time_s - down_s) / lowering_s))
    instants = (
        0.2 + LEAVES * rise_s,
        0.2 + REACHES * rise_s,
        down_s + LEAVES * lowering_s,
        down_s + REACHES * lowering_s,
    )
    return Travel(time_s, height), np.array(instants)


@pytest.mark.parametrize("tempo", [(0.8, 0.4, 1.0), (1.0, 1.0, 2.0), (2.0, 2.0, 4.0)])
def test_instants_are_those_of_ten_and_ninety_percent(tempo: tuple[float, float, float]) -> None:
    travel, instants = raised(*tempo)
    ascent = find_ascent(travel)
    assert ascent is not None
    shape = ascent.shape
    assert shape.height_mm == pytest.approx(56.0, abs=0.2)
    np.testing.assert_allclose([shape.start_s, shape.top_s, shape.lowering_s, shape.end_s], instants, atol=0.02)
    told = ascent.tell(Allowed())
    assert None not in (told.start_s, told.top_s, told.lowering_s, told.end_s)


@pytest.mark.parametrize("tempo", [(1.0, 1.0, 2.0), (2.0, 2.0, 4.0), (1.0, 6.0, 2.0)])
def test_nine_errors_in_ten_stay_under_what_is_expected(tempo: tuple[float, float, float]) -> None:
    travel, instants = raised(*tempo)
    ascent = find_ascent(travel)
    assert ascent is not None
    _, courses = noise_courses(float(travel.time_s[-1]), 400)
    misses = [errors(travel, course, instants) for course in courses]
    seen = np.quantile(np.abs(np.array([miss for miss in misses if miss is not None])), 0.9, axis=0)
    assert len([miss for miss in misses if miss is not None]) > 390
    expected = np.array(ascent.errors_s)
    assert np.all(seen < 1.5 * expected + 0.01)
    assert np.all(seen > 0.5 * expected - 0.01)


def errors(travel: Travel, course: tuple[Floats, Floats], instants: Floats) -> Floats | None:
    """Return the errors of the instants of a travel with noise; None where they cannot be had."""
    noise = tie(travel.time_s, *course).height_mm
    ascent = find_ascent(Travel(travel.time_s, travel.height_mm + noise))
    if ascent is None:
        return None
    shape = ascent.shape
    return np.array([shape.start_s, shape.top_s, shape.lowering_s, shape.end_s]) - instants


def test_what_is_too_slow_is_not_told() -> None:
    travel, _ = raised(6.0, 4.0, 12.0)
    ascent = find_ascent(travel)
    assert ascent is not None
    told = ascent.tell(Allowed())
    assert (told.top_s, told.lowering_s, told.end_s) == (None, None, None)


def test_what_is_told_of_a_slow_raise_is_within_what_is_allowed() -> None:
    travel, instants = raised(4.0, 3.0, 8.0)
    _, courses = noise_courses(float(travel.time_s[-1]), 200)
    told = []
    for course in courses:
        ascent = find_ascent(Travel(travel.time_s, travel.height_mm + tie(travel.time_s, *course).height_mm))
        if ascent is not None:
            told.append(ascent.tell(Allowed()))
    tops = np.array([one.top_s - instants[1] for one in told if one.top_s is not None])
    lowerings = np.array([one.lowering_s - instants[2] for one in told if one.lowering_s is not None])
    assert tops.size > 100 and lowerings.size > 100
    assert np.quantile(np.abs(tops), 0.9) < 0.4
    assert np.quantile(np.abs(lowerings), 0.9) < 0.8


def test_noise_makes_errors_larger_and_instants_unknown() -> None:
    travel, _ = raised(1.0, 1.0, 2.0)
    quiet, told = (find_ascent(Travel(travel.time_s, travel.height_mm, part * NOISE_M2_S3)) for part in (1.0, 25.0))
    assert quiet is not None and told is not None
    np.testing.assert_allclose(told.errors_s, 5.0 * np.array(quiet.errors_s))
    loud = find_ascent(Travel(travel.time_s, travel.height_mm, 400.0 * NOISE_M2_S3))
    assert loud is not None
    instants = loud.tell(Allowed())
    assert instants.start_s is not None
    assert (instants.top_s, instants.lowering_s, instants.end_s) == (None, None, None)


@pytest.mark.parametrize("height", [np.zeros(200), -np.ones(200), np.linspace(0.0, 50.0, 200), np.zeros(3)])
def test_what_does_not_come_back_is_no_raise(height: Floats) -> None:
    assert find_ascent(Travel(np.arange(height.size) / RATE_HZ, height)) is None


def test_a_lift_is_sure_beyond_two_errors() -> None:
    travel, _ = raised(1.0, 1.0, 1.0)
    assert 50.0 < sure_lift_mm(travel) < 56.0 < possible_lift_mm(travel)
    still = Travel(travel.time_s, np.zeros(travel.time_s.size))
    assert sure_lift_mm(still) == 0.0
    assert possible_lift_mm(still) == pytest.approx(2.0 * still.sd_mm(still.time_s).max())
    assert possible_lift_mm(still, errors=1.0) == pytest.approx(still.sd_mm(still.time_s).max())
