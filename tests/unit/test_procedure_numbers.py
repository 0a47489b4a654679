"""The numbers in calibration/ are what the program computes, and each procedure fits on one printed page."""

from __future__ import annotations

import math
import re
import textwrap
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from weightshare.metrology.build import standard_worth
from weightshare.metrology.share import live_bandwidth_Hz, share_doubt
from weightshare.metrology.standard import (
    AIR_LIFT_PART,
    MassClass,
    ScaleClass,
    local_gravity,
    mass_limit_kg,
    mass_uncertainty_part,
    scale_limit,
    standard_gravity,
)
from weightshare.model import Worth

PROCEDURES = (
    "test-masses",
    "dumb-bells",
    "water-containers",
    "weighed-helper",
    "other-points",
    "check-before-practice",
)
PAGE_LINES, PAGE_COLUMNS = 58, 95
"""What an A4 page with margins of 20 mm bears in letters of 10 points."""
ROOT3 = math.sqrt(3.0)
TOTAL_N, SHARE_PERCENT = 700.0, 75.0
AIR_KG_M3 = 1.2
SWAY_PART = 0.0005
"""Of a mean of 4 s of somebody who stands still: quiet standing's 0.17 % with its slow part (judged)."""


def water_density_kg_m3(degC: float) -> float:
    """Density of air-free water at one atmosphere: Tanaka and others, Metrologia 38 (2001) 301, equation 1; the
    constants are from memory."""
    return 999.974950 * (1.0 - (degC - 3.983035) ** 2 * (degC + 301.797) / (522528.9 * (degC + 69.34881)))


def apparent_kg_per_litre(degC: float) -> float:
    """What weights of 8,000 kg/m^3 would weigh the same in air of 1.2 kg/m^3 as one litre of water."""
    density = water_density_kg_m3(degC)
    return density / 1000.0 * (1.0 - AIR_KG_M3 / density) / (1.0 - AIR_LIFT_PART)


@dataclass(frozen=True)
class Cost:
    """What a way of calibrating leaves in the slope: in both sides together, and in each alone, parts of the load."""

    together: float
    alone: float = 2.0e-4

    @property
    def cells(self) -> str:
        """The two parts, U of the share and of the injured side's force, as table cells."""
        parts = f"{100 * self.together:.3f} % | {100 * self.alone:.3f} %"
        doubt = share_doubt(self.worth, TOTAL_N * (1 - SHARE_PERCENT / 100), TOTAL_N * SHARE_PERCENT / 100, BANDWIDTH)
        assert doubt is not None
        return f"| {parts} | {doubt.expanded_points:.2f} | {doubt.right.expanded_N:.1f} N |"

    @property
    def worth(self) -> Worth:
        """The standard build with this slope."""
        build = standard_worth()
        sides = tuple(replace(side, gain_part=self.alone) for side in build.sides)
        return replace(build, sides=sides, common_part=self.together)


BANDWIDTH = live_bandwidth_Hz(6.0, 100.0)
HERE = local_gravity(52.5, 40.0)
GRAVITY_TOLD = HERE.u / HERE.value
GRAVITY_UNTOLD = standard_gravity().u / standard_gravity().value
AIR = AIR_LIFT_PART / ROOT3
PLACE = math.hypot(GRAVITY_TOLD, AIR)
M1 = mass_uncertainty_part(MassClass.M1)


def trade_scale_kg(load_kg: float, interval_kg: float) -> float:
    """Standard uncertainty of a reading of a verified scale of class III in use, kg."""
    return scale_limit(load_kg, interval_kg, ScaleClass.III, in_service=True) / ROOT3


DUMB_BELLS = trade_scale_kg(10.0, 0.010) / 10.0
FLASK, CYLINDER, JUG = 0.0008 / ROOT3, 0.010 / ROOT3, 0.025 / ROOT3
"""Of one litre: a volumetric flask (ISO 1042) and a measuring cylinder (ISO 4788) of class B, from memory; a kitchen
jug by common experience, no source."""
DROPS = 0.002 / ROOT3
WARMTH = 2.0 * 207e-6 / ROOT3
TARE = 0.005 / ROOT3 / 10.0


