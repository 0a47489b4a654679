"""The tables of docs/uncertainty.md are what the program computes: they cannot grow old."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from weightshare.metrology.build import COMMON_PART, standard_side, standard_worth
from weightshare.metrology.share import (
    CLOCK,
    COMMON,
    CORNER,
    CREEP,
    GAIN,
    HYSTERESIS,
    NOISE,
    PARTS,
    REPEATABILITY,
    ZERO,
    ShareDoubt,
    live_bandwidth_Hz,
    mean_bandwidth_Hz,
    share_doubt,
)
from weightshare.model import Side
from weightshare.pipeline.lowpass import design, run_kernel

TOTAL_N = 700.0
SHARES = (50.0, 75.0, 90.0)
TIMES_S = (0.3, 1.0, 3.0, 10.0, 30.0)
SETTLED_S = (0.05, 0.1, 0.15, 0.2, 0.3)
LIVE_HZ = live_bandwidth_Hz(6.0, 100.0)


def doubt(share_percent: float, bandwidth_Hz: float = LIVE_HZ) -> ShareDoubt:
    injured_N = TOTAL_N * share_percent / 100.0
    found = share_doubt(standard_worth(), TOTAL_N - injured_N, injured_N, bandwidth_Hz)
    assert found is not None
    return found


def figures() -> dict[str, str]:
    """What is put in for one plate, in words."""
    side = standard_side(Side.LEFT)
    return {
        GAIN: f"{100 * side.gain_part:.3f} % of the load",
        COMMON: f"{100 * COMMON_PART:.4f} % of the load, both sides together",
        REPEATABILITY: f"{side.repeatability_N:.2f} N",
        HYSTERESIS: f"{side.hysteresis_N:.2f} N",
        ZERO: f"{side.zero_drift_N:.2f} N, and the noise of its one second",
        CREEP: f"{100 * side.creep_part:.3f} % of the load",
        CORNER: f"{100 * side.corner_part:.3f} % of the load",
        NOISE: f"{side.noise_N:.2f} N a reading at {side.noise_rate_Hz:g} a second",
        CLOCK: "one board: 0",
    }


def budget_table() -> list[str]:
    """The budget, row by row, as it stands in the document."""
    found, told = [doubt(share) for share in SHARES], figures()
    rows = [(name, told[name], *(one.parts[name] for one in found)) for name in PARTS]
    rows.append(("**u**, all together", "", *(one.u_points for one in found)))
    rows.append(("**U**, k = 2", "", *(one.expanded_points for one in found)))
    lines = [f"| {name} | {figure} | " + " | ".join(f"{u:.4f}" for u in us) + " |" for name, figure, *us in rows]
    load = " | ".join(f"{one.right.expanded_N:.2f} N" for one in found)
    return [*lines, f"| **U** of the injured side's force, k = 2 | | {load} |"]


def settling_table() -> list[str]:
    """How the whole and its noise fall with the time that is averaged over."""
    spans = [("the newest sample, 6 Hz", LIVE_HZ), *((f"{t:g} s", mean_bandwidth_Hz(t)) for t in TIMES_S)]
    found = [(name, doubt(75.0, min(LIVE_HZ, bandwidth_Hz))) for name, bandwidth_Hz in spans]
    return [f"| {name} | {one.parts[NOISE]:.4f} | {one.expanded_points:.4f} |" for name, one in found]


def step_left() -> list[float]:
    """The greatest part of a step that is still to come behind the live filter, from each of SETTLED_S on."""
    seen = np.ones((1, 1000))
    run_kernel(design(6.0, 1000.0), seen, np.zeros((1, 1, 2)))
    return [float(np.abs(1.0 - seen[0, round(1000 * since_s) :]).max()) for since_s in SETTLED_S]


def step_table() -> list[str]:
    return [f"| {since_s:g} s | {100 * left:.1f} % |" for since_s, left in zip(SETTLED_S, step_left(), strict=True)]


@pytest.mark.parametrize("table", [budget_table, settling_table, step_table])
def test_the_document_has_what_is_computed(checkout: Path, table: object) -> None:
    assert callable(table)
    told = (checkout / "docs" / "uncertainty.md").read_text(encoding="utf-8")
    for line in table():
        assert line in told, f"docs/uncertainty.md has to say: {line}"


def test_the_step_overshoots_as_theory_has_it() -> None:
    """exp(-pi): a damping of 1 / sqrt(2) in the step response of a second order (any textbook on control)."""
    assert step_left()[SETTLED_S.index(0.1)] == pytest.approx(math.exp(-math.pi), abs=0.002)
