"""Movement shapes: how long the phases last that a measure sees, and what makes each shape that shape."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from weightshare.exercise import Tempo
from weightshare.model import Floats
from weightshare.scales.rig.path import Path
from weightshare.scales.rig.plan import Lane
from weightshare.scales.rig.profile import Manner, Stroke
from weightshare.scales.rig.stroke import Knot, length_s, make_stroke, moves_of, tenth_s, time_cycle

RNG = np.random.default_rng


def run(knots: list[Knot], way: tuple[float, float] = (0.0, 1.0), rate_Hz: float = 1000.0) -> tuple[Floats, ...]:
    """Times, value, speed and acceleration of a movement that begins at 1 s, and of a moment before and after."""
    path = Path(way[0])
    for move in moves_of(Lane.HEEL, knots, 1.0, way):
        path.move(move.start_s, move.duration_s, move.value, move.speed, move.acceleration)
    time_s = np.arange(0.5, 1.5 + length_s(knots), 1.0 / rate_Hz)
    return time_s, *path.course(time_s)


def crossing(time_s: Floats, value: Floats, level: float) -> float:
    return float(time_s[np.argmax(value >= level)])


@pytest.mark.parametrize("stroke", [Stroke.EVEN, Stroke.LEAST_JERK, Stroke.SWINGING])
@pytest.mark.parametrize("duration_s", [0.7, 1.0, 2.6, 6.0])
def test_a_tenth_of_the_way_takes_as_long_as_it_says(stroke: Stroke, duration_s: float) -> None:
    manner = Manner(stroke=stroke)
    time_s, value, *_ = run(make_stroke(manner, duration_s, RNG(1), up=True))
    # a millisecond is the grid; a sine that begins from rest has to get going first
    near_s = 0.001 + 0.001 * duration_s
    assert crossing(time_s, value, 0.1) - 1.0 == pytest.approx(tenth_s(manner, duration_s), abs=near_s)
    assert 1.0 + duration_s - crossing(time_s, value, 0.9) == pytest.approx(tenth_s(manner, duration_s), abs=near_s)


@pytest.mark.parametrize("stroke", Stroke)
@pytest.mark.parametrize("up", [True, False])
def test_every_movement_gets_there_without_a_jump(stroke: Stroke, up: bool) -> None:
    way = (-25.0, 70.0) if up else (70.0, -25.0)
    _, value, speed, _ = run(make_stroke(Manner(stroke=stroke), 1.7, RNG(3), up=up), way)
    assert (value[0], value[-1]) == pytest.approx(way)
    assert np.abs(np.diff(value)).max() < 0.3
    assert np.abs(np.diff(speed)).max() < 6.0
    assert speed[-1] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("tempo", "stroke"),
    [
        (Tempo(1.0, 1.0, 2.0, 1.0), Stroke.EVEN),
        (Tempo(2.0, 2.0, 4.0, 2.0), Stroke.EVEN),
        (Tempo(1.0, 2.0, 2.0, 2.0), Stroke.LEAST_JERK),
        (Tempo(2.0, 3.0, 3.0, 3.0), Stroke.SWINGING),
    ],
)
def test_the_phases_between_10_and_90_percent_last_as_asked(tempo: Tempo, stroke: Stroke) -> None:
    manner = Manner(stroke=stroke)
    cycle = time_cycle(manner, tempo)
    assert cycle.rise_s - 2 * tenth_s(manner, cycle.rise_s) == pytest.approx(tempo.rise_s, abs=0.01)
    assert cycle.lowering_s - 2 * tenth_s(manner, cycle.lowering_s) == pytest.approx(tempo.lowering_s, abs=0.01)
    tails_s = tenth_s(manner, cycle.rise_s) + tenth_s(manner, cycle.lowering_s)
    assert cycle.top_s + tails_s == pytest.approx(tempo.top_s, abs=0.01)
    assert cycle.rise_s + cycle.top_s + cycle.lowering_s + cycle.bottom_s == pytest.approx(tempo.cycle_s, abs=0.01)
    assert cycle.tail_s == pytest.approx(tenth_s(manner, cycle.rise_s))


@pytest.mark.parametrize("stroke", Stroke)
def test_where_no_stop_is_asked_for_the_whole_still_lasts_as_asked(stroke: Stroke) -> None:
    cycle = time_cycle(Manner(stroke=stroke), Tempo(1.0, 0.0, 1.0, 0.0))
    assert (cycle.top_s, cycle.bottom_s) == (0.0, 0.0)
    assert (cycle.rise_s, cycle.lowering_s) == pytest.approx((1.0, 1.0))


def test_least_jerk_is_the_known_polynomial() -> None:
    # Flash and Hogan (1985), equation 3
    time_s, value, *_ = run(make_stroke(Manner(stroke=Stroke.LEAST_JERK), 1.6, RNG(1), up=True))
    u = np.clip((time_s - 1.0) / 1.6, 0.0, 1.0)
    assert value == pytest.approx(10 * u**3 - 15 * u**4 + 6 * u**5, abs=1e-9)


def test_swinging_is_a_sine_in_value_and_acceleration() -> None:
    knots = make_stroke(Manner(stroke=Stroke.SWINGING), 1.0, RNG(1), up=True)
    back = [Knot(k.duration_s, 1.0 - k.part, -k.speed, -k.acceleration) for k in knots]
    path = Path(0.0)
    for number, piece in enumerate((knots, back, knots, back)):
        for move in moves_of(Lane.HEEL, piece, 1.0 + number, (0.0, 1.0)):
            path.move(move.start_s, move.duration_s, move.value, move.speed, move.acceleration)
    time_s = np.arange(2.0, 4.0, 0.001)
    value, _, acceleration = path.course(time_s)
    assert value == pytest.approx(0.5 - 0.5 * np.cos(np.pi * (time_s - 1.0)), abs=2e-5)
    assert acceleration == pytest.approx(0.5 * np.pi**2 * np.cos(np.pi * (time_s - 1.0)), abs=0.03)


def test_an_even_stroke_goes_at_one_speed_between_soft_ends() -> None:
    time_s, _, speed, _ = run(make_stroke(Manner(), 3.0, RNG(1), up=True))
    middle = (time_s > 1.46) & (time_s < 3.54)
    assert speed[middle] == pytest.approx(np.full(middle.sum(), 1.0 / 2.55), abs=1e-6)


def test_a_jerky_stroke_slows_down_several_times_on_its_way() -> None:
    for seed in range(5):
        _, _, speed, _ = run(make_stroke(Manner(stroke=Stroke.JERKY), 2.0, RNG(seed), up=True))
        dips = [
            low
            for low in np.flatnonzero((speed[1:-1] < speed[:-2]) & (speed[1:-1] <= speed[2:])) + 1
            if 0.0 < speed[low] < 0.4 * speed.max()
        ]
        assert len(dips) >= 3
    slowed = make_stroke(Manner(stroke=Stroke.JERKY), 2.0, RNG(1), up=True, slowed=0.3)
    assert all(knot.speed > 0.65 / 2.0 for knot in slowed[:-1])


def test_a_pause_is_half_way_and_on_the_way_up_only() -> None:
    for seed in range(10):
        manner = Manner(stroke=Stroke.PAUSING)
        time_s, value, speed, _ = run(make_stroke(manner, 1.5, RNG(seed), up=True))
        still = (np.abs(speed) < 1e-9) & (value > 0.05) & (value < 0.95)
        assert 0.38 < still.sum() / 1000.0 < 0.85
        assert 0.38 <= value[still].mean() <= 0.62
        down = make_stroke(manner, 1.5, RNG(seed), up=False)
        assert len(down) == 3
        assert all(a.part < b.part for a, b in pairwise(down))
        assert time_s[-1] > 2.5