def water(measure: float) -> float:
    return math.hypot(measure, DROPS, WARMTH, TARE)


WEIGHED = trade_scale_kg(80.0, 0.1) / 80.0
CHANGED = 0.1 / ROOT3 / 80.0
COSTS = {
    "test masses M1, gravity told": Cost(math.hypot(M1, PLACE)),
    "test masses M1, gravity not told": Cost(math.hypot(M1, AIR, GRAVITY_UNTOLD)),
    "dumb-bells, weighed to 10 g": Cost(math.hypot(DUMB_BELLS, PLACE)),
    "dumb-bells, another set on each plate": Cost(PLACE, math.hypot(DUMB_BELLS, 2e-4)),
    "water, by a volumetric flask": Cost(math.hypot(water(FLASK), PLACE)),
    "water, by a measuring cylinder": Cost(math.hypot(water(CYLINDER), PLACE)),
    "water, by a kitchen jug": Cost(math.hypot(water(JUG), PLACE)),
    "a weighed helper": Cost(math.hypot(WEIGHED, CHANGED, PLACE), math.hypot(SWAY_PART, 2e-4)),
}


def cost_rows() -> list[str]:
    return [f"| {name} {cost.cells}" for name, cost in COSTS.items()]


def mass_rows() -> list[str]:
    rows = []
    for kg in (1.0, 2.0, 5.0, 10.0, 20.0):
        limits = [f"{1000 * mass_limit_kg(kg, each):g} g" for each in (MassClass.F2, MassClass.M1, MassClass.M2)]
        rows.append(f"| {kg:g} kg | " + " | ".join(limits) + " |")
    return rows


def weight_rows() -> list[str]:
    return [
        f"| class M1, all in one direction | {100 * M1:.4f} % |",
        *place_rows(),
    ]


def place_rows() -> list[str]:
    return [
        f"| gravity by latitude and height | {100 * GRAVITY_TOLD:.4f} % |",
        f"| gravity not told | {100 * GRAVITY_UNTOLD:.2f} % |",
        f"| the air's lift on the masses | {100 * AIR:.4f} % |",
    ]


def dumb_bell_rows() -> list[str]:
    told = []
    for load_kg, interval_kg in ((5.0, 0.005), (10.0, 0.005), (10.0, 0.010), (20.0, 0.010), (20.0, 0.020)):
        limit_kg = scale_limit(load_kg, interval_kg, ScaleClass.III, in_service=True)
        u_kg = limit_kg / ROOT3
        told.append(
            f"| {load_kg:g} kg | {1000 * interval_kg:g} g | {1000 * limit_kg:g} g | {1000 * u_kg:.1f} g |"
            f" {100 * u_kg / load_kg:.3f} % |"
        )
    return told


def water_rows() -> list[str]:
    return [
        f"| {degC} | {water_density_kg_m3(degC):.2f} | {apparent_kg_per_litre(degC):.4f} |"
        for degC in (10, 15, 18, 20, 22, 25, 30)
    ]


def water_cost_rows() -> list[str]:
    return [
        f"| the measure: volumetric flask of 1 l, class B, 0.8 ml | {100 * FLASK:.3f} % |",
        f"| the measure: cylinder of 1 l, class B, 10 ml | {100 * CYLINDER:.3f} % |",
        f"| the measure: kitchen jug of 1 l, 25 ml | {100 * JUG:.3f} % |",
        f"| drops that stay behind, 2 ml in a litre | {100 * DROPS:.3f} % |",
        f"| the water's temperature, 2 K | {100 * WARMTH:.3f} % |",
        f"| the empty container, 5 g in 10 kg | {100 * TARE:.3f} % |",
    ]


