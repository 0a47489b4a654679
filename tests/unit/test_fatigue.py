"""Fatigue in a set: first repetitions against last ones."""

from __future__ import annotations

import pytest

from tests.unit.series import make_raise, make_series
from weightshare.exercise import Basis
from weightshare.pipeline.fatigue import find_fatigue


def test_the_first_three_are_held_against_the_last_three() -> None:
    """100, 90, 80 to 60, 50, 40: from 90 to 50 mm is a fall of 400/9 %."""
    fatigue = find_fatigue(make_series([100.0, 90.0, 80.0, 0.0, 60.0, 50.0, 40.0]))
    assert fatigue is not None
    assert fatigue.repetitions_each == 3
    assert fatigue.height_fall_percent == pytest.approx(400.0 / 9.0)


@pytest.mark.parametrize("heights", [[100.0, 80.0, 70.0, 65.0], [100.0, 80.0, 1.0, 70.0, 65.0]])
def test_of_four_or_five_the_first_two_against_the_last_two(heights: list[float]) -> None:
    fatigue = find_fatigue(make_series(heights))
    assert fatigue is not None
    assert fatigue.repetitions_each == 2
    assert fatigue.height_fall_percent == pytest.approx(25.0)


def test_three_are_too_few() -> None:
    assert find_fatigue(make_series([100.0, 80.0, 60.0])) is None


def test_shares_fall_in_points() -> None:
    shares = [76.0, 75.0, 74.0, 70.0, 70.0, 70.0]
    fatigue = find_fatigue([make_raise(5.0 * k, share_lowering_percent=share) for k, share in enumerate(shares)])
    assert fatigue is not None
    assert fatigue.share_fall_points == pytest.approx(5.0)
    assert fatigue.height_fall_percent == 0.0


def test_slower_is_a_fall_of_tempo_and_hurried_a_gain() -> None:
    """4 s a repetition is 15 a minute, 5 s 12 a minute: a fall of 20 %, or a gain of 25 %."""
    times = [4.0, 4.0, 4.0, 5.0, 5.0, 5.0]
    slower = find_fatigue([make_raise(6.0 * k, lasts_s) for k, lasts_s in enumerate(times)])
    hurried = find_fatigue([make_raise(6.0 * k, lasts_s) for k, lasts_s in enumerate(times[::-1])])
    assert slower is not None and slower.tempo_fall_percent == pytest.approx(20.0)
    assert hurried is not None and hurried.tempo_fall_percent == pytest.approx(-25.0)


def test_the_other_leg_s_work_is_told_of_the_other_leg() -> None:
    rows = [(8.0, 100.0)] * 3 + [(12.0, 75.0)] * 3
    repetitions = [
        make_raise(5.0 * k, share_lowering_percent=share, height_uninjured_mm=height, height_injured_mm=0.0)
        for k, (share, height) in enumerate(rows)
    ]
    fatigue = find_fatigue(repetitions, injured_works=False)
    assert fatigue is not None
    assert fatigue.share_fall_points == pytest.approx(4.0)
    assert fatigue.height_fall_percent == pytest.approx(25.0)


def test_what_is_not_known_of_one_is_not_told() -> None:
    repetitions = make_series([100.0] * 6)
    repetitions[1] = make_raise(5.0, height_injured_mm=None, end_s=None)
    fatigue = find_fatigue(repetitions)
    assert fatigue is not None
    assert fatigue.height_fall_percent is None and fatigue.tempo_fall_percent is None
    assert fatigue.share_fall_points == 0.0


def test_a_metronome_s_tempo_does_not_tire() -> None:
    fatigue = find_fatigue([make_raise(5.0 * k, basis=Basis.PACED, height_injured_mm=None) for k in range(8)])
    assert fatigue is not None
    assert fatigue.tempo_fall_percent is None and fatigue.height_fall_percent is None
