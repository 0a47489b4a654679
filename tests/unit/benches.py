"""Records of a calibration on the bench, made without a scale: every placement reads just what it should."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from weightshare.metrology.reading import BenchRecord, Going, Mass, Placement, PlateLayout, Window
from weightshare.model import Floats, Side
from weightshare.workbench.plan import Wanted, make_plan

GRAVITY = 9.81
MASSES = tuple(Mass(f"{kg} kg", kg, 3e-5 * kg) for kg in (10.0, 10.0, 20.0, 20.0))
PAIR = ((0.0, 120.0), (0.0, -120.0))
FOUR = ((-150.0, 120.0), (150.0, 120.0), (-150.0, -120.0), (150.0, -120.0))
HELD_S = 3.0
"""From one placement's last window to the next one's load, s."""


@dataclass(frozen=True)
class Plate:
    """A plate as it is; `scatter_N` is what each placement adds, by its place in the plan."""

    slopes: tuple[float, ...] = (0.00125, 0.00124)
    curve: float = 0.0
    hysteresis_N: float = 0.0
    unequal: tuple[float, ...] = (0.0, 0.0)
    creep: float = 0.0
    creep_s: float = 40.0
    drift_N_per_s: float = 0.0
    zero_counts: float = 5000.0
    places_mm: tuple[tuple[float, float], ...] = PAIR
    scatter_N: Sequence[float] = field(default_factory=list)

    def parts(self, placement: Placement) -> Floats:
        """Return which part of the load each channel bears."""
        weights = []
        for x_mm, y_mm in self.places_mm:
            along = 0.5 + 0.25 * placement.spot.y_sign * np.sign(y_mm)
            across = 0.5 + 0.25 * placement.spot.x_sign * np.sign(x_mm) if x_mm else 1.0
            weights.append(along * across)
        parts: Floats = np.array(weights) / sum(weights)
        return parts


def make_record(plate: Plate, wanted: Wanted | None = None, masses: Sequence[Mass] = MASSES) -> BenchRecord:
    """Return the record of a guided calibration of one plate, the left one."""
    wanted = wanted or Wanted(tuple(masses), sides=(Side.LEFT,))
    asks = make_plan(wanted)
    loads_N = np.array([ask.load_kg * GRAVITY for ask in asks])
    greatest_N = loads_N.max()
    changed_s = np.cumsum([0.0, *[ask.measure_s + HELD_S for ask in asks]])[:-1]
    windows = []
    for number, ask in enumerate(asks):
        long = ask.measure_s > 10.0
        middles = changed_s[number] + (np.arange(0.5, ask.measure_s) if long else np.array([0.5 * ask.measure_s]))
        part = loads_N[number] / greatest_N
        down = ask.placement.going is Going.DOWN and bool(ask.placement.masses)
        for time_s in middles:
            seen_N = plate.parts(ask.placement) * loads_N[number]
            if len(plate.places_mm) == len(PAIR):
                seen_N = seen_N * (1.0 + ask.placement.spot.x_sign * np.array(plate.unequal))
            more_N = plate.hysteresis_N * 4.0 * part * (1.0 - part) * down + plate.drift_N_per_s * time_s
            steps_N = np.diff(loads_N[: number + 1], prepend=0.0)
            ages_s = time_s - changed_s[: number + 1]
            more_N += plate.creep * float(steps_N @ -np.expm1(-ages_s / plate.creep_s))
            if len(plate.scatter_N):
                more_N += plate.scatter_N[number]
            # no part of what is added bends the line between the channels
            total_N = seen_N.sum()
            seen_N = seen_N + more_N * (seen_N / total_N if total_N else np.full(seen_N.size, 1.0 / seen_N.size))
            straight_N = 2.0 * seen_N / (1.0 + np.sqrt(1.0 + 4.0 * plate.curve * seen_N))
            counts = straight_N / np.array(plate.slopes) + plate.zero_counts
            windows.append(Window(number, float(time_s), 100, tuple(counts.tolist()), (40.0,) * counts.size))
    layout = PlateLayout(Side.LEFT, tuple(range(len(plate.slopes))), plate.places_mm)
    placements = tuple(ask.placement for ask in asks)
    record = "0011223344556677", (layout,), tuple(wanted.masses), placements, tuple(changed_s.tolist()), tuple(windows)
    return BenchRecord(*record, 100.0, GRAVITY)
