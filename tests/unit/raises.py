"""Heel raises and squats, made up from their physics: heights that move with least jerk, forces that follow from the
acceleration, and a centre of pressure that goes forward before the heels leave."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from weightshare.model import PART_COLUMNS, SIDE_COLUMNS, STANDARD_GRAVITY, Floats, Trace
from weightshare.scales.rig.sway import FOOT_BANDS, TOTAL_BANDS, Sway

WEIGHT_N = 700.0
STANDING, ON_TOES = 0.42, 0.85
"""The front part of the load, flat and on the balls of the feet."""
TRAVEL_PART = 0.75
"""The centre of mass goes up by this part of the heel's height."""
SHIFT_S = 0.25
"""How long the centre of pressure takes to the ball of the foot before the heel leaves, and back after it came down."""


def least_jerk(part: Floats) -> Floats:
    """Return the course from 0 to 1 of a move of least jerk (Flash and Hogan, 1985, equation 3), held at its ends."""
    x = np.clip(part, 0.0, 1.0)
    return np.asarray(x**3 * (10.0 - 15.0 * x + 6.0 * x**2), dtype=np.float64)


def when(part: float) -> float:
    """Return at what part of its time a move of least jerk has come `part` of its way."""
    x = np.linspace(0.0, 1.0, 100_001)
    return float(np.interp(part, least_jerk(x), x))


@dataclass(frozen=True)
class Instants:
    """What a repetition's instants truly are, s."""

    start_s: float
    top_s: float
    lowering_s: float
    end_s: float


@dataclass
class Course:
    """A course of one figure over time that rests at 0 and is built of moves; `now_s` is where the next one begins."""

    now_s: float = 5.0
    moves: list[tuple[float, float, float]] = field(default_factory=list)

    def move(self, duration_s: float, by: float) -> Course:
        """Go `by` further within `duration_s`."""
        self.moves.append((self.now_s, duration_s, by))
        return self.rest(duration_s)

    def rest(self, duration_s: float) -> Course:
        """Stay for `duration_s`."""
        self.now_s += duration_s
        return self

    def at(self, time_s: Floats) -> Floats:
        """Return the figure at times (n,)."""
        course = np.zeros(time_s.shape)
        for start_s, duration_s, by in self.moves:
            course += by * least_jerk((time_s - start_s) / duration_s)
        return course


@dataclass
class Scene:
    """Somebody on the plates: the heel's height (mm), where the load is, how much of it each side has."""

    heel: Course = field(default_factory=Course)
    forward: Course = field(default_factory=Course)
    """0: the load is where it is while standing; 1: on the balls of the feet."""
    dip: Course = field(default_factory=Course)
    """The centre of mass's height apart from the heels', m."""
    truth: list[Instants] = field(default_factory=list)
    share: Course = field(default_factory=Course)
    """The left side's share over a half, as a part."""

    @property
    def now_s(self) -> float:
        """How far it has been planned, s."""
        return self.heel.now_s

    def rest(self, duration_s: float) -> Scene:
        """Stand still."""
        for course in (self.heel, self.forward, self.dip, self.share):
            course.now_s = self.heel.now_s
        for course in (self.heel, self.forward, self.dip, self.share):
            course.rest(duration_s)
        return self

    def lift(self, rise_s: float, top_s: float, lowering_s: float, height_mm: float = 75.0, turn: float = 0.0) -> Scene:
        """Go up and come down; at the top `turn` of the load goes to the left side, and comes back at the bottom."""
        up, down = self.now_s, self.now_s + rise_s + top_s
        self.forward.now_s = up - SHIFT_S
        self.forward.move(SHIFT_S, 1.0)
        self.forward.now_s = down + lowering_s - 0.05
        self.forward.move(SHIFT_S, -1.0)
        self.heel.move(rise_s, height_mm).rest(top_s).move(lowering_s, -height_mm)
        if turn:
            self.share.now_s = up + rise_s
            self.share.move(max(top_s, 0.4), turn)
            self.share.now_s = down + lowering_s
            self.share.move(0.4, -turn)
        begin, end = when(0.1), when(0.9)
        self.truth.append(
            Instants(up + begin * rise_s, up + end * rise_s, down + begin * lowering_s, down + end * lowering_s)
        )
        return self

    def lean(self, duration_s: float, to: float = 0.7) -> Scene:
        """Lean forward until the front part of the load is `to`, and come back, with the heels on the ground."""
        part = (to - STANDING) / (ON_TOES - STANDING)
        self.forward.now_s = self.now_s
        self.forward.move(0.5, part).rest(duration_s).move(0.5, -part)
        self.heel.now_s = self.forward.now_s
        return self

    def squat(self, lowering_s: float, bottom_s: float, rise_s: float, depth_m: float = 0.3) -> Scene:
        """Bend the knees, stay, come up."""
        self.dip.now_s = down = self.now_s
        self.dip.move(lowering_s, -depth_m).rest(bottom_s).move(rise_s, depth_m)
        up = down + lowering_s + bottom_s
        begin, end = when(0.1), when(0.9)
        self.truth.append(
            Instants(down + begin * lowering_s, down + end * lowering_s, up + begin * rise_s, up + end * rise_s)
        )
        self.heel.now_s = self.dip.now_s
        return self

    def total(self, time_s: Floats, noise: Floats) -> Floats:
        """Return the total force (N) at times (n,): weight, acceleration, and `noise` in percent of the weight."""
        step = 1e-3
        places = [self._level_m(time_s + shift) for shift in (-step, 0.0, step)]
        acceleration = (places[0] - 2.0 * places[1] + places[2]) / step**2
        return WEIGHT_N * (1.0 + acceleration / STANDARD_GRAVITY + noise / 100.0)

    def _level_m(self, time_s: Floats) -> Floats:
        return TRAVEL_PART / 1000.0 * self.heel.at(time_s) + self.dip.at(time_s)

    def trace(self, rate_Hz: float = 80.0, seed: int = 1, noise_percent: float = 0.17, after_s: float = 3.0) -> Trace:
        """Return the trace of all that was planned, parts and sides, from 0 s on."""
        time_s = np.arange(round((self.now_s + after_s) * rate_Hz), dtype=np.float64) / rate_Hz
        sway = Sway(np.random.default_rng(seed), [TOTAL_BANDS, FOOT_BANDS, FOOT_BANDS, FOOT_BANDS]).at(time_s).T
        total = self.total(time_s, noise_percent * sway[0])
        left = total * (0.5 + self.share.at(time_s) + 0.01 * sway[3])
        forward = np.clip(self.forward.at(time_s), 0.0, 1.0)
        level = STANDING + (ON_TOES - STANDING) * forward
        spread = 0.03 - 0.015 * forward
        sides = left, total - left
        parts = [
            force * part
            for force, own in zip(sides, sway[1:3], strict=True)
            for part in (level + spread * own, 1.0 - level - spread * own)
        ]
        columns = dict(zip((*SIDE_COLUMNS, *PART_COLUMNS), (*sides, *parts), strict=True))
        return Trace(time_s, columns)


def raises(
    tempo: tuple[float, float, float], count: int, pause_s: float = 1.0, height_mm: float = 75.0, turn: float = 0.0
) -> Scene:
    """Return a scene of `count` raises at a tempo of rise, top and lowering (s), after 5 s of standing."""
    scene = Scene()
    for _ in range(count):
        scene.lift(*tempo, height_mm=height_mm, turn=turn).rest(pause_s)
    return scene
