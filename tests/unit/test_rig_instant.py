"""True instants and figures against cases made by hand, whose answers can be read off the drawing."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from weightshare.exercise import Exercise
from weightshare.model import Floats, Side
from weightshare.scales.rig.instant import Instants, Window, cross, find_instants
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.tally import Course, in_band, share_of, tell_figures, tell_heights
from weightshare.scales.rig.uphold import tell_holds

TIME_S: Floats = np.arange(0.0, 20.0, 0.005)


def ramps(*corners: tuple[float, float]) -> Floats:
    """Straight lines between corners (time, value)."""
    times, values = zip(*corners, strict=True)
    drawn: Floats = np.interp(TIME_S, times, values)
    return drawn


TRAPEZOID = ramps((4.0, 0.0), (5.0, 100.0), (7.0, 100.0), (9.0, 0.0))
WINDOW = Window(3.9, 9.1)


def course(left_N: Floats, right_N: Floats, height: Floats = TRAPEZOID, injured: Side = Side.LEFT) -> Course:
    parts = np.stack((0.6 * left_N, 0.4 * left_N, 0.5 * right_N, 0.5 * right_N), axis=1)
    return Course(TIME_S, parts, np.stack((height, 0.9 * height), axis=1), injured)


def test_a_trapezoid_of_100_mm_has_its_phases_at_10_and_90_mm() -> None:
    found = find_instants(TIME_S, TRAPEZOID, WINDOW)
    assert found is not None
    assert (found.before_mm, found.plateau_mm, found.after_mm, found.height_mm) == (0.0, 100.0, 0.0, 100.0)
    assert (found.start_s, found.top_s, found.lowering_s, found.end_s) == pytest.approx((4.1, 4.9, 7.2, 8.8))


def test_on_a_step_the_levels_before_and_after_may_differ() -> None:
    height = ramps((4.0, -25.0), (5.0, 75.0), (7.0, 75.0), (9.0, -15.0))
    found = find_instants(TIME_S, height, WINDOW)
    assert found is not None
    assert (found.before_mm, found.plateau_mm, found.after_mm) == pytest.approx((-25.0, 75.0, -15.0))
    # down from 90 % to 10 % of the 90 mm that are between 75 and -15
    assert (found.start_s, found.top_s, found.lowering_s, found.end_s) == pytest.approx((4.1, 4.9, 7.2, 8.8))


def test_the_plateau_is_a_median_and_a_peak_on_it_no_height() -> None:
    height = TRAPEZOID + ramps((5.9, 0.0), (6.0, 12.0), (6.1, 0.0))
    found = find_instants(TIME_S, height, WINDOW)
    assert found is not None
    assert found.height_mm == pytest.approx(100.0)


def test_a_rise_that_stops_and_falls_back_counts_from_its_last_10_percent_to_its_first_90() -> None:
    height = ramps(
        (4.0, 0.0), (4.3, 30.0), (4.6, 5.0), (5.5, 95.0), (5.6, 85.0), (5.8, 100.0), (7.0, 100.0), (9.0, 0.0)
    )
    found = find_instants(TIME_S, height, WINDOW)
    assert found is not None
    way = found.plateau_mm
    assert found.start_s == pytest.approx(4.6 + 0.9 * (0.1 * way - 5.0) / 90.0, abs=1e-6)
    assert found.top_s == pytest.approx(4.6 + 0.9 * (0.9 * way - 5.0) / 90.0, abs=1e-6)


def test_a_slow_end_is_told_from_the_second_after_the_lift() -> None:
    # 15 mm over the floor at 9 s, then 5 mm a second: the lowest of the following second is 10 mm
    height = ramps((4.0, 0.0), (5.0, 100.0), (7.0, 100.0), (9.0, 15.0), (12.0, 0.0))
    found = find_instants(TIME_S, height, Window(3.9, 12.1))
    assert found is not None
    assert found.after_mm == pytest.approx(10.0, abs=0.05)
    assert found.end_s == pytest.approx(7.0 + 2.0 * (100.0 - 19.0) / 85.0, abs=0.01)


def test_neighbours_do_not_reach_in() -> None:
    # the heel was lower before the movement before, and goes lower in the next
    height = ramps((0.0, -20.0), (1.5, 60.0), (3.0, 0.0), (4.0, 0.0), (5.0, 100.0), (7.0, 100.0), (9.0, 0.0))
    height = np.minimum(height, ramps((9.3, 200.0), (9.3001, 0.0), (9.6, -40.0)))
    found = find_instants(TIME_S, height, Window(3.9, 9.1, earliest_s=3.0, latest_s=9.2))
    assert found is not None
    assert (found.before_mm, found.after_mm) == pytest.approx((0.0, 0.0))


@pytest.mark.parametrize(
    ("height", "window"),
    [
        (np.zeros_like(TIME_S), WINDOW),
        (ramps((4.0, 0.0), (5.0, 14.0), (7.0, 0.0)), WINDOW),
        (ramps((4.0, 0.0), (5.0, 100.0)), WINDOW),
        (TRAPEZOID, Window(3.9, 8.0, latest_s=8.0)),
        (TRAPEZOID, Window(30.0, 31.0)),
    ],
    ids=["lying", "under 15 mm", "never back", "cut off on the way", "beyond the end"],
)
def test_what_is_not_done_to_its_end_has_no_instants(height: Floats, window: Window) -> None:
    assert find_instants(TIME_S, height, window) is None


def test_crossings_lie_between_the_samples() -> None:
    time_s, values = np.array([0.0, 1.0, 2.0, 3.0]), np.array([0.0, 2.0, 0.0, 4.0])
    assert cross(time_s, values, 1.0, up=True) == pytest.approx([0.5, 2.25])
    assert cross(time_s, values, 1.0, up=False) == pytest.approx([1.5])
    assert cross(time_s, values, 9.0, up=True).size == 0


def test_90_and_60_percent_are_a_mean_of_75_with_nothing_in_the_band() -> None:
    # the way down from 90 to 10 mm takes 1.6 s: 90 % for its first half, 60 % for its second
    left = np.where(TIME_S < 8.0, 630.0, 420.0)
    seen = course(left, 700.0 - left)
    instants = find_instants(TIME_S, TRAPEZOID, WINDOW)
    assert instants is not None
    told = tell_figures(seen, instants, Side.LEFT, (75.0, 5.0))
    assert told["share_lowering_percent"] == pytest.approx(75.0, abs=0.1)
    assert told["share_lowering_thirds_percent"] == pytest.approx([90.0, 75.0, 60.0], abs=0.3)
    assert told["lowering_in_band_percent"] == pytest.approx(0.0, abs=0.4)
    assert told["lowering_least_N"] == 420.0
    assert (told["rise_duration_s"], told["top_duration_s"], told["lowering_duration_s"]) == pytest.approx(
        (0.8, 2.3, 1.6)
    )
    assert told["share_rise_percent"] == pytest.approx(90.0)
    assert told["top_height_sd_mm"] == pytest.approx(TRAPEZOID[(TIME_S > 4.9) & (TIME_S < 7.2)].std(), abs=0.05)


def test_a_share_is_one_of_impulses_and_not_a_mean_of_shares() -> None:
    # 100 N of 100 for one second, 0 N of 300 for the next: half of the time, a quarter of the impulse
    left = np.where(TIME_S < 1.0, 100.0, 0.0)
    right = np.where(TIME_S < 1.0, 0.0, 300.0)
    assert share_of(course(left, right).stretch(0.0, 2.0)) == pytest.approx(25.0, abs=0.2)
    assert share_of(course(0 * left, 0 * right)) is None


@pytest.mark.parametrize("injured", Side)
def test_heights_of_both_heels_are_told_by_their_own_sides(injured: Side) -> None:
    seen = course(np.full_like(TIME_S, 350.0), np.full_like(TIME_S, 350.0), injured=injured)
    told = tell_heights(seen, WINDOW)
    left, right = ("injured", "uninjured") if injured is Side.LEFT else ("uninjured", "injured")
    assert (told[f"height_{left}_mm"], told[f"height_{right}_mm"]) == pytest.approx((100.0, 90.0))


def test_time_in_the_band_is_interpolated_to_the_step() -> None:
    left = ramps((0.0, 60.0), (10.0, 90.0), (20.0, 90.0))
    seen = course(left, 100.0 - left).stretch(0.0, 10.0)
    assert in_band(seen, 75.0, 5.0) == pytest.approx(1 / 3, abs=0.001)


def holds_of(left: Floats, height: Floats, **task: Any) -> dict[str, Any]:
    asked = Task(exercise=Exercise.HEEL_HOLD, **task)
    return tell_holds(course(left, 700.0 - left, height), asked, 700.0, 80.0)


def test_a_hold_needs_the_band_and_both_heels_over_half_of_a_full_raise() -> None:
    inside = np.where((TIME_S > 5.0) & (TIME_S < 15.0), 525.0, 350.0)
    # the good heel is at 90 % of the injured one, and so the later of the two over 40 mm
    height = ramps((6.0, 0.0), (7.0, 80.0), (13.0, 80.0), (14.0, 0.0))
    told = holds_of(inside, height)
    over_s = 40.0 / 72.0
    (hold,) = told["holds"]
    assert (hold["start_s"], hold["end_s"]) == pytest.approx((6.0 + over_s, 14.0 - over_s), abs=0.01)
    assert hold["held_s"] == pytest.approx(8.0 - 2 * over_s, abs=0.02)
    assert told["band"]["time_in_band_s"] == pytest.approx(10.0, abs=0.02)
    assert told["total_held_s"] == told["longest_hold_s"] == hold["held_s"]


def test_flat_on_the_floor_nothing_is_held() -> None:
    told = holds_of(np.full_like(TIME_S, 350.0), np.zeros_like(TIME_S), target_percent=50.0)
    assert told["holds"] == []
    assert (told["total_held_s"], told["longest_hold_s"]) == (0.0, 0.0)
    assert told["band"]["time_in_band_s"] == pytest.approx(20.0, abs=0.01)
    assert told["band"]["time_in_band_heels_up_s"] == 0.0


def test_grace_joins_what_is_held_and_a_long_absence_parts_it() -> None:
    up = np.full_like(TIME_S, 80.0)
    out = ((TIME_S > 5.0) & (TIME_S < 5.8)) | ((TIME_S > 10.0) & (TIME_S < 11.5)) | ((TIME_S > 12.0) & (TIME_S < 13.5))
    told = holds_of(np.where(out, 350.0, 525.0), up)
    assert [hold["held_s"] for hold in told["holds"]] == pytest.approx([9.2, 6.5], abs=0.03)


def test_who_steps_off_ends_the_hold_at_once() -> None:
    left = np.full_like(TIME_S, 525.0)
    gone = (TIME_S > 5.0) & (TIME_S < 5.3)
    seen = course(np.where(gone, 0.0, left), np.where(gone, 0.0, 175.0), np.full_like(TIME_S, 80.0))
    told = tell_holds(seen, Task(exercise=Exercise.HEEL_HOLD), 700.0, 80.0)
    assert len(told["holds"]) == 2


def test_levels_of_a_movement_are_taken_from_after_to_plateau() -> None:
    instants = Instants(-25.0, 75.0, -15.0, 0.0, 0.0, 0.0, 0.0)
    assert [instants.level_mm(part) for part in (0.0, 0.5, 1.0)] == pytest.approx([-15.0, 30.0, 75.0])
