"""How far the centre of mass goes up between two rests, and how well that is known."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.raises import least_jerk
from weightshare.model import Floats
from weightshare.pipeline.travel import LIKELY, NOISE_M2_S3, Travel, integrate_twice, misfit, tie

RATE_HZ = 100.0


def course_of(place_m: Floats, time_s: Floats) -> tuple[Floats, Floats]:
    """Return speed and place of a course, integrated from its acceleration by differences."""
    return integrate_twice(time_s, np.gradient(np.gradient(place_m, time_s), time_s))


def noise_courses(
    whole_s: float, count: int, density: float = NOISE_M2_S3
) -> tuple[Floats, list[tuple[Floats, Floats]]]:
    """Return times, and courses of speed and place that white noise of acceleration makes."""
    rng = np.random.default_rng(1)
    time_s = np.arange(round(whole_s * RATE_HZ) + 1) / RATE_HZ
    sd = np.sqrt(density * RATE_HZ)
    return time_s, [integrate_twice(time_s, rng.normal(0.0, sd, time_s.size)) for _ in range(count)]


def test_a_course_from_rest_to_rest_stays_as_it_is() -> None:
    time_s = np.arange(601) / RATE_HZ
    place_m = 0.06 * (least_jerk((time_s - 0.5) / 1.5) - least_jerk((time_s - 3.0) / 2.5))
    travel = tie(time_s, *course_of(place_m, time_s))
    np.testing.assert_allclose(travel.height_mm, 1000.0 * place_m, atol=0.05)
    assert travel.noise == NOISE_M2_S3


def test_an_error_of_weight_and_its_drift_are_taken_off() -> None:
    time_s = np.arange(601) / RATE_HZ
    place_m = 0.06 * (least_jerk((time_s - 0.5) / 1.5) - least_jerk((time_s - 3.0) / 2.5))
    acceleration = np.gradient(np.gradient(place_m, time_s), time_s) + 0.004 - 0.002 * time_s
    travel = tie(time_s, *integrate_twice(time_s, acceleration))
    np.testing.assert_allclose(travel.height_mm, 1000.0 * place_m, atol=0.1)


def test_both_ends_are_at_rest_at_the_level() -> None:
    time_s, courses = noise_courses(5.0, 1)
    height = tie(time_s, *courses[0]).height_mm
    assert height[0] == 0.0
    assert height[-1] == pytest.approx(0.0, abs=1e-9)
    assert abs(height[1] - height[0]) < 1e-3
    assert abs(height[-1] - height[-2]) < 1e-3


@pytest.mark.parametrize("whole_s", [3.0, 8.0])
def test_the_error_is_that_of_a_beam_clamped_at_both_ends(whole_s: float) -> None:
    time_s, courses = noise_courses(whole_s, 2000)
    heights = np.array([tie(time_s, *course).height_mm for course in courses])
    travel = Travel(time_s, heights[0])
    places = [int(part * whole_s * RATE_HZ) for part in (0.2, 0.35, 0.5, 0.8)]
    seen = np.cov(heights[:, places].T)
    expected = travel.covariance_mm2(time_s[places], time_s[places])
    np.testing.assert_allclose(seen, expected, atol=0.1 * expected.max())
    np.testing.assert_allclose(heights[:, places].std(axis=0), travel.sd_mm(time_s[places]), rtol=0.08)


def test_the_beam_at_its_middle() -> None:
    """The deflection of a clamped beam at its middle is T^3 / 192, by any table of beams."""
    travel = Travel(np.array([2.0, 10.0]), np.zeros(2))
    middle = np.array([6.0])
    assert travel.covariance_mm2(middle, middle)[0, 0] == pytest.approx(1e6 * NOISE_M2_S3 * 8.0**3 / 192.0)
    assert travel.sd_mm(np.array([2.0, 10.0])).tolist() == [0.0, 0.0]


def test_the_misfit_of_noise_is_one() -> None:
    """Without an error of the weight that was averaged before, a part of what is allowed for is not there."""
    _, courses = noise_courses(5.0, 4000)
    rng = np.random.default_rng(2)
    weights = rng.normal(0.0, np.sqrt(NOISE_M2_S3 / 5.0), len(courses))
    ends = [
        (speed[-1] + error * 5.0, place[-1] + error * 12.5)
        for (speed, place), error in zip(courses, weights, strict=True)
    ]
    fits = np.array([misfit(5.0, float(speed), float(place)) for speed, place in ends])
    assert fits.mean() == pytest.approx(1.0, abs=0.06)
    assert (fits > LIKELY).mean() < 1e-3


def test_a_hand_on_something_is_noise_beyond_standing() -> None:
    time_s = np.arange(601) / RATE_HZ
    pull = np.where(time_s > 3.0, -0.3, 0.0)
    travel = tie(time_s, *integrate_twice(time_s, pull))
    assert travel.noise > 100.0 * NOISE_M2_S3
    assert travel.sd_mm(np.array([3.0]))[0] > 20.0


def test_times_may_be_uneven() -> None:
    rng = np.random.default_rng(3)
    time_s = np.sort(rng.uniform(0.0, 6.0, 900))
    place_m = 0.06 * (least_jerk((time_s - 0.5) / 1.5) - least_jerk((time_s - 3.0) / 2.5))
    step = 1e-3
    levels = [
        0.06 * (least_jerk((time_s + at - 0.5) / 1.5) - least_jerk((time_s + at - 3.0) / 2.5))
        for at in (-step, 0, step)
    ]
    acceleration = (levels[0] - 2.0 * levels[1] + levels[2]) / step**2
    np.testing.assert_allclose(
        tie(time_s, *integrate_twice(time_s, acceleration)).height_mm, 1000.0 * place_m, atol=0.1
    )
