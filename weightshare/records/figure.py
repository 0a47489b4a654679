"""What one session came to, as named figures: for lists, for trends, and for what is kept of it beside its files."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.model import Side

MEAN_SHARE = "mean share"
LONGEST_HOLD, TOTAL_HELD = "longest hold", "held in all"
REPETITIONS = "repetitions in a set"
MEAN_HEIGHT, BEST_HEIGHT = "mean heel height", "best heel height"
LOAD_TRAVEL = "load x heel travel"


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure. `side`: whose it is, None where it is of both legs' work. `u`: what the instrument leaves in doubt
    (standard uncertainty, in `unit`); None where that is not known."""

    name: str
    unit: str
    value: float
    side: Side | None = None
    u: float | None = None


def figures_of(content: Mapping[str, Any]) -> tuple[Figure, ...]:
    """Return the figures of an analysis, as its JSON object has it. A figure that cannot be had is left out.

    Raises KeyError, TypeError or ValueError where `content` is no analysis.
    """
    found = [*_share(content), *_holds(content), *_decided(content), *_repetitions(content), *_counts(content)]
    return tuple(one for one in found if math.isfinite(one.value))


def _share(content: Mapping[str, Any]) -> Iterator[Figure]:
    mean, worth = content["share_percent"]["mean"], content.get("uncertainty")
    if mean is not None:
        u = None if worth is None else float(worth["share_mean_points"]) / COVERAGE_FACTOR
        yield Figure(MEAN_SHARE, "%", float(mean), Side(content["injured_side"]), u)


def _holds(content: Mapping[str, Any]) -> Iterator[Figure]:
    if content["holds"]:
        yield Figure(LONGEST_HOLD, "s", float(content["longest_hold_s"]))
        yield Figure(TOTAL_HELD, "s", float(content["total_held_s"]))


def _decided(content: Mapping[str, Any]) -> Iterator[Figure]:
    """Yield the mean over the sets of each measure that something is asked of."""
    rows: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
    for row in content.get("decisions") or ():
        rows.setdefault((str(row["measure"]), str(row["working"])), []).append(row)
    for (measure, working), found in rows.items():
        doubts = [row["in_this_set"]["u"] for row in found if row["in_this_set"] is not None]
        u = fmean(doubts) if len(doubts) == len(found) else None
        yield Figure(measure, "%", fmean(float(row["value"]) for row in found), Side(working), u)


def _repetitions(content: Mapping[str, Any]) -> Iterator[Figure]:
    injured = Side(content["injured_side"])
    for key, side in (("injured", injured), ("uninjured", injured.other)):
        heights = _known(row[f"height_{key}_mm"] for row in content["repetitions"])
        if heights:
            yield Figure(MEAN_HEIGHT, "mm", fmean(heights), side)
            yield Figure(BEST_HEIGHT, "mm", max(heights), side)
        work = _known(row.get(f"load_travel_{key}_J") for row in content["repetitions"])
        if work:
            yield Figure(LOAD_TRAVEL, "J", math.fsum(work), side)


def _known(values: Iterable[float | None]) -> Sequence[float]:
    """Return `values` where all of them are known, else nothing."""
    found = list(values)
    return [] if None in found else [float(value) for value in found if value is not None]


def _counts(content: Mapping[str, Any]) -> Iterator[Figure]:
    """Yield the most repetitions in one set, of each leg that worked."""
    most: dict[Side | None, int] = {}
    single = content.get("exercise") in ("single-lowering", "single-raise")
    for row in content.get("sets") or ():
        side = Side(row["working"]) if single and row["working"] is not None else None
        most[side] = max(most.get(side, 0), len(row["repetitions"]))
    if not most and content["repetitions"]:
        most[None] = len(content["repetitions"])
    for side, count in most.items():
        yield Figure(REPETITIONS, "", float(count), side)
