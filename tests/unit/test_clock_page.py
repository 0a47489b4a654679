"""docs/two-clocks.md is held to the program: its tables, its keys, its limits."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

import numpy as np
import pytest

from tests.bench.clock_table import HEAD, Figures, make_row, measure_link
from weightshare.pipeline import agreement, align, pairing, strip
from weightshare.state import Alignment, ScaleClock

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "two-clocks.md").read_text(encoding="utf-8")
LINKS = ("direct", "cable", "air", "bursts", "uneven")


def row_of(link: str) -> str:
    return next(line for line in PAGE.splitlines() if line.startswith(f"| `{link}` |"))


def test_every_key_of_the_alignment_is_told() -> None:
    told = {word for line in PAGE.splitlines() if line.startswith("| `") for word in re.findall(r"`(\w+)`", line)}
    assert {one.name for one in fields(Alignment)} <= told
    assert {one.name for one in fields(ScaleClock)} - {"device_id", "side"} <= told


def test_the_numbers_of_the_method_are_those_of_the_program() -> None:
    for words in (
        f"the last {strip.WINDOW} seconds",
        f"0 and {strip.PRIOR_PPM:.0f} ppm",
        f"{strip.CARRIED_PPM:.0f} ppm more of doubt",
        f"2 sqrt(u^2 + ({strip.WANDER_PPM:.0f} ppm)^2)",
        f"at most {100.0 * align.SLEW:.0f} % too fast",
        f"for {align.SOON_NS / 1e9:.2f} s at least and {align.LATE_NS / 1e9:.0f} s at most",
        f"contradicts its line by {align.IMPOSSIBLE_S} s",
        f"waited for, for {pairing.WAIT_NS / 1e6:.0f} ms",
        f"`doubt_ms` is over {agreement.DOUBT_LIMIT_MS:.0f} ms,",
        f"`share_doubt_points` over {agreement.POINTS_LIMIT:.0f}:",
    ):
        assert words in PAGE


def test_the_table_of_fast_shifts_is_what_the_formula_gives() -> None:
    """The share goes from 25 to 75 % by half a cosine; the left force is taken dt later than the right one."""
    rows = re.findall(r"^\| (\d+) ms \| ([\d.]+) ms \| ([\d.]+) points \| ([\d.]+) \| ([\d.]+) \|$", PAGE, re.MULTILINE)
    assert len(rows) == 4
    part = np.linspace(0.0, 1.0, 100_001)
    share = 0.25 + 0.25 * (1.0 - np.cos(np.pi * part))
    steepest = float(((1.0 - share) * 0.25 * np.pi * np.sin(np.pi * part)).max())
    assert f"{100.0 * steepest:.1f} points / T" in PAGE
    for slow_ms, apart_ms, *told in rows:
        assert float(apart_ms) == float(slow_ms) / 2.0
        for shift_s, points in zip((0.3, 1.0, 3.0), told, strict=True):
            assert float(points) == pytest.approx(steepest / shift_s * 0.1 * float(apart_ms), abs=0.006)


def test_the_measured_table_has_every_link_and_one_of_its_visits_again() -> None:
    assert all(line in PAGE for line in HEAD)
    for link in LINKS:
        row_of(link)
    found = measure_link("air", 1)
    worst_ms = [float(one) for one in re.findall(r", ([\d.]+) ms", row_of("air"))]
    assert found.soon_ms <= worst_ms[0] + 0.005
    assert found.late_ms <= worst_ms[1] + 0.005


def test_a_row_says_the_mean_and_the_worst() -> None:
    row = make_row("air", [Figures(1.0, 2.0, 3.0, 100.0), Figures(3.0, 4.0, 5.0, 98.0)])
    assert row == "| `air` | 2.00, 3.00 ms | 3.00, 4.00 ms | 4.0 ms | 98.0 % |"


@pytest.mark.soak
@pytest.mark.parametrize("link", LINKS)
def test_the_measured_table_comes_again(link: str) -> None:
    assert make_row(link, [measure_link(link, seed) for seed in range(1, 11)]) == row_of(link)
