"""Points of a calibration, made up: what a plate of known manners would have read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from weightshare.metrology.point import Points
from weightshare.records.points import read_points

GRAVITY = 9.81
ZERO = 8123.0
SLOPE = 0.00125
STEPS_KG = (0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0)
CORNERS = ((-100.0, 150.0), (100.0, 150.0), (-100.0, -150.0), (100.0, -150.0))


@dataclass(frozen=True)
class Plate:
    """What the plate is like. Errors in N, of a load in N; `corners` are parts of the load."""

    sd_N: float = 0.25
    curve_per_N: float = 0.0
    hysteresis_N: float = 0.0
    """Half-way, on the way down."""
    return_N: float = 0.0
    corners: tuple[float, ...] = ()
    slope: float = SLOPE
    runs: int = 2
    unit: float = 1.0
    """What is written for each kilogram."""
    column: str = "mass_kg"


def points_csv(plate: Plate, seed: int = 1) -> str:
    """Return a CSV file of runs up and down and, where there are corners, of 20 kg at each."""
    rng = np.random.default_rng(seed)
    rows = [f"{plate.column},counts,run,direction,x_mm,y_mm"]

    def add(kg: float, error_N: float, run: int, way: str, place: tuple[float, float]) -> None:
        load_N = kg * GRAVITY
        read_N = load_N + error_N + plate.sd_N * rng.standard_normal()
        straight_N = read_N - plate.curve_per_N * read_N**2
        counts = round(ZERO + straight_N / plate.slope)
        rows.append(f"{kg * plate.unit:.10g},{counts},{run},{way},{place[0]:g},{place[1]:g}")

    for run in range(1, plate.runs + 1):
        for kg in STEPS_KG:
            add(kg, 0.0, run, "up", (0.0, 0.0))
        for kg in STEPS_KG[-2::-1]:
            shape = 4.0 * kg * (STEPS_KG[-1] - kg) / STEPS_KG[-1] ** 2
            add(kg, plate.hysteresis_N * shape + (plate.return_N if not kg else 0.0), run, "down", (0.0, 0.0))
    for place, part in zip(CORNERS, plate.corners, strict=False):
        add(20.0, part * 20.0 * GRAVITY, plate.runs + 1, "up", place)
    return "\n".join(rows) + "\n"


def write_points(path: Path, plate: Plate, seed: int = 1) -> Path:
    """Write that file; return its path."""
    path.write_text(points_csv(plate, seed), encoding="utf-8")
    return path


def make_points(path: Path, plate: Plate, seed: int = 1) -> Points:
    """Return its points, read back."""
    (points,) = read_points(write_points(path, plate, seed))
    return points
