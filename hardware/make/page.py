"""The tables that stand in the pages between two marks: made anew, the rest of a page left as it is."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from hardware.make.plan import BOX, CELL, DECK, FIGURES, FOOT, GRAVITY, HEEL, LOAD, STEP, bending_mm, plate_kg
from hardware.make.plan import settings as ready
from hardware.make.table import (
    Rows,
    converters,
    floor_rows,
    half_bridges,
    load_rows,
    pair,
    parts_rows,
    placement_rows,
    power_rows,
    resolution_rows,
    shunt_rows,
    to_markdown,
)
from weightshare.metrology.bridge import Cells, counts_per_newton, noise_N

BENCH = FIGURES["bench"]
SLOW_80 = converters()[1][1]


def summary_rows() -> Rows:
    """Return the standard build at a glance."""
    front, noise = f"x 0, y ± {FOOT['y']} mm", 2**0.5 * noise_N(pair(), SLOW_80)
    return [
        ("standard build", "each plate"),
        (
            "deck",
            f"{DECK['width']} x {DECK['length']} x {DECK['thickness']} mm, "
            f"{STEP} mm high with its mat, {plate_kg():.1f} kg",
        ),
        ("load", f"{LOAD['plate_N']:,} N anywhere on it; a person of {LOAD['person_kg']} kg at most"),
        ("feet", f"four, {FOOT['x'] - DECK['width'] / 2:.0f} mm outside of the deck on every side"),
        ("bends by", f"{bending_mm(LOAD['plate_N']):.2f} mm under {LOAD['plate_N']:,} N in the middle (computed)"),
        ("cells", f"four of {CELL['rated_kg']} kg, {CELL['mV_per_V']:g} mV/V, read as front and rear pair at {front}"),
        (
            "converters",
            f"two of 24 bit, {SLOW_80.rate_Hz:g} readings a second, {SLOW_80.excitation_V:g} V, ratiometric",
        ),
        ("a newton", f"{counts_per_newton(pair(), SLOW_80):.0f} counts; noise of a plate {noise:.2f} N SD (computed)"),
        ("heel sensor", f"optional, at x {HEEL['x']}, y − {-HEEL['y']} mm"),
        ("box under it", f"{BOX['width']} x {BOX['length']} x {BOX['height']} mm"),
    ]


def pin_rows() -> Rows:
    """Return which pin of the board does what, as the ready-made settings have it."""
    pins = FIGURES["pins"]
    rows: Rows = [("role", "left plate", "right plate", "two boards, each")]
    for place, y in (("front", 1), ("rear", -1)):
        for role in ("clock", "data"):
            left, right = (_pin("both", side, y, role) for side in ("left", "right"))
            own = {_pin("left", "left", y, role), _pin("right", "right", y, role)}
            rows.append((f"{place} {role}", str(left), str(right), " or ".join(map(str, sorted(own)))))
    rows += [
        (
            f"heel {word.upper()} (optional)",
            str(pins[f"left_{word}"]),
            str(pins[f"right_{word}"]),
            str(pins[f"left_{word}"]),
        )
        for word in ("scl", "sda")
    ]
    settings = ready("both")
    common = (("light", settings["light"]), ("service", settings["service"]), ("battery (optional)", pins["battery"]))
    return rows + [(role, str(pin), "the same", str(pin)) for role, pin in common]


def _pin(name: str, side: str, sign: int, role: str) -> int:
    channels: list[dict[str, Any]] = ready(name)["channels"]
    (one,) = [c for c in channels if c["quantity"] == "force" and c["side"] == side and c["y_mm"] * sign > 0]
    return int(one[role])


def half_rows() -> Rows:
    """Return what cells out of bathroom scales give up."""

    def column(cells: Cells) -> tuple[str, ...]:
        rated, factor = cells.rated_N, LOAD["factor"] * GRAVITY
        return (
            f"{rated:,.0f} N",
            f"{2 * rated:,.0f} N",
            f"{rated / factor:.0f} kg",
            f"{2 * rated / factor:.0f} kg",
            f"{counts_per_newton(cells, SLOW_80):.0f}",
            f"{2**0.5 * noise_N(cells, SLOW_80):.2f} N",
        )

    names = (
        "rated, one cell",
        "front pair alone",
        f"person on one corner, with the factor {LOAD['factor']}",
        "person on the front edge, the same",
        "counts / N",
        "noise of a plate, 80 a second, SD",
    )
    columns = zip(names, column(pair()), column(half_bridges()), strict=True)
    told = ("error in all, by data sheets (from memory)", "0.02 % of its rating", "0.1 to 0.5 %, most often not told")
    return [("", "standard build", "half bridges"), *columns, told]


def bench_rows() -> Rows:
    """Return the pass limits."""
    return [
        ("test", "passes when"),
        ("1 before power", "resistances by the cells' sheets; over 100 MΩ to the body"),
        ("2 first power", "current within 20 % of the table; excitation within 2 %"),
        ("3 the exchange", "every command answered; all channels have readings"),
        ("4 noise", f"{BENCH['noise_N']} N SD a plate, single readings at 80 a second"),
        ("5 signs and places", "each corner moves its own channel, upwards"),
        (
            "6 load",
            f"bends by {BENCH['load_deflection_mm']} mm at most at 1,961 N; zero within {BENCH['return_N']} N after",
        ),
        ("7 tip", "edges: every foot holds its strip of paper; corners: the opposite one rises by under 1 mm"),
        ("8 drop", f"zero within {BENCH['after_drop_zero_N']} N, slope within {BENCH['after_drop_slope_percent']} %"),
        ("9 creep", f"{BENCH['creep_percent']} % of the load in 5 min; back within {BENCH['return_N']} N"),
        (
            "9 hysteresis",
            f"{BENCH['hysteresis_percent']} % of the range; a load put on again within {BENCH['repeatability_N']} N",
        ),
        ("9 corners", f"each quarter within {BENCH['quarter_percent']} % of the middle"),
        ("10 rate", f"within {BENCH['rate_percent']} %; nothing lost in 10 min, under 2 % missing"),
        ("11 radio", "10 min at 5 m: the link stays, 0.1 % lost at most"),
        ("12 heel sensor", f"within 2 mm; {BENCH['heel_mm']} mm SD"),
        ("13 static, wet cloth", "no restart; no step over 0.5 N"),
        ("14 pull at the cable", "20 N: 0.5 N at most"),
        ("15 battery", "80 % of the table's hours; says that it is low before it stops"),
    ]


def sheet_rows() -> Rows:
    """Return the pass limits with room to write in."""
    head, *tests = bench_rows()
    return [(*head, "left", "right", "date"), *((*row, "", "", "") for row in tests)]


TABLES: dict[str, Callable[[], Rows]] = {
    "bench": bench_rows,
    "floor": floor_rows,
    "half": half_rows,
    "load": load_rows,
    "parts": parts_rows,
    "pins": pin_rows,
    "placement": placement_rows,
    "power": power_rows,
    "resolution": resolution_rows,
    "sheet": sheet_rows,
    "shunt": shunt_rows,
    "summary": summary_rows,
}
_PLACE = re.compile(r"(<!-- table: (\w+) -->\n).*?(<!-- end -->)", re.DOTALL)


def fill(text: str) -> str:
    """Return a page with its tables made anew. Raises KeyError for a table that there is none of."""
    return _PLACE.sub(lambda found: f"{found[1]}\n{to_markdown(TABLES[found[2]]())}\n\n{found[3]}", text)
