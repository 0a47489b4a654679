"""The phase of a raise while it is under way, by the speed of the centre of mass."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.raises import Course
from weightshare.model import Floats
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, PhaseNumbers
from weightshare.pipeline.pulse import DOWN, Event, Pace, PulseTracker

RATE_HZ = 100.0
REST = (np.array([0.0]), np.zeros(1), np.zeros(1))


def accelerations(course: Course) -> tuple[Floats, Floats]:
    """Return times from the first sample after 0 s on, and the acceleration (m/s^2) of a course in mm."""
    time_s = np.arange(1, round(course.now_s * RATE_HZ)) / RATE_HZ
    step = 1e-3
    levels = [course.at(time_s + at) for at in (-step, 0.0, step)]
    return time_s, np.asarray((levels[0] - 2.0 * levels[1] + levels[2]) / step**2 / 1000.0, dtype=np.float64)


def track(
    course: Course, bias: float = 0.0, expected_m: float | None = None
) -> tuple[Floats, PhaseNumbers, Event | None]:
    """Return times, and phases up to the first event, and that."""
    time_s, acceleration = accelerations(course)
    tracker = PulseTracker(Pace())
    tracker.begin(REST, expected_m, rising=False)
    phases, event = tracker.push(time_s, acceleration + bias)
    return time_s[: phases.size], phases, event


def begin_of(time_s: Floats, phases: PhaseNumbers, phase: int) -> float:
    return float(time_s[np.argmax(phases == phase)])


def raised(rise_s: float = 1.0, top_s: float = 1.0, lowering_s: float = 2.0, mm: float = 56.0) -> Course:
    return Course(0.5).move(rise_s, mm).rest(top_s).move(lowering_s, -mm).rest(1.0)


@pytest.mark.parametrize("bias", [0.0, 0.001, -0.001])
@pytest.mark.parametrize("tempo", [(0.8, 0.4, 1.0), (1.0, 1.0, 2.0), (2.0, 2.0, 4.0)])
def test_phases_come_in_order_and_soon(tempo: tuple[float, float, float], bias: float) -> None:
    rise_s, top_s, lowering_s = tempo
    time_s, phases, event = track(raised(*tempo), bias)
    turns = phases[np.flatnonzero(np.diff(phases, prepend=-1))].tolist()
    assert event in (None, Event.STAYS)
    assert turns[:4] == [BOTTOM, RISE, TOP, LOWERING]
    assert 0.5 < begin_of(time_s, phases, RISE) < 0.5 + 0.25 * rise_s
    assert 0.5 + 0.7 * rise_s < begin_of(time_s, phases, TOP) < 0.5 + 1.2 * rise_s
    down_s = 0.5 + rise_s + top_s
    assert down_s - 0.1 < begin_of(time_s, phases, LOWERING) < down_s + 0.45 * lowering_s


@pytest.mark.parametrize("tempo", [(0.8, 0.4, 1.0), (1.0, 1.0, 2.0), (2.0, 2.0, 4.0)])
def test_the_heels_are_down_where_the_speed_is_gone(tempo: tuple[float, float, float]) -> None:
    time_s, phases, _ = track(raised(*tempo))
    assert phases[-1] == DOWN
    assert begin_of(time_s, phases, DOWN) == pytest.approx(0.5 + sum(tempo), abs=0.4 * tempo[2])


def test_who_leans_stays_at_the_bottom_and_is_told_to() -> None:
    time_s, phases, event = track(Course(1.0).move(0.5, -1.5).rest(8.0))
    assert set(phases.tolist()) == {BOTTOM}
    assert event is Event.STAYS
    assert time_s[-1] == pytest.approx(Pace().lean_s, abs=0.02)


def test_who_stays_down_is_told_to() -> None:
    time_s, phases, event = track(raised().rest(4.0))
    assert event is Event.STAYS
    assert time_s[-1] - begin_of(time_s, phases, DOWN) == pytest.approx(Pace().linger_s, abs=0.02)


def test_who_goes_up_again_is_told_to() -> None:
    course = raised(1.0, 0.5, 1.0)
    course.now_s = 3.0
    time_s, phases, event = track(course.move(1.0, 56.0).rest(1.0))
    assert event is Event.AGAIN
    assert 3.0 < time_s[-1] < 3.4
    assert {RISE, TOP, LOWERING} <= set(phases.tolist())


def test_a_bounce_at_the_top_is_none() -> None:
    course = Course(0.5).move(1.0, 56.0).move(0.25, -4.0).move(0.25, 4.0).rest(0.5)
    _, phases, event = track(course)
    assert event is None
    assert phases[-1] == TOP
    assert LOWERING not in phases


def test_a_pause_half_way_is_no_top_where_more_is_expected() -> None:
    course = Course(0.5).move(0.6, 28.0).rest(0.6).move(0.6, 28.0).rest(0.5)
    time_s, phases, _ = track(course, expected_m=0.056)
    assert begin_of(time_s, phases, TOP) > 1.9
    time_s, phases, _ = track(course)
    assert begin_of(time_s, phases, TOP) < 1.3


def test_a_force_that_no_body_makes_is_told() -> None:
    time_s = np.arange(1, 500) / RATE_HZ
    tracker = PulseTracker(Pace())
    tracker.begin(REST, None, rising=False)
    phases, event = tracker.push(time_s, np.full(time_s.size, -1.0))
    assert event is Event.LOST
    assert time_s[phases.size - 1] == pytest.approx(np.sqrt(0.2), abs=0.02)


def test_what_never_ends_ends() -> None:
    course = Course(0.5).move(1.0, 56.0).rest(120.0)
    time_s, _, event = track(course)
    assert event is Event.ENDLESS
    assert time_s[-1] == pytest.approx(Pace().longest_s, abs=0.02)


def test_a_missing_reading_leaves_the_speed() -> None:
    time_s, acceleration = accelerations(raised())
    acceleration[95:98] = np.nan
    tracker = PulseTracker(Pace())
    tracker.begin(REST, None, rising=False)
    phases, _ = tracker.push(time_s, acceleration)
    assert phases[np.flatnonzero(np.diff(phases, prepend=-1))].tolist() == [BOTTOM, RISE, TOP, LOWERING, DOWN]


@pytest.mark.parametrize("step", [1, 9, 64])
def test_pieces_tell_the_same(step: int) -> None:
    time_s, acceleration = accelerations(raised())
    told = []
    for size in (time_s.size, step):
        tracker = PulseTracker(Pace())
        tracker.begin(REST, None, rising=False)
        pieces = [slice(start, start + size) for start in range(0, time_s.size, size)]
        told.append(np.concatenate([tracker.push(time_s[piece], acceleration[piece])[0] for piece in pieces]))
    np.testing.assert_array_equal(told[0], told[1])