def helper_rows() -> list[str]:
    return [
        f"| 80 kg on a verified scale of 0.1 kg, in use within {1000 * trade_scale_kg(80.0, 0.1) * ROOT3:.0f} g |"
        f" {100 * WEIGHED:.3f} % |",
        f"| 0.1 kg drunk or sweated since | {100 * CHANGED:.3f} % |",
        f"| swaying, in each mean of 4 s, each plate for itself | {100 * SWAY_PART:.3f} % |",
    ]


TABLES = {
    "README": cost_rows,
    "procedures/test-masses": weight_rows,
    "procedures/dumb-bells": dumb_bell_rows,
    "procedures/water-containers": lambda: water_rows() + water_cost_rows(),
    "procedures/weighed-helper": helper_rows,
    "references": mass_rows,
}


@pytest.mark.parametrize("page", TABLES)
def test_the_pages_have_what_is_computed(checkout: Path, page: str) -> None:
    told = (checkout / "calibration" / f"{page}.md").read_text(encoding="utf-8")
    for row in TABLES[page]():
        assert row in told, f"calibration/{page}.md has to say: {row}"


def test_each_procedure_has_its_costs_of_the_overview(checkout: Path) -> None:
    """The same rows stand on the procedure's own page."""
    where = {"test masses": "test-masses", "dumb-bells": "dumb-bells", "water": "water-containers"}
    for name, cost in COSTS.items():
        page = next((page for start, page in where.items() if name.startswith(start)), "weighed-helper")
        told = (checkout / "calibration" / "procedures" / f"{page}.md").read_text(encoding="utf-8")
        assert f"| {name} {cost.cells}" in told, page


def test_water_weighs_what_tables_say() -> None:
    """0, 4, 20 and 30 degC of the international tables (CIPM), from memory."""
    for degC, kg_m3 in ((0.0, 999.843), (4.0, 999.975), (20.0, 998.207), (30.0, 995.649)):
        assert water_density_kg_m3(degC) == pytest.approx(kg_m3, abs=0.002)


def test_what_is_common_costs_the_share_nothing() -> None:
    one, other = (COSTS[f"test masses M1, gravity {way}"] for way in ("told", "not told"))
    assert one.cells.split("|")[3] == other.cells.split("|")[3]
    assert one.cells.split("|")[4] != other.cells.split("|")[4]


def printed_lines(text: str) -> float:
    """Count the lines of a Markdown page as it prints: paragraphs flow, a blank line is half of one."""
    blocks = [block.splitlines() for block in re.split(r"\n\s*\n", text)]
    return sum(0.5 + sum(_wrapped(line) for line in _flowing(block)) for block in blocks)


def _flowing(block: list[str]) -> list[str]:
    """Join the lines of a block that flow into one another; rows, items and code begin anew."""
    joined: list[str] = []
    for line in block:
        begins = re.match(r"\s*(\||#|- |\d+\. )|    ", line) or not joined
        if begins:
            joined.append(line)
        else:
            joined[-1] += " " + line.strip()
    return [line for line in joined if not re.fullmatch(r"[\s|-]+", line)]


def _wrapped(line: str) -> int:
    bare = re.sub(r"\]\([^)]*\)", "", line)
    return max(1, len(textwrap.wrap(bare, PAGE_COLUMNS)))


@pytest.mark.parametrize("name", PROCEDURES)
def test_each_procedure_fits_on_one_page(checkout: Path, name: str) -> None:
    text = (checkout / "calibration" / "procedures" / f"{name}.md").read_text(encoding="utf-8")
    assert 20.0 < printed_lines(text) <= PAGE_LINES
    for part in ("**You need**", "## Steps", "## What it costs", "## Stop when", "## When a figure is out"):
        assert part in text, part


def test_a_page_that_is_too_long_is_found() -> None:
    assert printed_lines("word " * 19 * 70) > PAGE_LINES
    assert printed_lines("\n".join(["| a | b |"] * 70)) > PAGE_LINES
    assert printed_lines("one\ntwo\nthree") == 1.5
