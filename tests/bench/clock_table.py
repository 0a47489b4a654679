"""The table of docs/two-clocks.md: how far left is off right, by the link, over many seeds; it takes some minutes.

Run by itself: python tests/bench/clock_table.py [FIRST LAST] [LINK ...], seeds 1 to 10 and every link unless told.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.unit.stamped import tell_instants
from weightshare.scales.rig.carrier import CARRIERS

SOON_S, LATE_S, SECONDS = 10.0, 60.0, 120.0
HEAD = (
    "| link | 10 to 60 s: mean, worst | after 60 s: mean, worst | doubt told: mean | rows with both sides: least |",
    "| --- | --- | --- | --- | --- |",
)


class Figures(NamedTuple):
    """Of one visit: the 95th percentile of left against right in both stretches, ms; the doubt that is told, ms; the
    part of the rows that has both sides, %."""

    soon_ms: float
    late_ms: float
    doubt_ms: float
    both_percent: float


def measure_link(link: str, seed: int, seconds: float = SECONDS) -> Figures:
    """Return the figures of one visit on two virtual scales whose readings are the true instants."""
    told = tell_instants(f"seed={seed},link={link}", seconds)
    doubt_ms = told.alignment.doubt_ms
    assert doubt_ms is not None
    both = 100.0 * float(np.isfinite(told.apart_ms).mean())
    return Figures(told.worst_ms(SOON_S, LATE_S), told.worst_ms(LATE_S), doubt_ms, both)


def make_row(link: str, found: Sequence[Figures]) -> str:
    """Return the table's row of a link."""
    soon, late, doubt, both = np.array(found).T
    cells = (
        f"{soon.mean():.2f}, {soon.max():.2f} ms",
        f"{late.mean():.2f}, {late.max():.2f} ms",
        f"{doubt.mean():.1f} ms",
        f"{both.min():.1f} %",
    )
    return f"| `{link}` | {' | '.join(cells)} |"


def main(arguments: Sequence[str]) -> int:
    """Print the table, row by row."""
    numbers = [int(one) for one in arguments if one.isdigit()]
    first, last = (1, 10) if len(numbers) < 2 else numbers[:2]
    links = [one for one in arguments if one in CARRIERS] or list(CARRIERS)
    print(*HEAD, sep="\n")
    for link in links:
        print(make_row(link, [measure_link(link, seed) for seed in range(first, last + 1)]), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
