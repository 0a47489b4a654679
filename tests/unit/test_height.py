"""Repetitions by the heel's height: their instants, their figures, and what is not counted."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.unit.heels import PLAIN, analyse, heeled, with_column
from tests.unit.raises import Scene, raises
from weightshare.exercise import CUT_OFF, FOOT_LEFT, HALF_WAY, LOW, SHORT, TOO_LITTLE_LOAD, UNREAD, Basis, Exercise
from weightshare.model import Side
from weightshare.task import Settings

LEFT_HEEL = "left_heel_height_mm"


def test_each_raise_is_found_with_its_phases() -> None:
    scene = raises((1.0, 1.0, 2.0), 3)
    found = analyse(heeled(scene)).repetitions
    assert [one.basis for one in found] == [Basis.HEIGHT] * 3
    for one, true in zip(found, scene.truth, strict=True):
        assert one.start_s == pytest.approx(true.start_s, abs=0.02)
        assert one.end_s == pytest.approx(true.end_s, abs=0.02)
        assert one.top_s == pytest.approx(true.top_s, abs=0.02)
        assert one.lowering_s == pytest.approx(true.lowering_s, abs=0.02)
        assert one.height_injured_mm == pytest.approx(75.0, abs=0.3)


def test_durations_are_those_between_the_instants() -> None:
    one = analyse(heeled(raises((1.0, 1.0, 2.0), 1))).repetitions[0]
    assert one.start_s is not None and one.top_s is not None and one.lowering_s is not None and one.end_s is not None
    assert one.rise_duration_s == pytest.approx(one.top_s - one.start_s)
    assert one.top_duration_s == pytest.approx(one.lowering_s - one.top_s)
    assert one.lowering_duration_s == pytest.approx(one.end_s - one.lowering_s)


def test_shares_are_those_of_the_phases() -> None:
    one = analyse(heeled(raises((1.0, 1.0, 2.0), 1, turn=0.25))).repetitions[0]
    assert one.share_rise_percent == pytest.approx(50.0, abs=0.8)
    assert one.share_top_percent == pytest.approx(63.0, abs=3.0)
    assert one.share_lowering_percent == pytest.approx(75.0, abs=2.0)
    assert one.lowering_in_band_percent == pytest.approx(100.0)


def test_ninety_above_and_sixty_below_is_no_seventy_five() -> None:
    """A mean near the target says nothing of a lowering that was never in the band."""
    trace = heeled(raises((1.0, 1.0, 3.0), 1))
    height = trace.columns[LEFT_HEEL]
    lowering = trace.time_s > 7.0
    share = np.where(lowering & (height > 37.5), 0.9, np.where(lowering & (height > 1.0), 0.6, 0.5))
    total = trace.columns["left_N"] + trace.columns["right_N"]
    trace = with_column(with_column(trace, "left_N", total * share), "right_N", total * (1.0 - share))
    one = analyse(trace, replace(PLAIN, filter_Hz=None)).repetitions[0]
    thirds = one.share_lowering_thirds_percent
    assert one.share_lowering_percent == pytest.approx(75.0, abs=1.0)
    assert one.lowering_in_band_percent == pytest.approx(0.0, abs=1.0)
    assert thirds is not None
    assert thirds[0] == pytest.approx(90.0, abs=0.1)
    assert thirds[2] == pytest.approx(60.0, abs=0.1)
    assert one.lowering_least_N == pytest.approx(0.6 * 700.0, rel=0.05)


def test_load_times_heel_travel_is_each_sides_own() -> None:
    one = analyse(heeled(raises((1.0, 1.0, 2.0), 1), other_mm=3.0)).repetitions[0]
    assert one.height_uninjured_mm == pytest.approx(75.0, abs=0.3)
    assert one.load_travel_injured_J == pytest.approx(350.0 * 0.075, rel=0.03)
    assert one.load_travel_uninjured_J == pytest.approx(350.0 * 0.075, rel=0.03)


def test_a_heel_that_is_not_measured_has_no_height() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    del trace.columns["right_heel_height_mm"]
    analysis = analyse(trace)
    one = analysis.repetitions[0]
    assert (one.height_uninjured_mm, one.load_travel_uninjured_J) == (None, None)
    assert "the other heel's height is not known: it was not measured, or not read" in analysis.warnings


def test_steadiness_at_the_top_is_its_spread() -> None:
    still, shaking = (analyse(heeled(raises((1.0, 3.0, 2.0), 1), noise_mm=mm)).repetitions[0] for mm in (0.0, 2.0))
    assert still.top_height_sd_mm is not None and shaking.top_height_sd_mm is not None
    assert shaking.top_height_sd_mm > still.top_height_sd_mm + 0.2
    assert still.top_height_sd_mm < 0.3
    assert still.top_share_sd_points == pytest.approx(0.0, abs=0.3)


def test_from_below_the_level_of_standing() -> None:
    """On a step the heel goes down to -25 mm: the raise is as high as from there."""
    scene = Scene()
    scene.heel.move(1.0, -25.0).rest(1.0)
    scene.lift(1.0, 1.0, 2.0, height_mm=95.0).rest(1.0).lift(1.0, 1.0, 2.0, height_mm=95.0).rest(2.0)
    assert [one.height_injured_mm for one in analyse(heeled(scene)).repetitions] == pytest.approx([95.0, 95.0], abs=0.4)


def test_thirty_fast_raises_are_thirty() -> None:
    assert len(analyse(heeled(raises((1.0, 0.0, 1.0), 30, pause_s=0.0), noise_mm=0.3)).repetitions) == 30


def test_a_return_that_is_not_whole_is_one_raise() -> None:
    scene = Scene()
    scene.heel.move(1.0, 80.0).rest(0.5).move(0.8, -50.0).move(0.8, 50.0).rest(0.5).move(1.5, -80.0)
    scene.rest(2.0)
    analysis = analyse(heeled(scene))
    assert [one.incomplete_return for one in analysis.repetitions] == [True]
    assert analysis.rejected == ()
    assert not any(one.incomplete_return for one in analyse(heeled(raises((1.0, 1.0, 2.0), 2))).repetitions)


def test_a_repetition_with_a_hand_on_the_rail_is_marked() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 2))
    held = np.where((trace.time_s > 12.0) & (trace.time_s < 14.0), 0.85, 1.0)
    for name in ("left_N", "right_N"):
        trace = with_column(trace, name, trace.columns[name] * held)
    assert [one.supported for one in analyse(trace).repetitions] == [False, True]


@pytest.mark.parametrize(
    ("height_mm", "reference_mm", "reason"),
    [(25.0, None, LOW), (23.5, None, LOW), (33.0, None, ""), (38.0, 100.0, LOW), (55.0, 100.0, "")],
)
def test_low_is_under_half_of_a_full_raise(height_mm: float, reference_mm: float | None, reason: str) -> None:
    trace = heeled(raises((0.8, 0.0, 0.8), 1, height_mm=height_mm))
    analysis = analyse(trace, replace(PLAIN, reference_height_mm=reference_mm))
    assert [one.reason for one in analysis.rejected] == ([reason] if reason else [])
    assert len(analysis.repetitions) == (0 if reason else 1)


def test_the_raises_so_far_say_what_is_full() -> None:
    scene = raises((1.0, 0.5, 1.0), 3, height_mm=90.0)
    scene.lift(0.8, 0.0, 0.8, height_mm=30.0).rest(2.0)
    analysis = analyse(heeled(scene))
    assert (len(analysis.repetitions), [one.reason for one in analysis.rejected]) == (3, [LOW])


@pytest.mark.parametrize(("height_mm", "reason"), [(25.0, LOW), (34.0, LOW), (40.0, HALF_WAY), (44.0, HALF_WAY)])
def test_a_pause_half_way_and_back_is_called_so(height_mm: float, reason: str) -> None:
    trace = heeled(raises((0.8, 1.0, 0.8), 1, height_mm=height_mm))
    assert [one.reason for one in analyse(trace, replace(PLAIN, reference_height_mm=90.0)).rejected] == [reason]


def test_a_least_load_that_was_hardly_read_is_not_told() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    gone = (trace.time_s > 8.0) & (trace.time_s < 8.5)
    analysis = analyse(with_column(trace, "left_N", np.where(gone, np.nan, trace.columns["left_N"])))
    assert analysis.repetitions[0].lowering_least_N is None


def test_a_pause_on_the_way_up_is_none() -> None:
    scene = Scene()
    scene.heel.move(0.6, 40.0).rest(0.8).move(0.6, 40.0).rest(1.0).move(2.0, -80.0)
    scene.rest(2.0)
    analysis = analyse(heeled(scene))
    assert (len(analysis.repetitions), analysis.rejected) == (1, ())


def test_a_twitch_is_short() -> None:
    analysis = analyse(heeled(raises((0.25, 0.0, 0.25), 1, height_mm=80.0)))
    assert [one.reason for one in analysis.rejected] == [SHORT]


def test_a_foot_that_leaves_its_plate_ends_the_counting() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    away = (trace.time_s > 7.0) & (trace.time_s < 7.5)
    trace = with_column(trace, "right_N", np.where(away, 0.0, trace.columns["right_N"]))
    trace = with_column(trace, "left_N", np.where(away, 700.0, trace.columns["left_N"]))
    analysis = analyse(trace)
    assert (analysis.repetitions, [one.reason for one in analysis.rejected]) == ((), [FOOT_LEFT])


def test_on_one_leg_only_the_working_foot_has_to_stay() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 2))
    total = trace.columns["left_N"] + trace.columns["right_N"]
    trace = with_column(with_column(trace, "left_N", total), "right_N", np.zeros(total.size))
    single = replace(PLAIN, exercise=Exercise.SINGLE_RAISE)
    assert len(analyse(trace, single).repetitions) == 2
    assert len(analyse(trace, replace(single, working=Side.RIGHT)).repetitions) == 0


def test_too_little_on_the_plates_is_not_counted() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    for name in ("left_N", "right_N"):
        trace = with_column(trace, name, np.where(trace.time_s > 4.0, 0.7, 1.0) * trace.columns[name])
    assert [one.reason for one in analyse(trace).rejected] == [TOO_LITTLE_LOAD]


def test_a_gap_that_hides_an_instant_is_not_bridged() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 2))
    gone = (trace.time_s > 8.0) & (trace.time_s < 8.3)
    analysis = analyse(with_column(trace, LEFT_HEEL, np.where(gone, np.nan, trace.columns[LEFT_HEEL])))
    assert (len(analysis.repetitions), [one.reason for one in analysis.rejected]) == (1, [UNREAD])


def test_a_share_that_was_hardly_read_is_not_told() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    gone = (trace.time_s > 8.0) & (trace.time_s < 8.5)
    analysis = analyse(with_column(trace, "right_N", np.where(gone, np.nan, trace.columns["right_N"])))
    one = analysis.repetitions[0]
    assert one.share_lowering_percent is None
    assert one.share_rise_percent == pytest.approx(50.0, abs=0.8)
    assert "a share of a repetition is not known: too little of its phase was read" in analysis.warnings


def test_a_stream_that_ends_in_a_lift_cuts_it_off() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 2))
    end = int(trace.time_s.searchsorted(11.5))
    cut = replace(trace, time_s=trace.time_s[:end], columns={name: v[:end] for name, v in trace.columns.items()})
    analysis = analyse(cut)
    assert (len(analysis.repetitions), [one.reason for one in analysis.rejected]) == (1, [CUT_OFF])
    assert analysis.rejected[0].end_s == pytest.approx(11.49)


def test_a_lift_that_begins_with_the_last_reading_is_cut_off() -> None:
    trace = heeled(Scene().rest(2.0))
    height = trace.columns[LEFT_HEEL].copy()
    height[-1] = 80.0
    analysis = analyse(with_column(trace, LEFT_HEEL, height), replace(PLAIN, filter_Hz=None))
    assert [one.reason for one in analysis.rejected] == [CUT_OFF]


def test_who_stepped_off_in_a_lift_is_told_so() -> None:
    """No heel can be read while nobody is there; but what ended the lift is that somebody left."""
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    away = (trace.time_s > 6.5) & (trace.time_s < 9.5)
    for name in ("left_N", "right_N"):
        trace = with_column(trace, name, np.where(away, 0.0, trace.columns[name]))
    analysis = analyse(with_column(trace, LEFT_HEEL, np.where(away, np.nan, trace.columns[LEFT_HEEL])))
    assert [one.reason for one in analysis.rejected] == [FOOT_LEFT]


def test_a_hold_looks_for_no_repetitions() -> None:
    analysis = analyse(heeled(raises((1.0, 1.0, 2.0), 2)), replace(PLAIN, exercise=Exercise.HOLD))
    assert (analysis.repetitions, analysis.rejected, analysis.basis) == ((), (), None)


def test_the_uninjured_leg_works_where_it_is_asked_to() -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1), other_mm=0.0)
    trace = with_column(trace, LEFT_HEEL, np.zeros(trace.time_s.size))
    single = Settings(Side.LEFT, body_weight_N=700.0, exercise=Exercise.SINGLE_RAISE, working=Side.RIGHT)
    one = analyse(trace, single).repetitions[0]
    assert one.height_uninjured_mm == pytest.approx(75.0, abs=0.3)
    assert one.height_injured_mm == pytest.approx(0.0)


@pytest.mark.parametrize(("from_s", "to_s"), [(2.0, 5.2), (4.0, 5.0), (6.0, 6.3), (8.2, 9.0)])
def test_another_heel_that_was_not_read_all_through_has_no_height(from_s: float, to_s: float) -> None:
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    gone = (trace.time_s >= from_s) & (trace.time_s < to_s)
    name = "right_heel_height_mm"
    analysis = analyse(with_column(trace, name, np.where(gone, np.nan, trace.columns[name])))
    assert [one.height_uninjured_mm for one in analysis.repetitions] == [None]


@pytest.mark.parametrize(("from_s", "to_s", "reasons"), [(4.0, 5.3, [UNREAD]), (3.0, 4.6, [])])
def test_who_was_on_the_way_up_when_readings_came_back_is_not_counted(
    from_s: float, to_s: float, reasons: list[str]
) -> None:
    """The height would be told from where the heel was by then."""
    trace = heeled(raises((1.0, 1.0, 2.0), 1))
    gone = (trace.time_s >= from_s) & (trace.time_s < to_s)
    analysis = analyse(with_column(trace, LEFT_HEEL, np.where(gone, np.nan, trace.columns[LEFT_HEEL])))
    assert [one.reason for one in analysis.rejected] == reasons
    assert len(analysis.repetitions) == 1 - len(reasons)
