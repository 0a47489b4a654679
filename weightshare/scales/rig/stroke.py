"""Movement shapes: how something gets from one level to another, and how long it takes to leave and to arrive."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from weightshare.exercise import Tempo
from weightshare.scales.rig.plan import Lane, Move
from weightshare.scales.rig.profile import Manner, Stroke

_U = np.linspace(0.0, 1.0, 201)
_SOFT = _U**3 - _U**4 / 2
"""Way of a soft start, in parts of its final speed times its duration."""
_LEAST_JERK_TENTH = 0.24664
"""The part of a least-jerk movement's duration in which a tenth of its way is done: 10 u^3 - 15 u^4 + 6 u^5 = 0.1."""
_SINE_TENTH = float(np.arccos(0.8) / np.pi)
SOFT_PART = 0.2
LONGEST_SLOWDOWN = 3.0


@dataclass(frozen=True, slots=True)
class Knot:
    """The end of one piece of a movement: its duration (s), and where it ends as a part of the way, with its speed
    (1/s) and acceleration (1/s^2)."""

    duration_s: float
    part: float
    speed: float = 0.0
    acceleration: float = 0.0


@dataclass(frozen=True, slots=True)
class Cycle:
    """How long one repetition's movements and stops take, s."""

    rise_s: float
    top_s: float
    lowering_s: float
    bottom_s: float
    tail_s: float
    """How long before the end of the rise 90 % of the way is done."""


def tenth_s(manner: Manner, duration_s: float) -> float:
    """Return how long the first (and the last) tenth of the way takes, s."""
    if manner.stroke is Stroke.SWINGING:
        return _SINE_TENTH * duration_s
    if manner.stroke is Stroke.LEAST_JERK:
        return _LEAST_JERK_TENTH * duration_s
    soft_s = _soft_s(manner, duration_s)
    way = 0.1 * (duration_s - soft_s) / soft_s
    return float(soft_s * (np.interp(way, _SOFT, _U) if way < 0.5 else 0.5 + way))


def _soft_s(manner: Manner, duration_s: float) -> float:
    """Return how long a soft start takes: who has little time does not take it for that."""
    return min(manner.soft_s, SOFT_PART * duration_s)


def time_cycle(manner: Manner, asked: Tempo) -> Cycle:
    """Return the movements with which the phases, between 10 % and 90 % of the height, last as long as asked.

    Where the ends of the movements take longer than the stops that are asked for, there is no stop, and the movements
    are shortened, so that the whole still lasts as long as asked.
    """
    rise_s, lowering_s = (_stretch(manner, phase_s) for phase_s in (asked.rise_s, asked.lowering_s))
    tails_s = tenth_s(manner, rise_s) + tenth_s(manner, lowering_s)
    top_s, bottom_s = max(asked.top_s - tails_s, 0.0), max(asked.pause_s - tails_s, 0.0)
    shorter = min((asked.cycle_s - top_s - bottom_s) / (rise_s + lowering_s), 1.0)
    rise_s, lowering_s = rise_s * shorter, lowering_s * shorter
    return Cycle(rise_s, top_s, lowering_s, bottom_s, tenth_s(manner, rise_s))


def _stretch(manner: Manner, phase_s: float) -> float:
    """Return the whole movement's duration of which the middle 80 % of the way take `phase_s`."""
    low, high = phase_s, LONGEST_SLOWDOWN * phase_s
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if middle - 2 * tenth_s(manner, middle) < phase_s else (low, middle)
    return high


def make_stroke(
    manner: Manner, duration_s: float, rng: np.random.Generator, *, up: bool, slowed: float = 1.0
) -> list[Knot]:
    """Return the pieces of one movement from one level to the other.

    `slowed` is how much small movements slow down between: 1 nearly to a stop, 0 not at all.
    """
    stroke = manner.stroke
    if stroke is Stroke.SWINGING:
        return _sine(duration_s)
    if stroke is Stroke.JERKY:
        return _submovements(duration_s, rng, slowed)
    if stroke is Stroke.PAUSING and up:
        return _with_pause(duration_s, rng)
    if stroke is Stroke.LEAST_JERK:
        return [Knot(duration_s, 1.0)]
    return _even(duration_s, _soft_s(manner, duration_s))


def _even(duration_s: float, soft_s: float) -> list[Knot]:
    speed = 1.0 / (duration_s - soft_s)
    soft = speed * soft_s / 2
    return [Knot(soft_s, soft, speed), Knot(duration_s - 2 * soft_s, 1.0 - soft, speed), Knot(soft_s, 1.0)]


def _sine(duration_s: float) -> list[Knot]:
    """Half a cosine in four pieces that share its value, speed and acceleration: off by under 1e-5 of the way."""
    angle = np.pi * np.arange(1, 5) / 4
    rate = np.pi / duration_s
    return [
        Knot(
            duration_s / 4,
            float(0.5 - 0.5 * np.cos(a)),
            float(0.5 * rate * np.sin(a)),
            float(0.5 * rate**2 * np.cos(a)),
        )
        for a in angle
    ]


def _submovements(duration_s: float, rng: np.random.Generator, slowed: float) -> list[Knot]:
    """Several small movements, about three in a second."""
    count = int(np.clip(round(2.6 * duration_s), 2, 12))
    times = np.cumsum(rng.uniform(0.7, 1.3, count))
    parts = np.cumsum(rng.uniform(0.7, 1.3, count))
    times, parts = times / times[-1], parts / parts[-1]
    slow = (1.0 - slowed * rng.uniform(0.65, 0.95, count)) / duration_s
    slow[-1] = 0.0
    steps = np.diff(times, prepend=0.0) * duration_s
    return [Knot(float(t), float(p), float(v)) for t, p, v in zip(steps, parts, slow, strict=True)]


def _with_pause(duration_s: float, rng: np.random.Generator) -> list[Knot]:
    half, still_s = rng.uniform(0.38, 0.62), rng.uniform(0.4, 0.8)
    first_s = max(half * duration_s, 0.35)
    return [Knot(first_s, half), Knot(still_s, half), Knot(max(duration_s - first_s, 0.35), 1.0)]


def length_s(knots: list[Knot]) -> float:
    """Return how long a movement takes, s."""
    return sum(knot.duration_s for knot in knots)


def moves_of(lane: Lane, knots: list[Knot], start_s: float, way: tuple[float, float]) -> Iterator[Move]:
    """Yield the moves of one lane, from `way`'s first level to its second."""
    begin, end = way
    for knot in knots:
        size = end - begin
        yield Move(
            lane, start_s, knot.duration_s, begin + size * knot.part, size * knot.speed, size * knot.acceleration
        )
        start_s += knot.duration_s
