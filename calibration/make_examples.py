"""Write the example points in `data/`: what plates of known manners would have read. Run it: it makes the same bytes.

Everything in the invented sets comes from the numbers below and a start of chance; no scale was ever read for them.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

GRAVITY = 9.80665
ZERO_COUNTS = 8123.0
NEWTON_PER_COUNT = 0.00125
STEPS_KG = (0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0)
CORNER_KG = 20.0
MIDDLE = (0.0, 0.0)
QUARTERS = ((-60.0, 80.0), (60.0, 80.0), (-60.0, -80.0), (60.0, -80.0))
"""mm, x right and y forward: front left, front right, rear left, rear right."""
RUNS = 2
HEADER = "mass_kg,counts,run,direction,x_mm,y_mm"


@dataclass(frozen=True)
class Plate:
    """What a plate is like. The errors are in N; those of the quarters are parts of the load."""

    seed: int
    sd_N: float = 0.20
    hysteresis_N: float = 0.60
    """Half-way: how much more it reads on the way down."""
    quarters: tuple[float, ...] = (0.0004, -0.0003, 0.0002, -0.0005)
    written_for_one_kg: float = 1.0
    """What somebody wrote down for each kilogram."""


GOOD = Plate(seed=1)
PLATES = {
    "good-plate.csv": GOOD,
    "loose-foot.csv": replace(GOOD, seed=12, quarters=(0.0004, -0.0003, 0.0002, -0.024)),
    "newtons-as-kg.csv": replace(GOOD, seed=13, written_for_one_kg=GRAVITY),
    "grams-as-kg.csv": replace(GOOD, seed=14, written_for_one_kg=1000.0),
}


def rows(plate: Plate) -> Iterator[str]:
    """Yield the lines of one set: runs up and down in the middle, then the quarters, each beside the middle."""
    chance = random.Random(plate.seed)
    greatest = STEPS_KG[-1]

    def row(kg: float, error_N: float, run: int, direction: str, place: tuple[float, float]) -> str:
        force_N = kg * GRAVITY + error_N + chance.gauss(0.0, plate.sd_N)
        counts = round(ZERO_COUNTS + force_N / NEWTON_PER_COUNT)
        return f"{kg * plate.written_for_one_kg:.6g},{counts},{run},{direction},{place[0]:g},{place[1]:g}"

    yield HEADER
    for run in range(1, RUNS + 1):
        for kg in STEPS_KG:
            yield row(kg, 0.0, run, "up", MIDDLE)
        for kg in STEPS_KG[-2::-1]:
            yield row(kg, plate.hysteresis_N * 4.0 * kg * (greatest - kg) / greatest**2, run, "down", MIDDLE)
    for run in range(RUNS + 1, RUNS + 3):
        yield row(CORNER_KG, 0.0, run, "", MIDDLE)
        for place, part in zip(QUARTERS, plate.quarters, strict=True):
            yield row(CORNER_KG, part * CORNER_KG * GRAVITY, run, "", place)


def examples() -> dict[str, str]:
    """Return the text of each invented set by the name of its file."""
    return {name: "\n".join(rows(plate)) + "\n" for name, plate in PLATES.items()}


def main() -> int:
    """Write the files; return 0."""
    folder = Path(__file__).parent / "data"
    for name, text in examples().items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
        sys.stdout.write(f"{folder / name}\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
