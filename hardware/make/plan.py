"""The standard build's figures, and what follows from them: where the bolts are, what it bears, how far it bends."""

from __future__ import annotations

import json
import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np

HERE = Path(__file__).resolve().parent.parent
FIGURES: dict[str, Any] = tomllib.loads((HERE / "build.toml").read_text(encoding="utf-8"))
"""What build.toml says: mm, and units as the names tell."""
GRAVITY = 9.80665
STEEL_KG_M3 = 7850.0

DECK, FOOT, CELL, HEEL = FIGURES["deck"], FIGURES["foot"], FIGURES["cell"], FIGURES["heel"]
TOE_STOP, PAIR, BOX, LOAD = FIGURES["toe_stop"], FIGURES["pair"], FIGURES["box"], FIGURES["load"]

CORNERS = ((-1, 1), (1, 1), (-1, -1), (1, -1))
"""Front left, front right, rear left, rear right."""
CORNER_NAMES = ("FL", "FR", "RL", "RR")

UNDER_CELL = FOOT["pad_height"]
UNDER_DECK = UNDER_CELL + CELL["height"] + CELL["spacer"]
"""From the floor to the deck's underside."""
DECK_TOP = UNDER_DECK + DECK["thickness"]
STEP = DECK_TOP + DECK["mat"]
"""How high one has to step."""


def feet() -> list[tuple[float, float]]:
    """Return the axes of the four feet, mm, in the order of CORNERS."""
    return [(sx * FOOT["x"], sy * FOOT["y"]) for sx, sy in CORNERS]


def along_cell(corner: tuple[int, int], way: float) -> tuple[float, float]:
    """Return the point `way` mm inwards from a foot's axis, along its cell: cells lie at 45 degrees."""
    part = way / math.sqrt(2.0)
    return corner[0] * (FOOT["x"] - part), corner[1] * (FOOT["y"] - part)


def bolts() -> list[tuple[float, float]]:
    """Return the eight bolt holes in the deck, mm: for each corner the outer one, then the inner one."""
    ways = (CELL["hole_to_inner_bolt"], CELL["hole_to_inner_bolt"] + CELL["bolt_pitch"])
    return [along_cell(corner, way) for corner in CORNERS for way in ways]


def box_screws() -> list[tuple[float, float]]:
    """Return the four M4 holes that hold the box under the deck, mm."""
    x, y = BOX["width"] / 2 - 6, BOX["length"] / 2 - 6
    return [(sx * x, BOX["y"] + sy * y) for sx, sy in CORNERS]


def toe_stop_holes() -> list[tuple[float, float]]:
    """Return the M5 holes of the toe stop, mm."""
    ys = range(TOE_STOP["first_y"], TOE_STOP["last_y"] + 1, TOE_STOP["pitch"])
    return [(sx * TOE_STOP["x"], float(y)) for y in ys for sx in (-1, 1)]


def rated_N() -> float:
    """Return what one cell is rated for, N."""
    return float(CELL["rated_kg"] * GRAVITY)


def plate_kg() -> float:
    """Return the mass of one plate: deck, cells, and 0.8 kg of feet, bolts, box and cable (estimated)."""
    deck_m3 = DECK["width"] * DECK["length"] * DECK["thickness"] * 1e-9
    return float(deck_m3 * DECK["density_kg_m3"] + 4 * CELL["mass_kg"] + 0.8)


def corner_loads(x: float, y: float, load_N: float) -> list[float]:
    """Return what each foot bears, N, of a load at (x, y) and of the plate itself, in the order of CORNERS.

    A stiff plate on four equal springs: load / 4 (1 + x xi / a^2 + y yi / b^2). A foot that would be pulled up stands
    on nothing and bears nothing; the other three then bear all, by the balance of moments.
    """
    whole_N = load_N + plate_kg() * GRAVITY
    x, y, load_N = x * load_N / whole_N, y * load_N / whole_N, whole_N
    a, b = FOOT["x"], FOOT["y"]
    loads = [load_N / 4 * (1 + sx * x / a + sy * y / b) for sx, sy in CORNERS]
    lifted = min(range(4), key=lambda i: loads[i])
    if loads[lifted] >= 0:
        return loads
    three = [i for i in range(4) if i != lifted]
    rows = np.array([[1.0] * 3, [CORNERS[i][0] * a for i in three], [CORNERS[i][1] * b for i in three]])
    found = np.linalg.solve(rows, load_N * np.array([1.0, x, y]))
    loads[lifted] = 0.0
    for place, i in enumerate(three):
        loads[i] = float(found[place])
    return loads


def bending_mm(load_N: float) -> float:
    """Return how far the deck's middle goes down, mm: F L^3 / (48 E I), I = b h^3 / 12, between the feet.

    A beam on two supports with the load in its middle (Euler and Bernoulli; any handbook, from memory). On the careful
    side, as the cells stiffen the deck where they are bolted on. The cells' own deflection is not in it.
    """
    span, width, height = 2 * FOOT["y"] * 1e-3, DECK["width"] * 1e-3, DECK["thickness"] * 1e-3
    area_moment = width * height**3 / 12
    return float(1e3 * load_N * span**3 / (48 * DECK["youngs_GPa"] * 1e9 * area_moment))


def stress_MPa(load_N: float) -> float:
    """Return the greatest bending stress in the deck, MPa: (F L / 4) / (b h^2 / 6), as in bending_mm."""
    span, width, height = 2 * FOOT["y"] * 1e-3, DECK["width"] * 1e-3, DECK["thickness"] * 1e-3
    return float(1e-6 * (load_N * span / 4) / (width * height**2 / 6))


def settings(name: str) -> dict[str, Any]:
    """Return one of the firmware's ready-made settings, as `both` or `left`."""
    path = HERE / "firmware" / "settings" / f"{name}.json"
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found
