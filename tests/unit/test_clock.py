"""The clock of one scale: ticks over the tick rate, through wraps, lost frames, lost links and restarts."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.counts import RATE_HZ, STEP, TICK_HZ, make_chunk, make_identity
from weightshare.model import NO_READING, Condition, Floats, Item, LinkDown, LinkUp
from weightshare.pipeline.clock import Clock

FRAME = 4 * STEP
"""Ticks of one frame."""


def told(clock: Clock, *items: Item) -> Floats:
    """Return the times of all samples that the items brought."""
    times = [timed.time_s for item in items for timed in clock.push(item)]
    return np.concatenate(times) if times else np.empty(0)


def started() -> Clock:
    clock = Clock()
    clock.push(make_identity())
    return clock


def grid(count: int, begin_s: float = 0.0) -> Floats:
    return begin_s + np.arange(count) / RATE_HZ


@pytest.mark.parametrize("first", [0, 987_654_321, 2**32 - 1, 2**32 - 3 * STEP])
def test_time_is_0_at_the_first_sample_and_runs_by_ticks(first: int) -> None:
    """A wrap of the 32-bit counter, between frames or within one, is not seen."""
    times = told(started(), *(make_chunk([first + k * FRAME]) for k in range(50)))
    np.testing.assert_allclose(times, grid(200), atol=1e-9)


def test_frames_of_one_chunk_are_placed_one_by_one() -> None:
    together = told(started(), make_chunk([2**32 - FRAME, 2**32, 2**32 + FRAME]))
    np.testing.assert_allclose(together, grid(12), atol=1e-9)


def test_hours_of_ticks_gather_no_error() -> None:
    """Three hours at 1 MHz wrap the counter twice; the arrival times wander by 20 ms."""
    clock = started()
    last = np.empty(0)
    for minute in range(0, 181):
        tick = minute * 60 * TICK_HZ
        last = told(clock, make_chunk([tick], arrivals_s=[minute * 60 + 0.02 * (minute % 3)]))
    assert last[0] == 180 * 60.0


def test_samples_before_an_identity_are_dropped() -> None:
    assert told(Clock(), make_chunk([0])).size == 0


def test_what_brings_no_samples_brings_no_times() -> None:
    clock = started()
    assert told(clock, LinkUp(0), Condition(0, 3300, 21.5, 0, 0), LinkDown(5)).size == 0


def test_lost_frames_leave_a_hole_in_time_and_nothing_else() -> None:
    times = told(started(), make_chunk([0]), make_chunk([10 * FRAME]))
    np.testing.assert_allclose(times, np.concatenate((grid(4), grid(4, 0.5))), atol=1e-9)


def test_a_frame_that_comes_twice_is_dropped_and_counted() -> None:
    clock = started()
    times = told(clock, make_chunk([0]), make_chunk([FRAME]), make_chunk([FRAME]), make_chunk([2 * FRAME]))
    np.testing.assert_allclose(times, grid(12), atol=1e-9)
    assert clock.dropped_frames == 1
    assert told(clock, make_chunk([2 * FRAME, 3 * FRAME])).size == 4
    assert clock.dropped_frames == 2
    assert clock.warnings == ("frames that would turn time back were left out (2)",)


def test_a_frame_that_overlaps_the_one_before_is_dropped() -> None:
    clock = started()
    assert told(clock, make_chunk([0]), make_chunk([2 * STEP])).size == 4
    assert clock.dropped_frames == 1


def test_a_missing_reading_is_nan() -> None:
    readings = np.array([[[5, NO_READING], [NO_READING, 7], [1, 2], [3, 4]]], dtype=np.int32)
    (timed,) = started().push(make_chunk([0], readings=readings))
    np.testing.assert_array_equal(timed.readings, [[5, np.nan, 1, 3], [np.nan, 7, 2, 4]])
    assert timed.interval_s == 1.0 / RATE_HZ


def test_after_a_lost_link_the_ticks_go_on() -> None:
    """The host heard nothing for 3 s; its own clock is late by half a second, which ticks know better."""
    clock = started()
    told(clock, make_chunk([0], arrivals_s=[0.1]))
    later = round(3.2 * TICK_HZ)
    times = told(clock, LinkDown(0), LinkUp(1), make_identity(), make_chunk([later], arrivals_s=[3.8]))
    np.testing.assert_allclose(times, grid(4, 3.2), atol=1e-9)
    assert clock.restarts == 0
    assert clock.warnings == ()


def test_wraps_while_the_link_was_down_are_counted_by_the_hosts_clock() -> None:
    """Two hours and more: the counter wrapped once."""
    clock = started()
    told(clock, make_chunk([0], arrivals_s=[0.05]))
    seconds = 7200.0
    times = told(clock, LinkUp(1), make_chunk([round(seconds * TICK_HZ)], arrivals_s=[seconds + 0.06]))
    np.testing.assert_allclose(times, grid(4, seconds), atol=1e-9)


@pytest.mark.parametrize("with_link", [True, False])
def test_after_a_restart_time_goes_on_by_the_hosts_clock(with_link: bool) -> None:
    """A new boot count says so; ticks begin anew at power-on."""
    clock = started()
    told(clock, make_chunk([500 * TICK_HZ], arrivals_s=[10.05]))
    between: list[Item] = [LinkDown(1), LinkUp(2)] if with_link else []
    times = told(clock, *between, make_identity(boot=2), make_chunk([2 * TICK_HZ], arrivals_s=[14.05]))
    np.testing.assert_allclose(times, grid(4, 4.0), atol=0.05)
    assert clock.restarts == 1
    assert clock.warnings == ("the scale restarted once; its times go on by this computer's clock",)
    more = told(clock, make_chunk([2 * TICK_HZ + FRAME], arrivals_s=[14.1]))
    np.testing.assert_allclose(more, times + 0.05, atol=1e-9)


def test_a_restart_that_nobody_told_of_is_seen_by_ticks_that_run_backwards() -> None:
    clock = started()
    told(clock, make_chunk([500 * TICK_HZ], arrivals_s=[10.05]))
    times = told(clock, make_chunk([TICK_HZ], arrivals_s=[13.05]))
    np.testing.assert_allclose(times, grid(4, 3.0), atol=0.05)
    assert clock.restarts == 1


def test_a_restart_never_turns_time_back_and_leaves_a_gap() -> None:
    """The host's clock says that no time has passed at all."""
    clock = started()
    before = told(clock, make_chunk([500 * TICK_HZ], arrivals_s=[10.0]))
    after = told(clock, make_identity(boot=2), make_chunk([0], arrivals_s=[10.0]))
    assert after[0] - before[-1] > 3.5 / RATE_HZ


