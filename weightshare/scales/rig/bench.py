"""A bench without a person: virtual hands lay known masses on the plates, as they are asked to."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from weightshare.metrology.reading import Mass, Placement, Spot
from weightshare.model import STANDARD_GRAVITY, Floats, Side
from weightshare.scales.rig.people import PEOPLE
from weightshare.scales.rig.scene import Cast, Scene

BENCH = "bench"
"""The name that stands where a person's would: nobody is there, only hands."""
BENCH_PROFILE = replace(PEOPLE["steered"], name=BENCH, words="nobody stands there: hands lay masses on, as asked")
REACH_S = (0.6, 1.4)
"""From being asked to the first touch, s."""
MOVE_S = 0.5
"""How long laying on and taking off takes; a mass that is moved is in the air for as long."""
SCATTER_N = 0.25
"""Standard deviation of what each placement adds to its load."""
PLACE_PART = 0.01
"""Standard deviation of where a load lies, as a part of the way to the supports: 1 to 2 mm."""
WOBBLE_PART, WOBBLE_HZ, WOBBLE_S = 0.03, 3.0, 0.25
LOOSE_PART = 0.06
"""So much of the load in one quarter goes into the floor, where a foot is loose."""
LATE_S, WRONG_S, STAY_S = 45.0, 8.0, 15.0
"""How long hands that are late, that took the wrong plate, or a person who stays take, s."""
PERSON_N, PERSON_SWAY = 736.0, 0.004


@dataclass(frozen=True, slots=True)
class Load:
    """What lies on a plate: newtons, and where, as parts of the way to the supports (x right, y forward)."""

    newton: float = 0.0
    x_part: float = 0.0
    y_part: float = 0.0


@dataclass(frozen=True, slots=True)
class Reach:
    """One movement of the hands over one plate: from `start_s`, by way of nothing where `lifted`."""

    start_s: float
    before: Load
    after: Load
    lifted: bool = False

    def newton(self, time_s: Floats) -> Floats:
        """Return the load at `time_s`, N, both of shape (n,)."""
        gone_s = time_s - self.start_s
        if self.lifted:
            put = _smooth(gone_s / MOVE_S - 2.0)
            course = self.before.newton * (1.0 - _smooth(gone_s / MOVE_S)) + self.after.newton * put
            landed_s = gone_s - 3.0 * MOVE_S
        else:
            course = self.before.newton + (self.after.newton - self.before.newton) * _smooth(gone_s / MOVE_S)
            landed_s = gone_s - MOVE_S
        wave = np.sin(2.0 * np.pi * WOBBLE_HZ * landed_s) * np.exp(-np.clip(landed_s, 0.0, None) / WOBBLE_S)
        moved_N = abs(self.after.newton) if self.lifted else abs(self.after.newton - self.before.newton)
        wobbling: Floats = course + np.where(landed_s > 0.0, WOBBLE_PART * moved_N * wave, 0.0)
        return wobbling

    def where(self, time_s: Floats) -> tuple[Floats, Floats]:
        """Return x and y, as parts of the way to the supports, at `time_s`; all of shape (n,)."""
        gone = time_s - self.start_s > (1.5 * MOVE_S if self.lifted else 0.5 * MOVE_S)
        # what is left behind when all is taken off lay where it lay
        after = self.before if not self.lifted and self.after.newton < self.before.newton else self.after
        return np.where(gone, after.x_part, self.before.x_part), np.where(gone, after.y_part, self.before.y_part)


