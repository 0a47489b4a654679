"""How high the heels are drawn, in parts of a full raise."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from tests.unit.series import make_series
from weightshare.exercise import Basis, Exercise, Surface
from weightshare.model import Side
from weightshare.practice.heel import HeelGauge
from weightshare.practice.screen import Heels
from weightshare.state import Snapshot, State
from weightshare.task import Settings

LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING)


def shot(left_mm: float | None, right_mm: float | None, state: State = State.AT_BOTTOM, **more: Any) -> Snapshot:
    values: dict[str, Any] = {"heels_seen": True, "basis": Basis.HEIGHT} | more
    return snapshot(state, left_height_mm=left_mm, right_height_mm=right_mm, **values)


def seen(gauge: HeelGauge, snapshot: Snapshot, settings: Settings = LOWERING) -> Heels:
    heels = gauge.push(snapshot, settings)
    assert heels is not None
    return heels


def test_the_level_of_standing_on_the_floor_is_the_lowest_so_far() -> None:
    """A sensor that sits 6 mm high shows 0 while its foot stands flat, and 80 mm above that is a full raise."""
    gauge = HeelGauge()
    assert seen(gauge, shot(6.0, 2.0)).left == 0.0
    raised = seen(gauge, shot(46.0, 82.0))
    assert (raised.left, raised.right) == (0.5, 1.0)
    assert seen(gauge, shot(4.0, 2.0)).left == 0.0


def test_on_a_step_a_heel_may_be_below_the_level_of_standing() -> None:
    step = replace(LOWERING, surface=Surface.STEP, reference_height_mm=100.0)
    heels = seen(HeelGauge(), shot(-25.0, 70.0), step)
    assert (heels.left, heels.right) == (-0.25, 0.7)


def test_a_full_raise_is_the_stages_or_the_mean_of_those_so_far_or_a_first_guess() -> None:
    lifts = tuple(make_series([90.0, 110.0]))
    for settings, repetitions, full_mm in (
        (replace(LOWERING, reference_height_mm=60.0), lifts, 60.0),
        (LOWERING, lifts, 100.0),
        (LOWERING, (), 80.0),
        (replace(LOWERING, exercise=Exercise.SINGLE_RAISE, working=Side.LEFT), lifts, 80.0),
    ):
        gauge = HeelGauge()
        seen(gauge, shot(0.0, 0.0), settings)
        heels = seen(gauge, shot(40.0, 40.0, repetitions=repetitions), settings)
        assert getattr(heels, settings.working_side) == pytest.approx(40.0 / full_mm)


def test_a_foot_that_hangs_has_no_height() -> None:
    """In single-leg raises the other foot's heel filled its gauge to the top."""
    single = replace(LOWERING, exercise=Exercise.SINGLE_RAISE, working=Side.LEFT)
    heels = seen(HeelGauge(), shot(40.0, 120.0), single)
    assert heels.left is not None and heels.right is None


@pytest.mark.parametrize(
    ("settings", "heights_mm", "goal_mm"),
    [
        (LOWERING, [], 30.0),
        (LOWERING, [80.0, 90.0, 130.0], 45.0),
        (replace(LOWERING, reference_height_mm=100.0), [80.0], 50.0),
        (replace(LOWERING, exercise=Exercise.HEEL_HOLD), [], 30.0),
        (replace(LOWERING, exercise=Exercise.HEEL_HOLD, reference_height_mm=70.0), [], 35.0),
    ],
)
def test_the_goal_is_where_the_pipeline_counts_from(
    settings: Settings, heights_mm: list[float], goal_mm: float
) -> None:
    """Half of the reference: the stage's, else the median of the raises so far, else 60 mm."""
    lifts = tuple(make_series(heights_mm))
    gauge = HeelGauge()
    seen(gauge, shot(0.0, 0.0), settings)
    heels = seen(gauge, shot(0.0, goal_mm, repetitions=lifts), settings)
    assert heels.goal == pytest.approx(heels.right)


def test_by_force_there_is_no_height_from_which_on_it_counts() -> None:
    assert seen(HeelGauge(), shot(0.0, 10.0, basis=Basis.FORCE)).goal is None


def test_what_is_not_read_is_not_shown_and_nobody_moves_the_level() -> None:
    gauge = HeelGauge()
    seen(gauge, shot(5.0, 5.0))
    gone = seen(gauge, shot(-40.0, None, State.NOBODY))
    assert gone.left is None and gone.right is None
    assert seen(gauge, shot(5.0, None)) == Heels(0.0, None, 30.0 / 80.0)


def test_without_sensors_or_raises_there_is_no_gauge() -> None:
    assert HeelGauge().push(shot(None, None, heels_seen=False), LOWERING) is None
    for exercise in (None, Exercise.HOLD, Exercise.SQUAT):
        assert HeelGauge().push(shot(5.0, 5.0), replace(LOWERING, exercise=exercise)) is None
