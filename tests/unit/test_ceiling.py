"""The ceiling: how soon it is told, what is logged, what is an alarm of its own, how it does not chatter."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import make_block, seconds
from weightshare.exercise import Ceiling, CeilingEvent
from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.block import LEFT, OVERLOAD, RIGHT, Block
from weightshare.pipeline.ceiling import CeilingStage, LightFilter
from weightshare.pipeline.fill import Fill
from weightshare.pipeline.lowpass import LowPass

KG20 = Ceiling(kg=20.0)
LIMIT_N = 20.0 * STANDARD_GRAVITY
SLOW_HZ = 40.0
"""Too slow for 20 Hz: forces are judged as they are, and instants can be told by hand."""


def watch(*blocks: Block, ceiling: Ceiling = KG20) -> CeilingStage:
    stage = CeilingStage(ceiling, LEFT)
    for block in blocks:
        stage.push(block)
    return stage


def slow(*forces: float, from_s: float = 0.0) -> Block:
    """Return readings of the left side at 40 Hz; the right side has none."""
    return make_block(from_s + np.arange(len(forces)) / SLOW_HZ, forces, np.nan, SLOW_HZ)


def pulse(time_s: Floats, at_s: float, base_N: float) -> Floats:
    """Return a load of 260 N for 250 ms, else `base_N`."""
    return np.where((time_s >= at_s) & (time_s < at_s + 0.25), 260.0, base_N)


@pytest.mark.parametrize("rate_Hz", [60.0, 73.0, 80.0, 110.0, 1000.0])
@pytest.mark.parametrize("base_N", [0.0, 150.0])
@pytest.mark.parametrize("phase", [0.0, 0.3, 0.9])
def test_a_pulse_is_told_within_40_ms_and_logged(rate_Hz: float, base_N: float, phase: float) -> None:
    at_s = 1.0 + phase / rate_Hz
    time_s = seconds(0, 2, rate_Hz)
    block = make_block(time_s, pulse(time_s, at_s, base_N), 300.0, rate_Hz)
    stage = CeilingStage(KG20, LEFT)
    told_s = []
    for k in range(time_s.size):
        stage.push(block.cut(k, k + 1))
        if stage.over:
            told_s.append(float(time_s[k]))
    assert at_s <= told_s[0] < at_s + 0.04
    (event,) = stage.events
    assert event.start_s == pytest.approx(at_s, abs=0.03)
    assert event.duration_s == pytest.approx(0.25, abs=0.015 + 1.0 / rate_Hz)
    assert event.peak_N == pytest.approx(260.0, abs=0.5) and not event.unread


def test_an_alarm_stays_on_for_three_tenths_of_a_second_after_the_crossing() -> None:
    forces = [100.0] * 20 + [300.0] + [100.0] * 40
    stage = CeilingStage(KG20, LEFT)
    over = []
    for k, force in enumerate(forces):
        stage.push(slow(force, from_s=k / SLOW_HZ))
        over.append(stage.over)
    (event,) = stage.events
    assert event.end_s is not None
    on = np.flatnonzero(over)
    assert on[0] == 20
    assert (on[-1] + 1) / SLOW_HZ == pytest.approx(event.end_s + 0.3, abs=1.0 / SLOW_HZ)


def test_crossings_are_interpolated_between_readings() -> None:
    stage = watch(slow(LIMIT_N - 30.0, LIMIT_N + 10.0, LIMIT_N + 60.0, LIMIT_N - 20.0, *[0.0] * 20))
    (event,) = stage.events
    assert event.start_s == pytest.approx(0.75 / SLOW_HZ)
    assert event.end_s == pytest.approx(2.75 / SLOW_HZ)
    assert event.peak_N == LIMIT_N + 60.0


def test_while_a_crossing_lasts_it_has_no_end() -> None:
    stage = watch(slow(0.0, 300.0, 280.0))
    assert stage.over
    (event,) = stage.events
    assert event.end_s is None and event.duration_s is None and event.peak_N == 300.0


def test_a_load_right_on_the_limit_is_not_over() -> None:
    stage = watch(make_block(seconds(0, 5), LIMIT_N, 300.0))
    assert stage.armed and not stage.over and stage.events == ()


@pytest.mark.parametrize("rate_Hz", [60.0, 80.0, 110.0, 1000.0])
def test_a_sudden_step_to_just_under_the_limit_is_not_over(rate_Hz: float) -> None:
    """The bare filter would go past it by 4 to 8 % of the step."""
    time_s = seconds(0, 2, rate_Hz)
    stage = watch(make_block(time_s, np.where(time_s < 1.0, 0.0, LIMIT_N - 1.0), 300.0, rate_Hz))
    assert stage.armed and stage.events == ()


def test_a_load_that_trembles_about_the_limit_is_one_event() -> None:
    rng = np.random.default_rng(3)
    time_s = seconds(0, 20)
    load_N = np.where((time_s >= 2.0) & (time_s < 18.0), LIMIT_N, 100.0) + rng.normal(0.0, 3.0, time_s.size)
    stage = CeilingStage(KG20, LEFT)
    over = []
    for k in range(time_s.size):
        stage.push(make_block(time_s[k : k + 1], load_N[k], 300.0))
        over.append(stage.over)
    (event,) = stage.events
    assert event.start_s == pytest.approx(2.0, abs=0.2)
    assert event.end_s == pytest.approx(18.0, abs=0.2)
    assert np.count_nonzero(np.diff(over)) == 2


def test_a_spike_of_noise_about_the_limit_does_not_chatter() -> None:
    """20 ms of 3 N about the limit, from 1 N under it."""
    time_s = seconds(0, 2, 1000.0)
    spike = np.where((time_s >= 1.0) & (time_s < 1.02), np.random.default_rng(0).normal(0.0, 3.0, time_s.size), -1.0)
    stage = watch(make_block(time_s, LIMIT_N + spike, 300.0, 1000.0))
    assert len(stage.events) <= 1


def test_two_crossings_are_two_events() -> None:
    stage = watch(slow(0.0, 300.0, *[0.0] * 13, 250.0, *[0.0] * 13))
    assert [event.peak_N for event in stage.events] == [300.0, 250.0]
    assert not stage.over


@pytest.mark.parametrize("other_N", [0.0, 700.0, np.nan])
def test_only_the_own_force_counts(other_N: float) -> None:
    stage = CeilingStage(KG20, RIGHT)
    stage.push(make_block(seconds(0, 1), other_N, 210.0))
    assert stage.over and not stage.unread
    assert [event.start_s for event in stage.events] == [0.0]


def test_in_percent_nothing_is_watched_before_body_weight_is_known() -> None:
    stage = watch(
        make_block(seconds(0, 5), 600.0, 0.0), make_block([5.0, 5.5], np.nan, 0.0), ceiling=Ceiling(percent=25)
    )
    assert stage.limit_N is None and not stage.armed
    assert not stage.over and not stage.unread and stage.events == ()
    stage.weigh(800.0, known_s=5.5)
    stage.push(make_block(seconds(6, 6.5), 201.0, 0.0))
    assert stage.limit_N == 200.0 and stage.armed
    assert [event.start_s for event in stage.events if not event.unread] == [6.0]


def test_a_weight_that_is_given_arms_from_the_first_sample() -> None:
    stage = CeilingStage(Ceiling(percent=25), LEFT)
    stage.weigh(800.0)
    stage.push(make_block(seconds(1, 2), 201.0, 0.0))
    assert [event.start_s for event in stage.events] == [1.0]


def test_in_kilograms_body_weight_changes_nothing() -> None:
    stage = watch(make_block(seconds(0, 1), 190.0, 0.0))
    stage.weigh(400.0, known_s=1.0)
    assert stage.limit_N == LIMIT_N


def saturate(block: Block, *rows: int, own: bool = True) -> Block:
    """Return the block with these rows flagged as an overload, of the left side or else of the right one."""
    block.flags[list(rows)] |= OVERLOAD
    block.values[LEFT if own else RIGHT, list(rows)] = np.nan
    return block


def test_a_saturated_reading_is_told_at_once() -> None:
    stage = watch(saturate(make_block([0.0, 0.01, 0.02], 100.0, 0.0), 2))
    assert stage.unread and not stage.over
    assert stage.events == (CeilingEvent(0.01, None, None, unread=True),)
    stage.push(make_block(seconds(0.03, 1.0), 100.0, 0.0))
    assert not stage.unread
    assert stage.events == (CeilingEvent(0.01, 0.03, None, unread=True),)


def test_the_other_side_s_overload_is_none_of_its_business() -> None:
    stage = watch(saturate(make_block(seconds(0, 1), 100.0, 0.0), 50, own=False))
    assert stage.events == ()


def missing(count: int) -> Block:
    """Return a second at 100 Hz with `count` readings missing from 0.5 s on."""
    block = make_block(seconds(0, 1.0), 100.0, 0.0)
    block.values[LEFT, 50 : 50 + count] = np.nan
    return block


def test_readings_missing_for_up_to_three_intervals_are_no_alarm() -> None:
    stage = CeilingStage(KG20, LEFT)
    for k in range(100):
        stage.push(missing(2).cut(k, k + 1))
        assert not stage.unread
    assert stage.events == ()


@pytest.mark.parametrize("count", [3, 4, 20])
def test_a_gap_is_an_alarm_from_the_last_reading_to_the_next(count: int) -> None:
    stage = watch(missing(count), make_block(seconds(1, 2), 100.0, 0.0))
    assert stage.events == (CeilingEvent(0.49, 0.5 + count / 100.0, None, unread=True),)


def test_a_gap_is_told_while_it_lasts() -> None:
    stage = CeilingStage(KG20, LEFT)
    unread = []
    for k in range(100):
        stage.push(missing(20).cut(k, k + 1))
        unread.append(stage.unread)
    # 0.53 s is four intervals after the last reading
    assert unread[:53] == [False] * 53
    assert unread[53:] == [True] * 47
    assert stage.events == (CeilingEvent(0.49, None, None, unread=True),)


def test_a_gap_that_shows_as_a_single_filled_row_is_an_alarm() -> None:
    fill, stage = Fill(), CeilingStage(KG20, LEFT)
    stage.push(fill.push(make_block(seconds(0, 1), 100.0, 0.0)))
    assert not stage.unread
    stage.push(fill.push(make_block([1.5], 100.0, 0.0)))
    assert stage.unread
    stage.push(fill.push(make_block(seconds(1.51, 2.0), 100.0, 0.0)))
    assert not stage.unread
    assert stage.events == (CeilingEvent(0.99, 1.5, None, unread=True),)


def test_a_stream_without_any_reading_is_an_alarm() -> None:
    stage = watch(make_block(seconds(0, 1), np.nan, 100.0))
    assert stage.unread
    stage.finish()
    assert stage.events == (CeilingEvent(0.0, 0.99, None, unread=True),)


def test_a_crossing_under_way_when_readings_vanish_stays_an_event() -> None:
    stage = watch(slow(0.0, 300.0, 310.0), slow(*[np.nan] * 20, from_s=0.075))
    assert stage.unread and not stage.over
    stage.push(slow(250.0, *[0.0] * 20, from_s=0.575))
    crossed, unread, again = stage.events
    assert (crossed.end_s, crossed.peak_N) == (0.05, 310.0)
    assert unread == CeilingEvent(0.05, 0.575, None, unread=True)
    assert (again.start_s, again.peak_N) == (0.575, 250.0)


def test_a_crossing_is_not_interrupted_before_a_gap_is_one() -> None:
    stage = watch(slow(0.0, 300.0, np.nan, np.nan))
    assert stage.over
    stage.push(slow(300.0, 0.0, *[0.0] * 20, from_s=0.1))
    (event,) = stage.events
    assert event.end_s == pytest.approx(0.1 + (300.0 - LIMIT_N) / 300.0 / SLOW_HZ)


def test_nothing_is_held_back_behind_a_missing_reading() -> None:
    """The live filter waits to learn how long a run of missing readings is; an alarm may not."""
    time_s = seconds(0, 1)
    block = make_block(time_s, pulse(time_s, 0.5, 0.0), 0.0)
    block.values[LEFT, 54:] = np.nan
    stage = watch(block.cut(0, 55))
    assert stage.over


def test_the_stream_s_end_ends_what_is_under_way() -> None:
    stage = watch(slow(0.0, 300.0, 280.0))
    stage.finish()
    assert not stage.over
    assert stage.events[0].end_s == 0.05


def test_what_has_passed_when_body_weight_comes_was_not_watched() -> None:
    stage = CeilingStage(Ceiling(percent=25), LEFT)
    stage.push(make_block(seconds(0, 1), 300.0, 0.0))
    stage.weigh(800.0)
    stage.push(make_block(seconds(1, 2), 300.0, 0.0))
    assert [event.start_s for event in stage.events] == [1.0]


def test_a_reset_forgets_everything() -> None:
    stage = watch(slow(0.0, 300.0, 280.0))
    stage.reset()
    assert (stage.over, stage.unread, stage.armed, stage.events) == (False, False, False, ())


def test_the_light_filter_is_the_live_one_at_20_hz() -> None:
    rng = np.random.default_rng(5)
    force_N, time_s = rng.normal(200.0, 50.0, 3000), seconds(0, 30)
    theirs = LowPass(20.0).push(make_block(time_s, force_N, 0.0)).values[LEFT]
    greatest = np.array([force_N[max(k - 2, 0) : k + 1].max() for k in range(force_N.size)])
    assert np.count_nonzero(theirs > greatest) > 10
    np.testing.assert_array_equal(LightFilter().push(time_s, force_N, 0.01), np.minimum(theirs, greatest))


def test_the_light_filter_starts_anew_after_a_gap_and_after_another_rate() -> None:
    light = LightFilter()
    light.push(seconds(0, 1), np.full(100, 500.0), 0.01)
    assert light.push(seconds(2, 3), np.full(100, 20.0), 0.01) == pytest.approx(20.0)
    assert light.push(seconds(3, 4, 200.0), np.full(200, 70.0), 0.005) == pytest.approx(70.0)