class BenchScene(Scene):
    """The plates with masses on them. `place` may be called from any thread."""

    def __init__(self, cast: Cast) -> None:
        super().__init__(cast)
        self._hands = threading.Lock()
        self._reset()

    def _reset(self) -> None:
        rng = np.random.default_rng([self.cast.seed, 53])
        empty = {side: Load(SCATTER_N * float(rng.standard_normal())) for side in Side}
        self._reach = {side: Reach(-1e9, load, load) for side, load in empty.items()}
        self._due: list[tuple[float, Side, Load, bool]] = []
        self._tries: dict[int, int] = {}
        self._on: dict[Side, tuple[tuple[int, ...], Spot]] = dict.fromkeys(Side, ((), Spot.MIDDLE))
        self._person: tuple[float, float, Side] | None = None
        self._erred = False

    def begin(self, device_id: str, first_ns: int, interval_s: float) -> tuple[float, bool]:
        """Note that a scale takes its first sample; masses stay where they lie, whatever the scale does."""
        time_s, new = super().begin(device_id, first_ns, interval_s)
        if new:
            with self._hands:
                # the visit's time begins anew: what was under way is done soon
                last = {side: reach.after for side, reach in self._reach.items()}
                self._reach = {side: Reach(-1e9, load, load) for side, load in last.items()}
                self._due = [(1.0 + at, side, load, lifted) for at, (_s, side, load, lifted) in enumerate(self._due)]
                self._person = None
        return time_s, new

    def place(self, placement: Placement, masses: Sequence[Mass], gravity_m_s2: float = STANDARD_GRAVITY) -> None:
        """Let the hands do what a step asks for, from the newest sample on; `masses` as they are told, not as they are.

        Each mass has an error that the seed draws from its uncertainty, each placement its own scatter.
        """
        with self._hands:
            now_s = self.last_s or 0.0
            number, side = placement.number, placement.side
            self._tries[number] = attempt = self._tries.get(number, -1) + 1
            rng = np.random.default_rng([self.cast.seed, 51, number, attempt])
            if not placement.masses and not self._on[side][0]:
                # nothing is there to be taken away, and nobody touches the plate
                return
            load = self._load(placement, masses, gravity_m_s2, rng)
            start_s = now_s + float(rng.uniform(*REACH_S))
            on, spot = self._on[side]
            moved = bool(on) and set(on) <= set(placement.masses) and placement.spot is not spot
            lifted = moved or (attempt > 0 and bool(placement.masses))
            self._on[side] = placement.masses, placement.spot
            self._due = []
            self._schedule(start_s, placement, load, lifted)

    def _load(self, placement: Placement, masses: Sequence[Mass], gravity: float, rng: np.random.Generator) -> Load:
        true_kg = true_masses(masses, self.cast.seed)
        newton = float(sum(true_kg[place] for place in placement.masses)) * gravity
        newton += SCATTER_N * float(rng.standard_normal())
        x_part, y_part = PLACE_PART * rng.standard_normal(2)
        spot = placement.spot
        if self.cast.fault.hands == "loose-foot" and (placement.side, spot) == (Side.LEFT, Spot.REAR_RIGHT):
            newton *= 1.0 - LOOSE_PART
        return Load(newton, 0.5 * spot.x_sign + float(x_part), 0.5 * spot.y_sign + float(y_part))

    def _schedule(self, start_s: float, placement: Placement, load: Load, lifted: bool) -> None:
        """Plan the movement, and what the hands do wrong before it, once."""
        side, hands = placement.side, self.cast.fault.hands
        if placement.masses and not self._erred and hands in ("wrong-plate", "late", "person-on"):
            self._erred = True
            if hands == "wrong-plate":
                other = self._reach[side.other].after
                self._due += [(start_s, side.other, load, False), (start_s + WRONG_S, side.other, other, False)]
            if hands == "person-on":
                self._person = (start_s, start_s + STAY_S, side)
            start_s += {"wrong-plate": WRONG_S + 1.0, "late": LATE_S, "person-on": STAY_S + 1.0}[hands]
        self._due.append((start_s, side, load, lifted))

    def look(self, time_s: Floats) -> tuple[Floats, Floats]:
        """Return the true forces (N, shape (n, 4)) at `time_s` (n,), and heel heights: 0, (n, 2)."""
        with self._hands:
            self._move(float(time_s[-1]))
            forces = np.zeros((time_s.size, 4))
            for number, side in enumerate(Side):
                load_N = self._reach[side].newton(time_s) + self._body(time_s, side)
                front = 0.5 + 0.5 * self._reach[side].where(time_s)[1]
                forces[:, 2 * number] = load_N * front
                forces[:, 2 * number + 1] = load_N * (1.0 - front)
        return forces, np.zeros((time_s.size, 2))

    def x_part(self, time_s: Floats) -> Floats | None:
        """Return how far right of its plate's middle each side's load lies, shape (n, 2), -1 to 1."""
        with self._hands:
            return np.stack([self._reach[side].where(time_s)[0] for side in Side], axis=1)

    def _move(self, now_s: float) -> None:
        """Begin every movement that is due."""
        while self._due and self._due[0][0] <= now_s:
            start_s, side, load, lifted = self._due.pop(0)
            self._reach[side] = Reach(start_s, self._reach[side].after, load, lifted)

    def _body(self, time_s: Floats, side: Side) -> Floats:
        """Return what somebody who has no business there adds, N, shape (n,)."""
        if self._person is None or self._person[2] is not side:
            return np.zeros(time_s.size)
        begin_s, end_s, _side = self._person
        there = _smooth((time_s - begin_s) / 0.6) - _smooth((time_s - end_s) / 0.6)
        sway = 1.0 + PERSON_SWAY * np.sin(2.0 * np.pi * 0.4 * time_s)
        body: Floats = PERSON_N * there * sway
        return body


def true_masses(masses: Sequence[Mass], seed: int) -> list[float]:
    """Return what the masses really are, kg: each off by what the seed draws from its standard uncertainty."""
    rng = np.random.default_rng([seed, 52])
    return [mass.kg + mass.u_kg * float(rng.standard_normal()) for mass in masses]


def _smooth(part: Floats) -> Floats:
    within = np.clip(part, 0.0, 1.0)
    curve: Floats = within * within * (3.0 - 2.0 * within)
    return curve
