"""Where the centre of mass is at rest with the heels down, by the forces on a tape."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.counting import make_ground, trace_motion
from tests.unit.raises import WEIGHT_N, Scene, raises
from weightshare.exercise import Exercise
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.pipeline.figure import to_rows
from weightshare.pipeline.footing import ForceRows, Raised, find_course, find_landed_s, find_level_N, find_low
from weightshare.pipeline.forefoot import Stay
from weightshare.pipeline.tape import Tape
from weightshare.task import Settings

SETTINGS = Settings(Side.LEFT, exercise=Exercise.RAISE)
MASS_KG = WEIGHT_N / STANDARD_GRAVITY


def taped(scene: Scene, noise_percent: float = 0.0) -> tuple[Tape, float]:
    """Return the tape of a scene, and the filter's delay."""
    trace = scene.trace(100.0, noise_percent=noise_percent)
    motion = trace_motion(trace, SETTINGS)
    rows = to_rows(motion, Side.LEFT)
    assert motion.parts_N is not None
    rows[ForceRows.SIGNAL] = motion.parts_N[::2].sum(axis=0) / motion.parts_N.sum(axis=0)
    rows[ForceRows.TOTAL_N] = motion.total_N
    tape = Tape(len(ForceRows))
    tape.push(motion.time_s, rows)
    return tape, make_ground(trace, SETTINGS).delay_s


def one(first_s: float, rest_s: float, level_N: float = WEIGHT_N, *, continues: bool = False) -> Raised:
    return Raised(first_s, rest_s, level_N, Stay(first_s, 0.42, 0.85), continues=continues)


def test_the_weight_is_the_mean_of_standing() -> None:
    tape, _ = taped(raises((1.0, 1.0, 2.0), 1))
    tape.values[ForceRows.TOTAL_N] += np.where(tape.time_s < 2.0, 50.0, 3.0)
    assert find_level_N(tape, [], 4.8, 2.0, 1.0) == pytest.approx(WEIGHT_N + 3.0, abs=0.01)


def test_the_weight_is_the_mean_from_rest_to_rest() -> None:
    """Going up and down from rest to rest takes no impulse."""
    scene = raises((1.0, 1.0, 2.0), 3, pause_s=0.0)
    tape, delay_s = taped(scene)
    rests_s = [5.0 + delay_s, 9.0 + delay_s]
    assert find_level_N(tape, rests_s, 13.0 + delay_s, 0.0, 1.0) == pytest.approx(WEIGHT_N, abs=0.2)
    assert find_level_N(tape, [12.5], 13.0 + delay_s, 12.4, 321.0) == 321.0


def test_what_is_not_known_long_enough_is_the_weight_that_was_told() -> None:
    tape, _ = taped(raises((1.0, 1.0, 2.0), 1))
    assert find_level_N(tape, [], 4.8, 4.0, 321.0) == 321.0


def test_the_course_is_that_of_the_centre_of_mass() -> None:
    scene = raises((1.0, 1.0, 2.0), 1, height_mm=80.0)
    tape, delay_s = taped(scene)
    time_s, speed, place = find_course(tape, one(5.0, 4.9), MASS_KG, 6.5)
    np.testing.assert_allclose(place, 0.75e-3 * scene.heel.at(time_s - delay_s), atol=6e-4)
    assert speed.max() == pytest.approx(0.06 * 1.875, rel=0.03)


@pytest.mark.parametrize("bias_N", [0.0, 0.15, -0.15])
def test_the_low_between_two_raises_is_found_in_spite_of_an_error_of_weight(bias_N: float) -> None:
    tape, delay_s = taped(raises((1.0, 0.4, 1.0), 2, pause_s=0.0))
    low = find_low(tape, one(5.0, 4.9, WEIGHT_N + bias_N), MASS_KG, (6.8, 7.8))
    assert low.turn_s == pytest.approx(7.4 + delay_s, abs=0.06)
    assert low.part < 0.2
    assert low.high_m == pytest.approx(0.056, abs=0.006)


def test_in_a_chain_the_first_speed_may_be_wrong() -> None:
    tape, delay_s = taped(raises((1.0, 0.4, 1.0), 2, pause_s=0.0))
    late = one(5.3, 5.15 + delay_s, continues=True)
    assert find_low(tape, late, MASS_KG, (6.8, 7.8)).turn_s == pytest.approx(7.4 + delay_s, abs=0.1)


def test_a_bounce_at_the_top_is_no_low() -> None:
    scene = Scene()
    scene.heel.move(1.0, 75.0).move(0.3, -8.0).move(0.3, 8.0).rest(0.5).move(1.0, -75.0)
    tape, _ = taped(scene)
    assert find_low(tape, one(5.0, 4.9), MASS_KG, (6.0, 6.7)).part > 0.5


def test_the_heels_are_down_soon_after_the_load_is_half_way_back() -> None:
    tape, delay_s = taped(raises((1.0, 1.0, 2.0), 1, pause_s=3.0))
    landed_s = find_landed_s(tape, 9.1, 20.0)
    assert 9.1 < landed_s < 9.2 + delay_s + 0.1
    assert find_landed_s(tape, 9.1, 9.12) == pytest.approx(9.12)
    assert find_landed_s(tape, 9.1, 9.0) == 9.1
    tape.values[ForceRows.SIGNAL] = np.nan
    assert find_landed_s(tape, 9.1, 20.0) == pytest.approx(9.7)
