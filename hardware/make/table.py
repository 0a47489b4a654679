"""The tables of the pages, out of build.toml: what a test computes again, and a maker with other cells reads anew."""

from __future__ import annotations

import csv
import math
from typing import TypeAlias

from hardware.make.plan import CELL, DECK, FIGURES, FOOT, HEEL, HERE, LOAD, corner_loads, rated_N
from weightshare.metrology.bridge import (
    Cells,
    Converter,
    counts_per_newton,
    noise_free_bits,
    noise_N,
    shunt_ohm,
    shunt_ratio,
    thermal_noise_V,
)

Rows: TypeAlias = list[tuple[str, ...]]
"""A table; the first row is its head."""
PLACEMENTS_MM = (0, 10, 20, 40)
LIVE_HZ = math.pi / (2.0 * math.sqrt(2.0)) * 6.0
"""Noise bandwidth of the program's live filter, a Butterworth of second order at 6 Hz."""
EXCITATION_V = FIGURES["supply"]["excitation_V"]


def seen_percent(forward_mm: float) -> float:
    """Return what part of the heel's height a sensor sees when the heel stands so far forward of it, percent."""
    return float(100.0 * (1.0 - forward_mm / HEEL["ball_mm"]))


def pair() -> Cells:
    """Return the front or the rear pair of the standard build: two cells on one converter."""
    return Cells(rated_N(), CELL["mV_per_V"], FIGURES["supply"]["cells_per_converter"])


def single() -> Cells:
    """Return one cell on a converter of its own."""
    return Cells(rated_N(), CELL["mV_per_V"])


def half_bridges() -> Cells:
    """Return two half-bridge cells joined to one bridge."""
    half = FIGURES["half_bridge"]
    return Cells(half["rated_kg"] * 9.80665, half["mV_per_V"], 2)


def converters() -> list[tuple[str, Converter]]:
    """Return the converters by name."""
    return [
        (one["name"], Converter(EXCITATION_V, one["gain"], one["noise_nV"] * 1e-9, one["rate_Hz"]))
        for one in FIGURES["converter"]
    ]


def resolution_rows() -> Rows:
    """Return the table of what a newton is in counts, and how still it stands."""
    rows: Rows = [("cells", "converter", "counts / N", "SD, N", "6.6 SD, N", "bits that stand still", "SD at 6 Hz, N")]
    builds = [("pair", pair()), ("single", single()), ("two half bridges", half_bridges())]
    return rows + [_resolution(name, cells, *one) for name, cells in builds for one in converters()]


def _resolution(name: str, cells: Cells, kind: str, converter: Converter) -> tuple[str, ...]:
    sd = noise_N(cells, converter)
    bits = noise_free_bits(cells.count * cells.rated_N, sd)
    live = sd * math.sqrt(min(1.0, LIVE_HZ / (converter.rate_Hz / 2)))
    return (
        name,
        kind,
        f"{counts_per_newton(cells, converter):.0f}",
        f"{sd:.3f}",
        f"{6.6 * sd:.2f}",
        f"{bits:.1f}",
        f"{live:.3f}",
    )


def shunt_rows() -> Rows:
    """Return the shunts of a bridge of the cells' resistance, and what load each stands for on a pair and alone."""
    rows: Rows = [("shunt", "stands for", "load on a single cell", "on one pair")]
    for mV_per_V in (0.1, 0.5, 1.0):
        ohm = shunt_ohm(CELL["ohm"], mV_per_V)
        load = mV_per_V / CELL["mV_per_V"] * rated_N()
        rows.append((f"{ohm:,.0f} Ω", f"{mV_per_V:g} mV/V", f"{load:.0f} N", f"{load:.0f} N, by one of its cells"))
    bought = 100e3
    ratio = 1e3 * shunt_ratio(CELL["ohm"], bought)
    load = ratio / CELL["mV_per_V"] * rated_N()
    return [*rows, ("100 kΩ, as bought", f"{ratio:.4f} mV/V", f"{load:.0f} N", f"{load:.0f} N, by one of its cells")]


def load_rows() -> Rows:
    """Return what the feet bear when all of the plate's load stands at a place."""
    x, y = DECK["width"] / 2, DECK["length"] / 2
    places = [
        ("middle", 0.0, 0.0),
        ("middle of the front edge", 0.0, y),
        ("middle of a side edge", x, 0.0),
        ("a corner", x, y),
    ]
    rows: Rows = [("all of it on", "FL", "FR", "RL", "RR", "most on one cell")]
    for name, px, py in places:
        loads = corner_loads(px, py, LOAD["plate_N"])
        part = f"{100 * max(loads) / rated_N():.0f} % of its rating"
        rows.append((name, *(f"{one:.0f} N" for one in loads), part))
    return rows


def power_rows() -> Rows:
    """Return the battery's current by parts, and how long it lasts, with cells of two resistances."""
    power, ohms = FIGURES["power"], (CELL["ohm"], 1000)
    slow = FIGURES["converter"][1]["current_mA"]
    parts = [
        ("board, radio on", *[power["board_mA"]] * 2),
        ("8 cells at 3.0 V", *(8 * 1000 * EXCITATION_V / ohm for ohm in ohms)),
        ("4 converters", *[4 * slow] * 2),
        ("2 heel sensors", *[2 * power["heel_sensor_mA"]] * 2),
        ("light", *[power["light_mA"]] * 2),
    ]
    sums = [sum(part[1 + i] for part in parts) for i in (0, 1)]
    hours = [power["battery_mAh"] * power["usable_part"] / one for one in sums]
    rows: Rows = [("", *(f"cells of {ohm:,} Ω" for ohm in ohms))]
    rows += [(name, *(f"{one:.0f} mA" for one in currents)) for name, *currents in parts]
    rows.append(("together", *(f"{one:.0f} mA" for one in sums)))
    rows.append(
        (f"{power['battery_mAh']:,} mAh, {100 * power['usable_part']:.0f} % used", *(f"{one:.0f} h" for one in hours))
    )
    return rows


def floor_rows() -> Rows:
    """Return noise that no choice of converter can go under, beside what the converters have."""
    rows: Rows = [("converter", "its noise", "heat of the bridge, same bandwidth")]
    for name, one in converters():
        heat = thermal_noise_V(CELL["ohm"], one.rate_Hz / 2)
        rows.append((name, f"{one.noise_V * 1e9:.0f} nV", f"{heat * 1e9:.0f} nV"))
    return rows


def parts_rows() -> Rows:
    """Return the list of parts."""
    with (HERE / "parts.csv").open(encoding="utf-8", newline="") as file:
        return [tuple(row) for row in csv.reader(file)]


def placement_rows() -> Rows:
    """Return what a heel sensor sees of a foot that stands too far forward."""
    rows: Rows = [("heel forward of the sensor", "it reads", "of 90 mm")]
    return rows + [
        (f"{mm} mm", f"{seen_percent(mm):.0f} %", f"{0.9 * seen_percent(mm):.0f} mm") for mm in PLACEMENTS_MM
    ]


def forward_share(shift_mm: float) -> float:
    """Return by what part of the load the front pair bears more when the load goes forward by so much."""
    return float(shift_mm / (2.0 * FOOT["y"]))


def to_markdown(rows: Rows) -> str:
    """Return rows as a Markdown table, the first one its head."""
    head, *rest = ["| " + " | ".join(row) + " |" for row in rows]
    return "\n".join([head, "| " + " | ".join("---" for _ in rows[0]) + " |", *rest])
