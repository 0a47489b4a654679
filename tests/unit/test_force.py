"""Heel raises by the forces alone, through the whole counter."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.unit.counting import Run, make_ground, run, trace_motion
from tests.unit.plates import drop, lose
from tests.unit.raises import WEIGHT_N, Instants, Scene, raises
from weightshare.exercise import (
    CUT_OFF,
    FOOT_LEFT,
    LEAN,
    LOW,
    SHORT,
    TOO_LITTLE_LOAD,
    UNREAD,
    Basis,
    Exercise,
    Repetition,
    SetSpan,
    Surface,
)
from weightshare.model import PART_COLUMNS, Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.pipeline.force import ForceCounter
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, UNKNOWN
from weightshare.task import Settings

PLAIN = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING)
SINGLE = replace(PLAIN, exercise=Exercise.SINGLE_RAISE, target_percent=100.0)


def count(scene: Scene | Trace, settings: Settings = PLAIN, spans: tuple[SetSpan, ...] = ()) -> Run:
    trace = scene if isinstance(scene, Trace) else scene.trace(80.0)
    return run(ForceCounter(make_ground(trace, settings)), trace_motion(trace, settings), spans=spans)


def with_load(trace: Trace, factor: np.ndarray[tuple[int], np.dtype[np.float64]], *sides: str) -> Trace:
    """Return the trace with the load of some sides times a factor (n,)."""
    names = [name for name in trace.columns if name.startswith(sides)]
    return replace(trace, columns=trace.columns | {name: trace.columns[name] * factor for name in names})


def check(found: list[Repetition], truth: list[Instants], within_s: tuple[float, float, float, float]) -> None:
    assert len(found) == len(truth)
    for one, true in zip(found, truth, strict=True):
        pairs = zip(
            (one.start_s, one.top_s, one.lowering_s, one.end_s),
            (true.start_s, true.top_s, true.lowering_s, true.end_s),
            within_s,
            strict=True,
        )
        for told, instant, error_s in pairs:
            assert told == pytest.approx(instant, abs=error_s)


@pytest.mark.parametrize(
    ("tempo", "within_s"),
    [
        ((0.8, 0.4, 1.0), (0.05, 0.05, 0.05, 0.05)),
        ((1.0, 1.0, 2.0), (0.05, 0.05, 0.08, 0.06)),
        ((2.0, 2.0, 4.0), (0.1, 0.25, 0.45, 0.25)),
    ],
)
@pytest.mark.parametrize("rate_Hz", [60.0, 110.0])
def test_raises_are_found_with_their_instants(
    tempo: tuple[float, float, float], within_s: tuple[float, float, float, float], rate_Hz: float
) -> None:
    scene = raises(tempo, 5, turn=0.25)
    told = count(scene.trace(rate_Hz))
    check(told.repetitions, scene.truth, within_s)
    assert told.rejected == []


def test_thirty_raises_without_a_pause_are_thirty() -> None:
    """The load may stay on the forefoot all the time: the centre of mass tells."""
    scene = raises((1.0, 0.0, 1.0), 30, pause_s=0.0)
    told = count(scene)
    check(told.repetitions, scene.truth, (0.1, 0.1, 0.1, 0.1))
    assert told.rejected == []


def test_no_height_is_certified_and_that_is_said() -> None:
    told = count(raises((1.0, 1.0, 2.0), 2))
    (first, _) = told.repetitions
    assert first.basis is Basis.FORCE
    heights = first.height_injured_mm, first.height_uninjured_mm, first.load_travel_injured_J, first.top_height_sd_mm
    assert heights == (None, None, None, None)
    assert any("heights" in words for words in told.warnings)


def test_shares_are_those_of_the_phases() -> None:
    told = count(raises((1.0, 1.5, 2.0), 3, turn=0.25))
    for one in told.repetitions:
        assert one.share_rise_percent == pytest.approx(50.0, abs=2.0)
        assert one.share_lowering_percent == pytest.approx(75.0, abs=2.0)
        assert one.share_lowering_thirds_percent == pytest.approx((75.0, 75.0, 75.0), abs=3.0)
        assert one.lowering_in_band_percent is not None and one.lowering_in_band_percent > 90.0
        assert one.lowering_least_N == pytest.approx(0.73 * WEIGHT_N, abs=0.04 * WEIGHT_N)
        assert one.supported is False


@pytest.mark.parametrize("to", [0.65, 0.75])
def test_leans_are_no_raises(to: float) -> None:
    scene = Scene()
    for held_s in (0.5, 1.0, 2.0, 4.0, 8.0) * 2:
        scene.lean(held_s, to).rest(1.5)
    told = count(scene)
    assert told.repetitions == []
    assert [one.reason for one in told.rejected] == [LEAN] * 10
    assert set(told.phases.tolist()) == {UNKNOWN, BOTTOM}


def test_a_dip_half_way_is_one_repetition_and_marked() -> None:
    scene = raises((1.0, 1.0, 2.0), 1)
    scene.forward.now_s = scene.now_s - 0.25
    scene.forward.move(0.25, 1.0)
    scene.heel.move(1.0, 75.0).rest(0.5).move(1.0, -48.0).move(1.0, 48.0).rest(0.5).move(1.0, -75.0)
    scene.forward.now_s = scene.now_s - 0.05
    scene.forward.move(0.25, -1.0)
    told = count(scene.rest(2.0))
    assert [one.incomplete_return for one in told.repetitions] == [False, True]
    assert told.repetitions[1].end_s == pytest.approx(14.8, abs=0.1)
    assert told.rejected == []


def test_a_lift_of_no_height_is_low() -> None:
    scene = raises((1.0, 1.0, 1.0), 2).lift(0.6, 0.4, 0.6, height_mm=25.0).rest(1.5)
    told = count(scene)
    assert len(told.repetitions) == 2
    assert [one.reason for one in told.rejected] == [LOW]


def test_a_low_lift_counts_where_low_ones_are_asked_for() -> None:
    scene = raises((0.8, 0.4, 0.8), 2, height_mm=20.0)
    assert [one.reason for one in count(scene).rejected] == [LOW, LOW]
    assert len(count(scene, replace(PLAIN, reference_height_mm=30.0)).repetitions) == 2


def test_a_lift_under_half_a_second_is_short() -> None:
    told = count(Scene().lift(0.18, 0.0, 0.18, height_mm=45.0).rest(2.0))
    assert [one.reason for one in told.rejected] == [SHORT]


def test_a_foot_that_leaves_spoils_the_raise() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    off = np.where(np.abs(trace.time_s - 6.5) < 0.2, 0.01, 1.0)
    told = count(with_load(trace, off, "right"))
    assert [one.reason for one in told.rejected] == [FOOT_LEFT]
    assert len(told.repetitions) == 1


def test_whoever_steps_off_in_a_raise_has_left() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    told = count(with_load(trace, np.where(np.abs(trace.time_s - 7.0) < 0.6, 0.0, 1.0), "left", "right"))
    assert [one.reason for one in told.rejected] == [FOOT_LEFT]
    assert len(told.repetitions) == 1
    assert told.phases[np.argmax(trace.time_s > 7.0)] == BOTTOM


def test_a_hand_that_carries_much_spoils_the_raise_and_a_little_marks_it() -> None:
    trace = raises((1.0, 1.0, 2.0), 3).trace(80.0)
    late = 1.0 / (1.0 + np.exp(-8.0 * (trace.time_s - 9.6)))
    assert {one.reason for one in count(with_load(trace, 1.0 - 0.3 * late, "left", "right")).rejected} == {
        TOO_LITTLE_LOAD
    }
    marked = count(with_load(trace, 1.0 - 0.1 * late, "left", "right")).repetitions
    assert [one.supported for one in marked] == [False, True, True]


def test_a_hand_in_the_lowering_leaves_the_raise_but_not_its_instants() -> None:
    """The total force tells nothing any more; the front share still tells that the heels were up."""
    trace = raises((1.0, 1.0, 2.0), 3, pause_s=2.0).trace(80.0)
    grip = np.interp(trace.time_s, [7.0, 7.4, 8.8, 9.2], [1.0, 0.87, 0.87, 1.0])
    told = count(with_load(trace, grip, "left", "right"))
    assert len(told.repetitions) == 3
    first = told.repetitions[0]
    assert first.start_s == pytest.approx(5.25, abs=0.3)
    assert (first.top_s, first.lowering_s, first.end_s, first.share_lowering_percent) == (None, None, None, None)
    assert any("unsteady" in words for words in told.warnings)


def test_what_is_too_slow_is_not_told_and_that_is_said() -> None:
    scene = raises((5.0, 4.0, 10.0), 3)
    told = count(scene)
    assert len(told.repetitions) == 3
    assert all(one.lowering_s is None and one.share_lowering_percent is None for one in told.repetitions)
    assert any("too slow for the forces" in words for words in told.warnings)


def test_a_gap_hides_a_raise() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    for hidden in (lose(trace, 6.4, 6.6), drop(trace, 6.4, 6.6)):
        told = count(hidden)
        assert [one.reason for one in told.rejected] == [UNREAD]
        assert len(told.repetitions) == 1


def test_single_missing_readings_are_bridged() -> None:
    scene = raises((1.0, 1.0, 2.0), 2)
    told = count(lose(scene.trace(80.0), 5.5, 5.52))
    check(told.repetitions, scene.truth, (0.06, 0.06, 0.1, 0.1))


def test_a_raise_that_the_end_cuts_is_told() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    early = trace.time_s < 12.0
    told = count(Trace(trace.time_s[early], {name: column[early] for name, column in trace.columns.items()}))
    assert [one.reason for one in told.rejected] == [CUT_OFF]
    assert len(told.repetitions) == 1


def test_before_the_weight_is_known_nothing_counts() -> None:
    scene = Scene()
    for course in (scene.heel, scene.forward, scene.dip, scene.share):
        course.now_s = 1.0
    told = count(scene.lift(1.0, 1.0, 1.0).rest(1.0).lift(1.0, 1.0, 1.0).rest(6.0).lift(1.0, 1.0, 1.0).rest(1.0))
    assert len(told.repetitions) == 1
    assert told.phases[:400].max() == UNKNOWN


def test_added_weight_is_moved_too() -> None:
    """Whoever carries 100 N has the force of the movement grow with it, and rises as far as without."""
    scene = raises((1.0, 1.0, 2.0), 2)
    settings = replace(PLAIN, added_weight_N=WEIGHT_N / 7.0)
    check(
        count(with_load(scene.trace(80.0), np.asarray(8.0 / 7.0), "left", "right"), settings).repetitions,
        scene.truth,
        (0.06,) * 4,
    )


def test_a_repetition_is_given_out_a_second_after_the_heels_came_down_or_with_the_next() -> None:
    trace = raises((1.0, 1.0, 2.0), 2, pause_s=0.5).trace(100.0)
    counter, motion = ForceCounter(make_ground(trace, PLAIN)), trace_motion(trace, PLAIN)
    given_s = []
    for k in range(motion.time_s.size):
        before = len(counter.repetitions)
        counter.push(motion.cut(k, k + 1))
        if len(counter.repetitions) > before:
            given_s.append(float(motion.time_s[k]))
    assert given_s == pytest.approx([9.4, 14.6], abs=0.2)


def test_phases_follow_the_raise() -> None:
    scene = raises((1.0, 1.0, 2.0), 1, pause_s=3.0)
    trace = scene.trace(100.0)
    told = count(trace)
    at = {time_s: int(told.phases[round(time_s * 100.0)]) for time_s in (4.5, 5.6, 6.6, 8.2, 10.5)}
    assert at == {4.5: BOTTOM, 5.6: RISE, 6.6: TOP, 8.2: LOWERING, 10.5: BOTTOM}


def test_one_leg_is_followed_by_its_own_front_share() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    standing = {"right_front_N": 0.42 * trace.columns["right_N"], "right_rear_N": 0.58 * trace.columns["right_N"]}
    alone = replace(trace, columns=trace.columns | standing)
    assert len(count(alone, SINGLE).repetitions) == 2
    assert count(alone, replace(SINGLE, working=Side.RIGHT)).repetitions == []
    spans = SetSpan(1, 0.0, working=Side.LEFT), SetSpan(2, 9.8, working=Side.RIGHT)
    assert len(count(alone, SINGLE, spans).repetitions) == 1


def test_who_stands_still_repeats_nothing() -> None:
    told = count(Scene().rest(60.0))
    assert (told.repetitions, told.rejected) == ([], [])


def test_on_a_step_the_forces_do_not_tell() -> None:
    trace = raises((1.0, 1.0, 2.0), 2).trace(80.0)
    told = analyse_trace(trace, replace(PLAIN, surface=Surface.STEP, basis=Basis.FORCE))
    assert told.repetitions == ()
    assert any("on a step" in words for words in told.warnings)
    assert set(PART_COLUMNS) <= set(trace.columns)