def test_the_same_identity_again_is_no_restart() -> None:
    clock = started()
    times = told(clock, make_chunk([0]), make_identity(), make_chunk([FRAME]))
    np.testing.assert_allclose(times, grid(8), atol=1e-9)
    assert clock.restarts == 0


def test_another_rate_is_taken_up() -> None:
    clock = started()
    told(clock, make_chunk([0]))
    (timed,) = clock.push(make_chunk([FRAME], step=10_000))
    assert timed.interval_s == 0.01
    np.testing.assert_allclose(timed.time_s, 0.05 + np.arange(4) / 100.0, atol=1e-9)


def test_another_rate_than_the_scale_told_is_said_and_a_little_off_is_not() -> None:
    clock = started()
    told(clock, make_chunk([0], step=round(STEP * 1.25)))
    assert clock.warnings == (
        "the scale says that it takes 80 samples a second, and takes 64: its times are right, but look at its settings",
    )
    near = started()
    told(near, make_chunk([0], step=round(STEP * 1.03)))
    assert near.warnings == ()


def test_a_frame_of_one_sample_may_say_no_step() -> None:
    """Then the interval is that of the identity; several rows without a step have no times and are dropped."""
    clock = started()
    times = told(clock, *(make_chunk([k * STEP], rows=1, step=0) for k in range(5)))
    np.testing.assert_allclose(times, grid(5), atol=1e-9)
    assert told(clock, make_chunk([5 * STEP], rows=4, step=0)).size == 0
    assert clock.dropped_frames == 1


def test_reset_begins_at_0_again() -> None:
    clock = started()
    told(clock, make_chunk([77]))
    clock.reset()
    assert told(clock, make_chunk([FRAME])).size == 0, "the identity is forgotten too"
    np.testing.assert_allclose(told(clock, make_identity(), make_chunk([9 * FRAME])), grid(4), atol=1e-9)
