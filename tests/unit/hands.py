"""Hands for the guide: samples of a scale on which loads lie, without a link."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from weightshare.metrology.reading import Mass
from weightshare.model import Channel, Floats, Identity, Quantity, Side
from weightshare.workbench.guide import Guide
from weightshare.workbench.plan import Ask, Wanted

RATE_HZ = 20.0
GRAVITY = 9.81
ZERO = np.array([5000.0, -2000.0, 800.0, 12000.0])
SLOPE = 0.00125
CHANNELS = tuple(Channel(Quantity.FORCE, side, 0, y_mm) for side in Side for y_mm in (120, -120))
PAIR = Identity("00112233445566aa", (1, 0, 0), 1, 1_000_000, RATE_HZ, CHANNELS)
MASSES = (Mass("10 kg", 10.0, 0.0003), Mass("20 kg", 20.0, 0.0006))
BRIEF = Wanted(MASSES, (Side.LEFT,), runs=1, drift_s=6.0, creep_s=0.0, corner_rounds=1)


@dataclass
class Hands:
    """Lays loads on, kg on the left and right plate, and pushes what the cells read to the guide."""

    guide: Guide
    slope: float = SLOPE
    kg: list[float] = field(default_factory=lambda: [0.0, 0.0])
    front: float = 0.5
    time_s: float = 0.0

    def __post_init__(self) -> None:
        self._rng = np.random.default_rng(7)

    def readings(self, count: int) -> Floats:
        """Return counts, shape (4, count), of what lies there."""
        load_N = np.repeat(self.kg, 2) * GRAVITY * np.tile([self.front, 1.0 - self.front], 2)
        noise_N = 0.1 * self._rng.standard_normal((4, count))
        counts: Floats = np.rint((load_N[:, None] + noise_N) / self.slope + ZERO[:, None])
        return counts

    def wait(self, seconds: float) -> None:
        """Let time pass, and nothing change."""
        count = round(seconds * RATE_HZ)
        self.push(self.readings(count))

    def push(self, readings: Floats) -> None:
        """Push samples as they are, shape (4, n)."""
        time_s = self.time_s + np.arange(readings.shape[1]) / RATE_HZ
        self.time_s += readings.shape[1] / RATE_HZ
        self.guide.push(time_s, readings, 1.0 / RATE_HZ)

    def lay(self, left_kg: float | None = None, right_kg: float | None = None, seconds: float = 2.0) -> None:
        """Put that much on, and wait."""
        self.kg = [self.kg[0] if left_kg is None else left_kg, self.kg[1] if right_kg is None else right_kg]
        self.wait(seconds)

    def obey(self, ask: Ask, part: float = 1.0) -> None:
        """Do what a step asks for, with `part` of the load, and wait until it is measured."""
        side = 0 if ask.placement.side is Side.LEFT else 1
        if ask.placement.masses and self.kg[side]:
            self.kg[side] = 0.0
            self.wait(1.0)
        self.kg[side] = part * ask.load_kg
        self.front = 0.5 + 0.25 * ask.placement.spot.y_sign
        self.wait(1.4 + ask.measure_s + 0.2)


def begin(wanted: Wanted = BRIEF, **how: float) -> Hands:
    """Return hands at a scale that the guide has met, with nothing on."""
    guide = Guide(wanted)
    guide.meet(PAIR)
    return Hands(guide, **how)  # type: ignore[arg-type]  # the floats of Hands


def go_to(hands: Hands, number: int) -> Ask:
    """Do every step before the one of that number (from 1); return that step."""
    while (ask := hands.guide.ask) is not None and hands.guide.view().number < number:
        before = hands.guide.view().number
        hands.obey(ask)
        assert hands.guide.view().number > before or hands.guide.is_done, hands.guide.view()
    assert ask is not None
    return ask


def trouble(hands: Hands) -> str:
    """Return what is wrong now."""
    return hands.guide.view().trouble
